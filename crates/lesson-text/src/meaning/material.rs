//! The scales and figures of a lesson that its exercises choose from.

use std::ops::Range;

use lesson::Figure;
use rhythm::{Count, Fraction, Meter, divisions};
use theory::Scale;

use crate::mistakes::report::Report;
use crate::typed::figures::figure::FigureText;
use crate::typed::lesson_text::LessonText;
use crate::typed::scale::ScaleText;

/// Scales and figures to choose from.
pub(crate) struct Material<'t> {
    pub(super) scales: Option<&'t [ScaleText]>,
    pub(super) texts: Option<&'t [FigureText]>,
    /// Whether no exercise is said, so that none can be said wrong.
    pub(super) usual: bool,
    pub(super) figures: Vec<FigureOnScale>,
}

/// A figure of the file on a scale.
pub(super) struct FigureOnScale {
    /// Which figure of the file; none for a study's own.
    pub(super) text: Option<usize>,
    pub(super) figure: Figure,
    /// Where a variant of the file's figure is said.
    pub(super) varied: Option<Range<usize>>,
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

    /// The number of a figure among the lesson's.
    pub(super) fn number(
        &mut self,
        text: Option<usize>,
        figure: Figure,
        varied: Option<&Range<usize>>,
    ) -> usize {
        let same = |resolved: &FigureOnScale| resolved.text == text && resolved.figure == figure;
        self.figures.iter().position(same).unwrap_or_else(|| {
            self.figures.push(FigureOnScale {
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
            if let (Err(error), Some(span)) = (divisions(times.iter().copied()), &resolved.varied) {
                let help = "put these variants into a lesson of their own";
                report.mistake(span, error.to_string(), help);
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
}

/// Everything that lasts in a count in its meter.
pub(crate) fn times_of<'a>(
    meter: &'a Meter,
    count: &'a Count,
) -> impl Iterator<Item = Fraction> + 'a {
    let slots = count
        .slots
        .iter()
        .flat_map(|slot| [slot.onset, slot.length]);
    let whole = [count.pickup, count.length, meter.bar(), meter.unit()];
    slots.chain(whole).chain(meter.beats())
}
