//! What a chord symbol says beside its root.

use theory::{ChordDegree, DegreeChange};

/// What a chord symbol says beside its root.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SymbolKind<'a> {
    pub kind: &'a str,
    /// The text that is printed for the kind.
    pub text: Option<&'a str>,
    pub changes: &'a [ChordDegree],
}

impl SymbolKind<'_> {
    /// Its kind and its degrees in words.
    pub fn words(&self) -> String {
        let mut words = crate::shown::short(self.kind);
        for change in self.changes {
            let does = match change.change {
                DegreeChange::Add => "add",
                DegreeChange::Alter => "alter",
                DegreeChange::Subtract => "subtract",
            };
            words.push_str(&format!(" {does} {}", change.value));
            if change.alter != 0 {
                words.push_str(&format!(" {:+}", change.alter));
            }
        }
        crate::shown::cut(&words, 80)
    }
}
