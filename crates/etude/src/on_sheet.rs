//! An exercise on one sheet: placed on the horn, spelled, and laid out in time.

use std::sync::{Arc, PoisonError};

use lesson::{Exercise, Named};
use rhythm::{BeamStyle, Meter, Ticks};
use score::Chords;
use theory::{
    Chord, ChordSymbol, Degree, Form, KeySignature, Level, LineTone, Naming, Pitch, PitchName,
    Root, Rung, Scale, Signature, Speller, Tone,
};

use crate::compose::breath::Breathing;
use crate::compose::course::Extent;
use crate::compose::line::Line;
use crate::compose::statements::timed;
use crate::compose::timing::Timing;
use crate::composer::Composer;
use crate::heights::Reach;
use crate::over::{NoLine, OverContext, OverLine, Realization, realize};
use crate::place::horn::Horn;
use crate::place::placement::{Misfit, Placement};
use crate::place::shape::{self, Shape, settle, shape, together};
use crate::place::through;
use crate::plan::{self, SheetPlan};
use crate::print::Print;
use crate::remark::Remark;
use crate::report::gathering::Statement;
use crate::spell::passage::{NameKey, Passage, Spelling, spell};

/// Which exercise, on which sheet, and how that prints it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SheetExercise<'p> {
    pub at: usize,
    pub plan: &'p SheetPlan,
    pub print: Print<'p>,
    pub key: KeySignature,
}

/// An exercise on one sheet, ready to be written.
pub(crate) struct OnSheet<'a> {
    pub timing: Arc<Timing>,
    pub passages: Vec<Passage<'a>>,
    /// Chord symbols by their times.
    pub symbols: Vec<(Ticks, u16)>,
    /// Whether one chord, that of its scale, stands for a passage and its key.
    pub keyed: bool,
    pub statements: Vec<Statement>,
    pub remarks: Vec<Remark>,
}

/// Why an exercise is not on a sheet.
pub(crate) enum Omission {
    /// It fits nowhere on the horn.
    OffTheHorn(Horn, Misfit),
    /// Someone asked to stop.
    Stopped,
}

impl<'a> Composer<'a> {
    /// An exercise of statements in its keys.
    pub(crate) fn figures_on_sheet<'s>(
        &'s self,
        line: &'s Line,
        sheet: SheetExercise,
        chords: &mut Chords,
    ) -> Result<OnSheet<'s>, Omission> {
        let lesson = self.lesson;
        let SheetExercise {
            at,
            plan,
            print,
            key: KeySignature { signature, .. },
        } = sheet;
        let exercise = &lesson.exercises[at];
        let phrase = line.literal();
        let ladder = phrase.map_or(&self.ladders[exercise.scale], |phrase| &phrase.ladder);
        let scale = &lesson.scales[exercise.scale].scale.degrees;
        let roots = plan::roots(lesson, exercise, plan);
        let placed = self
            .place(at, line, &roots, plan)
            .map_err(|(horn, misfit)| Omission::OffTheHorn(horn, misfit))?;
        let extents = placed.iter().map(|placed| placed.extent).collect();
        let timing = self.timing(at, line, extents, print);
        let keyed = phrase.is_none_or(|phrase| phrase.chords.is_empty());
        let mut symbols: Vec<(Ticks, u16)> = Vec::new();
        let mut passages = Vec::with_capacity(roots.len());
        for ((number, placed), root) in placed.into_iter().enumerate().zip(&roots) {
            let tones = (placed.root, &placed.tones[..]);
            let spelled = self.spelled(at, Some(line), tones, signature);
            let over: Vec<u16> = match phrase {
                Some(phrase) if !keyed => phrase
                    .symbols(root.written, signature)
                    .map(|chord| chords.place_of(&chord, &usual_scale(&chord)))
                    .collect(),
                _ => self
                    .chord_over(exercise, phrase.is_some())
                    .map(|chord| ChordSymbol::on(root.written, chord))
                    .map(|chord| chords.place_of(&chord, scale))
                    .into_iter()
                    .collect(),
            };
            let times = timing.chords_of(number).iter().copied();
            symbols.extend(times.zip(over.iter().copied().cycle()));
            passages.push(Passage {
                placed,
                spelled,
                chord: over.first().copied(),
                ladder,
            });
        }
        Ok(OnSheet {
            passages,
            timing,
            symbols,
            keyed,
            statements: Vec::new(),
            remarks: Vec::new(),
        })
    }

    /// The chord over all of an exercise: its own, or that of its scale, of
    /// which a literal phrase takes nothing.
    fn chord_over(&self, exercise: &'a Exercise, literal: bool) -> Option<&'a Chord> {
        let scales = self.lesson.scales[exercise.scale].chord.as_ref();
        let own = exercise.chord.as_ref();
        own.or(scales.filter(|_| !literal))
    }

    /// Tones of an exercise on a root, spelled.
    pub(crate) fn spelled(
        &self,
        at: usize,
        line: Option<&Line>,
        (root, tones): (Pitch, &[LineTone]),
        signature: Signature,
    ) -> Spelling {
        match line.and_then(Line::literal) {
            Some(phrase) => phrase.spell(root, tones, signature, self.lesson.spelling),
            None => spell(&self.speller(at, root.name(), signature), root, tones),
        }
    }

    /// The names of an exercise's scale on a written root.
    fn speller(&self, at: usize, root: PitchName, signature: Signature) -> Arc<Speller> {
        let exercise = &self.lesson.exercises[at];
        let named = NameKey {
            exercise: at,
            chord: None,
            root: root.fifths(),
            signature: signature.fifths(),
        };
        self.spellers.get(named, || {
            let own = self.lesson.scales[exercise.scale].chord.as_ref();
            let naming = Naming {
                root,
                chord: own,
                over: exercise.chord.as_ref().or(own),
                signature,
                style: self.lesson.spelling,
            };
            Speller::new(&self.ladders[exercise.scale], naming)
        })
    }

    /// An exercise over changes in a key.
    pub(crate) fn over_on_sheet(
        &self,
        line: &OverLine,
        sheet: SheetExercise,
        chords: &mut Chords,
    ) -> Result<OnSheet<'_>, Omission> {
        let SheetExercise {
            at,
            plan,
            print,
            key: KeySignature { signature, .. },
        } = sheet;
        let exercise = &self.lesson.exercises[at];
        let level = print.level;
        let range = self.lesson.players[plan.player].range(level);
        let context = OverContext {
            lesson: self.lesson,
            ladders: &self.ladders,
            written: plan.written,
            range,
            signature,
            exercise: at,
            spellers: &self.spellers,
            stop: self.stop,
        };
        let Realization {
            passages,
            timed,
            symbols,
            statements,
            remarks,
        } = realize(line, context, chords).map_err(|why| {
            let root = match why {
                NoLine::Stopped => return Omission::Stopped,
                NoLine::OffTheHorn(root) => root,
            };
            let tone = LineTone {
                tone: Tone::Rung(Rung(0)),
                form: Form::Rising,
            };
            let horn = Horn {
                root: root.name(),
                range,
            };
            Omission::OffTheHorn(horn, Misfit { root, tone })
        })?;
        let breathing = self.breathing(exercise, &line.over.bars[0].meter, level);
        let timing = Timing::of(timed, &line.bars, self.per_quarter, beams(level), breathing);
        Ok(OnSheet {
            timing: Arc::new(timing.printed(print)),
            passages,
            symbols,
            keyed: false,
            statements,
            remarks,
        })
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
    ) -> Result<Vec<Placement>, (Horn, Misfit)> {
        let exercise = &self.lesson.exercises[at];
        let player = &self.lesson.players[plan.player];
        let range = player.range(exercise.level.unwrap_or(player.level));
        let place = |root: &Root| {
            let horn = Horn {
                root: root.written,
                range,
            };
            let own = shape(line, horn, line.when_too_wide()).map_err(|misfit| (horn, misfit))?;
            let misfit = || (horn, shape::misfit_of(line, horn));
            if !self.lesson.together {
                return settle(line, horn, &own, &[horn]).ok_or_else(misfit);
            }
            let room = self.room(at, line, *root, plan);
            let horns: Vec<Horn> = room.iter().map(|(horn, _)| *horn).collect();
            let mut alone = settle(line, horn, &own, &[horn]).ok_or_else(misfit)?;
            if let Some(agreed) = together(line, &room) {
                let placed = settle(line, horn, &agreed, &horns).ok_or_else(misfit)?;
                return Ok(placed.beside(&alone, line.goal()));
            }
            // Nothing suits them all: better a sheet of one's own than none.
            alone.remarks.push(Remark::PlaysAlone);
            Ok(alone)
        };
        let mut placed: Vec<Placement> = roots.iter().map(place).collect::<Result<_, _>>()?;
        if plan.through_keys {
            through::join(&mut placed, line.heights(), Reach::of_range(range));
        }
        Ok(placed)
    }

    /// Everyone who plays the same exercise on the same root, and can: a
    /// player who is left out binds nobody. The same root is the one that sounds
    /// the same; where written names are given, the one of the same written name.
    fn room(&self, at: usize, line: &Line, root: Root, plan: &SheetPlan) -> Vec<(Horn, Shape)> {
        let lesson = self.lesson;
        let exercise = &lesson.exercises[at];
        let named = plan::keys(lesson, exercise, &lesson.players[plan.player]).named;
        let same = |other: &Root| match named {
            Named::Concert => other.concert.class() == root.concert.class(),
            Named::Written => other.written.class() == root.written.class(),
        };
        let others = self.plans.iter();
        let others = others.filter(|other| other.through_keys == plan.through_keys);
        let here = others.filter_map(|other| {
            let theirs = plan::roots(lesson, exercise, other);
            let theirs = theirs.into_iter().find(same)?;
            let plays = plan::exercises(lesson, other).contains(&at);
            plays.then_some((other, theirs))
        });
        here.filter_map(|(other, theirs)| {
            let player = &lesson.players[other.player];
            let horn = Horn {
                root: theirs.written,
                range: player.range(exercise.level.unwrap_or(player.level)),
            };
            let shape = shape(line, horn, line.when_too_wide()).ok()?;
            Some((horn, shape))
        })
        .collect()
    }

    fn timing(&self, at: usize, line: &Line, extents: Vec<Extent>, print: Print) -> Arc<Timing> {
        let mut timings = self.timings.lock().unwrap_or_else(PoisonError::into_inner);
        let timing = timings.entry((at, extents, print.level, print.rows.len()));
        let timing = timing.or_insert_with_key(|(_, extents, _, _)| {
            let exercise = &self.lesson.exercises[at];
            let breathing = self.breathing(exercise, line.meter(), print.level);
            let (timed, bars) = timed(line, extents, self.per_quarter);
            let style = beams(print.level);
            let timing = Timing::of(timed, &bars, self.per_quarter, style, breathing);
            Arc::new(timing.printed(print))
        });
        Arc::clone(timing)
    }
}

/// The degrees of a chord's usual scale, for whoever plays under it.
fn usual_scale(symbol: &ChordSymbol) -> Vec<Degree> {
    let scale = Scale::named(symbol.scales().0);
    scale.map_or(Vec::new(), |scale| scale.degrees)
}

/// How a level's eighths are beamed.
fn beams(level: Level) -> BeamStyle {
    if level == Level::Beginner {
        BeamStyle::ByBeat
    } else {
        BeamStyle::ByHalfBar
    }
}
