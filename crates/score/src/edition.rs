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
