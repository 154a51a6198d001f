//! From the bytes of a MusicXML file to plain [`lesson::Changes`] or a
//! [`lesson::Phrase`].
#![deny(missing_docs)]
