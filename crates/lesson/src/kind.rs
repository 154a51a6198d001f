//! What an exercise plays, each kind with what only it says.

use crate::{ComingDown, Direction, Ending, KindName, Over, Phrasing, Span, TooWide};

/// What an exercise plays, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ExerciseKind {
    /// The scale over the horn.
    Scale(ScaleRun),
    /// The figure once.
    Figure(Once),
    /// The figure on each degree in turn.
    Sequence(Sequence),
    /// The figure or its sequence moved through the keys on one sheet.
    Keys(Say),
    /// The scale in one interval after another.
    Intervals(Study),
    /// The scale in runs of so many notes.
    Runs(Study),
    /// The sequence, with bars between to improvise an answer in.
    Trade(Sequence, Trade),
    /// The figure carried through changes.
    Changes(Box<Over>, Phrasing),
    /// Thirds and sevenths through changes.
    GuideTones(Box<Over>),
    /// Thirds and sevenths through changes, each led up to.
    Targets(Box<Over>),
}

/// The scale in even eighths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ScaleRun {
    /// The figure of the lesson whose meter it takes; none: 4/4.
    pub meter: Option<usize>,
    /// Up, down, or up and down.
    pub direction: Direction,
    /// How far it goes.
    pub span: Span,
    /// What happens where it doesn't fit.
    pub when_too_wide: TooWide,
}

/// A figure said once from the root, or coming down from the root above, or
/// both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Once {
    /// Which figure of the lesson.
    pub figure: usize,
    /// Up, down, or up and down.
    pub direction: Direction,
    /// What is said coming down.
    pub coming_down: ComingDown,
    /// What happens where it doesn't fit.
    pub when_too_wide: TooWide,
}

/// A figure on one degree after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sequence {
    /// Which figure of the lesson.
    pub figure: usize,
    /// Up, down, or up and down.
    pub direction: Direction,
    /// What is said coming down.
    pub coming_down: ComingDown,
    /// How far it goes.
    pub span: Span,
    /// What happens where it doesn't fit.
    pub when_too_wide: TooWide,
    /// Whether it closes on a root.
    pub ending: Ending,
}

/// A study: a statement of the scale's own on one degree after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Study {
    /// Its statements.
    pub sequence: Sequence,
    /// Whether every second one is turned backwards.
    pub broken: bool,
}

/// What is said in each key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Say {
    /// The figure once.
    Figure(Once),
    /// The figure on each degree in turn.
    Sequence(Sequence),
}

/// Bars written and bars answered, in turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Trade {
    /// Statements that are written before each answer; whole bars.
    pub statements: u16,
    /// Bars of slashes after them.
    pub bars: u16,
}

/// What an exercise plays, by the few ways that lines are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material<'a> {
    /// The scale itself.
    Run(&'a ScaleRun),
    /// A figure once.
    Once(&'a Once),
    /// A figure on one degree after another.
    Sequence(&'a Sequence),
    /// A figure on each chord of the changes.
    Changes(&'a Over, &'a Phrasing),
    /// A guide tone on each chord of the changes.
    GuideTones(&'a Over),
    /// A guide tone on each chord of the changes, led up to.
    Targets(&'a Over),
}

impl ExerciseKind {
    /// Which kind it is, without what it says.
    pub const fn name(&self) -> KindName {
        match self {
            ExerciseKind::Scale(_) => KindName::Scale,
            ExerciseKind::Figure(_) => KindName::Figure,
            ExerciseKind::Sequence(_) => KindName::Sequence,
            ExerciseKind::Keys(_) => KindName::Keys,
            ExerciseKind::Intervals(_) => KindName::Intervals,
            ExerciseKind::Runs(_) => KindName::Runs,
            ExerciseKind::Trade(..) => KindName::Trade,
            ExerciseKind::Changes(..) => KindName::Changes,
            ExerciseKind::GuideTones(_) => KindName::GuideTones,
            ExerciseKind::Targets(_) => KindName::Targets,
        }
    }

    /// What it plays, by the way its line is made.
    pub fn material(&self) -> Material<'_> {
        match self {
            ExerciseKind::Scale(run) => Material::Run(run),
            ExerciseKind::Figure(once) | ExerciseKind::Keys(Say::Figure(once)) => {
                Material::Once(once)
            }
            ExerciseKind::Sequence(sequence)
            | ExerciseKind::Keys(Say::Sequence(sequence))
            | ExerciseKind::Intervals(Study { sequence, .. })
            | ExerciseKind::Runs(Study { sequence, .. })
            | ExerciseKind::Trade(sequence, _) => Material::Sequence(sequence),
            ExerciseKind::Changes(over, phrasing) => Material::Changes(over, phrasing),
            ExerciseKind::GuideTones(over) => Material::GuideTones(over),
            ExerciseKind::Targets(over) => Material::Targets(over),
        }
    }
    /// The changes that it goes over, if it does.
    pub fn over(&self) -> Option<&Over> {
        match self.material() {
            Material::Changes(over, _) | Material::GuideTones(over) | Material::Targets(over) => {
                Some(over)
            }
            Material::Run(_) | Material::Once(_) | Material::Sequence(_) => None,
        }
    }

    /// The figure of the lesson that it says, or whose meter it takes; over
    /// changes the first of the first chord.
    pub fn figure(&self) -> Option<usize> {
        match self.material() {
            Material::Run(run) => run.meter,
            Material::Once(once) => Some(once.figure),
            Material::Sequence(sequence) => Some(sequence.figure),
            Material::Changes(over, _) | Material::GuideTones(over) | Material::Targets(over) => {
                let (_, figures) = over.choruses.first()?.figures.first()?;
                figures.first().copied()
            }
        }
    }
}
