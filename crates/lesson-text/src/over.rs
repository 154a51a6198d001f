//! An exercise over changes: its figures on every chord's scale, chorus by
//! chorus.

use lesson::{Chorus, ChorusKind, Connect, ExerciseKind, Figure, Over, RhythmPlan, Shift, Variant};
use theory::Ladder;

use crate::assignment::{Hall, Part};
use crate::exercise::ExerciseText;
use crate::limit;
use crate::over_text::usual;
use crate::progression::Progression;
use crate::report::Report;
use crate::suggestion::shown;

/// What an exercise plays over the changes.
pub(crate) fn over(
    hall: &mut Hall<'_>,
    text: &ExerciseText,
    part: &Part,
    progression: &Progression,
    report: &mut Report<'_>,
) -> Option<Over> {
    let own = &text.over;
    let kinds = own.choruses.or(vec![ChorusKind::Line])?;
    let place = text.kind.said().map_or(0..0, |said| said.place.clone());
    if progression.bars.len() * kinds.len() > limit::CHANGES_BARS {
        report.mistake(
            &place,
            format!("its choruses have over {} bars", limit::CHANGES_BARS),
            "write fewer choruses",
        );
        return None;
    }
    let mut choruses: Vec<Chorus> = kinds
        .iter()
        .map(|kind| Chorus {
            kind: *kind,
            figures: Vec::new(),
        })
        .collect();
    let named = match hall.figures(text, report)? {
        several if several.is_empty() => vec![part.figure],
        several => several.into_iter().map(Some).collect(),
    };
    let says_figure = part.kind == ExerciseKind::Changes;
    for scale in progression.scales() {
        let part = Part {
            kind: part.kind,
            scale,
            figure: part.figure,
        };
        let figures = if says_figure {
            let mut all = Vec::new();
            for figure in &named {
                let part = Part {
                    figure: *figure,
                    ..part
                };
                let figure = hall.figure_of(text, &part, report)?;
                let (figures, _) = hall.variants(text, &part, figure, report)?;
                all.extend(figures.into_iter().flatten());
            }
            all
        } else {
            Vec::new()
        };
        for chorus in &mut choruses {
            let figures = in_chorus(hall, &part, chorus.kind, &figures, text, report)?;
            chorus.figures.push((scale, figures));
        }
    }
    let meter = &progression.bars.first()?.meter;
    let odd = choruses
        .iter()
        .flat_map(|chorus| &chorus.figures)
        .flat_map(|(_, figures)| figures)
        .map(|at| hall.resolved(*at))
        .find(|figure| figure.meter != *meter);
    if let Some(figure) = odd {
        report.mistake(
            &place,
            match figure.name.as_deref().filter(|_| named.len() > 1) {
                Some(name) => format!(
                    "the figure {} is in {}, the changes are in {meter}",
                    shown(name),
                    figure.meter
                ),
                None => format!(
                    "the figure is in {}, the changes are in {meter}",
                    figure.meter
                ),
            },
            format!("write meter = \"{meter}\" in the figure"),
        );
        return None;
    }
    let connect = own.connect.or(Connect::default())?;
    Some(Over {
        bars: progression.bars.clone(),
        key: progression.key,
        chords: progression.chords.clone(),
        pickup: progression.pickup,
        length: progression.length,
        choruses,
        plan: own.plan.or(RhythmPlan { play: 1, rest: 0 })?,
        connect,
        shift: own.shift.or(Shift::default())?,
        anticipate: own.anticipate.or(false)?,
        weights: own.weights.or(usual(connect != Connect::None))?,
        begins: own.begins.or(Vec::new())?,
        in_a_row: u8::try_from(own.in_a_row.or(2)?).ok()?,
        seed: own.seed.or(1)?.unsigned_abs(),
    })
}

/// The figures as a chorus plays them.
fn in_chorus(
    hall: &mut Hall<'_>,
    part: &Part,
    kind: ChorusKind,
    figures: &[usize],
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
    let size = Ladder::new(hall.scale_at(part.scale)?).size();
    let place = text
        .over
        .choruses
        .said()
        .map_or(0..0, |said| said.place.clone());
    figures
        .iter()
        .map(|at| {
            let plain: Figure = hall.resolved(*at).clone();
            let Ok(mut varied) = plain.varied(&variant, size) else {
                report.mistake(
                    &place,
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
            Some(hall.add(*at, varied, &place))
        })
        .collect()
}
