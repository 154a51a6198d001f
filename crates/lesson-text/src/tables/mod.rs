//! From lines to plain tables, and the walk through one, key by key.

pub(crate) mod steering;
pub(crate) mod tree;
pub(crate) mod value;
pub(crate) mod walk;
