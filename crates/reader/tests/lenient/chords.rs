//! Chord symbols: places, roots, basses and transpositions.

use crate::made::{check, chord, note, score};
use crate::shown;

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
