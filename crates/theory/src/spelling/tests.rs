use proptest::prelude::*;

use super::*;
use crate::{Chord, Instrument, concert_root, transposition, written_root};

fn check_scale(given: &str, form: Form, style: SpellingStyle, expected: &str) {
    let (root, scale) = Scale::with_root(given).unwrap();
    let names: Vec<String> = spell_scale(root, &scale, form, style)
        .iter()
        .map(PitchName::to_string)
        .collect();
    assert_eq!(names.join(" "), expected, "{given}, {form:?}, {style:?}");
}

fn check_up(given: &str, expected: &str) {
    check_scale(given, Form::Rising, SpellingStyle::Readable, expected);
}

fn check_down(given: &str, expected: &str) {
    check_scale(given, Form::Falling, SpellingStyle::Readable, expected);
}

#[test]
fn strict_takes_the_letter_of_the_degree() {
    let check = |given: &str, expected: &str| {
        check_scale(given, Form::Rising, SpellingStyle::Strict, expected)
    };
    check("Gb lydian dominant", "Gb Ab Bb C Db Eb Fb");
    check("C altered", "C Db Eb Fb Gb Ab Bb");
    check("C blues", "C Eb F Gb G Bb");
    check("G# harmonic minor", "G# A# B C# D# E F##");
    check_scale(
        "A classical melodic minor",
        Form::Falling,
        SpellingStyle::Strict,
        "A G F E D C B",
    );
}

#[test]
fn chord_tones_take_the_letters_of_the_chord() {
    check_up("C altered", "C Db D# E Gb G# Bb"); // C7alt: C E G# Bb D#
    check_up("A altered", "A Bb B# C# Eb F G"); // A7alt has an E#, made F; B# is beside C#
    check_up("C phrygian flat 4", "C Db D# E G Ab Bb"); // C7(#9 b13)
    check_up("C diminished whole-half", "C D Eb F Gb Ab Bbb B"); // Cdim7; Bbb stays beside Ab
    check_up("C diminished half-whole", "C Db Eb E F# G A Bb"); // C13(b9) has no #9
}

#[test]
fn doubles_take_the_next_letter_unless_it_is_beside_them() {
    check_up("G# harmonic minor", "G# A# B C# D# E F##");
    check_up("Gb augmented", "Gb A Bb Db D F"); // Bbb would stand beside Bb: A is free
    check_up("E lydian sharp 2", "E F## G# A# B C# D#");
    check_up("B lydian augmented", "B C# D# E# F## G# A#");
    check_up("B whole tone", "B C# D# E# G A"); // F## is free to be G, E# stays: G is no F, but F## was
}

#[test]
fn white_keys_outside_the_signature_lose_their_signs() {
    check_up("Db whole tone", "Db Eb F G A B");
    check_up("Db major blues", "Db Eb E F Ab Bb");
    check_up("Gb major", "Gb Ab Bb Cb Db Eb F"); // in the signature
    check_up("F# major", "F# G# A# B C# D# E#"); // in the signature
    check_up("Gb lydian dominant", "Gb Ab Bb C Db Eb Fb"); // E flat is beside it
    check_up("B lydian dominant", "B C# D# E# F# G# A"); // F sharp is beside it
    check_up("E# blues", "E# G# A# B C D#"); // the root keeps its name
}

#[test]
fn an_ornament_has_no_more_than_a_double_accidental() {
    let check = |given: &str, style, tone, expected: &str| {
        let (root, scale) = Scale::with_root(given).unwrap();
        let ladder = Ladder::new(&scale);
        let speller = Speller {
            ladder: &ladder,
            root: root.at(4),
            chord: None,
            signature: key_signature(&scale, root, SignatureStyle::None).signature,
            style,
        };
        let form = Form::Rising;
        let mut out = Vec::new();
        speller.spell(&[LineTone { tone, form }], &mut out);
        assert_eq!(out[0].to_string(), expected, "{given} {tone:?}");
    };
    // Of D sharp leading whole tone the sixth rung is B double sharp.
    let strict = SpellingStyle::Strict;
    check("D# leading whole tone", strict, Tone::Rung(Rung(5)), "B##4");
    check("D# leading whole tone", strict, Tone::Below(Rung(5)), "B#4");
    check(
        "D# leading whole tone",
        strict,
        Tone::Above(Rung(5)),
        "C##5",
    );
    // Of A flat locrian double flat 7 the seventh is G triple flat.
    check(
        "Ab locrian double flat 7",
        strict,
        Tone::Above(Rung(6)),
        "Gb5",
    );
    check(
        "Fb locrian double flat 7",
        strict,
        Tone::Above(Rung(4)),
        "Cb5",
    );
}

#[test]
fn a_passing_rung_follows_the_line() {
    check_up("C blues", "C Eb F F# G Bb");
    check_down("C blues", "C Bb G Gb F Eb");
    check_up("F blues", "F Ab Bb B C Eb");
    check_down("F blues", "F Eb C B Bb Ab"); // never C flat
    check_up("Eb blues", "Eb Gb Ab A Bb Db");
    check_down("Eb blues", "Eb Db Bb A Ab Gb"); // never a double flat
    check_up("B blues", "B D E F F# A"); // never E sharp
    check_up("G bebop dominant", "G A B C D E F F#");
    check_down("G bebop dominant", "G Gb F E D C B A");
    check_up("F bebop major", "F G A Bb C C# D E");
    check_down("F bebop major", "F E D Db C Bb A G");
    check_up("C chromatic", "C C# D D# E F F# G G# A A# B");
    check_down("C chromatic", "C B Bb A Ab G Gb F E Eb D Db");
}

#[test]
fn roots_and_chord_tones_are_never_passing() {
    check_up("C composite blues", "C D D# E F F# G A Bb"); // E and G are tones of C7
    check_down("C composite blues", "C Bb A G Gb F E Eb D");
    check_up("C in scale", "C Db F G Ab"); // a half step above and a step below the root
}

/// A line in rungs: `3`, `<3` a half step below it, `>3` above it; `f3` from
/// the falling form.
fn check_line(given: &str, style: SpellingStyle, line: &str, expected: &str) {
    let (root, scale) = Scale::with_root(given).unwrap();
    let chord = scale
        .chord
        .as_ref()
        .map(|chord| ChordSymbol::on(root, chord));
    let ladder = Ladder::new(&scale);
    let speller = Speller {
        ladder: &ladder,
        root: root.at(4),
        chord: chord.as_ref(),
        signature: key_signature(&scale, root, SignatureStyle::Fitting).signature,
        style,
    };
    let tone = |word: &str| {
        let (form, word) = match word.strip_prefix('f') {
            Some(word) => (Form::Falling, word),
            None => (Form::Rising, word),
        };
        let rung = Rung(word.trim_start_matches(['<', '>']).parse().unwrap());
        let tone = match &word[..1] {
            "<" => Tone::Below(rung),
            ">" => Tone::Above(rung),
            _ => Tone::Rung(rung),
        };
        LineTone { tone, form }
    };
    let line: Vec<LineTone> = line.split(' ').map(tone).collect();
    let mut pitches = vec![root.at(0)]; // cleared first
    speller.spell(&line, &mut pitches);
    let names: Vec<String> = pitches.iter().map(Pitch::to_string).collect();
    assert_eq!(names.join(" "), expected, "{given}");
}

#[test]
fn the_direction_comes_from_the_next_note_else_from_the_one_before() {
    let check =
        |line: &str, expected: &str| check_line("C blues", SpellingStyle::Readable, line, expected);
    check("2 3 4", "F4 F#4 G4");
    check("4 3 2", "G4 Gb4 F4");
    check("4 3 4", "G4 F#4 G4");
    check("2 3", "F4 F#4"); // none follows
    check("4 3", "G4 Gb4");
    check("2 3 3", "F4 F#4 F#4"); // the next is equal
    check("2 3 3 2", "F4 F#4 Gb4 F4");
    check("3 3 4", "F#4 F#4 G4"); // nothing before: where the line goes at last
    check("3 3 2", "Gb4 Gb4 F4");
    check("3", "Gb4"); // no direction: it stays
    check("3 9", "F#4 F#5"); // an octave up, none after
    check("5 3 <4 4", "Bb4 Gb4 F#4 G4"); // the next sounds the same: from above
}

#[test]
fn ornaments_take_the_letter_beside_their_target() {
    for style in [SpellingStyle::Readable, SpellingStyle::Strict] {
        let check =
            |given: &str, line: &str, expected: &str| check_line(given, style, line, expected);
        check("C major", "0 <1 1", "C4 C#4 D4");
        check("C major", "2 >1 1", "E4 Eb4 D4");
        check("C major", ">1 <1 1", "Eb4 C#4 D4");
        check("C major", "<3 3", "E4 F4"); // a half step away even where that is a scale note
        check("C major", ">2 2", "F4 E4");
        check("C major", "<0 0", "B3 C4");
        check("F# major", "<6 6", "D##5 E#5"); // never simplified
        check("Db major", ">0 0", "Ebb4 Db4");
        check("C major", "0 <1", "C4 C#4"); // its target does not follow
        check("A classical melodic minor", "f7 f>6 f6", "A5 Ab5 G5");
    }
}

#[test]
fn ornaments_follow_the_printed_target() {
    let check = |given: &str, line: &str, expected: &str| {
        check_line(given, SpellingStyle::Readable, line, expected)
    };
    check("C blues", "<3 3 4", "E#4 F#4 G4");
    check("C blues", ">3 3 2", "Abb4 Gb4 F4");
    check("C blues", "<3", "F4"); // G flat alone
    check("C altered", "<2 2", "C##4 D#4"); // the chord's D sharp
    check("G# harmonic minor", "<6 6 7", "E##5 F##5 G#5");
    check("C blues", "<3 0 3 4", "E#4 C4 F#4 G4"); // the next tone that is the target
}

#[test]
fn an_ornament_belongs_to_the_form_of_its_target() {
    let check = |line: &str, expected: &str| {
        check_line(
            "C classical melodic minor",
            SpellingStyle::Readable,
            line,
            expected,
        );
    };
    check("<5 5", "G#4 A4");
    check("f<5 f5", "G4 Ab4");
    check("f<5 5", "G4 A4"); // another note: it leads to its own form's, which doesn't follow
}

#[test]
fn a_chord_of_its_own_spells_the_line() {
    let (root, scale) = Scale::with_root("C dorian").unwrap();
    let ladder = Ladder::new(&scale);
    let chord: ChordSymbol = "C7(#9)".parse().unwrap();
    let speller = Speller {
        ladder: &ladder,
        root: root.at(4),
        chord: Some(&chord),
        signature: Signature::NONE,
        style: SpellingStyle::Readable,
    };
    let line: Vec<LineTone> = (0..4)
        .map(|rung| LineTone {
            tone: Tone::Rung(Rung(rung)),
            form: Form::Rising,
        })
        .collect();
    let mut pitches = Vec::new();
    speller.spell(&line, &mut pitches);
    let names: Vec<String> = pitches.iter().map(Pitch::to_string).collect();
    assert_eq!(names.join(" "), "C4 D4 D#4 F4");
}

fn a_line() -> impl Strategy<Value = Vec<LineTone>> {
    let tone = (0u8..3, -20i32..20, any::<bool>()).prop_map(|(kind, rung, falling)| LineTone {
        tone: match kind {
            0 => Tone::Above(Rung(rung)),
            1 => Tone::Below(Rung(rung)),
            _ => Tone::Rung(Rung(rung)),
        },
        form: if falling { Form::Falling } else { Form::Rising },
    });
    proptest::collection::vec(tone, 0..30)
}

proptest! {
    #[test]
    fn every_tone_sounds_right(
        row in 0..Scale::catalogue().len(),
        root in -8i16..13,
        chord in proptest::option::of((0..Chord::catalogue().len(), -8i16..13)),
        fifths in -7i16..8,
        line in a_line(),
    ) {
        let scale = &Scale::catalogue()[row];
        let ladder = Ladder::new(scale);
        let chord = chord.map(|(row, root)| ChordSymbol::on(PitchName::from_fifths(root), &Chord::catalogue()[row]));
        for style in [SpellingStyle::Strict, SpellingStyle::Readable] {
            let speller = Speller {
                ladder: &ladder,
                root: PitchName::from_fifths(root).at(4),
                chord: chord.as_ref(),
                signature: Signature::new(fifths).unwrap(),
                style,
            };
            let mut pitches = Vec::new();
            speller.spell(&line, &mut pitches);
            let sounds: Vec<i16> = pitches.iter().map(|pitch| pitch.midi()).collect();
            let expected: Vec<i16> = line.iter().map(|&tone| speller.strict(tone).midi()).collect();
            prop_assert_eq!(sounds, expected);
            for (tone, pitch) in line.iter().zip(&pitches) {
                let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = tone.tone;
                let strict = speller.root + ladder.interval(rung, tone.form);
                let away = pitch.midi() - strict.midi();
                let expected = match tone.tone { Tone::Rung(_) => 0, Tone::Above(_) => 1, Tone::Below(_) => -1 };
                prop_assert_eq!(away, expected);
                prop_assert!(pitch.alteration().abs() <= 2, "{}", pitch);
            }
        }
    }

    #[test]
    fn a_horn_there_and_back_is_the_same_spelling(
        row in 0..Scale::catalogue().len(),
        class in 0u8..12,
        horn in 0..Instrument::catalogue().len(),
        line in a_line(),
    ) {
        let scale = &Scale::catalogue()[row];
        let ladder = Ladder::new(scale);
        let horn = Instrument::catalogue()[horn].written_to_sounding;
        let concert = concert_root(class, scale, None);
        let written = written_root(concert, horn, scale, None);
        let printed = transposition(written, concert, horn);
        let speller = |root: Pitch| Speller {
            ladder: &ladder,
            root,
            chord: None,
            signature: Signature::NONE,
            style: SpellingStyle::Strict,
        };
        for &tone in &line {
            let on_the_horn = speller(written.at(4)).strict(tone);
            prop_assert_eq!(on_the_horn + printed, speller(written.at(4) + printed).strict(tone));
            prop_assert_eq!(on_the_horn + printed - printed, on_the_horn);
        }
    }
}
