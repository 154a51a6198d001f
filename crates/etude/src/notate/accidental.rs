//! Rule 5: which accidentals are printed, and where a courtesy is owed.

use score::Accidental;
use theory::{Pitch, Signature};

/// Lines and spaces a player's sheet can use: every letter of ten octaves.
const PLACES: usize = 77;

/// What the bar has said so far, letter by letter and octave by octave.
#[derive(Debug)]
pub(crate) struct Accidentals {
    signature: Signature,
    bar: u32,
    /// What was last said in this bar, and which bar that was.
    said: [(u32, i16); PLACES],
    /// What last sounded, and in which bar.
    sounded: [(u32, i16); PLACES],
    /// What any octave of a letter last said, and in which bar.
    letters: [LetterMemory; 7],
}

/// What a bar has said of a letter.
#[derive(Debug, Clone, Copy, Default)]
struct LetterMemory {
    bar: u32,
    alteration: i16,
    /// Whether it said anything else before.
    differently: bool,
}

impl Accidentals {
    /// At the beginning of an exercise.
    pub fn new(signature: Signature) -> Accidentals {
        Accidentals {
            signature,
            bar: 1,
            said: [(0, 0); PLACES],
            sounded: [(0, 0); PLACES],
            letters: [LetterMemory::default(); 7],
        }
    }

    /// A bar line.
    pub fn next_bar(&mut self) {
        self.bar += 1;
    }

    /// What is printed before a note. A note that is tied on from the one
    /// before shows nothing, and says nothing to those after it.
    pub fn before(&mut self, pitch: Pitch, tied_from: bool) -> Option<Accidental> {
        let place = usize::try_from(pitch.steps())
            .ok()
            .filter(|place| *place < PLACES)?;
        let alteration = pitch.alteration();
        let (said_in, said) = self.said[place];
        let in_force = if said_in == self.bar {
            said
        } else {
            self.signature.alteration(pitch.letter())
        };
        let printed = if tied_from {
            None
        } else if alteration != in_force {
            Some(Accidental { courtesy: false })
        } else if said_in != self.bar && self.returns_differently(place, alteration) {
            Some(Accidental { courtesy: true })
        } else {
            None
        };
        if !tied_from {
            self.said[place] = (self.bar, alteration);
            self.say(place % 7, alteration);
        }
        self.sounded[place] = (self.bar, alteration);
        printed
    }

    /// Whether the same letter and octave sounded differently last, in the
    /// bar before (or here, tied in), or another octave of the letter does in
    /// this bar.
    fn returns_differently(&self, place: usize, alteration: i16) -> bool {
        let (bar, sounded) = self.sounded[place];
        let here = bar + 1 >= self.bar && bar > 0 && sounded != alteration;
        here || self.said_elsewhere(place, alteration)
    }

    /// Whether another octave's last word in this bar is a different one.
    fn said_elsewhere(&self, place: usize, alteration: i16) -> bool {
        let letter = self.letters[place % 7];
        if letter.bar != self.bar || !letter.differently {
            return letter.bar == self.bar && letter.alteration != alteration;
        }
        let octaves = (place % 7..PLACES)
            .step_by(7)
            .filter(|other| *other != place);
        octaves
            .map(|other| self.said[other])
            .any(|(bar, said)| bar == self.bar && said != alteration)
    }

    fn say(&mut self, letter: usize, alteration: i16) {
        let said = &mut self.letters[letter];
        if said.bar != self.bar {
            *said = LetterMemory {
                bar: self.bar,
                alteration,
                differently: false,
            };
        } else {
            said.differently |= said.alteration != alteration;
            said.alteration = alteration;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use theory::Letter;

    use super::*;

    /// Notes bar by bar under a signature; `~` before a note ties it on. What
    /// is printed: `s` a sign, `c` a courtesy, `-` nothing.
    fn check(fifths: i16, bars: &str, expected: &str) {
        let mut accidentals = Accidentals::new(Signature::new(fifths).unwrap());
        let mut printed = String::new();
        for (place, bar) in bars.split(" | ").enumerate() {
            if place > 0 {
                accidentals.next_bar();
                printed.push('|');
            }
            for note in bar.split(' ') {
                let pitch: Pitch = note.trim_start_matches('~').parse().unwrap();
                printed.push(match accidentals.before(pitch, note.starts_with('~')) {
                    None => '-',
                    Some(Accidental { courtesy: false }) => 's',
                    Some(Accidental { courtesy: true }) => 'c',
                });
            }
        }
        assert_eq!(printed, expected, "{bars}");
    }

    #[test]
    fn follow_the_bar() {
        check(0, "F#4 G4 F#4 F4 F#4", "s--ss");
        check(1, "F#4 F4 F4 | F#4", "-s-|c");
        check(-2, "Bb4 B4 Bb4", "-ss");
        check(0, "F##4 F#4 F4", "sss");
        // Another octave's last word counts.
        check(0, "F#4 F4 F5", "ss-");
        check(0, "F#4 F4 F#4 F5", "sssc");
    }

    #[test]
    fn courtesies_are_owed_once() {
        // The same letter and octave differently in the next bar.
        check(0, "F#4 G4 | F4 F4 | F4", "s-|c-|-");
        // The next but one owes nothing.
        check(0, "F#4 | G4 | F4", "s|-|-");
        // What was already taken back owes nothing.
        check(0, "F#4 F4 | F4", "ss|-");
        // Another octave in the same bar.
        check(0, "F#4 F5 F5", "sc-");
        check(0, "F#4 F#5 F5", "sss");
        // The sharp is still in force where it was said.
        check(0, "F#4 F5 F6", "scc");
    }

    #[test]
    fn ties_carry_over_the_bar_line() {
        check(0, "F#4 | ~F#4 F#4", "s|-s");
        check(0, "F#4 | ~F#4 F4 F4", "s|-c-");
    }

    proptest! {
        /// Letters remembered by bar say what a look at every octave says.
        #[test]
        fn octaves_are_remembered(notes in prop::collection::vec((0i16..21, -1i16..=1, any::<bool>(), 0u8..6), 1..60)) {
            let mut accidentals = Accidentals::new(Signature::NONE);
            for (place, alteration, tied_from, bar) in notes {
                if bar == 0 {
                    accidentals.next_bar();
                }
                let pitch = Pitch::new(Letter::ALL[place as usize % 7], alteration, 4 + place / 7);
                let at = pitch.steps() as usize;
                let others = (at % 7..PLACES).step_by(7).filter(|other| *other != at);
                let differently = others.map(|other| accidentals.said[other]).any(|(bar, said)| {
                    bar == accidentals.bar && said != alteration
                });
                // It is asked only before the bar has said this place itself.
                if accidentals.said[at].0 != accidentals.bar {
                    prop_assert_eq!(accidentals.said_elsewhere(at, alteration), differently);
                }
                accidentals.before(pitch, tied_from);
            }
        }
    }
}
