//! A bar filled with the values that its events are written in.

use crate::frame::{Frame, Stretch};
use crate::split::split;
use crate::tuplet::{Region, regions, written_value};
use crate::{BarPieces, Event, NoteValue, Piece, PieceKind, Ticks, TupletEdge, ValueKind};

/// A bar that is being filled.
#[derive(Debug)]
pub(crate) struct BarFilling<'a> {
    pub frame: &'a Frame,
    /// In order.
    pub events: &'a [Event],
    pub bar: BarPieces,
    /// Where its first piece stands in the full bar, in ticks.
    pub offset: Ticks,
}

/// What sounds, or doesn't, in a stretch of a bar (fine ticks of the full
/// bar).
struct Atom {
    stretch: Stretch,
    event: Option<usize>,
}

impl BarFilling<'_> {
    /// Fills it with the pieces of its events; `next` is the first event that
    /// may sound in it, and afterwards in the next bar.
    pub fn fill(&mut self, next: &mut usize) {
        let mut atoms = self.atoms(next);
        let silent = atoms.iter().all(|atom| atom.event.is_none());
        if silent && self.offset == 0 {
            return self.rest();
        }
        let begins = self.offset * self.frame.fine;
        let mut places: Vec<Ticks> = vec![begins];
        places.extend(atoms.iter().map(|atom| atom.stretch.to));
        let regions = regions(self.frame, &places);
        let begun = |region: &&Region| region.stretch.from < begins && begins < region.stretch.to;
        if let Some(region) = regions.iter().find(begun) {
            atoms.insert(0, self.grow(region.stretch.from));
        }
        for atom in &atoms {
            self.write(atom, &regions);
        }
        self.mark_edges(&regions);
    }

    /// What sounds in the bar and the silences between.
    fn atoms(&self, next: &mut usize) -> Vec<Atom> {
        let end = self.bar.start + self.bar.length;
        let line = self.bar.start - self.offset;
        let fine = |at: Ticks| (at - line) * self.frame.fine;
        let atom = |from: Ticks, to: Ticks, event: Option<usize>| Atom {
            stretch: Stretch {
                from: fine(from),
                to: fine(to),
            },
            event,
        };
        let mut atoms: Vec<Atom> = Vec::new();
        let mut at = self.bar.start;
        while let Some(event) = self.events.get(*next).filter(|event| event.onset < end) {
            let from = event.onset.max(self.bar.start);
            let to = (event.onset + event.length).min(end);
            if from > at {
                atoms.push(atom(at, from, None));
            }
            if to > from {
                atoms.push(atom(from, to, Some(*next)));
                at = to;
            }
            if event.onset + event.length > end {
                break;
            }
            *next += 1;
        }
        if at < end {
            atoms.push(atom(at, end, None));
        }
        atoms
    }

    /// A silent bar's rest.
    fn rest(&mut self) {
        let value = NoteValue {
            kind: ValueKind::Whole,
            dots: 0,
            tuplet: None,
        };
        self.bar.pieces.push(Piece {
            kind: PieceKind::BarRest,
            at: 0,
            length: self.bar.length,
            value,
            edge: None,
            beams: [None; 4],
        });
    }

    /// A pickup that begins inside a tuplet grows by the rest that makes it
    /// whole, from a place in fine ticks on.
    fn grow(&mut self, from: Ticks) -> Atom {
        let stretch = Stretch {
            from,
            to: self.offset * self.frame.fine,
        };
        let more = stretch.length() / self.frame.fine;
        self.bar.start -= more;
        self.bar.length += more;
        self.offset -= more;
        Atom {
            stretch,
            event: None,
        }
    }

    /// Cuts an atom at the edges of tuplets, and each part into values.
    fn write(&mut self, atom: &Atom, regions: &[Region]) {
        let mut from = atom.stretch.from;
        while from < atom.stretch.to {
            let region = regions.iter().find(|region| region.stretch.to > from);
            let (to, inside) = match region {
                Some(region) if region.stretch.from <= from => (region.stretch.to, Some(*region)),
                Some(region) => (region.stretch.from, None),
                None => (atom.stretch.to, None),
            };
            let stretch = Stretch {
                from,
                to: to.min(atom.stretch.to),
            };
            self.write_values(stretch, inside, atom.event);
            from = stretch.to;
        }
    }

    /// Cuts what lies in one tuplet, or in none, into values.
    fn write_values(&mut self, stretch: Stretch, inside: Option<Region>, event: Option<usize>) {
        let frame = self.frame;
        let unit = inside.map_or(frame.unit, Region::part);
        let allowed = |piece: Stretch| match (inside, event) {
            (Some(region), Some(_)) => region.shows_parts(frame, piece),
            (Some(region), None) => region.rests(frame, piece),
            (None, Some(_)) => frame.shows_beats(piece),
            (None, None) => frame.rests(piece),
        };
        // Cuts inside a tuplet fall on its parts, counted from its start.
        let shift = inside.map_or(0, |region| region.stretch.from);
        let shifted = Stretch {
            from: stretch.from - shift,
            to: stretch.to - shift,
        };
        let back = |piece: Stretch| Stretch {
            from: piece.from + shift,
            to: piece.to + shift,
        };
        let middle = if inside.is_none() {
            frame.middle()
        } else {
            None
        };
        split(
            shifted,
            unit,
            middle,
            |piece| allowed(back(piece)),
            |piece| {
                let written = self.piece(back(piece), inside, event);
                self.bar.pieces.push(written);
            },
        );
    }

    fn piece(&self, stretch: Stretch, inside: Option<Region>, event: Option<usize>) -> Piece {
        let frame = self.frame;
        let at = stretch.from / frame.fine - self.offset;
        let length = stretch.length() / frame.fine;
        let value = match inside {
            Some(region) => written_value(frame, region, stretch),
            None => frame.value(stretch.length()),
        };
        let (kind, dots) = value.unwrap_or((ValueKind::SixtyFourth, 0));
        let sound = match event {
            None => PieceKind::Rest,
            Some(event) => {
                let sounding = &self.events[event];
                let from = self.bar.start + at;
                PieceKind::Note {
                    event,
                    tied_from: from > sounding.onset,
                    tied_to: from + length < sounding.onset + sounding.length,
                }
            }
        };
        let value = NoteValue {
            kind,
            dots,
            tuplet: inside.map(|region| region.tuplet),
        };
        Piece {
            kind: sound,
            at,
            length,
            value,
            edge: None,
            beams: [None; 4],
        }
    }

    /// Marks the first and last piece of each tuplet.
    fn mark_edges(&mut self, regions: &[Region]) {
        let (fine, offset) = (self.frame.fine, self.offset);
        for region in regions {
            let inside = |piece: &&mut Piece| {
                let at = (piece.at + offset) * fine;
                (region.stretch.from..region.stretch.to).contains(&at)
            };
            let mut pieces = self.bar.pieces.iter_mut().filter(inside);
            if let Some(first) = pieces.next() {
                first.edge = Some(TupletEdge::Start { bracket: true });
            }
            if let Some(last) = pieces.next_back() {
                last.edge = Some(TupletEdge::Stop);
            }
        }
    }
}
