//! Rule 6: a line in its place on a horn.
//!
//! `horn` is a root in a range, `placement` what comes of it. A line's `shape` is
//! all of it in one octave where that fits; else it may `turn` early, or `jump`;
//! a scale has a `scale_run` of its own. `through` joins the keys of one sheet.

pub(crate) mod horn;
pub(crate) mod jump;
pub(crate) mod placement;
pub(crate) mod scale_run;
pub(crate) mod shape;
pub(crate) mod through;
pub(crate) mod turn;
