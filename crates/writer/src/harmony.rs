//! Chord symbols (`harmony`), in written pitch.

use theory::{ChordSymbol, DegreeChange, PitchName};

use crate::sink::Sink;
use crate::words;

/// A chord symbol; it belongs to the note or rest written next.
pub(crate) fn harmony(sink: &mut Sink<'_>, symbol: &ChordSymbol) {
    let chord = &symbol.chord;
    if chord.is_none() {
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
    sink.put(chord.musicxml_kind());
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
        sink.put("</degree-alter>\n          <degree-type");
        // Empty, or some readers print `add♯11` where `♯11` is meant.
        if degree.change == DegreeChange::Add {
            sink.put(" text=\"\"");
        }
        sink.put(">");
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

#[cfg(test)]
mod tests {
    use theory::{Chord, Letter};

    use super::*;
    use crate::tests::tree::Tree;

    #[test]
    fn symbols_are_written_so() {
        let check = |symbol: &str, expected: &str| {
            assert_eq!(
                summary(&written(&symbol.parse().unwrap())),
                expected,
                "{symbol}"
            );
        };
        // MusicXML 4.0 `harmony`, `kind-value`, `degree-alter`; W3C MusicXML
        // discussions 352 (suspended sevenths) and 349 (no chord).
        check("C", "C major ''");
        check("F#m7", "F1 minor-seventh 'm7'");
        check("Bbmaj7/D", "B-1 major-seventh 'maj7' over D");
        check("C/Eb", "C major '' over E-1");
        check("Ab7(b9)", "A-1 dominant '7' add 9 -1");
        check("G7(#11)/F#", "G dominant '7' over F1 add 11 1");
        check(
            "E7sus4",
            "E dominant '7sus4' hidden subtract 3 0 hidden add 4 0",
        );
        check("N.C.", "C none 'N.C.' ''");
    }

    #[test]
    fn every_kind_of_the_catalogue_is_the_standards() {
        for chord in Chord::catalogue() {
            let symbol = ChordSymbol {
                root: PitchName::new(Letter::B, -1),
                chord,
                bass: Some(PitchName::from_fifths(0)),
            };
            let tree = written(&symbol);
            let kind = tree.text("kind").unwrap();
            assert!(KIND_VALUES.contains(&kind), "{kind}");
            let order = ["root", "kind", "bass", "degree"];
            let place = |child: &Tree| order.iter().position(|name| *name == child.name).unwrap();
            assert!(tree.children.is_sorted_by_key(place), "{tree:?}");
            assert_eq!(
                tree.all("degree").count(),
                symbol.chord.musicxml_degrees().0.len()
            );
        }
    }

    /// MusicXML 4.0 `kind-value`, but for those that name no chord of a lead
    /// sheet (functional sixths, pedal, Tristan, other).
    const KIND_VALUES: [&str; 26] = [
        "major",
        "minor",
        "augmented",
        "diminished",
        "dominant",
        "major-seventh",
        "minor-seventh",
        "diminished-seventh",
        "augmented-seventh",
        "half-diminished",
        "major-minor",
        "major-sixth",
        "minor-sixth",
        "dominant-ninth",
        "major-ninth",
        "minor-ninth",
        "dominant-11th",
        "major-11th",
        "minor-11th",
        "dominant-13th",
        "major-13th",
        "minor-13th",
        "suspended-second",
        "suspended-fourth",
        "power",
        "none",
    ];

    fn written(symbol: &ChordSymbol) -> Tree {
        let mut out = Vec::new();
        harmony(&mut Sink::new(&mut out), symbol);
        Tree::read(&String::from_utf8(out).unwrap())
    }

    fn summary(harmony: &Tree) -> String {
        let name = |what: &str| {
            let alter = harmony
                .text(&format!("{what}/{what}-alter"))
                .unwrap_or_default();
            harmony
                .text(&format!("{what}/{what}-step"))
                .map(|step| format!("{step}{alter}"))
        };
        let kind = harmony.find("kind").unwrap();
        let mut summary = format!(
            "{} {} '{}'",
            name("root").unwrap(),
            kind.text,
            kind.attribute("text").unwrap()
        );
        if let Some(bass) = name("bass") {
            summary += &format!(" over {bass}");
        }
        for degree in harmony.all("degree") {
            if degree.attribute("print-object") == Some("no") {
                summary += " hidden";
            }
            for what in ["type", "value", "alter"] {
                summary += &format!(" {}", degree.text(&format!("degree-{what}")).unwrap());
            }
        }
        if let Some(text) = harmony.find("root/root-step").unwrap().attribute("text") {
            summary += &format!(" '{text}'");
        }
        summary
    }
}
