//! MusicXML 4.0 partwise: the document around head, part list and measures.

use score::Score;

use crate::credit::Credits;
use crate::head::head;
use crate::measure::measures;
use crate::part_list::part_list;
use crate::sink::Sink;

/// Appends the score as a whole MusicXML 4.0 document to `out`, UTF-8 without
/// a byte order mark. The same score gives the same bytes.
pub fn musicxml(score: &Score, out: &mut Vec<u8>) {
    document(score, std::slice::from_ref(score), false, out);
}

/// Appends scores of the same bars as the parts of one document, the first
/// score's head over it. `concert` says that all are written as they sound,
/// but for octaves.
pub fn musicxml_parts(scores: &[Score], concert: bool, out: &mut Vec<u8>) {
    if let Some(first) = scores.first() {
        document(first, scores, concert, out);
    }
}

fn document(first: &Score, parts: &[Score], concert: bool, out: &mut Vec<u8>) {
    out.reserve(parts.iter().map(likely_size).sum());
    let sink = &mut Sink::new(out);
    sink.put(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"no\"?>\n",
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" ",
        "\"http://www.musicxml.org/dtds/partwise.dtd\">\n",
        "<score-partwise version=\"4.0\">\n",
    ));
    let credits = Credits::of(first);
    head(sink, first, &credits, concert);
    part_list(sink, parts);
    for (place, score) in (1u32..).zip(parts) {
        sink.put("  <part id=\"P");
        sink.number(place);
        sink.put("\">\n");
        measures(sink, score, credits.first_staff());
        sink.put("  </part>\n");
    }
    sink.put("</score-partwise>\n");
}

/// Enough for a labelled sheet, so that the buffer rarely grows while it is
/// filled.
fn likely_size(score: &Score) -> usize {
    let elements: usize = score
        .part
        .measures
        .iter()
        .map(|measure| measure.elements.len())
        .sum();
    4_096 + 256 * score.part.measures.len() + 576 * elements
}
