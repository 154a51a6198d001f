//! The part list (`part-list`): one part, one instrument.

use score::Part;

use crate::sink::Sink;

/// The list with its one part, `P1`.
pub(crate) fn part_list(sink: &mut Sink<'_>, part: &Part) {
    sink.put("  <part-list>\n    <score-part id=\"P1\">\n      <part-name>");
    sink.text(&part.name);
    sink.put("</part-name>\n      <part-abbreviation>");
    sink.text(&part.abbreviation);
    sink.put(
        "</part-abbreviation>\n      <score-instrument id=\"P1-I1\">\n        <instrument-name>",
    );
    sink.text(&part.name);
    sink.put("</instrument-name>\n");
    if !part.sound_id.is_empty() {
        sink.put("        <instrument-sound>");
        sink.text(&part.sound_id);
        sink.put("</instrument-sound>\n");
    }
    sink.put("      </score-instrument>\n      <midi-instrument id=\"P1-I1\">\n        <midi-channel>1</midi-channel>\n");
    sink.put("        <midi-program>");
    sink.number(part.midi_program);
    sink.put("</midi-program>\n      </midi-instrument>\n    </score-part>\n  </part-list>\n");
}
