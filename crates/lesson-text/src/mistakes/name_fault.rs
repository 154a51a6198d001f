//! A name that a catalogue doesn't have, or has several times, in words.

use std::ops::Range;

use theory::{NameError, NameFault};

use crate::mistakes::mistake::Mistake;
use crate::mistakes::suggestion::{listed, shown};

/// `what` is the thing named: `instrument`; `list` is the word that lists them
/// all.
pub(crate) fn name_fault(
    span: &Range<usize>,
    error: &NameError,
    what: &str,
    list: &str,
) -> Mistake {
    let typed = shown(&error.typed);
    let (message, help) = match &error.fault {
        NameFault::Unknown(near) if near.is_empty() => (
            format!("no {what} is called {typed}"),
            format!("the command \"list {list}\" shows them all"),
        ),
        NameFault::Unknown(near) => (
            format!("no {what} is called {typed}"),
            format!("did you mean {}?", listed(&quoted(near), "or")),
        ),
        NameFault::Several(names) => (
            format!("{typed} may be more than one {what}"),
            format!("say which: {}", listed(&quoted(names), "or")),
        ),
    };
    Mistake::new(span.clone(), message, help)
}

fn quoted(names: &[String]) -> Vec<String> {
    names.iter().map(|name| format!("\"{name}\"")).collect()
}
