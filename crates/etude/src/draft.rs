//! A sheet while its exercises are put on it: what stands on it, how one is
//! begun, and the score that it becomes.

use std::collections::BTreeMap;

use lesson::Paper;
use score::{
    About, Chords, Direction, HeadLine, Imprint, Numbering, Page, Part, Score, Transposition,
    edition,
};
use theory::{KeySignature, Level};

use crate::above::InForce;
use crate::buffers::SheetBuffers;
use crate::composer::{Composer, Composition};
use crate::notate::heading;
use crate::plan::{self, SheetPlan};
use crate::report::gathering::Gathering;

/// A sheet that is being composed.
pub(crate) struct Draft<'s> {
    pub plan: &'s SheetPlan,
    /// Whether everything is on it that its student is asked for.
    pub complete: bool,
    /// The exercises that anyone has on such a sheet, in order.
    pub lettered: Vec<usize>,
    /// Whether sections' names stand on it.
    pub sectioned: bool,
    pub part: Part,
    pub chords: Chords,
    pub exercises: Vec<score::Exercise>,
    pub numbers: Numbering,
    pub in_force: InForce,
    /// By the scale, and whether the phrase is literal.
    pub keys: BTreeMap<(usize, bool), KeySignature>,
    pub report: Gathering,
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
    /// A sheet before its first exercise.
    pub(crate) fn draft<'s>(
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

    /// Begins an exercise under certain words, where the teacher says none:
    /// what stands over its first bar, and its heading as reports tell it.
    pub(crate) fn begin(
        &self,
        at: usize,
        words: &str,
        draft: &mut Draft,
    ) -> (Vec<Direction>, String) {
        let exercise = &self.lesson.exercises[at];
        let own = exercise.heading.as_deref();
        let heading = own.unwrap_or(words);
        let letter = draft.letter(at);
        let over = self.over_first(
            exercise,
            (letter.as_deref(), heading),
            self.lines[at].meters()[0].1,
            &mut draft.in_force,
        );
        let told = own.filter(|own| !own.is_empty()).unwrap_or(words);
        let told = match &letter {
            Some(letter) => [letter, " · ", told].concat(),
            None => told.to_owned(),
        };
        draft.exercises.push(score::Exercise {
            first: draft.part.measures.len(),
            letter,
            heading: heading.to_owned(),
            ..self.described(at, draft.plan)
        });
        (over, told)
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

    /// The whole of a sheet, and its edition.
    pub(crate) fn score(
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
