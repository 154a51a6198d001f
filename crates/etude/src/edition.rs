//! The edition of a sheet: a mark that changes only when its music does.

use score::{Element, Marks, Score};

/// Six hexadecimal digits from everything that is played and how it is
/// written, and nothing of the head, the labels or the layout (FNV-1a of 64
/// bits, folded: public domain, the same on every machine).
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
            hash.text(&meter.to_string());
        }
        for element in &measure.elements {
            let written = element.written();
            hash.number(i64::from(written.length));
            if let Some(chord) = written
                .chord
                .and_then(|at| score.chords.get(usize::from(at)))
            {
                hash.text(&chord.to_string());
            }
            match element {
                Element::Rest(rest) if rest.hidden => hash.number(-3),
                Element::Rest(_) => hash.number(-2),
                Element::Slash(slash) => hash.number(-4 - i64::from(slash.rhythmic)),
                Element::Note(note) => {
                    hash.number(i64::from(note.pitch.steps()));
                    hash.number(i64::from(note.pitch.midi()));
                    hash.number(i64::from(note.tied_from));
                    if note.marks != Marks::default() {
                        hash.text(&format!("{:?}", note.marks));
                    }
                }
            }
        }
    }
    format!("{:06x}", hash.folded())
}

struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Fnv {
        Fnv(0xcbf2_9ce4_8422_2325)
    }
}

impl Fnv {
    fn bytes(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    fn number(&mut self, number: i64) {
        self.bytes(&number.to_le_bytes());
    }

    fn text(&mut self, text: &str) {
        self.bytes(text.as_bytes());
        self.bytes(&[0]);
    }

    fn folded(self) -> u64 {
        (self.0 ^ (self.0 >> 24) ^ (self.0 >> 48)) & 0x00ff_ffff
    }
}
