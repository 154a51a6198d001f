use proptest::prelude::*;

use super::*;
use crate::{Chord, Instrument, Root, RootWish, SpellingStyle};

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
fn a_diminished_fourth_is_the_third_of_the_chord() {
    check_up("C altered", "C Db Eb E Gb Ab Bb"); // no other letter is the chord's
    check_up("B altered", "B C D D# F G A");
    check_up("A altered", "A Bb C C# Eb F G");
    check_up("C phrygian flat 4", "C Db Eb E G Ab Bb");
    check_up("B phrygian flat 4", "B C D D# F# G A");
    check_up("B ultralocrian", "B C D Eb F G Ab"); // a diminished chord has no major third
}

#[test]
fn doubles_take_their_simple_twins() {
    check_up("C diminished whole-half", "C D Eb F Gb Ab A B");
    check_up("Gb augmented", "Gb A Bb Db D F"); // no B double flat
    check_up("E lydian sharp 2", "E G G# A# B C# D#");
    check_up("B lydian augmented", "B C# D# E# G G# A#");
    check_up("G# harmonic minor", "G# A# B C# D# E F##"); // the leading note stays
    check_up("D# altered", "D# E F# G A B C#"); // no F double sharp
}

#[test]
fn white_keys_outside_the_signature_lose_their_signs() {
    check_up("Db whole tone", "Db Eb F G A B");
    check_up("Db major blues", "Db Eb E F Ab Bb");
    check_up("Gb major", "Gb Ab Bb Cb Db Eb F"); // in the signature
    check_up("F# major", "F# G# A# B C# D# E#"); // in the signature
    check_up("Gb lydian dominant", "Gb Ab Bb C Db Eb Fb"); // E flat is beside it
    check_up("B lydian dominant", "B C# D# E# F# G# A"); // F sharp is beside it
    check_up("Db bebop dominant", "Db Eb F Gb Ab Bb B C");
    check_up("B whole tone", "B C# D# F G A"); // two letters are one anyway
    check_up("C# purvi", "C# D F G G# A B#"); // the leading note stays
    check_up("E# blues", "E# G# A# B C D#"); // and so does the root
}

fn speller(root: PitchName, scale: &Scale, signature: Signature, style: SpellingStyle) -> Speller {
    let chord = scale.chord.as_ref();
    let naming = Naming {
        root,
        chord,
        over: chord,
        signature,
        style,
    };
    Speller::new(&Ladder::new(scale), naming)
}

#[test]
fn an_ornament_has_no_more_than_a_double_accidental() {
    let check = |given: &str, tone, expected: &str| {
        let (root, scale) = Scale::with_root(given).unwrap();
        let speller = speller(root, &scale, Signature::NONE, SpellingStyle::Strict);
        let form = Form::Rising;
        let mut out = Vec::new();
        speller.spell(root.at(4), &[LineTone { tone, form }], &mut out);
        assert_eq!(out[0].to_string(), expected, "{given} {tone:?}");
    };
    // Of D sharp leading whole tone the sixth rung is B double sharp.
    check("D# leading whole tone", Tone::Rung(Rung(5)), "B##4");
    check("D# leading whole tone", Tone::Below(Rung(5)), "B#4");
    check("D# leading whole tone", Tone::Above(Rung(5)), "C##5");
    // Of A flat locrian double flat 7 the seventh is G triple flat.
    check("Ab locrian double flat 7", Tone::Above(Rung(6)), "Gb5");
    check("Fb locrian double flat 7", Tone::Above(Rung(4)), "Cb5");
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
    check_down("G bebop dominant", "G F# F E D C B A"); // natural degrees never change
    check_up("F bebop major", "F G A Bb C C# D E");
    check_down("F bebop major", "F E D Db C Bb A G");
    check_up("C todi", "C Db Eb F# G Ab B"); // a scale of seven has no passing rung
    check_up("C chromatic", "C C# D D# E F F# G G# A A# B");
    check_down("C chromatic", "C B Bb A Ab G Gb F E Eb D Db");
}

#[test]
fn roots_and_chord_tones_are_never_passing() {
    check_up("C composite blues", "C D D# E F F# G A Bb"); // F is a natural degree
    check_down("C composite blues", "C Bb A G Gb F E Eb D");
    check_up("F# composite blues", "F# G# A A# B C C# D# E"); // the fourth is never A double sharp
    check_up("F# bebop dorian", "F# G# A A# B C# D# E"); // A is a tone of F#m7, A# a natural 3
    check_up("C in scale", "C Db F G Ab"); // a half step above and a step below the root
}

/// A line in rungs: `3`, `<3` a half step below it, `>3` above it; `f3` from
/// the falling form.
fn check_line(given: &str, style: SpellingStyle, line: &str, expected: &str) {
    let (root, scale) = Scale::with_root(given).unwrap();
    let signature = key_signature(&scale, root, SignatureStyle::Fitting, style).signature;
    check_line_under(signature, given, style, line, expected);
}

/// The same under a signature that isn't the scale's own.
fn check_line_under(
    signature: Signature,
    given: &str,
    style: SpellingStyle,
    line: &str,
    expected: &str,
) {
    let (root, scale) = Scale::with_root(given).unwrap();
    let speller = speller(root, &scale, signature, style);
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
    speller.spell(root.at(4), &line, &mut pitches);
    let names: Vec<String> = pitches.iter().map(Pitch::to_string).collect();
    assert_eq!(names.join(" "), expected, "{given} {line:?}");
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
        check("C major", "0 <1", "C4 C#4"); // its target does not follow
        check("A classical melodic minor", "f7 f>6 f6", "A5 Ab5 G5");
    }
    let strict = |given, line, expected| check_line(given, SpellingStyle::Strict, line, expected);
    strict("F# major", "<6 6", "D##5 E#5");
    strict("Db major", ">0 0", "Ebb4 Db4");
    let readable =
        |given, line, expected| check_line(given, SpellingStyle::Readable, line, expected);
    readable("F# major", "<6 6", "E5 E#5");
    readable("Db major", ">0 0", "D4 Db4");
}

#[test]
fn ornaments_follow_the_printed_target() {
    let check = |given: &str, line: &str, expected: &str| {
        check_line(given, SpellingStyle::Readable, line, expected)
    };
    check("C blues", "<3 3 4", "F4 F#4 G4"); // E sharp isn't in the signature
    check("C blues", ">3 3 2", "G4 Gb4 F4"); // nor is any double flat
    check("C blues", "<3", "F4"); // G flat alone
    check("F blues", "<3 3 4", "A#4 B4 C5");
    check("B altered", "<3 3", "D5 D#5"); // the chord's third
    check("G# harmonic minor", "<6 6 7", "F#5 F##5 G#5");
    check("G blues", "<3 0 3 4", "C5 G4 C#5 D5"); // the next tone that is the target
    check("G blues", "<3 0 3 2", "C5 G4 Db5 C5");
}

#[test]
fn ornaments_follow_the_printed_target_over_changes() {
    // Of six sharps E sharp is one: it leads to F sharp, F to G flat.
    let six_sharps = Signature::new(6).unwrap();
    let check = |line: &str, expected: &str| {
        check_line_under(
            six_sharps,
            "C blues",
            SpellingStyle::Readable,
            line,
            expected,
        );
    };
    check("<3 3 4", "E#4 F#4 G4");
    check("<3 3 2", "F4 Gb4 F4");
    check("<3 0 3 4", "E#4 C4 F#4 G4");
    check("<3 4", "F4 G4"); // G flat alone
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
fn over_the_tones_of_an_exercises_own_chord_nothing_passes() {
    let (root, scale) = Scale::with_root("C blues").unwrap();
    let check = |over: &str, expected: &str| {
        let over = Chord::parse(over).unwrap();
        let naming = Naming {
            root,
            chord: scale.chord.as_ref(),
            over: Some(&over),
            signature: Signature::NONE,
            style: SpellingStyle::Readable,
        };
        let names = Speller::new(&Ladder::new(&scale), naming);
        let fourth = names.names(Form::Rising)[3];
        assert_eq!(fourth.going_up.to_string(), expected, "{over:?}");
    };
    check("m7", "F#");
    check("m7b5", "Gb");
}

#[test]
fn respellings_are_counted() {
    let (root, scale) = Scale::with_root("C altered").unwrap();
    let line: Vec<LineTone> = [
        Tone::Rung(Rung(3)),
        Tone::Below(Rung(0)),
        Tone::Rung(Rung(0)),
    ]
    .map(|tone| LineTone {
        tone,
        form: Form::Rising,
    })
    .into();
    let count = |style| {
        let mut out = Vec::new();
        speller(root, &scale, Signature::NONE, style).spell(root.at(4), &line, &mut out)
    };
    assert_eq!(count(SpellingStyle::Readable), 1); // E for F flat
    assert_eq!(count(SpellingStyle::Strict), 0);
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
        chord in proptest::option::of(0..Chord::catalogue().len()),
        fifths in -7i16..8,
        line in a_line(),
    ) {
        let scale = &Scale::catalogue()[row];
        let ladder = Ladder::new(scale);
        let chord = chord.map(|row| Chord::catalogue()[row].clone());
        let root = PitchName::from_fifths(root).at(4);
        for style in [SpellingStyle::Strict, SpellingStyle::Readable] {
            let naming = Naming {
                root: root.name(),
                chord: chord.as_ref(),
                over: chord.as_ref(),
                signature: Signature::new(fifths).unwrap(),
                style,
            };
            let speller = Speller::new(&ladder, naming);
            let mut pitches = Vec::new();
            speller.spell(root, &line, &mut pitches);
            let sounds: Vec<i16> = pitches.iter().map(|pitch| pitch.midi()).collect();
            let expected: Vec<i16> = line.iter().map(|&tone| speller.strict(root, tone).midi()).collect();
            prop_assert_eq!(sounds, expected);
            for (tone, pitch) in line.iter().zip(&pitches) {
                let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = tone.tone;
                let strict = root + ladder.interval(rung, tone.form);
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
        let horn = Instrument::catalogue()[horn].written_to_sounding;
        let root = Root::sounding(class, horn, scale, RootWish::default());
        let printed = root.written_to_sounding(horn);
        let strict = |root: PitchName| speller(root, scale, Signature::NONE, SpellingStyle::Strict);
        let (written, concert) = (strict(root.written), strict(root.concert));
        let zero = root.written.at(4);
        for &tone in &line {
            let on_the_horn = written.strict(zero, tone);
            prop_assert_eq!(on_the_horn + printed, concert.strict(zero + printed, tone));
            prop_assert_eq!(on_the_horn + printed - printed, on_the_horn);
        }
    }
}
