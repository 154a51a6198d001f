//! MusicXML 4.0 partwise.

use score::Score;

/// Appends the score as a whole MusicXML 4.0 document to `out`.
pub fn musicxml(score: &Score, out: &mut Vec<u8>) {
    todo!()
}
