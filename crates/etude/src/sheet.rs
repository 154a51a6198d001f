//! One sheet, composed on its own from what all of them share.

use std::collections::BTreeMap;
use std::sync::atomic::Ordering;

use lesson::{Exercise, Hide, Label, Paper};
use score::{
    About, Barline, Chords, HeadLine, Imprint, Numbering, Page, Part, Score, Transposition, edition,
};
use theory::{
    ChordSymbol, Degree, Instrument, KeySignature, Level, Signature, SignatureStyle, key_signature,
};

use crate::above::InForce;
use crate::buffers::SheetBuffers;
use crate::compose::line::Line;
use crate::composer::{Composer, Composition};
use crate::notate::cue::cues;
use crate::notate::heading;
use crate::notate::input::NotationInput;
use crate::notate::label::rows_for;
use crate::notate::measures::measures;
use crate::notate::sentence::Shown;
use crate::on_sheet::{Omission, OnSheet};
use crate::place::horn::Horn;
use crate::place::placement::Misfit;
use crate::plan::{self, SheetPlan};
use crate::print::Print;
use crate::remark::{PrintGap, Remark};
use crate::report::gathering::{Entry, Gathering, LeftOut, Sheet};
use crate::spell::clash::clashes;
use crate::spell::passage::Passage;

/// A sheet that is being composed.
struct Draft<'s> {
    plan: &'s SheetPlan,
    /// Whether everything is on it that its student is asked for.
    complete: bool,
    /// The exercises that anyone has on such a sheet, in order.
    lettered: Vec<usize>,
    /// Whether sections' names stand on it.
    sectioned: bool,
    part: Part,
    chords: Chords,
    exercises: Vec<score::Exercise>,
    numbers: Numbering,
    in_force: InForce,
    /// By the scale, and whether the phrase is literal.
    keys: BTreeMap<(usize, bool), KeySignature>,
    report: Gathering,
}

impl Draft<'_> {
    /// The letter of the exercise that comes next.
    fn letter(&self, at: usize) -> Option<String> {
        let place = self.lettered.iter().position(|one| *one == at);
        let place = place.unwrap_or(self.exercises.len());
        heading::rehearsal(place, self.lettered.len(), self.sectioned)
    }
}

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

    /// A sheet before its first exercise.
    fn draft<'s>(
        &self,
        plan: &'s SheetPlan,
        complete: bool,
        buffers: &mut SheetBuffers,
    ) -> Draft<'s> {
        let instrument = &self.lesson.players[plan.player].instrument;
        let mut part = Part::of(instrument, Transposition::of(plan.written_to_sounding));
        part.measures = buffers.measures();
        // Letters are the same for everyone.
        let lettered = plan::for_anyone(self.lesson, plan);
        // They would be taken for those of sections.
        let sectioned = lettered
            .iter()
            .any(|at| !self.lines[*at].sections().is_empty());
        Draft {
            plan,
            complete,
            lettered,
            sectioned,
            part,
            chords: Chords::default(),
            exercises: Vec::new(),
            numbers: Numbering::default(),
            in_force: InForce::default(),
            keys: BTreeMap::new(),
            report: Gathering::new(instrument.register_break, plan.written.at(4)),
        }
    }

    /// Adds an exercise to a sheet.
    fn add(&self, at: usize, draft: &mut Draft, buffers: &mut SheetBuffers) -> Result<(), LeftOut> {
        let (lesson, plan, complete) = (self.lesson, draft.plan, draft.complete);
        let player = &lesson.players[plan.player];
        let exercise = &lesson.exercises[at];
        let line = &self.lines[at];
        let literal = line.line().and_then(Line::literal);
        let key = *draft
            .keys
            .entry((exercise.scale, literal.is_some()))
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
        let on = self.on_sheet(at, plan, print, key.signature, &mut draft.chords)?;
        let words = self.words(at, plan, shown(exercise, line, &on));
        let clashes = match on.symbols {
            Some(_) => None,
            None => clashing(&on.passages, &draft.chords),
        };
        let own = exercise.heading.as_deref();
        let heading = own.unwrap_or(&words);
        let letter = draft.letter(at);
        let over = self.over_first(
            exercise,
            (letter.as_deref(), heading),
            meters[0].1,
            &mut draft.in_force,
        );
        draft.exercises.push(score::Exercise {
            first: draft.part.measures.len(),
            letter: letter.clone(),
            heading: heading.to_owned(),
            ..self.described(at, plan)
        });
        let input = NotationInput {
            number: draft.exercises.len() as u16 - 1,
            print,
            closes: line.line().is_some_and(Line::closes),
            marks: line.line().and_then(Line::marks),
            sections: line.sections(),
            symbols: on.symbols.as_deref(),
            literal: literal.map(|phrase| phrase.mode),
            timing: &on.timing,
            passages: &on.passages,
            key,
            given: exercise.given.filter(|_| !complete),
            hide: exercise.hide.filter(|_| !complete),
            chord_symbols: exercise.chord_symbols
                && (complete || exercise.hide != Some(Hide::Chords)),
            names: lesson.note_names,
            instrument: &player.instrument,
            middle_line: player.instrument.clef.middle_line(key.signature),
        };
        let sheet = &mut draft.part.measures;
        let from = sheet.len();
        measures(&input, over, &mut draft.numbers, sheet, buffers);
        let nowhere = cues(&exercise.words, &on.timing, &mut sheet[from..]);
        let told = own.filter(|own| !own.is_empty()).unwrap_or(&words);
        let told = match letter {
            Some(letter) => [&letter, " · ", told].concat(),
            None => told.to_owned(),
        };
        let mut remarks = on.remarks;
        remarks.extend(nowhere);
        remarks.extend(left_out.into_iter().map(PrintGap::Row).map(Remark::Print));
        remarks.extend(unfingered(&rows, &on.passages, &player.instrument));
        draft.report.add(Entry {
            place: at,
            heading: told,
            passages: &on.passages,
            key,
            measures: &sheet[from..],
            clashes,
            statements: on.statements,
            remarks,
        });
        Ok(())
    }

    /// The whole of a sheet, and its edition.
    fn score(
        &self,
        plan: &SheetPlan,
        complete: bool,
        (chords, exercises, part): (Chords, Vec<score::Exercise>, Part),
    ) -> (Score, String) {
        let lesson = self.lesson;
        let player = &lesson.players[plan.player];
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
        (score, mark)
    }

    /// An exercise on a sheet.
    fn on_sheet<'s>(
        &'s self,
        at: usize,
        plan: &SheetPlan,
        print: Print,
        signature: Signature,
        chords: &mut Chords,
    ) -> Result<OnSheet<'s>, LeftOut> {
        let on = match &self.lines[at] {
            Composition::Line(line) => {
                self.figures_on_sheet(at, line, plan, print, signature, chords)
            }
            Composition::Over(line) => self.over_on_sheet(at, line, plan, print, signature, chords),
        };
        on.map_err(|why| match why {
            Omission::OffTheHorn(horn, misfit) => self.left_out(at, plan, horn, misfit),
            Omission::Stopped => LeftOut::Stopped,
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
