//! One sheet, composed on its own from what all of them share.

use std::sync::atomic::Ordering;

use lesson::{Exercise, Hide, Label};
use score::{Barline, Chords};
use theory::{ChordSymbol, Degree, Instrument, KeySignature, SignatureStyle, key_signature};

use crate::buffers::SheetBuffers;
use crate::compose::line::Line;
use crate::composer::{Composer, Composition};
use crate::draft::Draft;
use crate::notate::cue::cues;
use crate::notate::input::NotationInput;
use crate::notate::label::rows_for;
use crate::notate::measures::measures;
use crate::notate::sentence::Shown;
use crate::on_sheet::{Omission, OnSheet, SheetExercise};
use crate::place::horn::Horn;
use crate::place::placement::Misfit;
use crate::plan::{self, SheetPlan};
use crate::print::Print;
use crate::remark::{PrintGap, Remark};
use crate::report::gathering::{Entry, LeftOut, Sheet};
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
        let on_sheet = plan::exercises(self.lesson, plan);
        if on_sheet.is_empty() {
            return Err(LeftOut::NothingToPlay);
        }
        let mut draft = self.draft(plan, complete, buffers);
        for at in on_sheet {
            if self.stop.load(Ordering::Relaxed) {
                return Err(LeftOut::Stopped);
            }
            self.add(at, &mut draft, buffers)?;
        }
        if let Some(last) = draft.part.measures.last_mut() {
            last.barline = Some(Barline::Final);
        }
        let Draft {
            part,
            chords,
            exercises,
            numbers,
            report,
            ..
        } = draft;
        let (score, mark) = self.score(plan, complete, (chords, exercises, part));
        Ok(Sheet {
            score,
            report: report.finish(numbers.bars(), mark),
        })
    }

    /// Adds an exercise to a sheet.
    fn add(&self, at: usize, draft: &mut Draft, buffers: &mut SheetBuffers) -> Result<(), LeftOut> {
        let (lesson, plan) = (self.lesson, draft.plan);
        let player = &lesson.players[plan.player];
        let exercise = &lesson.exercises[at];
        let line = &self.lines[at];
        let literal = line.line().is_some_and(|line| line.literal().is_some());
        let key = *draft
            .keys
            .entry((exercise.scale, literal))
            .or_insert_with(|| self.key(at, plan));
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
        let here = SheetExercise {
            at,
            plan,
            print,
            key,
        };
        let on = self.on_sheet(here, &mut draft.chords)?;
        let words = self.words(at, plan, shown(exercise, line, &on));
        let (over, heading) = self.begin(at, &words, draft);
        let input = self.input(here, &on, draft);
        let sheet = &mut draft.part.measures;
        let from = sheet.len();
        measures(&input, over, &mut draft.numbers, sheet, buffers);
        let mut remarks = on.remarks;
        remarks.extend(cues(&exercise.words, &on.timing, &mut sheet[from..]));
        remarks.extend(left_out.into_iter().map(PrintGap::Row).map(Remark::Print));
        remarks.extend(unfingered(&rows, &on.passages, &player.instrument));
        draft.report.add(Entry {
            place: at,
            heading,
            passages: &on.passages,
            key,
            measures: &sheet[from..],
            clashes: on
                .keyed
                .then(|| clashing(&on.passages, &draft.chords))
                .flatten(),
            statements: on.statements,
            remarks,
        });
        Ok(())
    }

    /// What the measures of an exercise that was begun are made of.
    fn input<'s>(
        &'s self,
        sheet: SheetExercise<'s>,
        on: &'s OnSheet,
        draft: &Draft,
    ) -> NotationInput<'s> {
        let complete = draft.complete;
        let exercise = &self.lesson.exercises[sheet.at];
        let composition = &self.lines[sheet.at];
        let line = composition.line();
        let instrument = &self.lesson.players[sheet.plan.player].instrument;
        NotationInput {
            number: draft.exercises.len() as u16 - 1,
            print: sheet.print,
            closes: line.is_some_and(Line::closes),
            marks: line.and_then(Line::marks),
            sections: composition.sections(),
            symbols: &on.symbols,
            keyed: on.keyed,
            literal: line.and_then(Line::literal).map(|phrase| phrase.mode),
            timing: &on.timing,
            passages: &on.passages,
            key: sheet.key,
            given: exercise.given.filter(|_| !complete),
            hide: exercise.hide.filter(|_| !complete),
            chord_symbols: exercise.chord_symbols
                && (complete || exercise.hide != Some(Hide::Chords)),
            names: self.lesson.note_names,
            instrument,
            middle_line: instrument.clef.middle_line(sheet.key.signature),
        }
    }

    /// An exercise on a sheet.
    fn on_sheet<'s>(
        &'s self,
        sheet: SheetExercise,
        chords: &mut Chords,
    ) -> Result<OnSheet<'s>, LeftOut> {
        let on = match &self.lines[sheet.at] {
            Composition::Line(line) => self.figures_on_sheet(line, sheet, chords),
            Composition::Over(line) => self.over_on_sheet(line, sheet, chords),
        };
        on.map_err(|why| match why {
            Omission::OffTheHorn(horn, misfit) => self.left_out(sheet.at, sheet.plan, horn, misfit),
            Omission::Stopped => LeftOut::Stopped,
        })
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

    fn left_out(&self, at: usize, plan: &SheetPlan, horn: Horn, misfit: Misfit) -> LeftOut {
        let exercise = &self.lesson.exercises[at];
        let signature = self.key(at, plan).signature;
        let line = self.lines[at].line();
        let spelled = self.spelled(at, line, (misfit.root, &[misfit.tone]), signature);
        let shown = Shown::asked(exercise);
        LeftOut::OffTheHorn {
            heading: match exercise.heading.as_deref() {
                Some(own) if !own.is_empty() => own.to_owned(),
                _ => self.words(at, plan, shown).to_string(),
            },
            place: at,
            written: horn.root,
            note: spelled.pitches.first().copied().unwrap_or(misfit.root),
            range: horn.range,
        }
    }
}

/// What of an exercise its heading tells.
fn shown(exercise: &Exercise, line: &Composition, on: &OnSheet) -> Shown {
    match line {
        Composition::Line(_) => {
            Shown::of(exercise, on.passages.iter().map(|passage| &passage.placed))
        }
        Composition::Over(_) => Shown::over(exercise, on.timing.events.len() > on.statements.len()),
    }
}

/// How an exercise of one chord rubs against it.
fn clashing(passages: &[Passage], chords: &Chords) -> Option<(ChordSymbol, Vec<Degree>)> {
    let passage = passages.first()?;
    let chord = chords.symbol(passage.chord?)?.clone();
    let clashes = clashes(passage.ladder, &passage.placed.tones, &chord);
    Some((chord, clashes))
}

/// Notes for which a row has no fingering.
fn unfingered(
    rows: &[Label],
    passages: &[Passage],
    instrument: &Instrument,
) -> impl Iterator<Item = Remark> {
    let fingers = |row: &&Label| matches!(row, Label::Valves | Label::Positions);
    let row = rows.iter().find(fingers);
    row.into_iter().flat_map(move |row| {
        let pitches = passages.iter().flat_map(|passage| &passage.spelled.pitches);
        let without = pitches.filter(|pitch| instrument.fingering(**pitch).is_none());
        without.map(|_| Remark::Print(PrintGap::Fingering(*row)))
    })
}
