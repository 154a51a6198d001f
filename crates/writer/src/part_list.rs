//! The part list (`part-list`): each part and its instrument.

use score::Score;

use crate::sink::Sink;

/// The list of the parts, `P1` and on.
pub(crate) fn part_list(sink: &mut Sink<'_>, scores: &[Score]) {
    sink.put("  <part-list>\n");
    for (place, score) in (1u32..).zip(scores) {
        part(sink, score, place);
    }
    sink.put("  </part-list>\n");
}

fn part(sink: &mut Sink<'_>, score: &Score, place: u32) {
    let part = &score.part;
    sink.put("    <score-part id=\"P");
    sink.number(place);
    sink.put("\">\n      <part-name>");
    sink.text(&part.name);
    sink.put("</part-name>\n      <part-abbreviation>");
    sink.text(&part.abbreviation);
    sink.put("</part-abbreviation>\n      <score-instrument id=\"P");
    sink.number(place);
    sink.put("-I1\">\n        <instrument-name>");
    sink.text(&part.name);
    sink.put("</instrument-name>\n");
    if !part.sound_id.is_empty() {
        sink.put("        <instrument-sound>");
        sink.text(&part.sound_id);
        sink.put("</instrument-sound>\n");
    }
    sink.put("      </score-instrument>\n      <midi-instrument id=\"P");
    sink.number(place);
    sink.put("-I1\">\n        <midi-channel>");
    sink.number(channel(place));
    sink.put("</midi-channel>\n        <midi-program>");
    sink.number(part.midi_program);
    sink.put("</midi-program>\n      </midi-instrument>\n    </score-part>\n");
}

/// A MIDI channel from 1 to 16, but for 10, which is percussion's (General
/// MIDI).
fn channel(place: u32) -> u32 {
    let among_fifteen = place.saturating_sub(1) % 15 + 1;
    among_fifteen + u32::from(among_fifteen >= 10)
}
