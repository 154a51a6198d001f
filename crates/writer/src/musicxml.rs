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
    out.reserve(likely_size(score));
    let sink = &mut Sink::new(out);
    sink.put(concat!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"no\"?>\n",
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" ",
        "\"http://www.musicxml.org/dtds/partwise.dtd\">\n",
        "<score-partwise version=\"4.0\">\n",
    ));
    let credits = Credits::of(score);
    head(sink, score, &credits);
    part_list(sink, &score.part);
    sink.put("  <part id=\"P1\">\n");
    measures(sink, score, credits.first_staff());
    sink.put("  </part>\n</score-partwise>\n");
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
