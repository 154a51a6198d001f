//! The ways a slot can be played, wherever its chord's root lies: each of its
//! fitted figures begun on each rung of one octave. Keys and horns share them.

use lesson::CellTone;
use theory::Form;

use super::chord_span::ChordSpan;
use super::fitted_figure::FittedFigure;
use crate::heights::Heights;

/// What a statement must begin on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Begins {
    Anywhere,
    OnRoot,
    OffRoot,
}

/// A fitted figure begun on a rung of the octave above the root; heights in
/// semitones above it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Way {
    pub fitted: usize,
    pub variant: u16,
    pub base: i32,
    pub low: i32,
    pub high: i32,
    pub first: i32,
    pub last: i32,
    /// Notes on strong beats that are no tones of the chord.
    pub non_chord_tones: u32,
    /// Semitones of its base above the root.
    pub degree: u16,
    /// Whether statements may begin there.
    pub allowed: bool,
    /// Whether that is a third or a seventh.
    pub guides: bool,
    /// Whether that is another tone of the chord than the root.
    pub elsewhere: bool,
    /// Whether it ends on a tone of the chord.
    pub settles: bool,
    /// What is known of its fitted figure.
    pub kind: u16,
    pub shift: i8,
    pub rests: bool,
    /// Eighths before its first and after its last note, as fitted.
    pub begins: i8,
    pub room: i8,
    pub leads: bool,
}

impl Way {
    /// Whether it begins as its slot must.
    pub fn begins(&self, begins: Begins) -> bool {
        match begins {
            Begins::Anywhere => true,
            Begins::OnRoot => self.degree == 0,
            Begins::OffRoot => self.elsewhere,
        }
    }
}

/// All ways, figure by figure, in each from the root up. `into` are the tones
/// of the chord that a note may ring over into, above this root.
pub(crate) fn ways(
    figures: &[FittedFigure],
    heights: &Heights,
    span: &ChordSpan,
    into: &[i32],
) -> Vec<Way> {
    let mut ways = Vec::with_capacity(figures.len() * heights.size() as usize);
    for (place, fitted) in figures.iter().enumerate() {
        for base in 0..heights.size() {
            let mut way = way(fitted, place, base, heights, span);
            if let Some(way) = &mut way {
                let foreign = !into.is_empty() && !into.contains(&way.last.rem_euclid(12));
                way.non_chord_tones += u32::from(fitted.rings_over && foreign);
            }
            ways.extend(way);
        }
    }
    ways
}

/// None where an ornament leads nowhere.
fn way(
    fitted: &FittedFigure,
    place: usize,
    base: i32,
    heights: &Heights,
    span: &ChordSpan,
) -> Option<Way> {
    let mut target = None;
    let height = |rung: i32| heights.at(base + rung, Form::Rising);
    let is_tone = |above: i32| span.tones.contains(&above.rem_euclid(12));
    let degree = height(0);
    let mut way: Option<Way> = None;
    // Backwards, so that ornaments know what they lead to.
    for note in fitted.notes.iter().rev() {
        let above = match (note.tone, target) {
            (CellTone::Rung(at), _) => {
                target = Some(height(at));
                height(at)
            }
            (CellTone::Above, Some(target)) => target + 1,
            (CellTone::Below, Some(target)) => target - 1,
            (CellTone::Above | CellTone::Below, None) => return None,
        };
        let way = way.get_or_insert(Way {
            fitted: place,
            variant: fitted.variant,
            base,
            low: above,
            high: above,
            first: above,
            last: above,
            non_chord_tones: 0,
            degree: degree as u16,
            allowed: span.starts.is_empty() || span.starts.contains(&degree),
            guides: span.guides.contains(&degree),
            elsewhere: degree != 0 && span.tones.contains(&degree),
            settles: is_tone(above),
            kind: fitted.kind,
            shift: fitted.shift,
            rests: fitted.rests,
            begins: fitted.begins,
            room: fitted.room,
            leads: fitted.leads,
        });
        way.low = way.low.min(above);
        way.high = way.high.max(above);
        way.first = above;
        way.non_chord_tones += u32::from(note.strong && !is_tone(above));
    }
    way
}
