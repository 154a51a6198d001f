//! What a sheet contains, for reports and for `check`.

use lesson::ScaleRule;
use score::{Element, Measure, Score};
use theory::{ChordSymbol, Degree, KeySignature, Pitch, PitchName, Range, RegisterBreak};

use crate::over::{Connection, PhrasePart};
use crate::remark::Remark;
use crate::report::tally::{CountedRemark, tally};
use crate::spell::passage::Passage;

/// A finished sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The score.
    pub score: Score,
    /// What is to be said of it.
    pub report: Report,
}

/// What is to be said of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// Bars, pickups not counted.
    pub bars: u32,
    /// Lowest written pitch.
    pub lowest: Pitch,
    /// Highest written pitch.
    pub highest: Pitch,
    /// Exercises that turn early (or take a smaller span than asked).
    pub turns: u32,
    /// Octave jumps.
    pub jumps: u32,
    /// Melodic crossings of the horn's register break.
    pub register_crossings: u32,
    /// Notes that are spelled otherwise than `strict` would.
    pub respellings: u32,
    /// Accidentals printed, courtesies not counted.
    pub accidentals: u32,
    /// Of these, double sharps and flats.
    pub doubles: u32,
    /// Of these, those that make E sharp, B sharp, C flat or F flat.
    pub white_twins: u32,
    /// Sharps or flats in the signature, without sign.
    pub signature: u32,
    /// Changes only when the music does: see [`crate::edition`].
    pub edition: String,
    /// Exercise by exercise.
    pub exercises: Vec<ExerciseReport>,
}

/// What is to be said of one exercise on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExerciseReport {
    /// Its place in the lesson.
    pub place: usize,
    /// Its heading: `C · The figure on every degree, and flipped coming down`.
    pub heading: String,
    /// Lowest written pitch.
    pub lowest: Pitch,
    /// Highest written pitch.
    pub highest: Pitch,
    /// Double accidentals that are printed in it, courtesies not counted.
    pub doubles: u32,
    /// What of it isn't as it was asked.
    pub remarks: Vec<CountedRemark>,
    /// The chord over it, if any, and the degrees that clash with it.
    pub clashes: Option<(ChordSymbol, Vec<Degree>)>,
    /// How a line over changes came about, statement by statement.
    pub statements: Vec<Statement>,
}

/// A statement of a line over changes, and why it stands there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Statement {
    /// The bar of its exercise that it begins in, from 1; 0 and less in a
    /// pickup.
    pub bar: i64,
    /// Its chorus, from 1.
    pub chorus: usize,
    /// The chord, in the written key.
    pub chord: ChordSymbol,
    /// The name of its scale.
    pub scale: String,
    /// Why that scale.
    pub rule: ScaleRule,
    /// The degree its root stands on.
    pub start: Degree,
    /// Which variant of the figure.
    pub variant: String,
    /// What it costs by itself.
    pub own: u32,
    /// How it is reached from the one before.
    pub join: Option<Join>,
    /// What it is in its phrase, where the line is chosen by phrases.
    pub part: Option<PhrasePart>,
    /// What it costs that the phrase's wish isn't met; at an end that is in
    /// its own cost.
    pub phrase: u32,
    /// Eighths that it comes before (negative) or after its time.
    pub shift: i8,
    /// Where it reaches the line's one highest pitch, what that costs.
    pub high_point: Option<u32>,
    /// Tones of the chord that its scale lacks.
    pub missing: Vec<Degree>,
    /// Degrees of the scale that clash with the chord.
    pub clashes: Vec<Degree>,
}

/// How two statements join.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Join {
    /// From the last note of one to the first of the next.
    pub semitones: i32,
    /// What it costs.
    pub cost: u32,
    /// What leads from one to the other.
    pub led: Option<Connection>,
}

impl Statement {
    /// What it costs in all.
    pub fn cost(&self) -> u32 {
        let join = self.join.map_or(0, |join| join.cost);
        self.own + join + self.phrase + self.high_point.unwrap_or(0)
    }
}

/// Why a sheet is left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LeftOut {
    /// An exercise fits nowhere on the horn in that key.
    OffTheHorn {
        /// The exercise's heading.
        heading: String,
        /// Its place in the lesson.
        place: usize,
        /// The written root of the sheet.
        written: PitchName,
        /// The note that leaves the range, in the best octave there is.
        note: Pitch,
        /// The player's written range.
        range: Range,
    },
    /// No exercise of the lesson is for this player.
    NothingToPlay,
    /// Someone asked to stop.
    Stopped,
}

/// An exercise as it stands on a sheet.
#[derive(Debug)]
pub(crate) struct Entry<'a> {
    /// Its place in the lesson.
    pub place: usize,
    pub heading: String,
    pub passages: &'a [Passage<'a>],
    pub key: KeySignature,
    /// Its own measures.
    pub measures: &'a [Measure],
    /// The chord over it, if any, and the degrees that clash with it.
    pub clashes: Option<(ChordSymbol, Vec<Degree>)>,
    pub statements: Vec<Statement>,
    /// What is to be said of it beside what its passages say.
    pub remarks: Vec<Remark>,
}

/// A report as a sheet's exercises are added to it.
#[derive(Debug)]
pub(crate) struct Gathering {
    register_break: Option<RegisterBreak>,
    report: Report,
}

impl Gathering {
    /// Before the first exercise; `root` stands in for pitches until then.
    pub fn new(register_break: Option<RegisterBreak>, root: Pitch) -> Gathering {
        let report = Report {
            bars: 0,
            lowest: root,
            highest: root,
            turns: 0,
            jumps: 0,
            register_crossings: 0,
            respellings: 0,
            accidentals: 0,
            doubles: 0,
            white_twins: 0,
            signature: 0,
            edition: String::new(),
            exercises: Vec::new(),
        };
        Gathering {
            register_break,
            report,
        }
    }

    /// Adds an exercise.
    pub fn add(&mut self, entry: Entry) {
        let pitches: Vec<Pitch> = entry
            .passages
            .iter()
            .flat_map(|passage| passage.spelled.pitches.iter().copied())
            .collect();
        let (lowest, highest) = self.widen(&pitches);
        let report = &mut self.report;
        for Passage {
            placed, spelled, ..
        } in entry.passages
        {
            report.turns += u32::from(placed.remarks.iter().any(Remark::is_shortfall));
            report.jumps += placed.jumps();
            report.respellings += spelled.respellings;
        }
        report.register_crossings += crossings(&pitches, self.register_break);
        let printed = |wanted: fn(PitchName) -> bool| {
            let names = printed(entry.measures).filter(|name| wanted(*name));
            names.count() as u32
        };
        let doubles = printed(PitchName::is_double);
        report.accidentals += printed(|_| true);
        report.doubles += doubles;
        report.white_twins += printed(|name| name.white_twin().is_some());
        let signs = entry.key.signature.fifths().unsigned_abs();
        report.signature = report.signature.max(u32::from(signs));
        report.exercises.push(ExerciseReport {
            heading: entry.heading,
            lowest,
            highest,
            remarks: remarks(entry.passages, entry.remarks),
            place: entry.place,
            doubles,
            clashes: entry.clashes,
            statements: entry.statements,
        });
    }

    /// Widens the sheet's range by an exercise's pitches, and gives theirs;
    /// the sheet's own where there is none.
    fn widen(&mut self, pitches: &[Pitch]) -> (Pitch, Pitch) {
        let report = &mut self.report;
        let first = report.exercises.is_empty();
        let by_sound = |pitch: &Pitch| pitch.midi();
        let lowest = pitches.iter().copied().min_by_key(by_sound);
        let highest = pitches.iter().copied().max_by_key(by_sound);
        let lowest = lowest.unwrap_or(report.lowest);
        let highest = highest.unwrap_or(report.highest);
        if first || lowest.midi() < report.lowest.midi() {
            report.lowest = lowest;
        }
        if first || highest.midi() > report.highest.midi() {
            report.highest = highest;
        }
        (lowest, highest)
    }

    /// The report of a sheet of so many bars, and its edition.
    pub fn finish(self, bars: u32, edition: String) -> Report {
        Report {
            bars,
            edition,
            ..self.report
        }
    }
}

/// What is remarked of each passage, then of the whole.
fn remarks(passages: &[Passage], whole: Vec<Remark>) -> Vec<CountedRemark> {
    let several = passages.len() > 1;
    let passages = passages.iter().flat_map(|Passage { placed, .. }| {
        let key = several.then(|| placed.root.name());
        placed.remarks.iter().map(move |one| (key, one.clone()))
    });
    tally(passages.chain(whole.into_iter().map(|one| (None, one))))
}

/// How often the line crosses the horn's own break.
fn crossings(pitches: &[Pitch], register_break: Option<RegisterBreak>) -> u32 {
    let Some(RegisterBreak { below }) = register_break else {
        return 0;
    };
    let under = |pitch: &Pitch| pitch.midi() <= below.midi();
    pitches
        .windows(2)
        .filter(|pair| under(&pair[0]) != under(&pair[1]))
        .count() as u32
}

/// What accidentals are printed before, courtesies not counted.
fn printed(measures: &[Measure]) -> impl Iterator<Item = PitchName> + '_ {
    let elements = measures.iter().flat_map(|measure| &measure.elements);
    elements.filter_map(|element| match element {
        Element::Note(note) => note
            .accidental
            .filter(|accidental| !accidental.courtesy)
            .map(|_| note.pitch.name()),
        Element::Rest(_) | Element::Slash(_) => None,
    })
}
