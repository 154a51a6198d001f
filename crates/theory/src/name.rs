//! Names as teachers type them: case, hyphens, spaces and the signs ♭ ♯ don't
//! matter, near misses are suggested, and a name that fits several is refused
//! with the list.

/// A name that means nothing here, or too much.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NameError {
    /// What was typed.
    pub typed: String,
    /// What is wrong with it.
    pub fault: NameFault,
}

/// What is wrong with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NameFault {
    /// Nothing has this name; the nearest names, best first, may be empty.
    Unknown(Vec<String>),
    /// Several things have it; their full names.
    Several(Vec<String>),
}
