//! The chords there are.

use std::io::{self, Write};

use serde::Serialize;
use theory::Chord;

use super::listing::{Listing, words};

#[derive(Serialize)]
struct ChordItem {
    id: &'static str,
    suffix: &'static str,
    degrees: Vec<String>,
    also_written: &'static [&'static str],
    scale: &'static str,
    other_scales: &'static [&'static str],
}

/// Every chord, each as it is written here; or one.
pub fn chords(id: Option<&str>) -> Listing<4, impl Serialize> {
    let row = |chord: Chord| {
        let (scale, other_scales) = chord.scales();
        let item = ChordItem {
            id: chord.id(),
            suffix: chord.suffix(),
            degrees: words(chord.degrees()),
            also_written: chord.spellings(),
            scale,
            other_scales,
        };
        let root = if item.degrees.is_empty() { "" } else { "C" };
        let cells = [
            item.id.to_owned(),
            format!("{root}{}", item.suffix),
            item.degrees.join(" "),
            scale.to_owned(),
        ];
        (cells, item)
    };
    Listing {
        heading: ["id", "on C", "degrees", "scale"],
        rows: Chord::catalogue()
            .into_iter()
            .filter(|chord| id.is_none_or(|id| chord.id() == id))
            .map(row)
            .collect(),
    }
}

/// In what other ways a chord may be typed.
pub fn spellings(chord: &Chord, out: &mut impl Write) -> io::Result<()> {
    let others = chord.spellings();
    if others.is_empty() {
        return Ok(());
    }
    let root = if chord.is_none() { "" } else { "C" };
    let others: Vec<String> = others.iter().map(|one| format!("{root}{one}")).collect();
    writeln!(out, "also understood: {}", others.join(", "))
}
