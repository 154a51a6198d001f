//! The scales and figures of a lesson, and which of them an exercise plays.

use std::ops::Range;

use lesson::{ComingDown, Direction, Ending, Figure, KindName, SayName};
use rhythm::{Fraction, Meter, divisions};
use theory::{Ladder, Scale};

use super::Part;
use crate::exercise::ExerciseText;
use crate::figure::{Cell, FigureText};
use crate::lesson_text::LessonText;
use crate::meaning::times_of;
use crate::report::Report;
use crate::resolve::{resolve, resolve_moves};
use crate::said::{Said, Saying};
use crate::scale::ScaleText;
use crate::study::choices;
use crate::variant::expanded;
use crate::wording::{MoveWord, Wording};

/// Scales and figures to choose from.
pub(crate) struct Material<'t> {
    pub(super) scales: Option<&'t [ScaleText]>,
    pub(super) texts: Option<&'t [FigureText]>,
    /// Whether no exercise is said, so that none can be said wrong.
    usual: bool,
    pub(super) figures: Vec<Resolved>,
}

/// A figure of the file on a scale.
pub(super) struct Resolved {
    /// Which figure of the file; none for a study's own.
    text: Option<usize>,
    pub(super) figure: Figure,
    /// Where a variant of the file's figure is said.
    varied: Option<Range<usize>>,
}

impl<'t> Material<'t> {
    /// What a lesson has.
    pub(super) fn new(text: &'t LessonText) -> Material<'t> {
        Material {
            scales: text.scales.as_deref(),
            texts: text.figures.as_deref(),
            usual: text.exercises.as_ref().is_some_and(Vec::is_empty),
            figures: Vec::new(),
        }
    }

    /// The figures that its exercises play.
    pub(super) fn into_figures(self) -> Vec<Figure> {
        let figures = self.figures.into_iter();
        figures.map(|resolved| resolved.figure).collect()
    }

    pub(super) fn part(&self, exercise: &ExerciseText, report: &mut Report<'_>) -> Option<Part> {
        let figure = self.figure(exercise, report);
        let says = exercise
            .kind
            .said()
            .is_some_and(|kind| kind.value.says_figure());
        let scale = match figure.and_then(|figure| self.literal(figure)) {
            Some(literal) if says => self.home(literal),
            _ => self.scale(&exercise.scale, report),
        };
        Some(Part {
            kind: exercise.kind.said()?.value,
            scale: scale?,
            figure: figure?,
        })
    }

    /// The number of an exercise's figure among those of the lesson.
    pub(crate) fn figure_of(
        &mut self,
        exercise: &ExerciseText,
        part: &Part,
        report: &mut Report<'_>,
    ) -> Option<Option<usize>> {
        if choices(part.kind).is_some() {
            return self.study_of(exercise, part).map(Some);
        }
        let Some(text) = part.figure else {
            return Some(None);
        };
        let cell = self.texts?.get(text)?.cell.as_ref()?;
        if part.kind == KindName::Scale {
            // Only its meter counts: the figure on any scale will do.
            if let Some(found) = self
                .figures
                .iter()
                .position(|resolved| resolved.text == Some(text) && resolved.varied.is_none())
            {
                return Some(Some(found));
            }
        } else {
            self.leads_somewhere(cell, exercise, report)?;
        }
        let name = self.texts?.get(text)?.name.maybe()?;
        if let Some(literal) = &cell.literal {
            let phrase = self.phrase(cell, literal, exercise, report)?;
            let phrase = Figure { name, ..phrase };
            return Some(Some(self.number(Some(text), phrase, None)));
        }
        let scale = &self.scales?.get(part.scale)?.scale.as_ref()?.scale;
        let moves = resolve(&cell.wording, scale, report);
        let flipped = match &cell.flipped {
            Some(words) => Some(resolve_moves(words, scale, report)?),
            None => None,
        };
        let figure = Figure {
            name,
            ..cell.figure(moves?, flipped)
        };
        Some(Some(self.number(Some(text), figure, None)))
    }

    /// The statement of a study, in the meter of the lesson's figure if there
    /// is one.
    fn study_of(&mut self, exercise: &ExerciseText, part: &Part) -> Option<usize> {
        let meter = match part.figure {
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
        part: &Part,
        figure: Option<usize>,
        report: &mut Report<'_>,
    ) -> Option<(Vec<Option<usize>>, Vec<String>)> {
        let variants = match (&exercise.variants, figure) {
            (Saying::Unclear, _) => return None,
            (Saying::Said(said), Some(figure)) => (&said.value, figure),
            _ => return Some((vec![figure], Vec::new())),
        };
        let (said, figure) = variants;
        let scale = &self.scales?.get(part.scale)?.scale.as_ref()?.scale;
        let size = Ladder::new(scale).size();
        let text = self.figures.get(figure)?.text;
        let (figures, remarks) = expanded(said, &self.figures.get(figure)?.figure, size, report)?;
        let varied = variants_place(exercise);
        let played = figures
            .into_iter()
            .map(|figure| Some(self.number(text, figure, Some(&varied))));
        Some((played.collect(), remarks))
    }

    /// The number of a figure among the lesson's.
    fn number(
        &mut self,
        text: Option<usize>,
        figure: Figure,
        varied: Option<&Range<usize>>,
    ) -> usize {
        let same = |resolved: &Resolved| resolved.text == text && resolved.figure == figure;
        self.figures.iter().position(same).unwrap_or_else(|| {
            self.figures.push(Resolved {
                text,
                figure,
                varied: varied.cloned(),
            });
            self.figures.len() - 1
        })
    }

    /// Variants, too, are written in the lesson's one smallest part of a
    /// quarter.
    pub(super) fn one_clock(&self, report: &mut Report<'_>) {
        let mut times = vec![Fraction::new(1, 2)];
        let (plain, varied): (Vec<_>, Vec<_>) = self
            .figures
            .iter()
            .partition(|resolved| resolved.varied.is_none());
        for resolved in plain.into_iter().chain(varied) {
            times.extend(times_of(&resolved.figure.meter, &resolved.figure.count));
            times.sort_unstable();
            times.dedup();
            if let (Err(error), Some(place)) = (divisions(times.iter().copied()), &resolved.varied)
            {
                let help = "put these variants into a lesson of their own";
                report.mistake(place, error.to_string(), help);
                return;
            }
        }
    }

    /// A figure by its number among the lesson's.
    pub(crate) fn resolved(&self, at: usize) -> &Figure {
        &self.figures[at].figure
    }

    /// A scale by its number.
    pub(crate) fn scale_at(&self, at: usize) -> Option<&Scale> {
        let scale = self.scales?.get(at)?.scale.as_ref()?;
        Some(&scale.scale)
    }

    /// The number of a variant of a figure.
    pub(crate) fn add(&mut self, of: usize, figure: Figure, varied: &Range<usize>) -> usize {
        let text = self.figures[of].text;
        self.number(text, figure, Some(varied))
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
        let sounds = |said: &&Said<MoveWord>| said.value != MoveWord::Rest;
        let last = last_form.iter().rfind(sounds)?;
        if last.value.is_ornament() {
            let message = format!(
                "this ornament leads to no note where an exercise of the kind {} ends",
                kind.word()
            );
            let help = "end on a note, or let a sequence close on its root";
            report.mistake(&last.place, message, help);
            return None;
        }
        Some(())
    }
}

/// Where an exercise says its variants.
pub(super) fn variants_place(text: &ExerciseText) -> Range<usize> {
    let said = text
        .variants
        .said()
        .and_then(|said| said.value.said.first());
    said.map_or(0..0, |first| first.place.clone())
}
