//! Where something stands in a lesson: `exercise`, 0, `direction`.

/// One step of the way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// A key of a table.
    Key(String),
    /// One of a list, from 0; a table that stands alone is its list's
    /// only one.
    Item(usize),
}

impl From<&str> for Step {
    fn from(key: &str) -> Step {
        Step::Key(key.to_owned())
    }
}

impl From<usize> for Step {
    fn from(index: usize) -> Step {
        Step::Item(index)
    }
}
