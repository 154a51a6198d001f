//! Sheets as pages to print and to look at, which only a program built with
//! the feature `sheets` can make.

#[cfg(feature = "sheets")]
mod drawn;
#[cfg(not(feature = "sheets"))]
mod undrawn;

#[cfg(feature = "sheets")]
pub use drawn::Pictures;
#[cfg(not(feature = "sheets"))]
pub use undrawn::Pictures;
