//! Changes as they are said, bar by bar.

pub(crate) mod bars;
pub(crate) mod changes_text;
pub(crate) mod choose;
