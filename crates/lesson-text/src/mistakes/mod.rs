//! What is told of a text: each mistake with its span, and what was said
//! where.

pub(crate) mod mistake;
pub(crate) mod name_fault;
pub(crate) mod report;
pub(crate) mod saying;
pub(crate) mod suggestion;
pub(crate) mod text;
pub(crate) mod within;
