//! What stands over a measure (`direction`).

use rhythm::Fraction;
use score::{Direction, TempoMark, boxes_in_words};

use crate::sink::Sink;
use crate::words;

/// A direction over the measure's beginning.
pub(crate) fn direction(sink: &mut Sink<'_>, direction: &Direction) {
    sink.put(match direction {
        Direction::Dynamic(_) => "      <direction placement=\"below\">\n",
        _ => "      <direction placement=\"above\">\n",
    });
    sink.put("        <direction-type>\n");
    match direction {
        Direction::Rehearsal(name) | Direction::Section(name) => {
            sink.put("          <rehearsal>");
            sink.text(name);
            sink.put("</rehearsal>\n        </direction-type>\n");
        }
        Direction::Words(text) | Direction::Heading(text) => {
            words_over(sink, text);
            sink.put("        </direction-type>\n");
        }
        Direction::Text(text) => {
            sink.put(
                "          <words halign=\"left\" font-style=\"normal\" font-weight=\"normal\">",
            );
            sink.text(text);
            sink.put("</words>\n        </direction-type>\n");
        }
        Direction::Tempos(row) => {
            words_over(sink, &boxes_in_words(row));
            sink.put("        </direction-type>\n");
        }
        Direction::Tempo(mark) => tempo(sink, *mark),
        Direction::Dynamic(letters) => {
            sink.put("          <dynamics>\n            <");
            sink.put(letters);
            sink.put("/>\n          </dynamics>\n        </direction-type>\n");
        }
        Direction::Swing => {
            words_over(sink, "Swing");
            sink.put(concat!(
                "        </direction-type>\n",
                "        <sound>\n",
                "          <swing>\n",
                "            <first>2</first>\n",
                "            <second>1</second>\n",
                "            <swing-type>eighth</swing-type>\n",
                "          </swing>\n",
                "        </sound>\n",
            ));
        }
        Direction::Straight => {
            words_over(sink, "Straight eighths");
            sink.put(concat!(
                "        </direction-type>\n",
                "        <sound>\n",
                "          <swing>\n",
                "            <straight/>\n",
                "          </swing>\n",
                "        </sound>\n",
            ));
        }
    }
    sink.put("      </direction>\n");
}

/// The teacher's own words over a place.
pub(crate) fn cue(sink: &mut Sink<'_>, text: &str) {
    sink.put(concat!(
        "      <direction placement=\"above\">\n",
        "        <direction-type>\n",
        "          <words halign=\"left\" font-style=\"italic\" font-weight=\"normal\">",
    ));
    sink.text(text);
    sink.put("</words>\n        </direction-type>\n      </direction>\n");
}

/// Upright and bold, as headings and styles are; the side is said because a
/// reader may set words with a `sound` to the right, as it would a da capo.
fn words_over(sink: &mut Sink<'_>, text: &str) {
    sink.put("          <words halign=\"left\" font-style=\"normal\" font-weight=\"bold\">");
    sink.text(text);
    sink.put("</words>\n");
}

fn tempo(sink: &mut Sink<'_>, mark: TempoMark) {
    let TempoMark { beat, per_minute } = mark;
    sink.put("          <metronome>\n            <beat-unit>");
    sink.put(words::value_kind(beat.kind));
    sink.put("</beat-unit>\n");
    for _ in 0..beat.dots {
        sink.put("            <beat-unit-dot/>\n");
    }
    sink.put("            <per-minute>");
    sink.number(per_minute);
    sink.put(
        "</per-minute>\n          </metronome>\n        </direction-type>\n        <sound tempo=\"",
    );
    let (value, places) = decimal(mark.quarters_per_minute());
    sink.decimal(value, places);
    sink.put("\"/>\n");
}

/// What is so many halves of halves, exact: a whole number and how many of its
/// digits stand after the point.
fn decimal(halved: Fraction) -> (u64, u32) {
    // Dividing by 2^n is multiplying by 5^n and moving the point n places.
    let halvings = halved.denom().trailing_zeros();
    (halved.numer().unsigned_abs() * 5u64.pow(halvings), halvings)
}

#[cfg(test)]
mod tests {
    use rhythm::{NoteValue, ValueKind};

    use super::*;

    #[test]
    fn tempo_in_quarters_is_exact() {
        let check = |kind, dots, per_minute, expected: &str| {
            let mut out = Vec::new();
            let mark = TempoMark {
                beat: NoteValue {
                    kind,
                    dots,
                    tuplet: None,
                },
                per_minute,
            };
            let (value, places) = decimal(mark.quarters_per_minute());
            Sink::new(&mut out).decimal(value, places);
            assert_eq!(
                String::from_utf8(out).unwrap(),
                expected,
                "{kind:?} {dots} = {per_minute}"
            );
        };
        // Arithmetic: beats a minute times the beat's length in quarters.
        check(ValueKind::Quarter, 0, 96, "96");
        check(ValueKind::Quarter, 1, 60, "90");
        check(ValueKind::Quarter, 1, 63, "94.5");
        check(ValueKind::Quarter, 2, 1, "1.75");
        check(ValueKind::Eighth, 0, 181, "90.5");
        check(ValueKind::Eighth, 1, 101, "75.75");
        check(ValueKind::Half, 0, 72, "144");
        check(ValueKind::Half, 1, 40, "120");
        check(ValueKind::Whole, 0, 30, "120");
        check(ValueKind::Breve, 0, 65_535, "524280");
        check(ValueKind::SixtyFourth, 1, 1, "0.09375");
        check(ValueKind::Quarter, 0, 0, "0");
        check(ValueKind::Breve, 255, 65_535, "1046512.03125");
    }
}
