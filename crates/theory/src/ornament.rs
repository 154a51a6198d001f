//! Rule 3: what a half step above or below a printed note is called.

use crate::{Interval, Pitch, Signature, SpellingStyle};

/// On which side of its target an ornament lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// A half step above it.
    Above,
    /// A half step below it.
    Below,
}

/// The ornament of a printed note: the neighbouring letter, but where that
/// would be double, or E sharp, B sharp, C flat or F flat outside the
/// signature, the target's own letter (A–A♭, G–G♯). Strictly always the
/// neighbouring letter, as far as it can be printed.
pub fn ornament(target: Pitch, side: Side, signature: Signature, style: SpellingStyle) -> Pitch {
    let (neighbour, own_letter) = match side {
        Side::Above => (target + HALF_STEP, target + SEMITONE),
        Side::Below => (target - HALF_STEP, target - SEMITONE),
    };
    let name = neighbour.name();
    let hard = name.is_double() || (name.white_twin().is_some() && !signature.has(name));
    if hard && style == SpellingStyle::Readable {
        own_letter.printable()
    } else {
        neighbour.printable()
    }
}

/// To the next letter.
const HALF_STEP: Interval = Interval::from_steps(1, 1);
/// On the same letter.
const SEMITONE: Interval = Interval::from_steps(0, 1);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_neighbouring_letter_or_the_targets_own() {
        let check = |target: &str, fifths: i16, below: &str, above: &str| {
            let target: Pitch = target.parse().unwrap();
            let signature = Signature::new(fifths).unwrap();
            let readable = |side| ornament(target, side, signature, SpellingStyle::Readable);
            let found = [Side::Below, Side::Above].map(|side| readable(side).to_string());
            assert_eq!(found, [below, above], "{target} in {fifths}");
        };
        check("D4", 0, "C#4", "Eb4");
        check("C4", 0, "B3", "Db4");
        check("G4", 0, "F#4", "Ab4");
        check("Ab4", -4, "G4", "A4"); // never B double flat
        check("G#4", 5, "G4", "A4"); // never F double sharp
        check("E4", 0, "D#4", "F4");
        check("Eb4", 0, "D4", "E4"); // never F flat
        check("Eb4", -7, "D4", "Fb4"); // which is in this signature
        check("F#4", 0, "F4", "G4"); // never E sharp
        check("F#4", 6, "E#4", "G4");
        check("Bb4", 0, "A4", "B4"); // never C flat
        check("C#4", 0, "C4", "D4"); // never B sharp
        check("C#4", 7, "B#3", "D4");
        check("F##4", 5, "F#4", "G#4"); // a kept leading note
        check("Cb4", -6, "Bb3", "C4"); // never D double flat
    }

    #[test]
    fn strictly_the_neighbouring_letter() {
        let check = |target: &str, below: &str, above: &str| {
            let target: Pitch = target.parse().unwrap();
            let strict = |side| ornament(target, side, Signature::NONE, SpellingStyle::Strict);
            let found = [Side::Below, Side::Above].map(|side| strict(side).to_string());
            assert_eq!(found, [below, above], "{target}");
        };
        check("Ab4", "G4", "Bbb4");
        check("F#4", "E#4", "G4");
        check("B##4", "B#4", "C##5"); // nobody reads A triple sharp
        check("Fbb4", "Ebb4", "Fb4"); // nor G triple flat
    }
}
