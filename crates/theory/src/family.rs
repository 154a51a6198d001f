//! Families of instruments.

/// The family an instrument belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Family {
    Woodwind,
    Brass,
    Strings,
    Plucked,
    Keyboard,
    Percussion,
    Voice,
    Generic,
}
