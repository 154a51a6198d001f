//! What files get wrong and the reader takes all the same, with a warning for
//! each thing guessed. What a file should say is MusicXML 4.0's.
#![cfg(test)]

mod shown;

const HEAD: &str = "<attributes><divisions>4</divisions><key><fifths>0</fifths></key>\
    <time><beats>4</beats><beat-type>4</beat-type></time></attributes>";

/// Measures from their contents, numbered from 1; a number before a `:` is
/// the measure's own.
fn score(measures: &[&str]) -> String {
    let mut text = "<score-partwise version=\"4.0\"><part id=\"P1\">".to_owned();
    for (at, inside) in measures.iter().enumerate() {
        let (number, inside) = match inside.split_once(": ") {
            Some((number, inside)) => (number.to_owned(), inside),
            None => ((at + 1).to_string(), *inside),
        };
        let implicit = if number.starts_with('X') {
            " implicit=\"yes\""
        } else {
            ""
        };
        let head = if at == 0 { HEAD } else { "" };
        text.push_str(&format!(
            "<measure number=\"{number}\"{implicit}>{head}{inside}</measure>"
        ));
    }
    text + "</part></score-partwise>"
}

/// A note of so many sixteenths.
fn note(pitch: &str, sixteenths: u32) -> String {
    let (step, octave) = pitch.split_at(1);
    format!(
        "<note><pitch><step>{step}</step><octave>{octave}</octave></pitch>\
         <duration>{sixteenths}</duration></note>"
    )
}

fn rest(sixteenths: u32) -> String {
    format!("<note><rest/><duration>{sixteenths}</duration></note>")
}

fn chord(root: &str, kind: &str, more: &str) -> String {
    format!(
        "<harmony><root><root-step>{root}</root-step></root><kind>{kind}</kind>{more}</harmony>"
    )
}

/// Compares what is read, the head left out.
fn check(xml: &str, asked: &str, expected: &[&str]) {
    check_bytes(xml.as_bytes(), asked, expected);
}

fn check_bytes(bytes: &[u8], asked: &str, expected: &[&str]) {
    let found = shown::read(bytes, asked);
    let found: Vec<&str> = found
        .lines()
        .filter(|line| {
            !line.starts_with("key =") && !line.starts_with("played =") && *line != "meter = 4/4"
        })
        .collect();
    assert_eq!(found, expected, "{}", String::from_utf8_lossy(bytes));
}

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
fn places_of_chords() {
    let held = note("C5", 16);
    let offset = |by: i32| format!("<offset>{by}</offset>");
    let both = |first: &str, second: &str| score(&[&format!("{first}{held}{second}"), &held]);
    // A negative offset after the notes, and one from the second half.
    check(
        &both(&chord("C", "major", ""), &chord("F", "major", &offset(-8))),
        "changes written",
        &["bar 1 4/4: 0 C, 2 F", "bar 2 4/4:"],
    );
    check(
        &score(&[
            &held,
            &format!("{}{held}", chord("C", "major", &offset(-2))),
        ]),
        "changes written",
        &[
            "bar 1 4/4: 7/2 C",
            "bar 2 4/4:",
            "warning = measure 2, <harmony>: an offset leads before the bar: the chord was put into the bar before",
        ],
    );
    check(
        &both("", &chord("F", "major", "")),
        "changes written",
        &[
            "bar 1 4/4:",
            "bar 2 4/4: 0 F",
            "warning = measure 1, <harmony>: a chord stands after the bar's last note: it was put on the next bar line",
        ],
    );
    check(
        &score(&[&format!("{held}{}", chord("F", "major", ""))]),
        "changes written",
        &[
            "bar 1 4/4: 3 F",
            "warning = measure 1, <harmony>: a chord stands after the bar's last note: it was put on the bar's last beat",
        ],
    );
    // Several without offsets share the bar; an empty bar is a bar.
    let two = format!(
        "{}{}",
        chord("D", "minor-seventh", ""),
        chord("G", "dominant", "")
    );
    let warning = |bar: u8| {
        format!(
            "warning = measure {bar}, <harmony>: several chords stand at one place: they were spread over the beats"
        )
    };
    check(
        &score(&[&two, &format!("{two}{held}")]),
        "changes written",
        &[
            "bar 1 4/4: 0 Dm7, 2 G7",
            "bar 2 4/4: 0 Dm7, 2 G7",
            &warning(1),
            &warning(2),
        ],
    );
    // By going back and forth, as with several voices.
    let back = format!(
        "{}{held}<backup><duration>8</duration></backup>{}<forward><duration>8</duration></forward>",
        chord("C", "major", ""),
        chord("A", "minor", "")
    );
    check(
        &score(&[&back]),
        "changes written",
        &["bar 1 4/4: 0 C, 2 Am"],
    );
    let alternate = chord("A", "minor", "").replace("<harmony>", "<harmony type=\"alternate\">");
    check(
        &score(&[&format!("{}{alternate}{held}", chord("C", "major", ""))]),
        "changes written",
        &[
            "bar 1 4/4: 0 C",
            "warning = measure 1, beat 1, <harmony>: an alternate chord was left out",
        ],
    );
}

#[test]
fn roots_and_basses() {
    let one = |harmony: &str, expected: &str, warning: Option<&str>| {
        let xml = score(&[&format!("{harmony}{}", note("C5", 16))]);
        let bar = format!("bar 1 4/4: 0 {expected}");
        let warning = warning.map(|said| format!("warning = measure 1, beat 1, <harmony>: {said}"));
        let lines: Vec<&str> = [bar.as_str()]
            .into_iter()
            .chain(warning.as_deref())
            .collect();
        check(&xml, "changes written", &lines);
    };
    one(
        &chord("C", "major", "<inversion>1</inversion>"),
        "C/E",
        None,
    );
    one(
        &chord("C", "minor", "<inversion>1</inversion>"),
        "Cm/Eb",
        None,
    );
    one(
        &chord("C", "dominant", "<inversion>3</inversion>"),
        "C7/Bb",
        None,
    );
    one(
        &chord("C", "dominant", "<inversion>0</inversion>"),
        "C7",
        None,
    );
    one(
        &chord("C", "major", "<inversion>3</inversion>"),
        "C",
        Some("the chord has no tone for inversion “3”: its root was kept in the bass"),
    );
    one(
        &chord(
            "C",
            "major",
            "<inversion>1</inversion><bass><bass-step>G</bass-step></bass>",
        ),
        "C/G",
        None,
    );
    one(
        &chord("C", "major", "<bass><bass-step>C</bass-step></bass>"),
        "C",
        None,
    );
    one(&chord("c", "major", ""), "C", None);
    one(
        &chord("C", "none", "<bass><bass-step>G</bass-step></bass>"),
        "N.C.",
        None,
    );
    one(
        "<harmony><kind text=\"N.C.\">none</kind></harmony>",
        "N.C.",
        None,
    );
    one(
        "<harmony><function>bVI</function><kind>major</kind></harmony>",
        "Ab",
        Some("the root A♭ was worked out from the key"),
    );
    one(
        "<harmony><numeral><numeral-root>2</numeral-root></numeral><kind>minor</kind></harmony>",
        "Dm",
        Some("the root D was worked out from the key"),
    );
    one(
        "<harmony><root><root-step>C</root-step></root></harmony>",
        "C",
        Some("the chord has no kind: a major triad was taken"),
    );
    one(
        "<harmony><root><root-step>D</root-step></root><kind>dominant</kind>\
         <root><root-step>G</root-step></root><kind>major</kind></harmony>",
        "D7",
        Some("several chords stand in one symbol: the first was taken"),
    );
    one(
        &chord(
            "C",
            "dominant",
            "<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter></degree>",
        ),
        "C7(b9)",
        Some("a degree's type “” is none of add, alter, subtract: add was taken"),
    );
    one(
        &chord(
            "C",
            "dominant",
            "<degree><degree-value>17</degree-value><degree-type>add</degree-type></degree>",
        ),
        "C7",
        Some("a degree of “17” was left out: degrees go from 1 to 13"),
    );
    one(
        &chord("C", "minor-major-11th", ""),
        "C",
        Some("“minor-major-11th” is no kind of the standard: a major triad was taken"),
    );
    one(
        &chord("A", "German", ""),
        "A7",
        Some("German is not in the catalogue: 7 was taken"),
    );
}

#[test]
fn lengths_of_notes() {
    let phrase =
        |measures: &[&str], expected: &[&str]| check(&score(measures), "phrase written", expected);
    let typed = |duration: &str, more: &str| {
        format!("<note><pitch><step>C</step><octave>5</octave></pitch>{duration}{more}</note>")
    };
    // Septuplets rounded to 480 parts.
    let seven = "<time-modification><actual-notes>7</actual-notes><normal-notes>4</normal-notes></time-modification>";
    let mut septuplet = "<attributes><divisions>480</divisions></attributes>".to_owned();
    for duration in [69, 68, 69, 68, 69, 68, 69] {
        septuplet += &typed(
            &format!("<duration>{duration}</duration>"),
            &format!("<type>16th</type>{seven}"),
        );
    }
    septuplet += &rest(1440);
    phrase(
        &[&septuplet],
        &[
            "notes = 0+1/7 C5, 1/7+1/7 C5, 2/7+1/7 C5, 3/7+1/7 C5, 4/7+1/7 C5, 5/7+1/7 C5, 6/7+1/7 C5, 1+3 -",
            "warning = measure 1, beat 1, <note>: the duration is rounded: the written value of 1/7 quarters was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("<duration>6</duration>", "<type>quarter</type>"),
            rest(10)
        )],
        &[
            "notes = 0+3/2 C5, 3/2+5/2 -",
            "warning = measure 1, beat 1, <note>: the note lasts 3/2 quarters by its duration but 1 as it is written: the duration was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("", "<type>quarter</type><dot/>"),
            rest(10)
        )],
        &[
            "notes = 0+3/2 C5, 3/2+5/2 -",
            "warning = measure 1, beat 1, <note>: the note has no duration: its written value was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("<duration>2.5</duration>", ""),
            rest(0).replace('0', "13.5")
        )],
        &["notes = 0+5/8 C5, 5/8+27/8 -"],
    );
    phrase(
        &[&typed("", "")],
        &["error = measure 1, beat 1, <note>: the note says not how long it is"],
    );
    let no_divisions = score(&[&typed("<duration>1</duration>", "<type>whole</type>")])
        .replace("<divisions>4</divisions>", "");
    check(
        &no_divisions,
        "phrase written",
        &[
            "notes = 0+4 C5",
            "warning = measure 1, beat 1, <note>: no divisions are given: written values were taken, else quarters",
        ],
    );
    // A note that waits for the rest of its bar by going forward.
    phrase(
        &[
            &format!("{}<forward><duration>8</duration></forward>", note("C5", 8)),
            &note("D5", 16),
        ],
        &["notes = 0+2 C5, 2+2 -, 4+4 D5"],
    );
    phrase(
        &[&note("C5", 16), &note("D5", 8), &note("E5", 16)],
        &[
            "notes = 0+4 C5, 4+2 D5, 6+2 -, 8+4 E5",
            "warning = measure 2: the bar holds 2 of its 4 beats: the rest was taken as silence",
        ],
    );
    phrase(
        &[&note("C5", 16), &note("D5", 20)],
        &[
            "notes = 0+4 C5, 4+5 D5",
            "warning = measure 2: the bar holds 5 beats, more than its meter's 4",
        ],
    );
}

#[test]
fn pickups_and_halves() {
    let hidden = rest(12).replace("<note>", "<note print-object=\"no\">");
    let xml = score(&[
        &format!("{hidden}{}{}", chord("G", "dominant", ""), note("G4", 4)),
        &note("C5", 16),
    ]);
    let warning = "warning = measure 1: the hidden rests before the first note were taken for the room before a pickup";
    check(
        &xml,
        "phrase written",
        &[
            "pickup = 1",
            "notes = -1+1 G4, 0+4 C5",
            "chords = -1 G7",
            warning,
        ],
    );
    check(
        &xml,
        "changes written",
        &["bar 1 4/4 from 3 length 1: 3 G7", "bar 2 4/4:", warning],
    );
    // A bar cut in two by a repeat: N and XN.
    let back = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
    let xml = score(&[
        &note("C5", 16),
        &format!("2: {}{}{back}", chord("F", "major", ""), note("D5", 8)),
        &format!("X2: {}{}", chord("G", "major", ""), note("E5", 8)),
        &format!("3: {}", note("F5", 16)),
    ]);
    check(
        &xml,
        "changes written",
        &[
            "section x2",
            "bar 1 4/4:",
            "bar 2 4/4 from 0 length 2: 0 F",
            "section x1",
            "bar X2 4/4 from 2 length 2: 2 G",
            "bar 3 4/4:",
        ],
    );
    check(
        &xml,
        "phrase written 2",
        &["notes = 0+2 D5, 2+2 E5", "chords = 0 F, 2 G"],
    );
}

#[test]
fn ties() {
    let tied = |pitch: &str, sixteenths: u32, ties: &[&str]| {
        let ties: String = ties
            .iter()
            .map(|kind| format!("<tie type=\"{kind}\"/>"))
            .collect();
        note(pitch, sixteenths).replace("</note>", &format!("{ties}</note>"))
    };
    let phrase =
        |measures: &[&str], expected: &[&str]| check(&score(measures), "phrase written", expected);
    let one_end = "warning = measure 2, <note>: a tie has only one end: the two notes were joined";
    phrase(
        &[&tied("C5", 16, &["start"]), &note("C5", 16)],
        &["notes = 0+8 C5", one_end],
    );
    phrase(
        &[&note("C5", 16), &tied("C5", 16, &["stop"])],
        &["notes = 0+8 C5", one_end],
    );
    phrase(
        &[
            &tied("C5", 16, &["start"]),
            &tied("C5", 16, &["start", "stop"]),
            &tied("C5", 16, &["stop"]),
        ],
        &["notes = 0+12 C5"],
    );
    phrase(
        &[&tied("C5", 16, &["start"]), &note("D5", 16)],
        &[
            "notes = 0+4 C5, 4+4 D5",
            "warning = measure 2, <note>: a tie leads to no note of the same pitch: it was left out",
        ],
    );
    phrase(
        &[&note("D5", 16), &tied("C5", 16, &["stop"])],
        &[
            "notes = 0+4 D5, 4+4 C5",
            "warning = measure 2, <note>: a tie comes from no note of the same pitch: it was left out",
        ],
    );
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
            "warning = measure 1, <note>: a second voice was left out",
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

#[test]
fn meters() {
    let time = |inside: &str| {
        score(&[&note("C5", 20)]).replace(
            "<time><beats>4</beats><beat-type>4</beat-type></time>",
            inside,
        )
    };
    let changes =
        |inside: &str, expected: &[&str]| check(&time(inside), "changes written", expected);
    let none = "warning = there are no chord symbols";
    changes(
        "<time><beats>2+3</beats><beat-type>4</beat-type></time>",
        &["bar 1 5/4:", none],
    );
    changes(
        "<time><beats>3+2</beats><beat-type>4</beat-type></time>",
        &["bar 1 5/4 = 3+2:", none],
    );
    changes(
        "<time><beats>2</beats><beat-type>4</beat-type><beats>6</beats><beat-type>8</beat-type></time>",
        &[
            "bar 1 10/8 = 4+6:",
            none,
            "warning = measure 1, beat 1, <time>: “2/4 + 6/8” was taken as 10/8",
        ],
    );
    changes(
        "",
        &[
            "bar 1 5/4:",
            none,
            "warning = measure 1: no meter is given: 5/4 was taken",
        ],
    );
    changes(
        "<time><beats>4</beats><beat-type>5</beat-type></time>",
        &["error = measure 1, beat 1, <time>: “4/5” is no meter"],
    );
}

#[test]
fn transpositions() {
    let transposed = |inside: &str, asked: &str, expected: &[&str]| {
        let attributes = format!("<transpose>{inside}</transpose></attributes>");
        let xml = score(&[&format!("{}{}", chord("C", "major", ""), note("C5", 16))])
            .replace("</attributes>", &attributes);
        check(&xml, asked, expected);
    };
    transposed(
        "<chromatic>-9</chromatic>",
        "phrase sounding",
        &[
            "notes = 0+4 Eb4",
            "chords = 0 Eb",
            "warning = measure 1, beat 1, <transpose>: the transposition of -9 semitones says no letters: -5 was taken",
        ],
    );
    transposed(
        "<octave-change>-1</octave-change><chromatic>-2</chromatic>",
        "phrase sounding",
        &[
            "notes = 0+4 Bb3",
            "chords = 0 Bb",
            "warning = measure 1, beat 1, <transpose>: the transposition of -2 semitones says no letters: -1 was taken",
        ],
    );
    // Concert B written as D flat.
    let flat = score(&[&note("D5", 16).replace("<octave>", "<alter>-1</alter><octave>")])
        .replace("<fifths>0</fifths>", "<fifths>-5</fifths>")
        .replace(
            "</attributes>",
            "<transpose><diatonic>-2</diatonic><chromatic>-2</chromatic></transpose></attributes>",
        );
    let found = shown::read(flat.as_bytes(), "phrase sounding");
    assert_eq!(found, "key = 5\nmeter = 4/4\nnotes = 0+4 B4\n");
    // With −1/−2 it would be C flat, seven flats: that has a signature.
    let found = shown::read(
        flat.replace("<diatonic>-2", "<diatonic>-1").as_bytes(),
        "phrase sounding",
    );
    assert_eq!(found, "key = -7\nmeter = 4/4\nnotes = 0+4 Cb5\n");
    // C flat for an E flat horn would be E double flat: D.
    let far = score(&[&note("C5", 16).replace("<octave>", "<alter>-1</alter><octave>")])
        .replace("<fifths>0</fifths>", "<fifths>-7</fifths>")
        .replace(
            "</attributes>",
            "<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose></attributes>",
        );
    let found = shown::read(far.as_bytes(), "phrase sounding");
    assert_eq!(
        found,
        "key = 2\nmeter = 4/4\nnotes = 0+4 D4\nwarning = measure 1, beat 1, <key>: \
         the sounding key would have more than 7 signs: it was respelled\n"
    );
    transposed(
        "<diatonic>x</diatonic><chromatic>-2</chromatic>",
        "phrase sounding",
        &["error = measure 1, beat 1, <diatonic>: “x” is no number of up to 28"],
    );
    let concert = score(&[&note("C5", 16)])
        .replace("<part id", "<defaults><concert-score/></defaults><part id")
        .replace(
            "</attributes>",
            "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>",
        );
    check(
        &concert,
        "phrase sounding",
        &[
            "notes = 0+4 C5",
            "warning = measure 1, beat 1, <transpose>: the file says that its pitches sound as written: the transposition was left out",
        ],
    );
}

#[test]
fn what_cannot_be_read_says_where() {
    let error = |xml: &str, asked: &str, expected: &str| {
        check(xml, asked, &[&format!("error = {expected}")])
    };
    let held = note("C5", 8);
    let xml = score(&[
        &note("C5", 16),
        &format!("{held}{}{held}", chord("H", "major", "")),
    ]);
    error(
        &xml,
        "changes written",
        "measure 2, beat 3, <root-step>: “H” is no letter from A to G",
    );
    check(
        &xml,
        "phrase written 2",
        &[
            "notes = 0+2 C5, 2+2 C5",
            "warning = measure 2, beat 3, <root-step>: a chord was left out: “H” is no letter from A to G",
        ],
    );
    let xml = score(&[&note("C5", 16), &format!("{held}{}", note("X5", 8))]);
    error(
        &xml,
        "phrase written",
        "measure 2, beat 3, <step>: “X” is no letter from A to G",
    );
    check(
        &xml,
        "changes written",
        &[
            "bar 1 4/4:",
            "bar 2 4/4:",
            "warning = there are no chord symbols",
        ],
    );
    check(&xml, "phrase written 1", &["notes = 0+4 C5"]);
    let duration = score(&[&note("C5", 16), &held.replace(">8<", ">eight<")]);
    error(
        &duration,
        "changes written",
        "measure 2, beat 1, <duration>: “eight” is no duration",
    );
    error(&score(&[]), "changes written", "the part has no measures");
    error(
        "<score-partwise/>",
        "changes written",
        "the score has no parts",
    );
    error(
        "<html></html>",
        "changes written",
        "line 1: this is no MusicXML score: its outermost element is “html”, not score-partwise or score-timewise",
    );
    error(
        "MThd",
        "changes written",
        "this is no MusicXML: it doesn't begin with <",
    );
    error(
        "",
        "changes written",
        "this is no MusicXML: it doesn't begin with <",
    );
    error(
        "<score-partwise>\n<part>\n</score-partwise>",
        "changes written",
        "line 3: </score-partwise> stands where </part> should",
    );
}

#[test]
fn jumps_are_told() {
    let words = "<direction><direction-type><words>D.C. al Fine</words></direction-type><sound dacapo=\"yes\"/></direction>";
    check(
        &score(&[&format!(
            "{}{}{words}",
            chord("C", "major", ""),
            note("C5", 16)
        )]),
        "changes written",
        &[
            "bar 1 4/4: 0 C",
            "warning = measure 1, beat 5, <direction>: “D.C. al Fine” was not followed",
            "warning = measure 1, beat 5, <sound>: a da capo was not followed",
        ],
    );
    let plain = "<direction><direction-type><words>fine tone, decrescendo</words></direction-type></direction>";
    check(
        &score(&[&format!(
            "{plain}{}{}",
            chord("C", "major", ""),
            note("C5", 16)
        )]),
        "changes written",
        &["bar 1 4/4: 0 C"],
    );
    let mark = |name: &str| {
        format!(
            "<direction><direction-type><rehearsal>{name}</rehearsal></direction-type></direction>"
        )
    };
    let bar = |mark: &str| format!("{mark}{}{}", chord("C", "major", ""), note("C5", 16));
    check(
        &score(&[&bar(&mark("A")), &bar(""), &bar(&mark("B"))]),
        "changes written",
        &[
            "section A x1",
            "bar 1 4/4: 0 C",
            "bar 2 4/4: 0 C",
            "section B x1",
            "bar 3 4/4: 0 C",
        ],
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
        let asked = reader::Asked {
            part: part.map(str::to_owned),
            named: lesson::Named::Written,
        };
        reader::phrase(xml.as_bytes(), &asked, None).map(|reading| {
            let pitch = reading.value.notes[0].pitch.unwrap().to_string();
            (reading.value.part.unwrap(), pitch, reading.warnings.len())
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
