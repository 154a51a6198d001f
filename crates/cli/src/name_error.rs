//! How a name that means nothing, or too much, is put into words.

use theory::{NameError, NameFault};

/// What is wrong, and what to write instead. `kind` is the thing sought, as
/// in "no instrument is called …"; `catalogue` is what lists them.
pub fn words(error: &NameError, kind: &str, catalogue: &str) -> (String, String) {
    let list = |names: &[String]| names.join(", ");
    match &error.fault {
        NameFault::Unknown(near) if near.is_empty() => (
            format!("no {kind} is called \"{}\"", error.typed),
            format!("`twelvefold list {catalogue}` shows them all"),
        ),
        NameFault::Unknown(near) => (
            format!("no {kind} is called \"{}\"", error.typed),
            format!("did you mean {}?", list(near)),
        ),
        NameFault::Several(full) => (
            format!("\"{}\" could be more than one {kind}", error.typed),
            format!("write one of {}", list(full)),
        ),
    }
}
