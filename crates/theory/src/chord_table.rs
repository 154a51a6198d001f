//! The catalogue of chord kinds.
