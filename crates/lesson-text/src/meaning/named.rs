//! The scale and the figure that an exercise calls by name.

use theory::Scale;

use crate::language::choice::folded;
use crate::meaning::material::Material;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned, Unclear};
use crate::mistakes::suggestion::{listed, nearest, shown};
use crate::typed::exercise::ExerciseText;
use crate::typed::scale::ScaleText;

impl Material<'_> {
    /// The scale an exercise names, or the first.
    pub(crate) fn scale(&self, name: &Saying<String>, report: &mut Report<'_>) -> Option<usize> {
        let scales = self.scales?;
        let said = match name {
            Saying::Unsaid => return (!scales.is_empty()).then_some(0),
            Saying::Unclear => return None,
            Saying::Said(said) => said,
        };
        let handles: Vec<&Saying<String>> = scales.iter().map(|scale| &scale.handle).collect();
        if let Some(found) = by_name(&handles, said) {
            return Some(found);
        }
        // Another name of a catalogue's scale finds it too.
        if let Ok(meant) = Scale::named(said.value.trim()) {
            let same = |scale: &ScaleText| {
                scale
                    .scale
                    .as_ref()
                    .is_some_and(|own| own.scale.id.is_some() && own.scale.id == meant.id)
            };
            if let Some(found) = scales.iter().position(same) {
                return Some(found);
            }
        }
        stray(&handles, said, "scale", report);
        None
    }

    /// The figures that an exercise chooses from, where it names several.
    pub(crate) fn figures(
        &self,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Option<Vec<usize>> {
        let texts = self.texts?;
        let said = match &exercise.figures {
            Saying::Unclear => return None,
            Saying::Unsaid => return Some(Vec::new()),
            Saying::Said(said) => &said.value,
        };
        let before = report.count();
        let names: Vec<&Saying<String>> = texts.iter().map(|text| &text.name).collect();
        let mut found: Vec<usize> = Vec::new();
        for text in said {
            match by_name(&names, text) {
                Some(at) if found.contains(&at) => {
                    let message = format!("{} is there already", shown(&text.value));
                    report.mistake(&text.span, message, "name each figure once");
                }
                Some(at) => found.push(at),
                None => stray(&names, text, "figure", report),
            }
        }
        (report.count() == before).then_some(found)
    }

    /// The figure an exercise names, or the first; none for a scale where
    /// the lesson has none.
    pub(crate) fn figure(
        &self,
        exercise: &ExerciseText,
        report: &mut Report<'_>,
    ) -> Result<Option<usize>, Unclear> {
        let texts = self.texts.ok_or(Unclear)?;
        let said = match &exercise.figure {
            Saying::Unclear => return Err(Unclear),
            Saying::Unsaid if !texts.is_empty() => return Ok(Some(0)),
            Saying::Unsaid => {
                let kind = exercise.kind.said().ok_or(Unclear)?;
                if kind.value.says_figure() {
                    let help =
                        "write [figure] alone on a line and moves = \"start, step up, …\" below it";
                    report.missing(
                        &kind.span,
                        format!("a {} needs a figure", kind.value.word()),
                        help,
                    );
                    return Err(Unclear);
                }
                return Ok(None);
            }
            Saying::Said(said) => said,
        };
        let names: Vec<&Saying<String>> = texts.iter().map(|text| &text.name).collect();
        let found = by_name(&names, said);
        if found.is_none() {
            stray(&names, said, "figure", report);
        }
        found.map(Some).ok_or(Unclear)
    }
}

fn by_name(names: &[&Saying<String>], said: &Spanned<String>) -> Option<usize> {
    let typed = folded(&said.value);
    names
        .iter()
        .position(|name| name.said().is_some_and(|name| folded(&name.value) == typed))
}

/// A name that nothing in the lesson has. Where a name of the lesson is
/// unclear, it may be that one.
fn stray(names: &[&Saying<String>], said: &Spanned<String>, what: &str, report: &mut Report<'_>) {
    if names.iter().any(|name| matches!(name, Saying::Unclear)) {
        return;
    }
    let known: Vec<&str> = names
        .iter()
        .filter_map(|name| name.said())
        .map(|name| name.value.as_str())
        .collect();
    let quoted: Vec<String> = known.iter().map(|name| format!("\"{name}\"")).collect();
    let help = match nearest(&said.value, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if known.is_empty() => format!("give the {what} that name, or leave this line out"),
        None => format!(
            "the lesson has {}; another needs a [[{what}]] of its own",
            listed(&quoted, "and")
        ),
    };
    report.missing(
        &said.span,
        format!("no {what} of this lesson is called {}", shown(&said.value)),
        help,
    );
}
