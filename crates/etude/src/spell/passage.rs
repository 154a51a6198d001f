//! The placed line spelled, and how often that departs from strict spelling.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use theory::{Ladder, LineTone, Pitch, Speller};

use crate::place::placement::Placement;

/// What an exercise plays in one key.
#[derive(Debug)]
pub(crate) struct Passage<'a> {
    pub placed: Placement,
    pub spelled: Spelling,
    /// Place of its chord in the score's chords.
    pub chord: Option<u16>,
    pub ladder: &'a Ladder,
}

/// A spelled line.
#[derive(Debug)]
pub(crate) struct Spelling {
    /// One pitch per tone.
    pub pitches: Vec<Pitch>,
    /// How many are spelled otherwise than strictly.
    pub respellings: u32,
}

/// The names of scales, worked out once for each key and kept for every horn.
#[derive(Debug, Default)]
pub(crate) struct Spellers(Mutex<BTreeMap<NameKey, Arc<Speller>>>);

/// Which names: of which exercise's scale (over changes, of which of its
/// chords), from which root, under which signature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct NameKey {
    pub exercise: usize,
    /// None: the exercise's own scale, which over changes names only what
    /// can't be played.
    pub chord: Option<usize>,
    /// Fifths from C.
    pub root: i16,
    /// Sharps, or flats below 0.
    pub signature: i8,
}

impl Spellers {
    pub fn get(&self, named: NameKey, make: impl FnOnce() -> Speller) -> Arc<Speller> {
        let mut spellers = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(spellers.entry(named).or_insert_with(|| Arc::new(make())))
    }
}

/// Spells a line on its root.
pub(crate) fn spell(speller: &Speller, root: Pitch, tones: &[LineTone]) -> Spelling {
    let mut pitches = Vec::with_capacity(tones.len());
    let respellings = speller.spell(root, tones, &mut pitches) as u32;
    Spelling {
        pitches,
        respellings,
    }
}
