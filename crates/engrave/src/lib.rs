//! Draws a score as a page.
#![deny(missing_docs)]
