//! What an exercise plays, by its number among the scales and figures of a
//! lesson.

use std::ops::Range;

use lesson::{ComingDown, Direction, Ending, Figure, KindName, SayName};
use rhythm::Meter;
use theory::Ladder;

use crate::language::study::choices;
use crate::meaning::material::Material;
use crate::meaning::resolve::{resolve, resolve_moves};
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned, Unclear};
use crate::typed::exercise::ExerciseText;
use crate::typed::figures::figure::Cell;
use crate::typed::figures::wording::{MoveWord, Wording};
use crate::typed::variant::expanded;

/// An exercise's kind, scale and figure, as numbers in the file.
pub(crate) struct ExerciseNumbers {
    pub kind: KindName,
    pub scale: usize,
    pub figure: Option<usize>,
}

impl Material<'_> {
    pub(super) fn numbers(
        &self,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Option<ExerciseNumbers> {
        let figure = self.figure(exercise, report);
        let says = exercise
            .kind
            .said()
            .is_some_and(|kind| kind.value.says_figure());
        let scale = match figure.ok().and_then(|figure| self.literal(figure)) {
            Some(literal) if says => self.home(literal),
            _ => self.scale(&exercise.scale, report),
        };
        Some(ExerciseNumbers {
            kind: exercise.kind.said()?.value,
            scale: scale?,
            figure: figure.ok()?,
        })
    }

    /// The number of an exercise's figure among those of the lesson; none where
    /// it plays none.
    pub(crate) fn figure_of(
        &mut self,
        exercise: &ExerciseText,
        numbers: &ExerciseNumbers,
        report: &mut Report<'_>,
    ) -> Result<Option<usize>, Unclear> {
        let number = match (choices(numbers.kind), numbers.figure) {
            (Some(_), _) => self.study_of(exercise, numbers),
            (None, Some(text)) => self.figure_on_scale(text, exercise, numbers, report),
            (None, None) => return Ok(None),
        };
        number.map(Some).ok_or(Unclear)
    }

    /// The number of a figure of the file, as it is on an exercise's scale.
    fn figure_on_scale(
        &mut self,
        text: usize,
        exercise: &ExerciseText,
        numbers: &ExerciseNumbers,
        report: &mut Report<'_>,
    ) -> Option<usize> {
        let cell = self.texts?.get(text)?.cell.as_ref()?;
        if numbers.kind == KindName::Scale {
            // Only its meter counts: the figure on any scale will do.
            if let Some(found) = self
                .figures
                .iter()
                .position(|resolved| resolved.text == Some(text) && resolved.varied.is_none())
            {
                return Some(found);
            }
        } else {
            self.leads_somewhere(cell, exercise, report)?;
        }
        let name = self.texts?.get(text)?.name.maybe().ok()?;
        if let Some(literal) = &cell.literal {
            let phrase = self.phrase(cell, literal, exercise, report)?;
            let phrase = Figure { name, ..phrase };
            return Some(self.number(Some(text), phrase, None));
        }
        let scale = &self.scales?.get(numbers.scale)?.scale.as_ref()?.scale;
        let moves = resolve(&cell.wording, scale, report);
        let flipped = match &cell.flipped {
            Some(words) => Some(resolve_moves(words, scale, report)?),
            None => None,
        };
        let figure = Figure {
            name,
            ..cell.figure(moves?, flipped)
        };
        Some(self.number(Some(text), figure, None))
    }

    /// The statement of a study, in the meter of the lesson's figure if there
    /// is one.
    fn study_of(&mut self, exercise: &ExerciseText, numbers: &ExerciseNumbers) -> Option<usize> {
        let meter = match numbers.figure {
            Some(text) => self.texts?.get(text)?.cell.as_ref()?.meter.clone(),
            None => Meter::common(),
        };
        let figure = exercise.study.said()?.value.figure(meter);
        Some(self.number(None, figure, None))
    }

    /// The figures that an exercise plays one after another: its own, or the
    /// variants it asks for.
    pub(crate) fn variants(
        &mut self,
        exercise: &ExerciseText,
        numbers: &ExerciseNumbers,
        figure: Option<usize>,
        report: &mut Report<'_>,
    ) -> Option<(Vec<Option<usize>>, Vec<String>)> {
        let variants = match (&exercise.variants, figure) {
            (Saying::Unclear, _) => return None,
            (Saying::Said(said), Some(figure)) => (&said.value, figure),
            _ => return Some((vec![figure], Vec::new())),
        };
        let (said, figure) = variants;
        let scale = &self.scales?.get(numbers.scale)?.scale.as_ref()?.scale;
        let size = Ladder::new(scale).size();
        let text = self.figures.get(figure)?.text;
        let (figures, remarks) = expanded(said, &self.figures.get(figure)?.figure, size, report)?;
        let varied = variants_span(exercise);
        let played = figures
            .into_iter()
            .map(|figure| Some(self.number(text, figure, Some(&varied))));
        Some((played.collect(), remarks))
    }

    /// An ornament at the very end leads to the next statement or the closing
    /// root; where neither follows, it leads nowhere.
    fn leads_somewhere(
        &self,
        cell: &Cell,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Option<()> {
        let kind = exercise.kind.said()?.value;
        let say = exercise.say.or(SayName::default())?;
        let closes = kind != KindName::Scale
            && !kind.says_once(say)
            && exercise.ending.or(Ending::Root)? == Ending::Root;
        if closes || self.usual {
            return Some(());
        }
        let Wording::Moves(moves) = &cell.wording else {
            return Some(());
        };
        let direction = exercise.direction.or(kind.usual_direction(say))?;
        let coming_down = exercise.coming_down.or(ComingDown::default())?;
        // Reversed, what leads out of the figure still stands at its end.
        let ends_flipped = direction != Direction::Up && coming_down == ComingDown::Flipped;
        let last_form = cell
            .flipped
            .as_ref()
            .filter(|_| ends_flipped)
            .unwrap_or(moves);
        let sounds = |said: &&Spanned<MoveWord>| said.value != MoveWord::Rest;
        let last = last_form.iter().rfind(sounds)?;
        if last.value.is_ornament() {
            let message = format!(
                "this ornament leads to no note where an exercise of the kind {} ends",
                kind.word()
            );
            let help = "end on a note, or let a sequence close on its root";
            report.mistake(&last.span, message, help);
            return None;
        }
        Some(())
    }
}

/// Where an exercise says its variants.
pub(super) fn variants_span(text: &ExerciseText) -> Range<usize> {
    let said = text
        .variants
        .said()
        .and_then(|said| said.value.said.first());
    said.map_or(0..0, |first| first.span.clone())
}
