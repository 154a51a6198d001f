//! Measures (`measure`): print, attributes, directions, notes, barline, in
//! that order.

use score::{Barline, Break, Direction, Element, Measure, Score, Transposition};
use theory::{Clef, ClefSign, KeySignature, Mode};

use crate::credit::wrapped;
use crate::direction::{cue, direction};
use crate::harmony::harmony;
use crate::note::{note, rest, slash};
use crate::page::first_print;
use crate::sink::Sink;

/// Every measure of the part; the first staff stands so many tenths of a
/// millimetre below the top margin.
pub(crate) fn measures(sink: &mut Sink<'_>, score: &Score, first_staff: u32) {
    for (index, measure) in score.part.measures.iter().enumerate() {
        let first = index == 0;
        opening(sink, measure);
        if first {
            first_print(sink, score.page, first_staff, measure.begins);
        } else {
            print(sink, measure.begins);
        }
        attributes(sink, measure, first.then_some(score));
        for over in &measure.directions {
            match over {
                // No reader breaks a line of its own.
                Direction::Text(text) => {
                    for line in wrapped(text, score.page) {
                        direction(sink, &Direction::Text(line));
                    }
                }
                over => direction(sink, over),
            }
        }
        let mut cues = measure.cues.iter().peekable();
        let mut at = 0;
        for element in &measure.elements {
            while let Some(over) = cues.next_if(|over| over.at <= at) {
                cue(sink, &over.words);
            }
            at = element.written().length.saturating_add(at);
            let chord = element.written().chord;
            if let Some(symbol) = chord.and_then(|place| score.chords.symbol(place)) {
                harmony(sink, symbol);
            }
            match element {
                Element::Note(a_note) => note(sink, a_note),
                Element::Rest(a_rest) => rest(sink, a_rest),
                Element::Slash(a_slash) => slash(sink, a_slash),
            }
        }
        sink.put(match measure.barline {
            None => "    </measure>\n",
            Some(Barline::Double) => {
                "      <barline location=\"right\">\n        <bar-style>light-light</bar-style>\n      </barline>\n    </measure>\n"
            }
            Some(Barline::Final) => {
                "      <barline location=\"right\">\n        <bar-style>light-heavy</bar-style>\n      </barline>\n    </measure>\n"
            }
        });
    }
}

fn opening(sink: &mut Sink<'_>, measure: &Measure) {
    sink.put(if measure.extra {
        "    <measure number=\"X"
    } else {
        "    <measure number=\""
    });
    sink.number(measure.number);
    if let Some(shown) = measure.shown.filter(|shown| *shown != measure.number) {
        sink.put("\" text=\"");
        sink.number(shown);
    }
    sink.put(if measure.implicit {
        "\" implicit=\"yes\">\n"
    } else {
        "\">\n"
    });
}

fn print(sink: &mut Sink<'_>, begins: Option<Break>) {
    sink.put(match begins {
        None => "",
        Some(Break::System) => "      <print new-system=\"yes\"/>\n",
        Some(Break::Page) => "      <print new-page=\"yes\"/>\n",
    });
}

/// `whole` is the score where the part begins, which is where divisions, clef
/// and transposition are said.
fn attributes(sink: &mut Sink<'_>, measure: &Measure, whole: Option<&Score>) {
    if measure.key.is_none() && measure.meter.is_none() && whole.is_none() {
        return;
    }
    sink.put("      <attributes>\n");
    if let Some(score) = whole {
        sink.put("        <divisions>");
        sink.number(score.divisions);
        sink.put("</divisions>\n");
    }
    if let Some(signature) = measure.key {
        key(sink, signature);
    }
    if let Some(meter) = &measure.meter {
        sink.put("        <time>\n          <beats>");
        sink.number(meter.upper());
        sink.put("</beats>\n          <beat-type>");
        sink.number(meter.lower());
        sink.put("</beat-type>\n        </time>\n");
    }
    if let Some(score) = whole {
        clef(sink, score.part.clef);
        if let Some(transposition) = score.part.transposition {
            transpose(sink, transposition);
        }
    }
    sink.put("      </attributes>\n");
}

fn key(sink: &mut Sink<'_>, key: KeySignature) {
    sink.put("        <key>\n          <fifths>");
    sink.number(key.signature.fifths());
    sink.put(match key.mode {
        None => "</fifths>\n        </key>\n",
        Some(Mode::Major) => "</fifths>\n          <mode>major</mode>\n        </key>\n",
        Some(Mode::Minor) => "</fifths>\n          <mode>minor</mode>\n        </key>\n",
    });
}

fn clef(sink: &mut Sink<'_>, clef: Clef) {
    sink.put("        <clef>\n          <sign>");
    sink.put(match clef.sign {
        ClefSign::G => "G",
        ClefSign::F => "F",
        ClefSign::C => "C",
    });
    sink.put("</sign>\n          <line>");
    sink.number(clef.line);
    sink.put("</line>\n");
    if clef.octave_change != 0 {
        sink.put("          <clef-octave-change>");
        sink.number(clef.octave_change);
        sink.put("</clef-octave-change>\n");
    }
    sink.put("        </clef>\n");
}

fn transpose(sink: &mut Sink<'_>, transposition: Transposition) {
    sink.put("        <transpose>\n          <diatonic>");
    sink.number(transposition.diatonic);
    sink.put("</diatonic>\n          <chromatic>");
    sink.number(transposition.chromatic);
    sink.put("</chromatic>\n");
    if transposition.octave_change != 0 {
        sink.put("          <octave-change>");
        sink.number(transposition.octave_change);
        sink.put("</octave-change>\n");
    }
    sink.put("        </transpose>\n");
}
