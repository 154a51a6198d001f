//! All the sheets of a lesson, each composed on its own from what they share.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use lesson::{Exercise, Feel, Lesson};
use rhythm::{BeamStyle, TickError};
use score::{Barline, Direction, Page, Part, Score, Transposition};
use theory::{ChordSymbol, Ladder, Level, Speller, key_signature};

use crate::clash::clashes;
use crate::compose::{Extent, Line};
use crate::edition::edition;
use crate::heading;
use crate::notate::{Numbers, Ready, beat_value, measures};
use crate::place::{Horn, Misfit, Placed, Shape, settle, shape, together};
use crate::plan::{self, SheetPlan};
use crate::report::{self, LeftOut, Sheet};
use crate::spell::{chord_over, spell};
use crate::timing::{self, Timing};

/// Composes the sheets of one lesson. What all keys share is worked out once.
#[derive(Debug)]
pub struct Composer<'a> {
    lesson: &'a Lesson,
    plans: Vec<SheetPlan>,
    per_quarter: u32,
    lines: Vec<Line>,
    ladders: Vec<Ladder>,
    timings: Mutex<BTreeMap<(usize, Extent, bool), Arc<Timing>>>,
}

impl<'a> Composer<'a> {
    /// Prepares a lesson.
    ///
    /// # Errors
    /// When its rhythms need finer ticks than readers take.
    pub fn new(lesson: &'a Lesson) -> Result<Composer<'a>, TickError> {
        let per_quarter = rhythm::divisions(timing::times(&lesson.figures, &lesson.exercises))?;
        Ok(Composer {
            lesson,
            plans: plan::plans(lesson),
            per_quarter,
            lines: lesson
                .exercises
                .iter()
                .map(|exercise| Line::of(lesson, exercise, per_quarter))
                .collect(),
            ladders: lesson
                .scales
                .iter()
                .map(|scale| Ladder::new(&scale.scale))
                .collect(),
            timings: Mutex::default(),
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
        let mut report =
            report::Gathering::new(player.instrument.register_break, plan.written.at(4));
        for (number, at) in on_sheet.iter().enumerate() {
            let exercise = &lesson.exercises[*at];
            let line = &self.lines[*at];
            let ladder = &self.ladders[exercise.scale];
            let level = exercise.level.unwrap_or(player.level);
            let words = heading::words(lesson, exercise);
            let horn = Horn {
                root: plan.written,
                range: player.range(level),
            };
            let placed = self
                .place(*at, horn, plan)
                .map_err(|misfit| self.left_out(exercise, &words, horn, misfit))?;
            let timing = self.timing(*at, placed.extent, level);
            let key = key_signature(
                &lesson.scales[exercise.scale].scale,
                plan.written,
                lesson.signature,
            );
            let chord = chord_over(lesson, exercise, plan.written);
            let spelled = spell(lesson, ladder, &placed, chord.as_ref(), key.signature);
            let clashes = chord
                .as_ref()
                .map(|chord| (chord.clone(), clashes(ladder, &placed.tones, chord)));
            let chord = chord.map(|chord| place_of(&mut chords, chord));
            let letter = heading::rehearsal(number, on_sheet.len());
            let mut over: Vec<Direction> = letter
                .clone()
                .map(Direction::Rehearsal)
                .into_iter()
                .collect();
            over.extend(self.tempo_mark(exercise, line, &mut tempo));
            if number == 0 && matches!(lesson.feel, Feel::Swing(_)) {
                over.push(Direction::Swing);
            }
            // Last, next to the music: renderers stack them in this order.
            over.push(Direction::Words(words.clone().into()));
            let ready = Ready {
                number: number as u16,
                line,
                ladder,
                timing: &timing,
                placed: &placed,
                spelled: &spelled,
                key,
                chord,
                rows: exercise.labels.as_deref().unwrap_or(&lesson.labels),
                level,
                per_quarter: self.per_quarter,
            };
            let from = part.measures.len();
            measures(&ready, over, &mut numbers, &mut part.measures);
            let heading = letter.map_or(words.clone(), |letter| format!("{letter} · {words}"));
            report.add(
                heading,
                &placed,
                &spelled,
                key,
                &part.measures[from..],
                clashes,
            );
        }
        if let Some(last) = part.measures.last_mut() {
            last.barline = Some(Barline::Final);
        }
        let mut score = Score {
            title: lesson.title.clone(),
            subtitle: lesson.subtitle.clone(),
            head: heading::head(lesson, player, plan),
            page: page(player.level),
            divisions: self.per_quarter,
            chords,
            part,
        };
        let mark = edition(&score);
        score.head.push(format!("Edition {mark}"));
        Ok(Sheet {
            score,
            report: report.finish(numbers.bars(), mark),
        })
    }

    fn place(&self, at: usize, horn: Horn, plan: &SheetPlan) -> Result<Placed, Misfit> {
        let line = &self.lines[at];
        let exercise = &self.lesson.exercises[at];
        let own = shape(line, horn, exercise.when_too_wide)?;
        let (agreed, horns) = if self.lesson.together {
            let room = self.room(at, plan);
            let horns = room.iter().map(|(horn, _)| *horn).collect();
            (together(line, &room).unwrap_or(own), horns)
        } else {
            (own, vec![horn])
        };
        settle(line, horn, &agreed, &horns).ok_or_else(|| crate::place::misfit_of(line, horn))
    }

    /// Everyone who plays the same exercise in the same key, and can: a
    /// player who is left out binds nobody.
    fn room(&self, at: usize, plan: &SheetPlan) -> Vec<(Horn, Shape)> {
        let exercise = &self.lesson.exercises[at];
        let others = self
            .plans
            .iter()
            .filter(|other| other.number == plan.number);
        let here = others.filter(|other| plan::exercises(self.lesson, other).contains(&at));
        let horns = here.map(|other| {
            let player = &self.lesson.players[other.player];
            let level = exercise.level.unwrap_or(player.level);
            Horn {
                root: other.written,
                range: player.range(level),
            }
        });
        horns
            .filter_map(|horn| {
                shape(&self.lines[at], horn, exercise.when_too_wide)
                    .ok()
                    .map(|shape| (horn, shape))
            })
            .collect()
    }

    fn timing(&self, at: usize, extent: Extent, level: Level) -> Arc<Timing> {
        let by_beat = level == Level::Beginner;
        let mut timings = self.timings.lock().unwrap_or_else(PoisonError::into_inner);
        let timing = timings.entry((at, extent, by_beat)).or_insert_with(|| {
            let style = if by_beat {
                BeamStyle::ByBeat
            } else {
                BeamStyle::ByHalfBar
            };
            Arc::new(Timing::of(&self.lines[at], extent, self.per_quarter, style))
        });
        Arc::clone(timing)
    }

    /// The tempo mark, where it isn't already in force.
    fn tempo_mark(
        &self,
        exercise: &Exercise,
        line: &Line,
        shown: &mut Option<Direction>,
    ) -> Option<Direction> {
        let tempo = exercise.tempo.or(self.lesson.tempo)?;
        let mark = Direction::Tempo {
            beat: beat_value(line.meter()),
            per_minute: tempo.slowest(),
        };
        let new = shown.as_ref() != Some(&mark);
        *shown = Some(mark.clone());
        new.then_some(mark)
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

/// A4; staves of 8 mm for beginners, 7 mm for others.
fn page(level: Level) -> Page {
    let staff_height = if level == Level::Beginner { 80 } else { 70 };
    Page {
        staff_height,
        width: 2100,
        height: 2970,
    }
}
