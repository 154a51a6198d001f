//! How high each rung lies, in semitones above the root: range is a matter
//! of sound, not of spelling.

use theory::{Form, Ladder, LineTone, Range, Rung, Tone};

/// Semitones of a ladder's rungs above rung 0.
#[derive(Debug, Clone)]
pub(crate) struct Heights {
    rising: Vec<i32>,
    falling: Vec<i32>,
}

/// Lowest and highest semitone of something, above the same root.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Reach {
    pub low: i32,
    pub high: i32,
}

impl Heights {
    pub fn of(ladder: &Ladder) -> Heights {
        let heights = |form| {
            (0..ladder.size())
                .map(|rung| i32::from(ladder.interval(Rung(rung), form).semitones()))
                .collect()
        };
        Heights {
            rising: heights(Form::Rising),
            falling: heights(Form::Falling),
        }
    }

    /// Rungs to the octave.
    pub fn size(&self) -> i32 {
        self.rising.len() as i32
    }

    /// Semitones of a rung above rung 0.
    pub fn at(&self, rung: i32, form: Form) -> i32 {
        let heights = match form {
            Form::Rising => &self.rising,
            Form::Falling => &self.falling,
        };
        let size = self.size();
        heights[rung.rem_euclid(size) as usize] + 12 * rung.div_euclid(size)
    }

    /// The highest rung at or below so many semitones.
    pub fn highest_within(&self, semitones: i32, form: Form) -> i32 {
        let mut rung = (semitones.div_euclid(12) + 1) * self.size();
        while self.at(rung, form) > semitones {
            rung -= 1;
        }
        rung
    }

    /// The lowest rung at or above so many semitones.
    pub fn lowest_within(&self, semitones: i32, form: Form) -> i32 {
        let mut rung = semitones.div_euclid(12) * self.size();
        while self.at(rung, form) < semitones {
            rung += 1;
        }
        rung
    }
}

impl Reach {
    /// A range in MIDI numbers.
    pub fn of_range(range: Range) -> Reach {
        Reach {
            low: i32::from(range.low.midi()),
            high: i32::from(range.high.midi()),
        }
    }

    pub fn of(heights: impl IntoIterator<Item = i32>) -> Option<Reach> {
        heights
            .into_iter()
            .map(|height| Reach {
                low: height,
                high: height,
            })
            .reduce(Reach::and)
    }

    pub fn and(self, other: Reach) -> Reach {
        Reach {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }

    pub fn up(self, semitones: i32) -> Reach {
        Reach {
            low: self.low + semitones,
            high: self.high + semitones,
        }
    }

    pub fn within(self, range: Reach) -> bool {
        self.low >= range.low && self.high <= range.high
    }

    /// Twice the middle, so that halves stay whole.
    pub fn twice_middle(self) -> i32 {
        self.low + self.high
    }
}

/// Semitones of a tone above rung 0.
pub(crate) fn height(heights: &Heights, tone: LineTone) -> i32 {
    match tone.tone {
        Tone::Rung(rung) => heights.at(rung.0, tone.form),
        Tone::Above(rung) => heights.at(rung.0, tone.form) + 1,
        Tone::Below(rung) => heights.at(rung.0, tone.form) - 1,
    }
}
