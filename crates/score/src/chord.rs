//! The chords of a score, to which its notes and rests point.

use theory::{ChordSymbol, Degree};

/// A chord of a score.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chord {
    /// In written pitch.
    pub symbol: ChordSymbol,
    /// Its scale against its root, upwards; empty where none is known.
    pub scale: Vec<Degree>,
}

/// The chords that occur in a score, each once: a symbol on two scales is two
/// chords.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Chords(Vec<Chord>);

impl From<ChordSymbol> for Chord {
    /// A chord whose scale isn't known.
    fn from(symbol: ChordSymbol) -> Chord {
        Chord {
            symbol,
            scale: Vec::new(),
        }
    }
}

impl FromIterator<Chord> for Chords {
    fn from_iter<T: IntoIterator<Item = Chord>>(chords: T) -> Chords {
        Chords(chords.into_iter().collect())
    }
}

impl Chords {
    /// The chord at a place.
    pub fn get(&self, place: u16) -> Option<&Chord> {
        self.0.get(usize::from(place))
    }

    /// The symbol at a place.
    pub fn symbol(&self, place: u16) -> Option<&ChordSymbol> {
        self.get(place).map(|chord| &chord.symbol)
    }

    /// All of them, in order of their places.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &Chord> {
        self.0.iter()
    }

    /// The place of a chord on its scale, where it is added if it is new.
    pub fn place_of(&mut self, symbol: &ChordSymbol, scale: &[Degree]) -> u16 {
        let known = self
            .0
            .iter()
            .position(|one| one.symbol == *symbol && one.scale == scale);
        let place = known.unwrap_or_else(|| {
            self.0.push(Chord {
                symbol: symbol.clone(),
                scale: scale.to_vec(),
            });
            self.0.len() - 1
        });
        place as u16
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_symbol_on_two_scales_is_two_chords() {
        let mut chords = Chords::default();
        let symbol: ChordSymbol = "G7".parse().unwrap();
        let other: ChordSymbol = "G7/B".parse().unwrap();
        let root = [Degree::ROOT];
        let places = [
            chords.place_of(&symbol, &[]),
            chords.place_of(&symbol, &root),
            chords.place_of(&other, &root),
            chords.place_of(&symbol, &root),
            chords.place_of(&symbol, &[]),
        ];
        assert_eq!(places, [0, 1, 2, 1, 0]);
        assert_eq!(chords.iter().len(), 3);
        assert_eq!(chords.symbol(2), Some(&other));
        assert_eq!(chords.get(1).map(|chord| chord.scale.len()), Some(1));
        assert_eq!(chords.symbol(3), None);
        let again: Chords = chords.iter().cloned().collect();
        assert_eq!(again, chords);
        let alone: Chords = [Chord::from(other)].into_iter().collect();
        assert_eq!(
            alone.iter().map(|chord| chord.scale.len()).sum::<usize>(),
            0
        );
        assert_eq!(alone.iter().len(), 1);
    }
}
