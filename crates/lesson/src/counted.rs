//! Numbers with what is counted. Whoever tells a teacher something says them
//! alike, from the reader of a lesson to the reports on its sheets; this is the
//! lowest crate that all of those build on.

use std::fmt::Display;

/// So many of something whose plural ends in s: `1 bar`, `2 bars`, `0 bars`.
///
/// ```
/// assert_eq!(lesson::counted(1u16, "bar"), "1 bar");
/// assert_eq!(lesson::counted(12usize, "sheet"), "12 sheets");
/// ```
pub fn counted<N: Display + PartialEq + From<bool>>(number: N, noun: &str) -> String {
    let ending = if number == N::from(true) { "" } else { "s" };
    format!("{number} {noun}{ending}")
}
