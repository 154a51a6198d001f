//! An etude over changes: each chord's time and scale, and how its line is
//! to be chosen.

use rhythm::{Fraction, Meter};
use theory::{ChordSymbol, Degree, PitchName};

/// What an exercise over changes is made from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Over {
    /// The bars of one chorus from the first bar line on, each until the next;
    /// never empty.
    pub bars: Vec<BarTime>,
    /// The key that the chords are named in.
    pub key: PitchName,
    /// The chords of one chorus as they are played, without gaps.
    pub chords: Vec<ChordTime>,
    /// Quarters before the first bar line.
    pub pickup: Fraction,
    /// Quarters from the first bar line to the end of a chorus.
    pub length: Fraction,
    /// The choruses in order; never empty.
    pub choruses: Vec<Chorus>,
    /// When is played and when not.
    pub plan: RhythmPlan,
    /// Whether a chord on a bar line is taken an eighth early.
    pub anticipate: bool,
    /// What a line is chosen by.
    pub weights: Weights,
    /// How often in a row one variant may stand, and where statements may begin
    /// on any degree one of those.
    pub in_a_row: u8,
    /// Which of equally good lines.
    pub seed: u64,
}

/// How statements of figures over changes begin and are joined: what guide
/// tones and targets have no use for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Phrasing {
    /// The degrees among which each statement begins, as typed; none: on any.
    pub begins: Vec<Degree>,
    /// What may lead from one statement to the next.
    pub connect: Connect,
    /// Whether statements may begin beside their time.
    pub shift: Shift,
    /// What else a line is chosen by.
    pub weights: PhraseWeights,
}

/// Where a bar begins, and its meter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BarTime {
    /// Quarters from the first bar line.
    pub at: Fraction,
    /// Its meter.
    pub meter: Meter,
    /// The name of the section that begins with it, if one does that has a
    /// name.
    pub section: Option<String>,
}

/// The time of a chord.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChordTime {
    /// The number of the bar it begins in, as it is printed.
    pub bar: String,
    /// Quarters from the first bar line; negative in a pickup.
    pub at: Fraction,
    /// Quarters.
    pub length: Fraction,
    /// The chord, in the key of the changes.
    pub symbol: ChordSymbol,
    /// Its scale among the lesson's; none for N.C.
    pub scale: Option<usize>,
    /// Why that scale.
    pub rule: ScaleRule,
}

/// Why a chord takes its scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ScaleRule {
    /// The lesson says it for this bar.
    Bar,
    /// The lesson says it for this very chord.
    Named,
    /// The lesson says it for a chord that goes down a fifth to minor.
    SaidToMinor,
    /// The lesson says it for a chord that goes down a half step.
    SaidDownHalfStep,
    /// The lesson says it for this kind of chord.
    Said,
    /// A dominant that goes down a fifth to minor.
    ToMinor,
    /// A plain dominant that goes down a half step.
    DownHalfStep,
    /// The usual scale of this kind of chord.
    Usual,
    /// No chord, no scale.
    None,
}

impl ScaleRule {
    /// In words, for `check`.
    pub const fn words(self) -> &'static str {
        match self {
            ScaleRule::Bar => "said for this bar",
            ScaleRule::Named => "said for this chord",
            ScaleRule::SaidToMinor => "said for a chord that goes to minor",
            ScaleRule::SaidDownHalfStep => "said for a chord that goes down a half step",
            ScaleRule::Said => "said for chords of this kind",
            ScaleRule::ToMinor => "goes down a fifth to minor",
            ScaleRule::DownHalfStep => "goes down a half step",
            ScaleRule::Usual => "usual",
            ScaleRule::None => "no chord",
        }
    }
}

/// One time through the changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chorus {
    /// What it is.
    pub kind: ChorusKind,
    /// The figures that may be played on each scale, both as places in the
    /// lesson; a figure's place in its list is the same on all scales.
    pub figures: Vec<(usize, Vec<usize>)>,
}

impl Chorus {
    /// The figures that may be played on a scale.
    pub fn on(&self, scale: usize) -> &[usize] {
        let found = self.figures.iter().find(|(of, _)| *of == scale);
        found.map_or(&[], |(_, figures)| figures)
    }
}

/// What a chorus is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum ChorusKind {
    /// The figure and its allowed variants.
    #[default]
    Line,
    /// The same, begun on another degree than the root.
    Elsewhere,
    /// All of them upside down.
    Flipped,
    /// All of them an eighth later.
    Later,
    /// All of them in half values.
    Denser,
    /// Slashes, to improvise on.
    Slashes,
}

impl ChorusKind {
    /// The lesson's word.
    pub const fn word(self) -> &'static str {
        match self {
            ChorusKind::Line => "line",
            ChorusKind::Elsewhere => "elsewhere",
            ChorusKind::Flipped => "flipped",
            ChorusKind::Later => "later",
            ChorusKind::Denser => "denser",
            ChorusKind::Slashes => "slashes",
        }
    }
}

/// When is played and when not, in bars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct RhythmPlan {
    /// Bars that are played.
    pub play: u16,
    /// Bars of rest after them; 0 where every bar is played.
    pub rest: u16,
}

/// What leads from a statement to the next, where there is time for it: it
/// takes silence, and at most the second half of a statement's last note.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Connect {
    /// Nothing.
    #[default]
    None,
    /// One or two notes that approach the next statement's first note.
    Approach,
    /// A run of the scale to it, or an approach where there is no time for one.
    Run,
}

impl Connect {
    /// The lesson's word.
    pub const fn word(self) -> &'static str {
        match self {
            Connect::None => "none",
            Connect::Approach => "approach",
            Connect::Run => "run",
        }
    }
}

/// Whether statements may begin beside their time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Shift {
    /// They don't.
    #[default]
    None,
    /// An eighth later or earlier where that ties a note over a bar line, no
    /// more than twice in a row the same.
    OverTheBar,
}

impl Shift {
    /// The lesson's words.
    pub const fn words(self) -> &'static str {
        match self {
            Shift::None => "none",
            Shift::OverTheBar => "over the bar",
        }
    }
}

/// What a line is chosen by, each from 0 (it doesn't matter) to 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Weights {
    /// Small intervals where statements join.
    pub smooth: u8,
    /// Another variant, another starting degree.
    pub variety: u8,
    /// Keeping to the middle of the horn.
    pub range: u8,
    /// Chord tones on strong beats.
    pub strong_beats: u8,
}

/// What a line of statements is chosen by beside, each from 0 (it doesn't
/// matter) to 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct PhraseWeights {
    /// Phrases of four or eight bars: a statement, its answer, something
    /// denser, an end that rests on a chord tone.
    pub phrase: u8,
    /// One highest note, past the middle of the exercise.
    pub high_point: u8,
    /// How much a gap between statements that is left open counts, where
    /// `Phrasing::connect` could close it; 0 wherever that is none.
    pub connect: u8,
}

impl Default for Weights {
    fn default() -> Weights {
        Weights {
            smooth: 4,
            variety: 2,
            range: 2,
            strong_beats: 3,
        }
    }
}
