//! Notes and rests built by hand, their lengths following their values.

use std::borrow::Cow;

use rhythm::{Beam, NoteValue, Tuplet, TupletEdge, ValueKind};
use score::{Accidental, Element, Marks, Note, Origin, Rest, Written};
use theory::{Degree, Pitch};

/// Ticks to the quarter of every sheet built here.
pub(super) const DIVISIONS: u32 = 12;

/// A quarter of that pitch.
pub(super) fn note(pitch: Pitch) -> Note {
    Note {
        written: written(value(ValueKind::Quarter, 0)),
        pitch,
        accidental: None,
        tied_from: false,
        tied_to: false,
        beams: [None; 4],
        lyrics: [const { None }; 4],
        marks: Marks::default(),
        origin: Origin {
            exercise: 0,
            statement: 0,
            degree: Degree::ROOT,
            chord: None,
            ornament: false,
        },
    }
}

/// A note or rest being built, its length following its value.
pub(super) struct Building(Element);

pub(super) fn n(pitch: &str, kind: ValueKind) -> Building {
    let mut note = note(pitch.parse().unwrap());
    note.written = written(value(kind, 0));
    Building(Element::Note(note))
}

pub(super) fn r(kind: ValueKind) -> Building {
    Building(Element::Rest(Rest {
        written: written(value(kind, 0)),
        whole_bar: false,
        hidden: false,
    }))
}

pub(super) fn whole_bar(length: u32, chord: Option<u16>) -> Element {
    Element::Rest(Rest {
        written: Written {
            length,
            chord,
            ..written(value(ValueKind::Whole, 0))
        },
        whole_bar: true,
        hidden: false,
    })
}

impl Building {
    pub(super) fn done(self) -> Element {
        self.0
    }

    pub(super) fn dot(self) -> Building {
        self.valued(|value| value.dots += 1)
    }

    pub(super) fn in_tuplet(self, tuplet: Tuplet) -> Building {
        self.valued(|value| value.tuplet = Some(tuplet))
    }

    pub(super) fn starts(mut self, bracket: bool) -> Building {
        self.written_mut().edge = Some(TupletEdge::Start { bracket });
        self
    }

    pub(super) fn stops(mut self) -> Building {
        self.written_mut().edge = Some(TupletEdge::Stop);
        self
    }

    pub(super) fn chord(mut self, place: u16) -> Building {
        self.written_mut().chord = Some(place);
        self
    }

    pub(super) fn tie(self) -> Building {
        self.note(|note| note.tied_to = true)
    }

    pub(super) fn tied(self) -> Building {
        self.note(|note| note.tied_from = true)
    }

    pub(super) fn sign(self) -> Building {
        self.note(|note| note.accidental = Some(Accidental { courtesy: false }))
    }

    pub(super) fn courtesy(self) -> Building {
        self.note(|note| note.accidental = Some(Accidental { courtesy: true }))
    }

    pub(super) fn beam(self, beam: Beam) -> Building {
        self.note(|note| note.beams[0] = Some(beam))
    }

    pub(super) fn under(self, beam: Beam) -> Building {
        self.note(|note| note.beams[1] = Some(beam))
    }

    /// A label in the first free row.
    pub(super) fn label(self, text: &'static str) -> Building {
        self.note(|note| {
            *note.lyrics.iter_mut().find(|row| row.is_none()).unwrap() = Some(Cow::Borrowed(text))
        })
    }

    fn note(mut self, change: impl FnOnce(&mut Note)) -> Building {
        match &mut self.0 {
            Element::Note(note) => change(note),
            Element::Slash(slash) => change(&mut slash.note),
            Element::Rest(_) => panic!("a rest has none"),
        }
        self
    }

    fn valued(mut self, change: impl FnOnce(&mut NoteValue)) -> Building {
        let written = self.written_mut();
        change(&mut written.value);
        written.length = ticks(written.value);
        self
    }

    fn written_mut(&mut self) -> &mut Written {
        match &mut self.0 {
            Element::Note(note) => &mut note.written,
            Element::Rest(rest) => &mut rest.written,
            Element::Slash(slash) => &mut slash.note.written,
        }
    }
}

pub(super) fn value(kind: ValueKind, dots: u8) -> NoteValue {
    NoteValue {
        kind,
        dots,
        tuplet: None,
    }
}

fn written(value: NoteValue) -> Written {
    Written {
        length: ticks(value),
        value,
        edge: None,
        chord: None,
    }
}

fn ticks(value: NoteValue) -> u32 {
    let plain = DIVISIONS * (1 << value.kind as u32);
    let dotted = (plain * ((2 << value.dots) - 1)) >> value.dots;
    let (actual, normal) = value.tuplet.map_or((1, 1), |tuplet| {
        (tuplet.actual.into(), tuplet.normal.into())
    });
    let sixteenths_of_ticks = dotted * normal;
    assert_eq!(
        sixteenths_of_ticks % (16 * actual),
        0,
        "{value:?} is no whole number of ticks"
    );
    sixteenths_of_ticks / (16 * actual)
}
