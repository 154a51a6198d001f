//! What all the sheets of a lesson share, worked out once.

use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex};

use lesson::{Exercise, Lesson, Material, Over, Phrasing};
use rhythm::{Meter, TickError, Ticks};
use theory::{Ladder, Level};

use crate::compose::course::Extent;
use crate::compose::line::Line;
use crate::compose::timing::{self, Timing};
use crate::notate::sentence::Shown;
use crate::over::{self, OnChord, OverLine};
use crate::plan::{self, SheetPlan};
use crate::spell::passage::Spellers;

/// Which exercise, how long each key's passage is, at which level, for its
/// beams and its breaths, and how many rows of labels it has, for its systems.
pub(crate) type Lengths = (usize, Vec<Extent>, Level, usize);

/// What an exercise plays.
#[derive(Debug)]
pub(crate) enum Composition {
    Line(Line),
    Over(Box<OverLine>),
}

impl Composition {
    fn of(lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Composition {
        let over = |over: &Over, phrasing: Phrasing, plays| {
            let over = (over, phrasing);
            Composition::Over(Box::new(OverLine::of(lesson, over, plays, per_quarter)))
        };
        // Nothing is wished of guide tones.
        let none = Phrasing::default();
        match exercise.kind.material() {
            Material::Run(run) => Composition::Line(Line::run(lesson, exercise, run)),
            Material::Once(once) => {
                Composition::Line(Line::once(lesson, exercise, once, per_quarter))
            }
            Material::Sequence(sequence) => {
                Composition::Line(Line::sequence(lesson, exercise, sequence, per_quarter))
            }
            Material::Changes(changes, phrasing) => {
                over(changes, phrasing.clone(), OnChord::Figure)
            }
            Material::GuideTones(changes) => over(changes, none, OnChord::GuideTone),
            Material::Targets(changes) => over(changes, none, OnChord::Target),
        }
    }

    /// Its meters, by the ticks they begin at; never none.
    pub fn meters(&self) -> Vec<(Ticks, &Meter)> {
        match self {
            Composition::Line(line) => vec![(0, line.meter())],
            Composition::Over(line) => line.bars.meters().collect(),
        }
    }

    /// Names of sections by the ticks they begin at.
    pub fn sections(&self) -> &[(Ticks, String)] {
        match self {
            Composition::Line(_) => &[],
            Composition::Over(line) => line.bars.sections(),
        }
    }

    pub fn line(&self) -> Option<&Line> {
        match self {
            Composition::Line(line) => Some(line),
            Composition::Over(_) => None,
        }
    }
}

/// Composes the sheets of one lesson. What all keys share is worked out once.
#[derive(Debug)]
pub struct Composer<'a> {
    pub(crate) lesson: &'a Lesson,
    pub(crate) plans: Vec<SheetPlan>,
    pub(crate) per_quarter: u32,
    pub(crate) lines: Vec<Composition>,
    pub(crate) ladders: Vec<Ladder>,
    pub(crate) spellers: Spellers,
    pub(crate) timings: Mutex<BTreeMap<Lengths, Arc<Timing>>>,
    /// What is said over each exercise, by what a player's sheet has of it.
    pub(crate) words: Mutex<BTreeMap<(usize, usize, Shown), Arc<str>>>,
    pub(crate) stop: &'a AtomicBool,
}

/// Never raised.
static NEVER: AtomicBool = AtomicBool::new(false);

impl<'a> Composer<'a> {
    /// Prepares a lesson.
    ///
    /// # Errors
    /// When its rhythms need finer ticks than readers take.
    pub fn new(lesson: &'a Lesson) -> Result<Composer<'a>, TickError> {
        let times = timing::times(&lesson.figures, &lesson.exercises);
        let per_quarter =
            rhythm::divisions(times.chain(over::times(&lesson.figures, &lesson.exercises)))?;
        Ok(Composer {
            lesson,
            plans: plan::plans(lesson),
            per_quarter,
            lines: lesson
                .exercises
                .iter()
                .map(|exercise| Composition::of(lesson, exercise, per_quarter))
                .collect(),
            ladders: lesson
                .scales
                .iter()
                .map(|scale| Ladder::new(&scale.scale))
                .collect(),
            spellers: Spellers::default(),
            timings: Mutex::default(),
            words: Mutex::default(),
            stop: &NEVER,
        })
    }

    /// Makes it give up a sheet, as [`LeftOut::Stopped`], soon after a flag is
    /// raised: between two exercises, and between two statements of a line over
    /// changes.
    pub fn until(self, stop: &'a AtomicBool) -> Composer<'a> {
        Composer { stop, ..self }
    }

    /// The lesson.
    pub fn lesson(&self) -> &'a Lesson {
        self.lesson
    }

    /// Every sheet, player by player in the lesson's order, keys in order.
    pub fn plans(&self) -> &[SheetPlan] {
        &self.plans
    }
}
