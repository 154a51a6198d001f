//! The edition of a sheet: a mark that changes only when its music does.

use rhythm::Meter;
use theory::ChordSymbol;

use crate::{Element, Marks, Note, Score};

/// Six hexadecimal digits from everything that is played and how it is
/// written, and nothing of the head, the labels or the layout (as FNV-1a of 64
/// bits does, but a number at a time: the same on every machine).
pub fn edition(score: &Score) -> String {
    let mut hash = Fnv::default();
    hash.number(i64::from(score.divisions));
    if let Some(transposition) = score.part.transposition {
        let interval = transposition.interval();
        hash.number(i64::from(interval.steps()));
        hash.number(i64::from(interval.semitones()));
    }
    for measure in &score.part.measures {
        hash.number(-1);
        if let Some(key) = measure.key {
            hash.number(100 + i64::from(key.signature.fifths()));
        }
        if let Some(meter) = &measure.meter {
            hash.meter(meter);
        }
        for element in &measure.elements {
            let written = element.written();
            hash.number(i64::from(written.length));
            if let Some(chord) = written.chord.and_then(|at| score.chords.symbol(at)) {
                hash.chord(chord);
            }
            hash.number(match element {
                Element::Rest(rest) => -2 - i64::from(rest.hidden),
                Element::Slash(slash) => -4 - i64::from(slash.rhythmic),
                Element::Note(note) => played(note),
            });
        }
    }
    format!("{:06x}", hash.folded())
}

/// A note's pitch and how it is played: a number of its own for each, from 0.
fn played(note: &Note) -> i64 {
    // Taken apart by name, so that no mark is ever left out of it.
    let Marks {
        slur_ends,
        slur_begins,
        accent,
        staccato,
        tenuto,
        breath,
        ghost,
        fall,
        scoop,
        doit,
    } = note.marks;
    // The later ones first, so that a sheet without them has the number it
    // had before there were any.
    let signs = [
        ghost,
        fall,
        scoop,
        doit,
        note.tied_from,
        slur_ends,
        slur_begins,
        accent,
        staccato,
        tenuto,
        breath,
    ];
    let signs = signs
        .into_iter()
        .fold(0, |signs, sign| 2 * signs + i64::from(sign));
    // Two bytes hold whatever steps and semitones there are.
    let bytes = |number: i16| i64::from(number.cast_unsigned());
    bytes(note.pitch.steps()) << 32 | bytes(note.pitch.midi()) << 16 | signs
}

struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Fnv {
        Fnv(0xcbf2_9ce4_8422_2325)
    }
}

impl Fnv {
    fn number(&mut self, number: i64) {
        let mixed = (self.0 ^ number.cast_unsigned()).wrapping_mul(0x0000_0100_0000_01b3);
        // A product's low bits know nothing of a number's high ones.
        self.0 = mixed ^ (mixed >> 32);
    }

    fn meter(&mut self, meter: &Meter) {
        for group in meter.groups() {
            self.number(i64::from(*group));
        }
        self.number(-i64::from(meter.lower()));
    }

    fn chord(&mut self, chord: &ChordSymbol) {
        self.number(i64::from(chord.root.fifths()));
        self.text(chord.chord.id());
        self.number(chord.bass.map_or(-1_000, |bass| i64::from(bass.fifths())));
    }

    fn text(&mut self, text: &str) {
        for byte in text.bytes() {
            self.number(i64::from(byte));
        }
        self.number(-1);
    }

    fn folded(self) -> u64 {
        (self.0 ^ (self.0 >> 24) ^ (self.0 >> 48)) & 0x00ff_ffff
    }
}

#[cfg(test)]
mod tests {
    use theory::{Interval, KeySignature, Mode, Signature};

    use super::*;
    use crate::sample::{note, rest, score, tied};
    use crate::{About, Direction, HeadLine, Slash, Transposition};

    fn plain() -> Score {
        let slash = Element::Slash(Slash {
            note: tied("B4", 4, false, false),
            rhythmic: false,
        });
        let mut sheet = score(
            4,
            [vec![note("C5", 4), rest(4)], vec![slash, note("D5", 4)]],
        );
        sheet.part.measures[0].meter = "2/4".parse().ok();
        sheet
    }

    fn first(score: &mut Score) -> &mut Note {
        match &mut score.part.measures[0].elements[0] {
            Element::Note(note) => note,
            other => panic!("{other:?}"),
        }
    }

    fn key(fifths: i16) -> Option<KeySignature> {
        Some(KeySignature {
            signature: Signature::new(fifths).unwrap(),
            mode: None,
        })
    }

    /// One thing each that a player would play or read otherwise.
    const CHANGES: &[fn(&mut Score)] = &[
        |score| score.divisions = 8,
        |score| score.part.transposition = Transposition::of(Interval::from_steps(-1, -2)),
        |score| score.part.transposition = Transposition::of(Interval::from_steps(-1, -1)),
        |score| score.part.measures[0].key = key(2),
        |score| score.part.measures[0].key = key(-2),
        |score| score.part.measures[0].meter = "2/2".parse().ok(),
        |score| score.part.measures[0].meter = "3/4".parse().ok(),
        |score| score.part.measures[0].meter = None,
        |score| {
            let moved = score.part.measures[1].elements.pop();
            score.part.measures[0].elements.extend(moved);
        },
        |score| first(score).pitch = "C#5".parse().unwrap(),
        |score| first(score).pitch = "Db5".parse().unwrap(),
        |score| first(score).pitch = "C4".parse().unwrap(),
        |score| first(score).written.length += 1,
        |score| first(score).tied_from = true,
        |score| first(score).marks.slur_ends = true,
        |score| first(score).marks.slur_begins = true,
        |score| first(score).marks.accent = true,
        |score| first(score).marks.staccato = true,
        |score| first(score).marks.tenuto = true,
        |score| first(score).marks.breath = true,
        |score| first(score).marks.ghost = true,
        |score| first(score).marks.fall = true,
        |score| first(score).marks.scoop = true,
        |score| first(score).marks.doit = true,
        |score| score.part.measures[0].elements[0] = rest(4),
        |score| {
            if let Element::Rest(rest) = &mut score.part.measures[0].elements[1] {
                rest.hidden = true;
            }
        },
        |score| {
            if let Element::Slash(slash) = &mut score.part.measures[1].elements[0] {
                slash.rhythmic = true;
            }
        },
        |score| chord(score, "G7"),
        |score| chord(score, "A7"),
        |score| chord(score, "Gm7"),
        |score| chord(score, "G7/F"),
        |score| chord(score, "G7/B"),
    ];

    fn chord(score: &mut Score, symbol: &str) {
        let place = score.chords.place_of(&symbol.parse().unwrap(), &[]);
        first(score).written.chord = Some(place);
    }

    #[test]
    fn whatever_is_played_otherwise_has_its_own_mark() {
        let mut marks = vec![edition(&plain())];
        for change in CHANGES {
            let mut score = plain();
            change(&mut score);
            assert_ne!(score, plain());
            marks.push(edition(&score));
        }
        let six =
            |mark: &String| mark.len() == 6 && mark.bytes().all(|byte| byte.is_ascii_hexdigit());
        assert!(marks.iter().all(six), "{marks:?}");
        marks.sort();
        marks.dedup();
        assert_eq!(marks.len(), CHANGES.len() + 1);
    }

    /// Head, labels and layout, and what is not printed, are not the music.
    #[test]
    fn nothing_else_changes_it() {
        let others: [fn(&mut Score); 7] = [
            |score| score.title = "Another".to_owned(),
            |score| score.head = vec![HeadLine::new(About::Player, "Ida")],
            |score| score.page.staff_height = 110,
            |score| first(score).lyrics[0] = Some("1".into()),
            |score| first(score).tied_to = true,
            |score| {
                let said = Direction::Text("Slowly.".to_owned());
                score.part.measures[0].directions.push(said);
            },
            |score| {
                score.part.measures[0].key = key(0);
                let mode = Some(Mode::Minor);
                if let Some(key) = &mut score.part.measures[0].key {
                    key.mode = mode;
                }
            },
        ];
        let in_c = |mut score: Score| {
            score.part.measures[0].key = key(0);
            score
        };
        let mark = edition(&in_c(plain()));
        for change in others {
            let mut score = in_c(plain());
            change(&mut score);
            assert_ne!(score, in_c(plain()));
            assert_eq!(edition(&score), mark);
        }
    }

    /// A sheet's mark stands on paper: it may not change with the program.
    #[test]
    fn a_mark_stays_what_it_was() {
        let mut sheet = plain();
        chord(&mut sheet, "Ab7/C");
        first(&mut sheet).marks.accent = true;
        assert_eq!([edition(&plain()), edition(&sheet)], ["f0e334", "27e38e"]);
    }
}
