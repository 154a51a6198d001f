//! A part's warnings in the order of its measures.

use std::ops::Range;

use crate::part::{Concern, Part, PlacedWarning};
use crate::{Place, Warning, limit};

/// Those that concern what was asked for, in some of the part's measures.
pub(crate) fn gathered(
    mut told: Vec<PlacedWarning>,
    part: &Part,
    about: impl Fn(Concern) -> bool,
    measures: Range<usize>,
) -> Vec<Warning> {
    let more = told.len() >= limit::WARNINGS;
    // What the file says at its head holds for all its bars.
    told.retain(|told| {
        about(told.about) && (told.measure == 0 || measures.contains(&told.measure))
    });
    told.sort_by_key(|told| told.measure);
    let name = told.iter().find_map(|told| told.warning.place.part.clone());
    let mut warnings: Vec<Warning> = told.into_iter().map(|told| told.warning).collect();
    warnings.truncate(limit::WARNINGS);
    for warning in &mut warnings {
        warning.place.part.clone_from(&name);
    }
    if more {
        warnings.push(Warning {
            place: Place {
                part: Some(part.shown_name()),
                ..Place::default()
            },
            message: format!("only the first {} warnings are told", limit::WARNINGS),
        });
    }
    warnings
}
