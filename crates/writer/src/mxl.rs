//! The compressed container of MusicXML.

/// Wraps a whole MusicXML document as an `.mxl` archive; the same document
/// gives the same bytes. `name` is the score's file name inside.
pub fn mxl(document: &[u8], name: &str) -> Vec<u8> {
    todo!()
}
