//! One sheet, composed on its own from what all of them share.

use std::collections::BTreeMap;
use std::sync::atomic::Ordering;
use std::sync::{Arc, PoisonError};

use lesson::{Exercise, Feel, Hide, Label, Paper, Tempo};
use rhythm::Meter;
use score::{
    About, Barline, Chords, Direction, HeadLine, Imprint, Numbering, Page, Part, Score, TempoMark,
    Transposition, edition,
};
use theory::{Instrument, KeySignature, Level, SignatureStyle, key_signature};

use crate::buffers::SheetBuffers;
use crate::compose::line::Line;
use crate::composer::{Composer, Composition};
use crate::notate::cue::cues;
use crate::notate::heading;
use crate::notate::label::rows_for;
use crate::notate::measures::{NotationInput, beat_value, measures};
use crate::notate::sentence::{Shown, sentence};
use crate::on_sheet::{Omission, OnSheet};
use crate::place::horn::Horn;
use crate::place::placement::Misfit;
use crate::plan::{self, SheetPlan};
use crate::print::Print;
use crate::remark::Remark;
use crate::report::gathering::{self, LeftOut, Sheet};
use crate::spell::clash::clashes;
use crate::spell::passage::Passage;

impl Composer<'_> {
    /// Composes one sheet; the same plan gives the same sheet on any thread.
    ///
    /// # Errors
    /// When an exercise fits nowhere on the horn in that key.
    pub fn compose(&self, plan: &SheetPlan) -> Result<Sheet, LeftOut> {
        self.compose_in(plan, &mut SheetBuffers::new())
    }

    /// The same from what is left of sheets before it.
    ///
    /// # Errors
    /// Those of [`Composer::compose`].
    pub fn compose_in(
        &self,
        plan: &SheetPlan,
        buffers: &mut SheetBuffers,
    ) -> Result<Sheet, LeftOut> {
        self.sheet(plan, false, buffers)
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
        self.sheet(plan, true, &mut SheetBuffers::new()).map(Some)
    }

    fn sheet(
        &self,
        plan: &SheetPlan,
        complete: bool,
        buffers: &mut SheetBuffers,
    ) -> Result<Sheet, LeftOut> {
        let lesson = self.lesson;
        let player = &lesson.players[plan.player];
        let on_sheet = plan::exercises(lesson, plan);
        if on_sheet.is_empty() {
            return Err(LeftOut::NothingToPlay);
        }
        // Letters are the same for everyone.
        let lettered = plan::for_anyone(lesson, plan);
        let mut part = Part::of(
            &player.instrument,
            Transposition::of(plan.written_to_sounding),
        );
        part.measures = buffers.measures();
        let mut chords = Chords::default();
        let mut exercises = Vec::with_capacity(on_sheet.len());
        let mut numbers = Numbering::default();
        let mut tempo = None;
        let mut dynamic = None;
        let mut keys = BTreeMap::new();
        // Letters would be taken for those of sections.
        let sectioned = lettered
            .iter()
            .any(|at| !self.lines[*at].sections().is_empty());
        let mut report =
            gathering::Gathering::new(player.instrument.register_break, plan.written.at(4));
        for (number, at) in on_sheet.iter().enumerate() {
            if self.stop.load(Ordering::Relaxed) {
                return Err(LeftOut::Stopped);
            }
            let exercise = &lesson.exercises[*at];
            let line = &self.lines[*at];
            let literal = line.line().and_then(Line::literal);
            let key = *keys
                .entry((exercise.scale, literal.is_some()))
                .or_insert_with(|| self.key(*at, plan));
            let meters = line.meters();
            let asked = exercise.labels.as_deref().unwrap_or(&lesson.labels);
            let (rows, left_out) = rows_for(asked, &player.instrument);
            let print = Print {
                rows: &rows,
                level: exercise.level.unwrap_or(player.level),
                large: lesson.large_print,
                meters: &meters,
                counting: line.line().map(Line::counting).unwrap_or_default(),
                per_quarter: self.per_quarter,
            };
            let on = match line {
                Composition::Line(line) => {
                    self.figures_on_sheet(*at, line, plan, print, key.signature, &mut chords)
                }
                Composition::Over(line) => {
                    self.over_on_sheet(*at, line, plan, print, key.signature, &mut chords)
                }
            };
            let OnSheet {
                timing,
                passages,
                symbols,
                statements,
                remarks,
            } = on.map_err(|why| match why {
                Omission::OffTheHorn(horn, misfit) => self.left_out(*at, plan, horn, misfit),
                Omission::Stopped => LeftOut::Stopped,
            })?;
            let shown = match line {
                Composition::Line(_) => {
                    Shown::of(exercise, passages.iter().map(|passage| &passage.placed))
                }
                Composition::Over(_) => {
                    Shown::over(exercise, timing.events.len() > statements.len())
                }
            };
            let words = self.words(*at, plan, shown);
            let clashes = passages
                .first()
                .filter(|_| symbols.is_none())
                .and_then(|passage| {
                    let chord = chords.symbol(passage.chord?)?.clone();
                    let clashes = clashes(passage.ladder, &passage.placed.tones, &chord);
                    Some((chord, clashes))
                });
            let place = lettered.iter().position(|one| one == at);
            let letter = heading::rehearsal(place.unwrap_or(number), lettered.len(), sectioned);
            let mut over: Vec<Direction> = letter
                .clone()
                .map(Direction::Rehearsal)
                .into_iter()
                .collect();
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
            let heading = exercise.heading.as_deref().unwrap_or(&words);
            if !heading.is_empty() {
                over.push(Direction::Heading(heading.to_owned().into()));
            }
            over.extend(exercise.text.iter().cloned().map(Direction::Text));
            exercises.push(score::Exercise {
                first: part.measures.len(),
                letter: letter.clone(),
                heading: heading.to_owned(),
                ..self.described(*at, plan)
            });
            let input = NotationInput {
                number: number as u16,
                print,
                closes: line.line().is_some_and(Line::closes),
                marks: line.line().and_then(Line::marks),
                sections: line.sections(),
                symbols: symbols.as_deref(),
                literal: literal.map(|phrase| phrase.mode),
                timing: &timing,
                passages: &passages,
                key,
                given: exercise.given.filter(|_| !complete),
                hide: exercise.hide.filter(|_| !complete),
                chord_symbols: exercise.chord_symbols
                    && (complete || exercise.hide != Some(Hide::Chords)),
                names: lesson.note_names,
                instrument: &player.instrument,
                middle_line: player.instrument.clef.middle_line(key.signature),
            };
            let from = part.measures.len();
            measures(&input, over, &mut numbers, &mut part.measures, buffers);
            let nowhere = cues(&exercise.words, &timing, &mut part.measures[from..]);
            let own = exercise.heading.as_deref();
            let words = own.filter(|own| !own.is_empty()).unwrap_or(&words);
            let heading = match letter {
                Some(letter) => [&letter, " · ", words].concat(),
                None => words.to_owned(),
            };
            report.add(
                (*at, heading),
                &passages,
                key,
                &part.measures[from..],
                clashes,
            );
            report.over(statements, remarks);
            report.remark(nowhere);
            report.remark(unlabelled(&rows, left_out, &passages, &player.instrument));
        }
        if let Some(last) = part.measures.last_mut() {
            last.barline = Some(Barline::Final);
        }
        let mut score = Score {
            title: lesson.title.clone(),
            subtitle: lesson.subtitle.clone(),
            imprint: Imprint {
                author: lesson.own.author.clone(),
                rights: lesson.own.rights.clone(),
                footer: lesson.own.footer.clone(),
                text: lesson.own.text.clone(),
            },
            head: heading::head(lesson, player, plan, plan::is_minor(lesson, plan), complete),
            page: page(player.level, lesson.large_print, lesson.paper),
            divisions: self.per_quarter,
            chords,
            exercises,
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

    /// What an exercise is played over.
    fn described(&self, at: usize, plan: &SheetPlan) -> score::Exercise {
        let exercise = &self.lesson.exercises[at];
        let line = &self.lines[at];
        score::Exercise {
            place: at,
            first: 0,
            letter: None,
            heading: String::new(),
            tonic: plan.written,
            scale: self.lesson.scales[exercise.scale].scale.degrees.clone(),
            chorus: match line {
                Composition::Line(_) => None,
                Composition::Over(line) => u32::try_from(line.over.bars.len()).ok(),
            },
        }
    }

    /// What is said over an exercise for a player.
    fn words(&self, at: usize, plan: &SheetPlan, shown: Shown) -> Arc<str> {
        let mut words = self.words.lock().unwrap_or_else(PoisonError::into_inner);
        let said = words.entry((plan.player, at, shown)).or_insert_with(|| {
            let player = &self.lesson.players[plan.player];
            sentence(self.lesson, &self.lesson.exercises[at], player, shown).into()
        });
        Arc::clone(said)
    }

    /// What stands on the staff for an exercise.
    fn key(&self, at: usize, plan: &SheetPlan) -> KeySignature {
        let literal = self.lines[at].line().and_then(Line::literal);
        let style = match self.lesson.signature {
            _ if plan.through_keys => SignatureStyle::None,
            // Which notes it borrows says nothing of its key.
            SignatureStyle::Fitting if literal.is_some() => SignatureStyle::Tonic,
            said => said,
        };
        key_signature(
            &self.lesson.scales[self.lesson.exercises[at].scale].scale,
            plan.written,
            style,
            self.lesson.spelling,
        )
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
        let mark = Direction::Tempo(TempoMark {
            beat: beat_value(meter),
            per_minute: tempo.slowest(),
        });
        let now = Some((tempo, mark.clone()));
        let before = std::mem::replace(shown, now.clone());
        if before == now {
            return Vec::new();
        }
        [mark].into_iter().chain(heading::boxes(tempo)).collect()
    }

    fn left_out(&self, at: usize, plan: &SheetPlan, horn: Horn, misfit: Misfit) -> LeftOut {
        let exercise = &self.lesson.exercises[at];
        let signature = self.key(at, plan).signature;
        let note = match self.lines[at].line() {
            Some(line) => self.spelled(at, line, misfit.root, &[misfit.tone], signature),
            None => self.named(at, misfit.root, &[misfit.tone], signature),
        }
        .pitches;
        let shown = Shown::asked(exercise);
        LeftOut::OffTheHorn {
            heading: match exercise.heading.as_deref() {
                Some(own) if !own.is_empty() => own.to_owned(),
                _ => self.words(at, plan, shown).to_string(),
            },
            place: at,
            written: horn.root,
            note: note.first().copied().unwrap_or(misfit.root),
            range: horn.range,
        }
    }
}

/// A4 if no other is said; staves of 7 mm, 8 mm for beginners, 11 mm in large
/// print.
fn page(level: Level, large_print: bool, paper: Option<Paper>) -> Page {
    let staff_height = match level {
        _ if large_print => 110,
        Level::Beginner => 80,
        Level::Intermediate | Level::Advanced => 70,
    };
    let (width, height) = match paper {
        None | Some(Paper::A4) => (2100, 2970),
        Some(Paper::Letter) => (2159, 2794),
    };
    Page {
        staff_height,
        width,
        height,
    }
}

/// Rows that an instrument can't have, and notes that have no fingering.
fn unlabelled(
    rows: &[Label],
    left_out: Vec<Label>,
    passages: &[Passage],
    instrument: &Instrument,
) -> Vec<Remark> {
    let mut remarks: Vec<Remark> = left_out.into_iter().map(Remark::RowLeftOut).collect();
    let fingers = |row: &&Label| matches!(row, Label::Valves | Label::Positions);
    if let Some(row) = rows.iter().find(fingers) {
        let pitches = passages.iter().flat_map(|passage| &passage.spelled.pitches);
        let without = pitches.filter(|pitch| instrument.fingering(**pitch).is_none());
        let notes = without.count() as u32;
        if notes > 0 {
            remarks.push(Remark::NotFingered { row: *row, notes });
        }
    }
    remarks
}
