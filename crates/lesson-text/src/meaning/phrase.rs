//! What becomes of a literal phrase: exercises that say it as it stands.

use lesson::{Direction, Figure, KindName, SayName};

use crate::meaning::material::Material;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::typed::exercise::ExerciseText;
use crate::typed::figures::figure::Cell;
use crate::typed::figures::literal::LiteralText;

impl Material<'_> {
    /// The phrase of a figure of the file, where it is one.
    pub(crate) fn literal(&self, figure: Option<usize>) -> Option<&LiteralText> {
        self.texts?.get(figure?)?.cell.as_ref()?.literal.as_ref()
    }

    /// The number of a phrase's own scale among the lesson's.
    pub(crate) fn home(&self, literal: &LiteralText) -> Option<usize> {
        let id = |at: &usize| self.scale_at(*at)?.id.as_deref();
        (0..self.scales?.len()).rfind(|at| id(at) == Some(literal.home()))
    }

    /// A phrase as an exercise plays it; mistakes where it can't.
    pub(crate) fn phrase(
        &self,
        cell: &Cell,
        literal: &LiteralText,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Option<Figure> {
        if exercise.kind.said()?.value.says_figure() {
            as_it_stands(literal, exercise, report)?;
        }
        Some(Figure {
            literal: Some(literal.phrase(&cell.wording, report)?),
            ..cell.figure(Vec::new(), None)
        })
    }
}

/// Tells of everything an exercise asks that would turn a phrase into another.
fn as_it_stands(
    literal: &LiteralText,
    exercise: &ExerciseText,
    report: &mut Report<'_>,
) -> Option<()> {
    let before = report.count();
    let kind = exercise.kind.said()?;
    let other = match kind.value {
        KindName::Changes => Some("it brings its own chords and isn't carried through others"),
        KindName::Sequence | KindName::Trade => {
            Some("it is on no scale, so it isn't begun on each degree of one")
        }
        KindName::Scale
        | KindName::Figure
        | KindName::Keys
        | KindName::Intervals
        | KindName::Runs
        | KindName::GuideTones
        | KindName::Targets => None,
    };
    if let Some(why) = other {
        let message = format!("a literal phrase has no {}: {why}", kind.value.word());
        let help = "write kind = \"figure\" or kind = \"keys\", or name another figure";
        report.mistake(&kind.span, message, help);
    }
    if let Saying::Said(say) = &exercise.say
        && say.value == SayName::Sequence
    {
        let message = "a literal phrase has no sequence: it is on no scale";
        report.mistake(
            &say.span,
            message,
            "write say = \"figure\", or leave it out",
        );
    }
    let goes_up = |said: &&Spanned<Direction>| said.value != Direction::Up;
    if let Some(direction) = exercise.direction.said().filter(goes_up) {
        let message = "a literal phrase is played as it stands and never turned to come down";
        report.mistake(&direction.span, message, "leave direction out");
    }
    if let Some(coming_down) = exercise.coming_down.said() {
        let message = "a literal phrase is played as it stands and never comes down";
        report.mistake(&coming_down.span, message, "leave coming_down out");
    }
    if let Some(variants) = exercise.variants.said() {
        let message = "a literal phrase is played as it stands and has no variants";
        let help = "leave them out, or write a [[figure]] for each wording";
        report.mistake(&variants.span, message, help);
    }
    if let Some(scale) = exercise.scale.said() {
        let message = "a literal phrase is on no scale";
        report.mistake(&scale.span, message, "leave scale out");
    }
    if let Some(chord) = exercise.chord.said()
        && !literal.chords.is_empty()
    {
        let message = "the phrase's own chords stand over it";
        report.mistake(
            &chord.span,
            message,
            "leave chord out, or change its chords",
        );
    }
    (report.count() == before).then_some(())
}
