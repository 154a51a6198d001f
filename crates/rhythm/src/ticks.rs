//! Exact time: fractions of a quarter, and whole ticks to the quarter.

/// A time or length in quarters, exact.
pub type Fraction = num_rational::Ratio<i64>;

/// A time or length in whole ticks; how many make a quarter is said once for
/// a whole lesson.
pub type Ticks = i64;

/// The most ticks to a quarter that every reader takes (MusicXML 4.0
/// `divisions`; MIDI's division is 15 bits).
pub const MOST_DIVISIONS: i64 = 16_383;

/// No number of ticks up to [`MOST_DIVISIONS`] serves all the times.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the rhythm is finer than {MOST_DIVISIONS} parts of a quarter")]
pub struct TickError;

/// The fewest ticks to a quarter in which all `times` are whole.
///
/// # Errors
/// When that takes more than [`MOST_DIVISIONS`].
pub fn divisions(times: impl IntoIterator<Item = Fraction>) -> Result<u32, TickError> {
    todo!()
}
