//! Chords that random lessons are over, with the scale of each.

/// A kind of chord, the scale that the lesson chooses for it, and both in half
/// steps above the root (common practice).
pub(crate) struct Kind {
    pub(crate) suffix: &'static str,
    pub(crate) scale: &'static str,
    pub(crate) rungs: &'static [i32],
    pub(crate) tones: &'static [i32],
    /// Third and seventh.
    pub(crate) guides: [i32; 2],
}

pub(crate) const KINDS: [Kind; 4] = [
    Kind {
        suffix: "7",
        scale: "mixolydian",
        rungs: &[0, 2, 4, 5, 7, 9, 10],
        tones: &[0, 4, 7, 10],
        guides: [4, 10],
    },
    Kind {
        suffix: "m7",
        scale: "dorian",
        rungs: &[0, 2, 3, 5, 7, 9, 10],
        tones: &[0, 3, 7, 10],
        guides: [3, 10],
    },
    Kind {
        suffix: "maj7",
        scale: "major pentatonic",
        rungs: &[0, 2, 4, 7, 9],
        tones: &[0, 4, 7, 11],
        guides: [4, 11],
    },
    Kind {
        suffix: "m7b5",
        scale: "locrian",
        rungs: &[0, 1, 3, 5, 6, 8, 10],
        tones: &[0, 3, 6, 10],
        guides: [3, 10],
    },
];

pub(crate) const ROOTS: [(&str, i32); 7] = [
    ("C", 0),
    ("D", 2),
    ("Eb", 3),
    ("F", 5),
    ("G", 7),
    ("A", 9),
    ("Bb", 10),
];

/// A written pitch by half steps above C4.
pub(crate) fn pitch(above: i32) -> String {
    let names = [
        "C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B",
    ];
    format!(
        "{}{}",
        names[above.rem_euclid(12) as usize],
        4 + above.div_euclid(12)
    )
}
