//! The whole text of a lifted lesson: its flip, its player.

use etude::Composer;
use lesson::Phrase;
use lift::lift;
use rhythm::Fraction;
use score::sounding_notes;
use theory::{Interval, Pitch};

use crate::made::{C, gives_back, phrase};

/// The whole text of a lifted lesson, as a teacher would find it.
#[test]
fn the_lesson_file() {
    let mut line = phrase("4/4", C, 0, "E4 3/2, G4 1/2, Bb4 1, C5 1, D5 4", "C13");
    line.title = Some("A \"quoted\" name".to_owned());
    line.played_by.part = Some("Tenor Saxophone".to_owned());
    line.written_to_sounding = Interval::from_steps(-8, -14);
    let lifted = lift(&line, None).unwrap();
    assert_eq!(
        lifted.text,
        r#"title = "A \"quoted\" name"
instruments = ["tenor-saxophone"]

[keys]
order = "fourths"
from = "C"

# All 5 notes are the scale's own.
# It also goes on C bebop dominant and on C lydian dominant: lift it again with --scale to have it so.
[scale]
name = "mixolydian"
chord = "13"

[figure]
meter = "4/4"
moves = "start on 3, skip up, skip up, step up, step up"
count = "1-2 & 3 4 | 1"
flipped = "start on 3, skip down, skip down, step down, step down"

[[exercise]]
kind = "figure"

[[exercise]]
kind = "sequence"
"#
    );
    assert_eq!(
        lifted.remarks,
        ["it is written an octave lower than in the file, where the player's range has more room"]
    );
    gives_back(&line, &lifted);
}

/// Onsets, lengths and written pitches of a lesson's first sheet.
fn first_sheet(text: &str) -> Vec<(Fraction, Fraction, Pitch)> {
    let lesson = lesson_text::read(text, "lifted").unwrap();
    let composer = Composer::new(&lesson).unwrap();
    let sheet = composer.compose(&composer.plans()[0]).unwrap();
    let notes = sounding_notes(&sheet.score).into_iter();
    notes
        .map(|note| (note.onset, note.length, note.written))
        .collect()
}

/// The flip in words is the plain flip: the sheet is the same without it.
#[test]
fn the_flip_is_worded() {
    let check = |line: &Phrase, flipped: &str| {
        let text = lift(line, None).unwrap().text;
        let words = format!("flipped = \"{flipped}\"\n");
        assert!(text.contains(&words), "{text}");
        assert_eq!(first_sheet(&text), first_sheet(&text.replace(&words, "")));
    };
    check(
        &phrase("4/4", C, 0, "C5 1, D5 1, - 1, G5 1", ""),
        "start, step down, rest, down 3 steps",
    );
    // What leads from below leads from above; around turns about.
    check(
        &phrase("4/4", C, 0, "D#5 1/2, E5 1/2, F#5 1/2, G5 1/2, C5 2", ""),
        "from above, start on 3, from above, skip down, up 4 steps",
    );
    check(
        &phrase("4/4", C, 0, "E5 1, Db5 1/2, B4 1/2, C5 2", ""),
        "start on 3, from below, from above, skip up",
    );
    check(
        &phrase("4/4", C, 0, "E5 1, B4 1/2, Db5 1/2, C5 2", ""),
        "start on 3, enclose, skip up",
    );
}

/// Thirty-seconds keep their meter: the numbers count smaller values.
#[test]
fn thirty_seconds_keep_their_meter() {
    let notes = "C5 1/8, D5 1/8, E5 1/8, F5 1/8, G5 1/2, E5 1, C5 2";
    let line = phrase("4/4", C, 0, notes, "");
    let lifted = lift(&line, None).unwrap();
    for expected in [
        "meter = \"4/4\"",
        "count = \"1 e & a 2 3 5\"",
        "numbers = \"eighths\"",
    ] {
        assert!(lifted.text.contains(expected), "{}", lifted.text);
    }
    let score = gives_back(&line, &lifted);
    assert_eq!(
        score.part.measures[0]
            .meter
            .as_ref()
            .map(ToString::to_string)
            .as_deref(),
        Some("4/4")
    );
}

/// The notes are named as the phrase has them, in readable names where those
/// will do.
#[test]
fn names_as_the_phrase_has_them() {
    let minor = Some((-3, Some(theory::Mode::Minor)));
    let check = |notes: &str, strict: bool| {
        let line = phrase("4/4", minor, 0, notes, "");
        let lifted = lift(&line, None).unwrap();
        assert!(lifted.text.contains("name = \"blues\""), "{}", lifted.text);
        assert_eq!(
            lifted.text.contains("spelling = \"strict\""),
            strict,
            "{notes}"
        );
        let written = first_sheet(&lifted.text)
            .into_iter()
            .map(|(_, _, pitch)| pitch.name());
        let own = line
            .notes
            .iter()
            .filter_map(|note| note.pitch.map(Pitch::name));
        assert!(own.eq(written.take(line.notes.len())), "{}", lifted.text);
    };
    check("C5 1/2, Eb5 1/2, F5 1/2, F#5 1/2, G5 1, Bb5 1", false);
    check("C5 1/2, Eb5 1/2, F5 1/2, Gb5 1/2, G5 1, Bb5 1", true);
}

/// Who plays what the part's name doesn't say or the horn's range doesn't
/// hold.
#[test]
fn who_plays() {
    let check = |part: &str, down: i16, notes: &str, expected: &[&str]| {
        let mut line = phrase("4/4", C, 0, notes, "");
        line.played_by.part = Some(part.to_owned());
        line.written_to_sounding = Interval::from_steps(down * 5 / 9, down);
        let lifted = lift(&line, None).unwrap();
        let keys = [
            "instruments",
            "level",
            "instrument ",
            "low",
            "high",
            "name = \"L",
            "clef",
            "range",
        ];
        let said = lifted
            .text
            .lines()
            .filter(|line| keys.iter().any(|key| line.starts_with(key)));
        assert_eq!(said.collect::<Vec<_>>(), expected);
        let _ = gives_back(&line, &lifted);
    };
    check(
        "Alto Saxophone",
        -9,
        "E4 1, G4 1, C5 2",
        &["instruments = [\"alto-saxophone\"]"],
    );
    // Only the transposition speaks.
    check(
        "Solo",
        -9,
        "E4 1, G4 1, C5 2",
        &["instruments = [\"e-flat-treble\"]"],
    );
    check("Solo", -4, "E4 1, G4 1, C5 2", &[]);
    check("Alto Saxophone", 0, "E4 1, G4 1, C5 2", &[]);
    // The instrument's name, or its sound, where the part's says nothing.
    let by_instrument = |name: Option<&str>, sound: Option<&str>| {
        let mut line = phrase("4/4", C, 0, "E4 1, G4 1, C5 2", "");
        line.played_by.part = Some("Solo".to_owned());
        line.played_by.instrument = name.map(str::to_owned);
        line.played_by.sound_id = sound.map(str::to_owned);
        line.written_to_sounding = Interval::from_steps(-1, -2);
        let lifted = lift(&line, None).unwrap();
        assert!(
            lifted.text.contains("instruments = [\"b-flat-clarinet\"]"),
            "{}",
            lifted.text
        );
    };
    by_instrument(Some("Clarinet in Bb"), None);
    by_instrument(None, Some("wind.reed.clarinet.bflat"));
    check(
        "Line",
        0,
        "C3 1, E3 1, G3 2",
        &["instruments = [\"concert-bass\"]"],
    );
    // B flat below the horn's own lowest is out of any alto's reach.
    check(
        "Alto Saxophone",
        -9,
        "Db3 1, Db4 1, Db5 1, Bb5 1",
        &[
            "instrument = \"alto-saxophone\"",
            "low = \"Bb3\"",
            "high = \"G6\"",
        ],
    );
    check(
        "Line",
        0,
        "C3 1, C4 1, C5 1, C6 1, C7 4",
        &[
            "instruments = [\"Lifted line\"]",
            "name = \"Lifted line\"",
            "clef = \"treble\"",
            "range = \"C0 to F#7\"",
        ],
    );
}
