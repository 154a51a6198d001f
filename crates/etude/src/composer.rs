//! All the sheets of a lesson, each composed on its own from what they share.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use lesson::{Exercise, Feel, Label, Lesson, Named, Tempo};
use rhythm::{BeamStyle, Meter, TickError, Ticks};
use score::{About, Barline, Direction, HeadLine, Page, Part, Score, Transposition};
use theory::{
    ChordSymbol, Form, KeySignature, Ladder, Level, LineTone, Rung, Signature, SignatureStyle,
    Speller, Tone, key_signature,
};

use crate::blank::middle_line;
use crate::breath::Breathing;
use crate::clash::clashes;
use crate::compose::{Extent, Line};
use crate::edition::edition;
use crate::heading;
use crate::heights::Reach;
use crate::notate::{Numbers, Ready, beat_value, measures};
use crate::over::{self, Hall, OverLine, Realized, realize};
use crate::place::{Horn, Misfit, Placed, Shape, settle, shape, together};
use crate::plan::{self, Root, SheetPlan};
use crate::report::{self, LeftOut, Sheet, Statement};
use crate::spell::{Passage, chord_over, spell};
use crate::through;
use crate::timing::{self, Print, Timing};

/// Which exercise, how long each key's passage is, and at which level, for its
/// beams and its breaths.
type Lengths = (usize, Vec<Extent>, Level);

/// What an exercise plays.
#[derive(Debug)]
enum Composed {
    Line(Line),
    Over(Box<OverLine>),
}

/// An exercise on one sheet, ready to be written.
struct OnSheet<'a> {
    timing: Arc<Timing>,
    passages: Vec<Passage<'a>>,
    /// Chord symbols with times of their own.
    symbols: Option<Vec<(Ticks, u16)>>,
    statements: Vec<Statement>,
    remarks: Vec<String>,
}

impl Composed {
    fn of(lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Composed {
        match OverLine::of(lesson, exercise, per_quarter) {
            Some(over) => Composed::Over(Box::new(over)),
            None => Composed::Line(Line::of(lesson, exercise, per_quarter)),
        }
    }

    /// Its meters, by the ticks they begin at; never none.
    fn meters(&self) -> Vec<(Ticks, &Meter)> {
        match self {
            Composed::Line(line) => vec![(0, line.meter())],
            Composed::Over(line) => line.bars.meters().collect(),
        }
    }

    fn line(&self) -> Option<&Line> {
        match self {
            Composed::Line(line) => Some(line),
            Composed::Over(_) => None,
        }
    }
}

/// Composes the sheets of one lesson. What all keys share is worked out once.
#[derive(Debug)]
pub struct Composer<'a> {
    lesson: &'a Lesson,
    plans: Vec<SheetPlan>,
    per_quarter: u32,
    lines: Vec<Composed>,
    ladders: Vec<Ladder>,
    timings: Mutex<BTreeMap<Lengths, Arc<Timing>>>,
    /// What each exercise is called, player by player.
    words: Vec<OnceLock<String>>,
}

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
                .map(|exercise| Composed::of(lesson, exercise, per_quarter))
                .collect(),
            ladders: lesson
                .scales
                .iter()
                .map(|scale| Ladder::new(&scale.scale))
                .collect(),
            timings: Mutex::default(),
            words: vec![OnceLock::new(); lesson.players.len() * lesson.exercises.len()],
        })
    }

    /// The lesson.
    pub fn lesson(&self) -> &'a Lesson {
        self.lesson
    }

    /// Every sheet, player by player in the lesson's order, keys in order.
    pub fn plans(&self) -> &[SheetPlan] {
        &self.plans
    }

    /// Composes one sheet; the same plan gives the same sheet on any thread.
    ///
    /// # Errors
    /// When an exercise fits nowhere on the horn in that key.
    pub fn compose(&self, plan: &SheetPlan) -> Result<Sheet, LeftOut> {
        self.sheet(plan, false)
    }

    /// The same sheet with everything on it that its student is asked for;
    /// none where nothing is asked.
    ///
    /// # Errors
    /// Those of [`Composer::compose`].
    pub fn answers(&self, plan: &SheetPlan) -> Result<Option<Sheet>, LeftOut> {
        let asks = |at: &usize| self.lesson.exercises[*at].asks();
        if !plan::exercises(self.lesson, plan).iter().any(asks) {
            return Ok(None);
        }
        self.sheet(plan, true).map(Some)
    }

    fn sheet(&self, plan: &SheetPlan, complete: bool) -> Result<Sheet, LeftOut> {
        let lesson = self.lesson;
        let player = &lesson.players[plan.player];
        let on_sheet = plan::exercises(lesson, plan);
        let mut part = Part::of(
            &player.instrument,
            Transposition::of(plan.written_to_sounding),
        );
        let mut chords: Vec<ChordSymbol> = Vec::new();
        let mut numbers = Numbers::default();
        let mut tempo = None;
        let mut dynamic = None;
        let mut keys = BTreeMap::new();
        let mut report =
            report::Gathering::new(player.instrument.register_break, plan.written.at(4));
        for (number, at) in on_sheet.iter().enumerate() {
            let exercise = &lesson.exercises[*at];
            let line = &self.lines[*at];
            let words = self.words(*at, plan);
            let key = *keys
                .entry(exercise.scale)
                .or_insert_with_key(|scale| self.key(*scale, plan));
            let on = match line {
                Composed::Line(line) => {
                    self.figures_on_sheet(*at, line, plan, key.signature, &mut chords)
                }
                Composed::Over(line) => {
                    self.over_on_sheet(exercise, line, plan, key.signature, &mut chords)
                }
            };
            let OnSheet {
                timing,
                passages,
                symbols,
                statements,
                remarks,
            } = on.map_err(|(horn, misfit)| self.left_out(exercise, words, horn, misfit))?;
            let clashes = passages
                .first()
                .filter(|_| symbols.is_none())
                .and_then(|passage| {
                    let chord = chords.get(usize::from(passage.chord?))?.clone();
                    let clashes = clashes(passage.ladder, &passage.placed.tones, &chord);
                    Some((chord, clashes))
                });
            let letter = heading::rehearsal(number, on_sheet.len());
            let mut over: Vec<Direction> = letter
                .clone()
                .map(Direction::Rehearsal)
                .into_iter()
                .collect();
            let meters = line.meters();
            over.extend(self.tempo_mark(exercise, meters[0].1, &mut tempo));
            let own = exercise.dynamic.or(lesson.dynamic);
            if own != dynamic
                && let Some(own) = own
            {
                over.push(Direction::Dynamic(own.letters()));
            }
            dynamic = own;
            if number == 0 && matches!(lesson.feel, Feel::Swing(_)) {
                over.push(Direction::Swing);
            }
            // Last, next to the music: renderers stack them in this order.
            over.push(Direction::Words(words.to_owned().into()));
            let ready = Ready {
                number: number as u16,
                meters: &meters,
                counts_beats: line.line().is_some_and(Line::counts_beats),
                closes: line.line().is_some_and(Line::closes),
                marks: line.line().and_then(Line::marks),
                symbols: symbols.as_deref(),
                timing: &timing,
                passages: &passages,
                key,
                rows: self.rows(exercise),
                given: exercise.given.filter(|_| !complete),
                hide: exercise.hide.filter(|_| !complete),
                names: lesson.note_names,
                middle_line: middle_line(player.instrument.clef, key.signature),
                per_quarter: self.per_quarter,
            };
            let from = part.measures.len();
            measures(&ready, over, &mut numbers, &mut part.measures);
            let heading = match letter {
                Some(letter) => [&letter, " · ", words].concat(),
                None => words.to_owned(),
            };
            report.add(heading, &passages, key, &part.measures[from..], clashes);
            report.over(statements, remarks);
        }
        if let Some(last) = part.measures.last_mut() {
            last.barline = Some(Barline::Final);
        }
        let mut score = Score {
            title: lesson.title.clone(),
            subtitle: lesson.subtitle.clone(),
            head: heading::head(lesson, player, plan, complete),
            page: page(player.level, lesson.large_print),
            divisions: self.per_quarter,
            chords,
            part,
        };
        let mark = edition(&score);
        let mark_line = HeadLine::new(About::Edition, format!("Edition {mark}"));
        score.head.push(mark_line);
        Ok(Sheet {
            score,
            report: report.finish(numbers.bars(), mark),
        })
    }

    /// What an exercise is called for a player.
    fn words(&self, at: usize, plan: &SheetPlan) -> &str {
        let exercises = &self.lesson.exercises;
        self.words[plan.player * exercises.len() + at].get_or_init(|| {
            heading::words(
                self.lesson,
                &exercises[at],
                &self.lesson.players[plan.player],
            )
        })
    }

    /// What stands on the staff for a scale.
    fn key(&self, scale: usize, plan: &SheetPlan) -> KeySignature {
        let style = if plan.through_keys {
            SignatureStyle::None
        } else {
            self.lesson.signature
        };
        key_signature(&self.lesson.scales[scale].scale, plan.written, style)
    }

    /// An exercise of statements in its keys.
    fn figures_on_sheet(
        &self,
        at: usize,
        line: &Line,
        plan: &SheetPlan,
        signature: Signature,
        chords: &mut Vec<ChordSymbol>,
    ) -> Result<OnSheet<'_>, (Horn, Misfit)> {
        let lesson = self.lesson;
        let exercise = &lesson.exercises[at];
        let ladder = &self.ladders[exercise.scale];
        let roots = plan::roots(lesson, exercise, plan);
        let placed = self.place(at, line, &roots, plan)?;
        let extents = placed.iter().map(|placed| placed.extent).collect();
        let timing = self.timing(at, line, extents, self.level(exercise, plan));
        let passages = placed.into_iter().zip(&roots).map(|(placed, root)| {
            let chord = chord_over(lesson, exercise, root.written);
            let spelled = spell(lesson, ladder, &placed, chord.as_ref(), signature);
            Passage {
                placed,
                spelled,
                chord: chord.map(|chord| place_of(chords, chord)),
                ladder,
            }
        });
        Ok(OnSheet {
            passages: passages.collect(),
            timing,
            symbols: None,
            statements: Vec::new(),
            remarks: Vec::new(),
        })
    }

    /// An exercise over changes in a key.
    fn over_on_sheet(
        &self,
        exercise: &Exercise,
        line: &OverLine,
        plan: &SheetPlan,
        signature: Signature,
        chords: &mut Vec<ChordSymbol>,
    ) -> Result<OnSheet<'_>, (Horn, Misfit)> {
        let level = self.level(exercise, plan);
        let range = self.lesson.players[plan.player].range(level);
        let hall = Hall {
            lesson: self.lesson,
            ladders: &self.ladders,
            written: plan.written,
            range,
            signature,
        };
        let Realized {
            passages,
            laid,
            statements,
            remarks,
        } = realize(line, hall, chords).map_err(|root| {
            let tone = LineTone {
                tone: Tone::Rung(Rung(0)),
                form: Form::Rising,
            };
            let horn = Horn {
                root: root.name(),
                range,
            };
            (horn, Misfit { root, tone })
        })?;
        let symbols = laid.symbols.clone();
        let breathing = self.breathing(exercise, &line.over.bars[0].meter, level);
        let timing = Timing::laid(laid, &line.bars, self.per_quarter, beams(level), breathing);
        Ok(OnSheet {
            timing: Arc::new(timing.in_systems(self.print(exercise, level))),
            passages,
            symbols: Some(symbols),
            statements,
            remarks,
        })
    }

    fn level(&self, exercise: &Exercise, plan: &SheetPlan) -> Level {
        exercise
            .level
            .unwrap_or(self.lesson.players[plan.player].level)
    }

    fn rows(&self, exercise: &'a Exercise) -> &'a [Label] {
        exercise.labels.as_deref().unwrap_or(&self.lesson.labels)
    }

    fn print(&self, exercise: &'a Exercise, level: Level) -> Print {
        Print {
            rows: self.rows(exercise).len(),
            level,
            large: self.lesson.large_print,
        }
    }

    fn breathing(&self, exercise: &Exercise, meter: &Meter, level: Level) -> Breathing {
        Breathing::of(
            exercise.breath.unwrap_or(self.lesson.breath),
            level,
            exercise.tempo.or(self.lesson.tempo),
            meter,
            self.per_quarter,
        )
    }

    /// An exercise on a horn, root after root.
    fn place(
        &self,
        at: usize,
        line: &Line,
        roots: &[Root],
        plan: &SheetPlan,
    ) -> Result<Vec<Placed>, (Horn, Misfit)> {
        let exercise = &self.lesson.exercises[at];
        let player = &self.lesson.players[plan.player];
        let range = player.range(exercise.level.unwrap_or(player.level));
        let place = |root: &Root| {
            let horn = Horn {
                root: root.written,
                range,
            };
            let own = shape(line, horn, exercise.when_too_wide).map_err(|misfit| (horn, misfit))?;
            let misfit = || (horn, crate::place::misfit_of(line, horn));
            if !self.lesson.together {
                return settle(line, horn, &own, &[horn]).ok_or_else(misfit);
            }
            let room = self.room(at, line, *root, plan);
            let horns: Vec<Horn> = room.iter().map(|(horn, _)| *horn).collect();
            if let Some(agreed) = together(line, &room) {
                return settle(line, horn, &agreed, &horns).ok_or_else(misfit);
            }
            // Nothing suits them all: better a sheet of one's own than none.
            let mut alone = settle(line, horn, &own, &[horn]).ok_or_else(misfit)?;
            let remark = "plays alone: no turn or jump suits everyone's range";
            alone.remarks.push(remark.to_owned());
            Ok(alone)
        };
        let mut placed: Vec<Placed> = roots.iter().map(place).collect::<Result<_, _>>()?;
        if plan.through_keys {
            through::join(&mut placed, line.heights(), Reach::of_range(range));
        }
        Ok(placed)
    }

    /// Everyone who plays the same exercise on the same root, and can: a
    /// player who is left out binds nobody.
    fn room(&self, at: usize, line: &Line, root: Root, plan: &SheetPlan) -> Vec<(Horn, Shape)> {
        let lesson = self.lesson;
        let exercise = &lesson.exercises[at];
        let others = self.plans.iter().filter(|other| {
            other.through_keys == plan.through_keys
                && (other.through_keys || other.number == plan.number)
        });
        let here = others.filter(|other| plan::exercises(lesson, other).contains(&at));
        // Through the keys, everyone comes past the same sounding root; where
        // written names are given, past the same written one.
        let same =
            |other: &Root| match plan::keys(lesson, exercise, &lesson.players[plan.player]).named {
                _ if !plan.through_keys => true,
                Named::Concert => other.concert.class() == root.concert.class(),
                Named::Written => other.written.class() == root.written.class(),
            };
        let horns = here.filter_map(|other| {
            let player = &lesson.players[other.player];
            let level = exercise.level.unwrap_or(player.level);
            let theirs = plan::roots(lesson, exercise, other)
                .into_iter()
                .find(same)?;
            Some(Horn {
                root: theirs.written,
                range: player.range(level),
            })
        });
        horns
            .filter_map(|horn| {
                shape(line, horn, exercise.when_too_wide)
                    .ok()
                    .map(|shape| (horn, shape))
            })
            .collect()
    }

    fn timing(&self, at: usize, line: &Line, extents: Vec<Extent>, level: Level) -> Arc<Timing> {
        let mut timings = self.timings.lock().unwrap_or_else(PoisonError::into_inner);
        let timing = timings.entry((at, extents, level));
        let timing = timing.or_insert_with_key(|(_, extents, _)| {
            let exercise = &self.lesson.exercises[at];
            let breathing = self.breathing(exercise, line.meter(), level);
            let timing = Timing::of(line, extents, self.per_quarter, beams(level), breathing);
            Arc::new(timing.in_systems(self.print(exercise, level)))
        });
        Arc::clone(timing)
    }

    /// The tempo mark, where it isn't already in force, and a ladder's boxes.
    fn tempo_mark(
        &self,
        exercise: &Exercise,
        meter: &Meter,
        shown: &mut Option<(Tempo, Direction)>,
    ) -> Vec<Direction> {
        let Some(tempo) = exercise.tempo.or(self.lesson.tempo) else {
            return Vec::new();
        };
        let mark = Direction::Tempo {
            beat: beat_value(meter),
            per_minute: tempo.slowest(),
        };
        let now = Some((tempo, mark.clone()));
        let before = std::mem::replace(shown, now.clone());
        if before == now {
            return Vec::new();
        }
        let boxes = heading::boxes(tempo).into_iter();
        let rows = boxes.map(|row| Direction::Words(row.into()));
        [mark].into_iter().chain(rows).collect()
    }

    fn left_out(&self, exercise: &Exercise, words: &str, horn: Horn, misfit: Misfit) -> LeftOut {
        let speller = Speller {
            ladder: &self.ladders[exercise.scale],
            root: misfit.root,
            chord: None,
            signature: key_signature(
                &self.lesson.scales[exercise.scale].scale,
                horn.root,
                self.lesson.signature,
            )
            .signature,
            style: self.lesson.spelling,
        };
        LeftOut {
            exercise: words.to_owned(),
            written: horn.root,
            note: speller.strict(misfit.tone),
            range: horn.range,
        }
    }
}

fn place_of(chords: &mut Vec<ChordSymbol>, chord: ChordSymbol) -> u16 {
    let known = chords.iter().position(|one| *one == chord);
    let place = known.unwrap_or_else(|| {
        chords.push(chord);
        chords.len() - 1
    });
    place as u16
}

/// How a level's eighths are beamed.
fn beams(level: Level) -> BeamStyle {
    if level == Level::Beginner {
        BeamStyle::ByBeat
    } else {
        BeamStyle::ByHalfBar
    }
}

/// A4; staves of 7 mm, 8 mm for beginners, 11 mm in large print.
fn page(level: Level, large_print: bool) -> Page {
    let staff_height = match level {
        _ if large_print => 110,
        Level::Beginner => 80,
        Level::Intermediate | Level::Advanced => 70,
    };
    Page {
        staff_height,
        width: 2100,
        height: 2970,
    }
}
