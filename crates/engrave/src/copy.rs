//! The sheet as the engraving library gets it: without what we set ourselves.

use rhythm::{NoteValue, ValueKind};
use score::{Direction, Element, Measure, Rest, Score, Written};

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
        widen(measure, score.divisions);
    }
    let mut bytes = Vec::new();
    writer::musicxml(&copy, &mut bytes);
    shown(&String::from_utf8_lossy(&bytes))
}

/// A blank bar gets as many hidden rests as a bar of eighths has notes: it is
/// as wide as one that a student fills. Its chord symbols stay where they are.
fn widen(measure: &mut Measure, divisions: u32) {
    let hidden = |element: &Element| matches!(element, Element::Rest(rest) if rest.hidden);
    let eighth = divisions / 2;
    if eighth == 0 || !divisions.is_multiple_of(2) || !measure.elements.iter().all(hidden) {
        return;
    }
    let mut rests = Vec::new();
    for element in &measure.elements {
        let Element::Rest(rest) = element else { return };
        if !rest.written.length.is_multiple_of(eighth) {
            return;
        }
        for part in 0..rest.written.length / eighth {
            rests.push(Element::Rest(Rest {
                written: Written {
                    length: eighth,
                    value: NoteValue {
                        kind: ValueKind::Eighth,
                        dots: 0,
                        tuplet: None,
                    },
                    edge: None,
                    chord: rest.written.chord.filter(|_| part == 0),
                },
                whole_bar: false,
                hidden: true,
            }));
        }
    }
    measure.elements = rests;
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
