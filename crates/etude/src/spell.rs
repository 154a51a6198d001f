//! The placed line spelled.
//!
//! `passage` is what an exercise plays in one key, named as its scale is;
//! `literal` names a phrase that moves note for note; `clash` finds what rubs
//! against a chord, `note_name` says names aloud.

pub(crate) mod clash;
pub(crate) mod literal;
pub(crate) mod note_name;
pub(crate) mod passage;
