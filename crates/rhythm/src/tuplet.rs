//! Which parts of a bar are tuplets: found from where notes begin and end.

use crate::frame::{Frame, Stretch, in_units, is_cell};
use crate::{MeterKind, Ticks, Tuplet, ValueKind};

/// A tuplet's place in a bar and its ratio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Region {
    pub stretch: Stretch,
    pub tuplet: Tuplet,
}

/// Parts that a stretch may be divided into otherwise than by two.
const PARTS: [u16; 7] = [3, 5, 7, 9, 11, 13, 15];

/// The tuplets of a bar, in order. `places` are where anything begins or
/// ends, in order, the bar's own ends among them.
pub(crate) fn regions(frame: &Frame, places: &[Ticks]) -> Vec<Region> {
    let mut regions: Vec<Region> = Vec::new();
    for place in places {
        let after = regions.last().map_or(0, |region| region.stretch.to);
        if *place < after {
            continue;
        }
        if let Some(duplet) = duplet(frame, places, *place) {
            regions.push(duplet);
        } else if !plain(frame, *place) {
            regions.extend(
                region(frame, places, *place).filter(|region| region.stretch.from >= after),
            );
        }
    }
    joined_triplets(frame, regions)
}

/// A compound beat in halves or quarters: so many in the time of its three
/// units.
fn duplet(frame: &Frame, places: &[Ticks], at: Ticks) -> Option<Region> {
    if frame.kind != MeterKind::Compound {
        return None;
    }
    let stretch = frame.group(at);
    let actual = [1, 2, 4]
        .into_iter()
        .find(|parts| falls_on(places, stretch, *parts))
        .filter(|parts| *parts > 1)?;
    let (unit, _) = frame.value(frame.unit)?;
    Some(Region {
        stretch,
        tuplet: Tuplet {
            actual,
            normal: 3,
            unit,
        },
    })
}

/// Where anything begins or ends in a stretch, from its start.
fn inside(places: &[Ticks], stretch: Stretch) -> impl Iterator<Item = Ticks> {
    places
        .iter()
        .filter(move |at| (stretch.from..stretch.to).contains(at))
        .map(move |at| at - stretch.from)
}

/// Whether everything in a stretch falls on so many equal parts of it.
fn falls_on(places: &[Ticks], stretch: Stretch, parts: u16) -> bool {
    inside(places, stretch).all(|at| at * Ticks::from(parts) % stretch.length() == 0)
}

/// Two triplets that fill a quarter, or half a one, are a sextuplet.
fn joined_triplets(frame: &Frame, triplets: Vec<Region>) -> Vec<Region> {
    let mut joined: Vec<Region> = Vec::new();
    for region in triplets {
        let length = 2 * region.stretch.length();
        let pair = joined.last().is_some_and(|before| {
            before.stretch.to == region.stretch.from
                && before.tuplet == region.tuplet
                && region.tuplet.actual == 3
                && length <= frame.quarter.min(frame.unit)
                && before.stretch.from % length == 0
        });
        if pair && let Some(before) = joined.last_mut() {
            before.stretch.to = region.stretch.to;
            before.tuplet.actual = 6;
            before.tuplet.normal = 4;
        } else {
            joined.push(region);
        }
    }
    joined
}

impl Region {
    /// A stretch inside the tuplet as it is written, from the tuplet's start.
    pub fn written(self, inside: Stretch) -> Stretch {
        let (actual, normal) = (
            Ticks::from(self.tuplet.actual),
            Ticks::from(self.tuplet.normal),
        );
        let scale = |at: Ticks| (at - self.stretch.from) * actual / normal;
        Stretch {
            from: scale(inside.from),
            to: scale(inside.to),
        }
    }

    fn unit(self) -> Ticks {
        self.stretch.length() / Ticks::from(self.tuplet.normal)
    }

    pub fn shows_parts(self, frame: &Frame, note: Stretch) -> bool {
        let written = self.written(note);
        frame.value(written.length()).is_some() && in_units(written, self.unit())
    }

    pub fn rests(self, frame: &Frame, rest: Stretch) -> bool {
        let written = self.written(rest);
        let two = written.from == 0 && written.length() == 2 * self.unit();
        frame.value(written.length()).is_some() && (two || is_cell(written, self.unit()))
    }

    /// Where inside it notes may be cut: its parts, in fine ticks.
    pub fn part(self) -> Ticks {
        self.stretch.length() / Ticks::from(self.tuplet.actual)
    }
}

/// The tuplet around a place: the smallest stretch, both of whose ends are
/// ends of notes, in which everything falls on equal parts; else the unit, or
/// the largest part of it, in which everything does.
fn region(frame: &Frame, places: &[Ticks], at: Ticks) -> Option<Region> {
    let stretches = stretches(frame, at);
    let ends = |stretch: &Stretch| places.contains(&stretch.from) && places.contains(&stretch.to);
    // Whether everything in it falls on equal parts, none on half a part.
    let exact = |stretch: &&Stretch| {
        PARTS
            .into_iter()
            .any(|parts| falls_on(places, **stretch, parts))
    };
    // More than a unit only where more than one unit is divided, and so that
    // nothing hides its beats but whole parts.
    let needed = |stretch: &&Stretch| {
        let mut units = inside(places, **stretch)
            .filter(|at| !plain(frame, *at))
            .map(|at| at / frame.unit);
        let first = units.next();
        stretch.length() <= frame.unit || (units.any(|unit| Some(unit) != first) && exact(stretch))
    };
    let closed = stretches
        .iter()
        .filter(|stretch| ends(stretch))
        .filter(needed);
    // What crosses a beat off it is tied over it: a unit, else half a unit.
    let tied = stretches
        .iter()
        .rev()
        .filter(|stretch| stretch.length() <= frame.unit)
        .filter(exact);
    // Something finer than can be written takes any.
    closed
        .chain(tied)
        .chain(&stretches)
        .find_map(|stretch| divided(frame, places, *stretch))
}

/// Whether a place falls on the grid of sixty-fourths.
fn plain(frame: &Frame, place: Ticks) -> bool {
    place * 16 % frame.quarter == 0
}

/// The stretches a tuplet around a place may fill, smallest first.
fn stretches(frame: &Frame, at: Ticks) -> Vec<Stretch> {
    let unit = frame.unit;
    let aligned = |length: Ticks| Stretch {
        from: at / length * length,
        to: at / length * length + length,
    };
    let mut stretches = vec![
        aligned(unit / 8),
        aligned(unit / 4),
        aligned(unit / 2),
        aligned(unit),
    ];
    let group = match frame.kind {
        MeterKind::Simple => Stretch {
            from: 0,
            to: frame.bar,
        },
        MeterKind::Compound | MeterKind::Odd => frame.group(at),
    };
    let beat = aligned(unit).from;
    if frame.kind == MeterKind::Simple && frame.groups.len() == 5 {
        stretches.extend([aligned(2 * unit), group]);
    } else {
        let two = Stretch {
            from: beat,
            to: beat + 2 * unit,
        };
        stretches.extend(Some(two).filter(|two| two.to <= group.to));
    }
    stretches
}

/// A stretch as a tuplet, if all in it falls on equal parts or their eighths.
fn divided(frame: &Frame, places: &[Ticks], stretch: Stretch) -> Option<Region> {
    let parts = PARTS
        .into_iter()
        .find(|parts| falls_on(places, stretch, 8 * parts))?;
    // As many in the time of the next power of two below.
    let normal = 1u16 << parts.ilog2();
    let (unit, _) = frame
        .value(stretch.length() / Ticks::from(normal))
        .filter(|(_, dots)| *dots == 0)?;
    Some(Region {
        stretch,
        tuplet: Tuplet {
            actual: parts,
            normal,
            unit,
        },
    })
}

/// The value a piece of a tuplet is written with.
pub(crate) fn written_value(
    frame: &Frame,
    region: Region,
    piece: Stretch,
) -> Option<(ValueKind, u8)> {
    frame.value(region.written(piece).length())
}
