//! Chord symbols (`harmony`), in written pitch.

use theory::{ChordSymbol, DegreeChange, PitchName};

use crate::sink::Sink;
use crate::words;

/// A chord symbol; it belongs to the note or rest written next.
pub(crate) fn harmony(sink: &mut Sink<'_>, symbol: &ChordSymbol) {
    let chord = &symbol.chord;
    let kind = chord.musicxml_kind();
    if kind == "none" {
        no_chord(sink);
        return;
    }
    sink.put("      <harmony>\n        <root>\n          <root-step>");
    sink.put(words::step(symbol.root.letter()));
    sink.put("</root-step>\n");
    if symbol.root.alteration() != 0 {
        sink.put("          <root-alter>");
        sink.number(symbol.root.alteration());
        sink.put("</root-alter>\n");
    }
    sink.put("        </root>\n        <kind text=\"");
    sink.text(chord.musicxml_text());
    sink.put("\">");
    sink.put(kind);
    sink.put("</kind>\n");
    if let Some(name) = symbol.bass {
        bass(sink, name);
    }
    let (degrees, shown) = chord.musicxml_degrees();
    for degree in degrees {
        sink.put(if shown {
            "        <degree>\n"
        } else {
            "        <degree print-object=\"no\">\n"
        });
        sink.put("          <degree-value>");
        sink.number(degree.value);
        sink.put("</degree-value>\n          <degree-alter>");
        sink.number(degree.alter);
        sink.put("</degree-alter>\n          <degree-type>");
        sink.put(match degree.change {
            DegreeChange::Add => "add",
            DegreeChange::Alter => "alter",
            DegreeChange::Subtract => "subtract",
        });
        sink.put("</degree-type>\n        </degree>\n");
    }
    sink.put("      </harmony>\n");
}

/// N.C.: the schema wants a root, so it gets one that prints nothing.
fn no_chord(sink: &mut Sink<'_>) {
    sink.put(concat!(
        "      <harmony>\n",
        "        <root>\n",
        "          <root-step text=\"\">C</root-step>\n",
        "        </root>\n",
        "        <kind text=\"N.C.\">none</kind>\n",
        "      </harmony>\n",
    ));
}

fn bass(sink: &mut Sink<'_>, bass: PitchName) {
    sink.put("        <bass>\n          <bass-step>");
    sink.put(words::step(bass.letter()));
    sink.put("</bass-step>\n");
    if bass.alteration() != 0 {
        sink.put("          <bass-alter>");
        sink.number(bass.alteration());
        sink.put("</bass-alter>\n");
    }
    sink.put("        </bass>\n");
}
