//! Lessons and courses as files: books, packets, tracks and sheets.
#![allow(clippy::unwrap_used, missing_docs)]

mod books;
mod courses;
mod stopping;
mod support;
