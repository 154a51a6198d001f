//! The sheet as the engraving library gets it: without what we set ourselves.

use score::{Direction, Score};

/// MusicXML of a score without its words over the staff, its head and its
/// part's name: the library is to give them no room. Chord symbols and labels
/// stay, so that notes stand far enough apart for them.
pub(crate) fn for_engraver(score: &Score) -> String {
    let mut copy = score.clone();
    copy.title.clear();
    copy.subtitle = None;
    copy.head.clear();
    copy.part.name.clear();
    copy.part.abbreviation.clear();
    for measure in &mut copy.part.measures {
        let dynamic = |direction: &Direction| matches!(direction, Direction::Dynamic(_));
        measure.directions.retain(dynamic);
    }
    let mut bytes = Vec::new();
    writer::musicxml(&copy, &mut bytes);
    shown(&String::from_utf8_lossy(&bytes))
}

/// Without the degrees that only players of MusicXML need: the library would
/// print them beside a text that already says them.
fn shown(musicxml: &str) -> String {
    const HIDDEN: &str = "        <degree print-object=\"no\">\n";
    const END: &str = "</degree>\n";
    let mut parts = musicxml.split(HIDDEN);
    let mut shown = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let after = part.split_once(END).map_or(part, |(_, after)| after);
        shown.push_str(after);
    }
    shown
}
