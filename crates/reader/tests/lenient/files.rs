//! Frames, encodings, orders, and which part of a file is read.

use crate::made::{HEAD, check, check_bytes, chord, note, rest, score};

#[test]
fn children_in_any_order() {
    let harmony = "<harmony><degree><degree-type>add</degree-type><degree-alter>-1</degree-alter>\
        <degree-value>9</degree-value></degree><bass><bass-alter>-1</bass-alter><bass-step>E</bass-step></bass>\
        <kind>dominant</kind><root><root-alter>1</root-alter><root-step>F</root-step></root></harmony>";
    let note = "<note><voice>1</voice><type>whole</type><duration>16</duration>\
        <pitch><octave>5</octave><alter>1</alter><step>F</step></pitch></note>";
    let xml = score(&[&format!("{harmony}{note}")]);
    check(&xml, "changes written", &["bar 1 4/4: 0 F#7(b9)/Eb"]);
    check(
        &xml,
        "phrase written",
        &["notes = 0+4 F#5", "chords = 0 F#7(b9)/Eb"],
    );
    let late = score(&[]).replace(
        "</part>",
        &format!(
            "<measure number=\"1\">{}<attributes><time><beat-type>8</beat-type><beats>6</beats></time>\
             <key><mode>minor</mode><fifths>-1</fifths></key><divisions>4</divisions></attributes></measure></part>",
            chord("D", "minor", "")
        ),
    );
    check(&late, "changes written", &["bar 1 6/8: 0 Dm"]);
}

#[test]
fn encodings_and_frames() {
    let plain = score(&[&format!("{}{}", chord("C", "major", ""), note("C5", 16))])
        .replace("<part id", "<movement-title>Für ♭</movement-title><part id");
    let expected = ["title = Für ♭", "notes = 0+4 C5", "chords = 0 C"];
    let asked = "phrase written";
    check(&plain, asked, &expected);
    check(&format!("\u{FEFF}{plain}"), asked, &expected);
    let declared = format!("<?xml version=\"1.0\" encoding=\"UTF-16\"?>{plain}");
    let wide: Vec<u8> = declared.encode_utf16().flat_map(u16::to_le_bytes).collect();
    check_bytes(&wide, asked, &expected);
    let wide: Vec<u8> = format!("\u{FEFF}{declared}")
        .encode_utf16()
        .flat_map(u16::to_be_bytes)
        .collect();
    check_bytes(&wide, asked, &expected);
    let latin: Vec<u8> = format!(
        "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>{}",
        plain.replace(" ♭", "")
    )
    .chars()
    .map(|letter| letter as u8)
    .collect();
    check_bytes(
        &latin,
        asked,
        &["title = Für", "notes = 0+4 C5", "chords = 0 C"],
    );
    let undeclared = &latin[latin.iter().skip(1).position(|byte| *byte == b'<').unwrap() + 1..];
    check_bytes(
        undeclared,
        asked,
        &[
            "title = Für",
            "notes = 0+4 C5",
            "chords = 0 C",
            "warning = the file isn't the UTF-8 text it should be: it was read as Latin-1",
        ],
    );
    let outside = "<?xml version=\"1.0\"?>\n<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 2.0 Partwise//EN\" \
        \"http://127.0.0.1:9/dtds/partwise.dtd\" [<!ENTITY % more SYSTEM \"file:///etc/hostname\">]>";
    check(&format!("{outside}{plain}"), asked, &expected);
    for version in ["2.0", "3.1", "4.0", ""] {
        check(
            &plain.replace("version=\"4.0\"", &format!("version=\"{version}\"")),
            asked,
            &expected,
        );
    }
    check(
        &plain.replace(
            "Für ♭",
            "A &amp; B &#9837; &#x266F;<!-- x --><![CDATA[<&]]>",
        ),
        asked,
        &["title = A & B ♭ ♯<&", "notes = 0+4 C5", "chords = 0 C"],
    );
}

#[test]
fn by_time() {
    let measure = |number: u8, head: &str, pitch: &str| {
        format!(
            "<measure number=\"{number}\"><part id=\"A\">{head}{}</part><part id=\"B\">{head}{}{}</part></measure>",
            rest(16),
            chord("G", "dominant", ""),
            note(pitch, 16)
        )
    };
    let xml = format!(
        "<score-timewise version=\"3.0\"><part-list><score-part id=\"A\"><part-name>Flute</part-name></score-part>\
         <score-part id=\"B\"><part-name>Horn</part-name></score-part></part-list>{}{}</score-timewise>",
        measure(1, HEAD, "G4"),
        measure(2, "", "D4")
    );
    check(
        &xml,
        "phrase written",
        &["notes = 0+4 G4, 4+4 D4", "chords = 0 G7, 4 G7"],
    );
    check(
        &xml,
        "changes written",
        &["bar 1 4/4: 0 G7", "bar 2 4/4: 0 G7"],
    );
}

#[test]
fn parts_by_name() {
    let part = |id: &str, pitch: &str| {
        let whole = score(&[&note(pitch, 16)]);
        let inside = whole
            .split_once("<part id=\"P1\">")
            .unwrap()
            .1
            .replace("</score-partwise>", "");
        format!("<part id=\"{id}\">{inside}")
    };
    let xml = format!(
        "<score-partwise><part-list><score-part id=\"a\"><part-name>Flute</part-name></score-part>\
         <score-part id=\"b\"><part-name>Horn in F</part-name></score-part></part-list>{}{}</score-partwise>",
        part("a", "C5"),
        part("b", "G4")
    );
    let read = |part: Option<&str>| {
        let asked = reader::Selection {
            part: part.map(str::to_owned),
            named: lesson::Named::Written,
            ..reader::Selection::default()
        };
        reader::phrase(xml.as_bytes(), &asked, None).map(|reading| {
            let pitch = reading.value.notes[0].pitch.unwrap().to_string();
            (
                reading.value.played_by.part.unwrap(),
                pitch,
                reading.warnings.len(),
            )
        })
    };
    for (asked, expected) in [
        (None, ("Flute", "C5", 1)),
        (Some("horn in f"), ("Horn in F", "G4", 0)),
        (Some("b"), ("Horn in F", "G4", 0)),
        (Some("2"), ("Horn in F", "G4", 0)),
    ] {
        let (name, pitch, warned) = read(asked).unwrap();
        assert_eq!((name.as_str(), pitch.as_str(), warned), expected);
    }
    let error = read(Some("tuba")).unwrap_err().to_string();
    assert_eq!(error, "there is no part “tuba”: there are Flute, Horn in F");
}

#[test]
fn one_line_out_of_more() {
    let phrase =
        |measure: &str, expected: &[&str]| check(&score(&[measure]), "phrase written", expected);
    let second = note("E4", 16).replace("</duration>", "</duration><voice>2</voice>");
    phrase(
        &format!(
            "{}{}<backup><duration>16</duration></backup>{second}",
            note("C5", 8),
            note("D5", 8)
        ),
        &[
            "notes = 0+2 C5, 2+2 D5",
            "warning = several lines stand here: voice “1” of staff 1 was taken; another with --voice 2",
        ],
    );
    let stemmed = note("G5", 16).replace("<pitch>", "<chord/><pitch>");
    phrase(
        &format!("{}{stemmed}", note("C5", 16)),
        &[
            "notes = 0+4 G5",
            "warning = measure 1, <note>: of notes that sound together the highest was kept",
        ],
    );
    let grace = "<note><grace/><pitch><step>B</step><octave>4</octave></pitch></note>";
    phrase(
        &format!("{grace}{}", note("C5", 16)),
        &[
            "notes = 0+4 C5",
            "warning = measure 1, beat 1, <note>: grace notes were left out",
        ],
    );
    let slash = note("B4", 8).replace("</note>", "<notehead>slash</notehead></note>");
    phrase(
        &format!("{slash}{}", note("C5", 8)),
        &[
            "notes = 0+2 -, 2+2 C5",
            "warning = measure 1, <note>: slashes were taken as silence",
        ],
    );
    let sharp = note("F5", 16).replace("</note>", "<accidental>sharp</accidental></note>");
    phrase(
        &sharp,
        &[
            "notes = 0+4 F#5",
            "warning = measure 1, beat 1, <note>: the note is written with an accidental but without its alteration: F♯ was taken",
        ],
    );
    let quarter_tone = note("F5", 16).replace("<octave>", "<alter>0.5</alter><octave>");
    phrase(
        &quarter_tone,
        &[
            "notes = 0+4 F5",
            "warning = measure 1, beat 1, <note>: “0.5” isn't whole semitones: 0 was taken",
        ],
    );
}

/// A staff and a voice that are asked for, or the line that leads.
#[test]
fn staves_and_voices() {
    let bytes = std::fs::read(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../fixtures/notation/two_staves.musicxml"
    ));
    let bytes = bytes.unwrap();
    let check = |staff: Option<u8>, voice: Option<&str>, expected: Result<(&str, usize), &str>| {
        let asked = reader::Selection {
            staff,
            voice: voice.map(str::to_owned),
            ..reader::Selection::default()
        };
        let found = reader::phrase(&bytes, &asked, None).map(|reading| {
            let pitches = reading.value.notes.iter().filter_map(|note| note.pitch);
            let pitches: Vec<String> = pitches.map(|pitch| pitch.to_string()).collect();
            (pitches.join(" "), reading.warnings.len())
        });
        let found = found.map_err(|error| error.to_string());
        let expected = expected
            .map(|(pitches, warned)| (pitches.to_owned(), warned))
            .map_err(str::to_owned);
        assert_eq!(found, expected, "{staff:?} {voice:?}");
    };
    check(None, None, Ok(("E5 G5", 1)));
    check(None, Some("2"), Ok(("C5", 0)));
    // Of the notes on one stem the highest; that is said, and that there are others.
    check(Some(2), None, Ok(("E3 G3 E3 G3", 2)));
    check(
        Some(3),
        None,
        Err(
            "there is no such line in these bars: there are voice “1” of staff 1, voice “2” of staff 1, voice “5” of staff 2",
        ),
    );
}
