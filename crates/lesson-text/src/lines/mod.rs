//! From text to lines that the parser takes: what is broken is told and set
//! aside.

pub(crate) mod broken_lines;
pub(crate) mod fault;
pub(crate) mod half_open;
pub(crate) mod line;
pub(crate) mod mend;
pub(crate) mod value_mistake;
