//! The catalogue of instruments.
