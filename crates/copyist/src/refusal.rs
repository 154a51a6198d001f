//! What can't be done as asked, and what to do instead.

use std::fmt;

use theory::{NameError, NameFault};

/// A request that nothing was done about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What is wrong, without a full stop.
    pub message: String,
    /// What to do instead.
    pub help: Option<String>,
}

impl Refusal {
    /// With a way out.
    pub fn new(message: impl Into<String>, help: impl Into<String>) -> Refusal {
        Refusal {
            message: message.into(),
            help: Some(help.into()),
        }
    }

    /// A name that means nothing, or too much. `kind` is the thing sought, as
    /// in "no instrument is called …"; `catalogue` is what lists them.
    pub fn of_name(error: &NameError, kind: &str, catalogue: &str) -> Refusal {
        let list = |names: &[String]| names.join(", ");
        match &error.fault {
            NameFault::Unknown(near) if near.is_empty() => Refusal::new(
                format!("no {kind} is called \"{}\"", error.typed),
                format!("`twelvefold list {catalogue}` shows them all"),
            ),
            NameFault::Unknown(near) => Refusal::new(
                format!("no {kind} is called \"{}\"", error.typed),
                format!("did you mean {}?", list(near)),
            ),
            NameFault::Several(full) => Refusal::new(
                format!("\"{}\" could be more than one {kind}", error.typed),
                format!("write one of {}", list(full)),
            ),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.help {
            Some(help) => write!(f, "{}; {help}", self.message),
            None => f.write_str(&self.message),
        }
    }
}
