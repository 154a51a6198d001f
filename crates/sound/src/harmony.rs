//! A chord as it sounds: pitch classes over its bass.

use theory::{ChordSymbol, Degree, Interval};

/// A chord as it sounds. Pitch classes are semitones above C; a set of them
/// has a bit for each.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Harmony {
    pub root: u8,
    /// The root, or the note after the slash.
    pub bass: u8,
    /// Whether the bass is another note than the root.
    pub slash: bool,
    /// Its tones against the root.
    pub degrees: &'static [Degree],
    /// The scale on the root; of none where it is not known.
    pub scale: Vec<Degree>,
    /// The classes of its tones.
    pub tones: u16,
    /// Those, and those of its scale.
    pub all: u16,
}

impl Harmony {
    /// A written chord in sounding pitch; none for N.C.
    pub(crate) fn of(
        symbol: &ChordSymbol,
        scale: &[Degree],
        to_sound: Interval,
    ) -> Option<Harmony> {
        if symbol.chord.is_none() {
            return None;
        }
        let root = class(symbol.root.class(), to_sound);
        let degrees = symbol.chord.degrees();
        let on_root = |set, degree: &Degree| set | 1 << class(root, degree.interval());
        let tones = degrees.iter().fold(0u16, on_root);
        Some(Harmony {
            root,
            bass: class(symbol.bass.unwrap_or(symbol.root).class(), to_sound),
            slash: symbol.bass.is_some_and(|bass| bass != symbol.root),
            degrees,
            scale: scale.to_vec(),
            tones,
            all: scale.iter().fold(tones, on_root),
        })
    }

    /// The tonic chord of a scale: its root, its third if it has one, and its
    /// fifth, or the note nearest to one.
    pub(crate) fn tonic(root: u8, scale: &[Degree]) -> Vec<u8> {
        let classes: Vec<u8> = scale
            .iter()
            .map(|degree| class(0, degree.interval()))
            .collect();
        let first = |wanted: &[u8]| wanted.iter().find(|one| classes.contains(one)).copied();
        let third = first(&[4, 3, 5]);
        let fifth = first(&[7, 6, 8]);
        let tones = [Some(0), third, fifth];
        tones
            .into_iter()
            .flatten()
            .map(|above| (root + above) % 12)
            .collect()
    }

    /// Its fifth as it is altered; where it has none, the scale's, else a
    /// perfect one.
    pub(crate) fn fifth(&self) -> u8 {
        let fifth = |degrees: &[Degree]| degrees.iter().find(|one| one.number == 5).copied();
        let degree = fifth(self.degrees).or_else(|| fifth(&self.scale));
        self.class(degree.unwrap_or(Degree::new(5, 0)))
    }

    /// The class of a degree on its root.
    pub(crate) fn class(&self, degree: Degree) -> u8 {
        class(self.root, degree.interval())
    }

    pub(crate) fn has(&self, class: u8) -> bool {
        self.tones & 1 << class != 0
    }
}

pub(crate) fn class(root: u8, above: Interval) -> u8 {
    (i32::from(root) + i32::from(above.semitones())).rem_euclid(12) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tonic_chords() {
        let check = |scale: &str, expected: &[u8]| {
            let degrees: Vec<Degree> = scale.split(' ').map(|d| d.parse().unwrap()).collect();
            assert_eq!(Harmony::tonic(2, &degrees), expected, "{scale}");
        };
        check("1 2 3 4 5 6 7", &[2, 6, 9]);
        check("1 2 b3 4 5 b6 b7", &[2, 5, 9]);
        check("1 b2 b3 4 b5 b6 b7", &[2, 5, 8]);
        check("1 2 3 #4 #5 b7", &[2, 6, 8]);
        check("1 2 4 5 b7", &[2, 7, 9]);
        check("1 2 3 5 6", &[2, 6, 9]);
    }

    #[test]
    fn fifths_and_slashes() {
        let check = |symbol: &str, fifth, bass| {
            let symbol: ChordSymbol = symbol.parse().unwrap();
            let harmony = Harmony::of(&symbol, &[], Interval::UNISON).unwrap();
            assert_eq!((harmony.fifth(), harmony.bass), (fifth, bass), "{symbol}");
        };
        check("C7", 7, 0);
        check("Cm7b5", 6, 0);
        check("C7(#5)", 8, 0);
        check("C/E", 7, 4);
    }
}
