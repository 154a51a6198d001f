//! Which of a file's parts is read.

use crate::document::Document;
use crate::part::Part;
use crate::reading::NOT_THERE;
use crate::shown::shown;
use crate::{Place, ReadError, Warning};

/// The part asked for by name, id or place; if none is, the first that has
/// what is looked for (`holds`), else the first.
pub(crate) fn choose(
    document: Document,
    asked: Option<&str>,
    holds: impl Fn(&Part) -> bool,
    what: &str,
) -> Result<(Part, Vec<Warning>), ReadError> {
    let mut parts = document.parts;
    let several = parts.len() > 1;
    let mut warnings = Vec::new();
    let at = match asked {
        Some(asked) => named(&parts, asked).ok_or_else(|| {
            let names: Vec<String> = parts.iter().take(20).map(Part::shown_name).collect();
            ReadError::whole(format!(
                "there is no part {}: there are {}",
                shown(asked),
                names.join(", ")
            ))
            .with(NOT_THERE)
        })?,
        None => {
            let mut holding = (0..parts.len()).filter(|at| holds(&parts[*at]));
            let first = holding.next().unwrap_or(0);
            if holding.next().is_some() {
                warnings.push(Warning {
                    place: Place::default(),
                    message: format!(
                        "several parts have {what}: part “{}” was taken",
                        parts[first].shown_name()
                    ),
                });
            }
            first
        }
    };
    let mut part = parts.swap_remove(at);
    let name = several.then(|| part.shown_name());
    for told in &mut part.warnings {
        told.warning.place.part.clone_from(&name);
    }
    if part.measures.is_empty() {
        return Err(ReadError::whole("the part has no measures"));
    }
    if let Some((_, fault)) = &mut part.fault {
        fault.place.part = name;
    }
    Ok((part, warnings))
}

fn named(parts: &[Part], asked: &str) -> Option<usize> {
    let asked = asked.trim();
    let same = |other: &str| other.trim().to_lowercase() == asked.to_lowercase();
    let by_name = parts
        .iter()
        .position(|part| part.name.as_deref().is_some_and(same));
    let by_id = || parts.iter().position(|part| same(&part.id));
    let by_place = || {
        let place = asked.parse::<usize>().ok()?.checked_sub(1)?;
        (place < parts.len()).then_some(place)
    };
    by_name.or_else(by_id).or_else(by_place)
}
