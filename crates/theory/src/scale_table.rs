//! The catalogue of scales.
