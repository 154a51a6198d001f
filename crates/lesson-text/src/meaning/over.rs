//! An exercise over changes: its figures on every chord's scale, chorus by
//! chorus.

use std::ops::Range;

use lesson::{Chorus, ChorusKind, Connect, Figure, Over, Phrasing, RhythmPlan, Shift, Variant};
use rhythm::Meter;
use theory::Ladder;

use crate::limit;
use crate::meaning::exercise_numbers::ExerciseNumbers;
use crate::meaning::material::Material;
use crate::meaning::progression::Progression;
use crate::mistakes::report::Report;
use crate::mistakes::suggestion::shown;
use crate::typed::exercise::ExerciseText;
use crate::typed::over_text::usual;

/// What an exercise plays over the changes, and how statements are phrased
/// there.
pub(crate) fn over(
    material: &mut Material<'_>,
    text: &ExerciseText,
    numbers: &ExerciseNumbers,
    progression: &Progression,
    report: &mut Report<'_>,
) -> Option<(Over, Phrasing)> {
    let own = &text.over;
    let kinds = own.choruses.or(vec![ChorusKind::Line])?;
    let span = text.kind.said().map_or(0..0, |said| said.span.clone());
    if progression.bars.len() * kinds.len() > limit::CHANGES_BARS {
        report.mistake(
            &span,
            format!("its choruses have over {} bars", limit::CHANGES_BARS),
            "write fewer choruses",
        );
        return None;
    }
    let choruses = choruses(material, (text, numbers), &kinds, progression, report)?;
    in_one_meter(
        material,
        &choruses,
        &progression.bars.first()?.meter,
        &span,
        report,
    )?;
    let connect = own.connect.or(Connect::default())?;
    let (weights, phrase_weights) = own.weights.or(usual(connect != Connect::None))?;
    let phrasing = Phrasing {
        begins: own.begins.or(Vec::new())?,
        connect,
        shift: own.shift.or(Shift::default())?,
        weights: phrase_weights,
    };
    let over = Over {
        bars: progression.bars.clone(),
        key: progression.key,
        chords: progression.chords.clone(),
        pickup: progression.pickup,
        length: progression.length,
        choruses,
        plan: own.plan.or(RhythmPlan { play: 1, rest: 0 })?,
        anticipate: own.anticipate.or(false)?,
        weights,
        in_a_row: u8::try_from(own.in_a_row.or(2)?).ok()?,
        seed: own.seed.or(1)?.unsigned_abs(),
    };
    Some((over, phrasing))
}

/// The choruses, each with its figures on every chord's scale.
fn choruses(
    material: &mut Material<'_>,
    (text, numbers): (&ExerciseText, &ExerciseNumbers),
    kinds: &[ChorusKind],
    progression: &Progression,
    report: &mut Report<'_>,
) -> Option<Vec<Chorus>> {
    let kinds = kinds.iter().map(|kind| Chorus {
        kind: *kind,
        figures: Vec::new(),
    });
    let mut choruses: Vec<Chorus> = kinds.collect();
    let several = material.figures(text, report)?;
    let named = match numbers.kind.says_figure() {
        false => Vec::new(),
        true if several.is_empty() => vec![numbers.figure],
        true => several.into_iter().map(Some).collect(),
    };
    for scale in progression.scales() {
        let mut figures = Vec::new();
        for figure in &named {
            let numbers = ExerciseNumbers {
                kind: numbers.kind,
                scale,
                figure: *figure,
            };
            let figure = material.figure_of(text, &numbers, report).ok()?;
            let (variants, _) = material.variants(text, &numbers, figure, report)?;
            figures.extend(variants.into_iter().flatten());
        }
        for chorus in &mut choruses {
            let figures = in_chorus(material, chorus.kind, (scale, &figures), text, report)?;
            chorus.figures.push((scale, figures));
        }
    }
    Some(choruses)
}

/// What is played is in the meter that the changes begin in.
fn in_one_meter(
    material: &Material<'_>,
    choruses: &[Chorus],
    meter: &Meter,
    span: &Range<usize>,
    report: &mut Report<'_>,
) -> Option<()> {
    let played = choruses.iter().flat_map(|chorus| &chorus.figures);
    let mut played = played
        .flat_map(|(_, figures)| figures)
        .map(|at| material.resolved(*at));
    let Some(odd) = played.find(|figure| figure.meter != *meter) else {
        return Some(());
    };
    let which = match &odd.name {
        Some(name) => format!("the figure {}", shown(name)),
        None => "the figure".to_owned(),
    };
    report.mistake(
        span,
        format!("{which} is in {}, the changes are in {meter}", odd.meter),
        format!("write meter = \"{meter}\" in the figure"),
    );
    None
}

/// The figures on a scale as a chorus plays them.
fn in_chorus(
    material: &mut Material<'_>,
    kind: ChorusKind,
    (scale, figures): (usize, &[usize]),
    text: &ExerciseText,
    report: &mut Report<'_>,
) -> Option<Vec<usize>> {
    let variant = match kind {
        ChorusKind::Line | ChorusKind::Elsewhere | ChorusKind::Slashes => {
            return Some(figures.to_vec());
        }
        ChorusKind::Flipped => Variant::Flipped,
        ChorusKind::Later => Variant::Later(1),
        ChorusKind::Denser => Variant::HalfValues,
    };
    let size = Ladder::new(material.scale_at(scale)?).size();
    let span = text
        .over
        .choruses
        .said()
        .map_or(0..0, |said| said.span.clone());
    figures
        .iter()
        .map(|at| {
            let plain: Figure = material.resolved(*at).clone();
            let Ok(mut varied) = plain.varied(&variant, size) else {
                report.mistake(
                    &span,
                    format!("the figure's rhythm can't be written \"{variant}\""),
                    "leave this chorus out, or write a [[figure]] of its own",
                );
                return None;
            };
            varied.variant = match plain.variant {
                Some(name) if name == variant.to_string() && variant == Variant::Flipped => {
                    // Upside down twice is as it was.
                    Some(Variant::AsItIs.to_string())
                }
                Some(name) if name != Variant::AsItIs.to_string() => {
                    Some(format!("{name}, {variant}"))
                }
                _ => varied.variant,
            };
            Some(material.add(*at, varied, &span))
        })
        .collect()
}
