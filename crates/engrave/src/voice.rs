//! A part made ready for setting: each bar with the signature and meter in
//! force, each note with its place on the staff, its stem's direction and its
//! own marks around it.

use rhythm::{Beam, Meter, ValueKind};
use score::{Element, Measure, Score};
use theory::{Clef, Signature};

use crate::event::{Event, flags};
use crate::mark::Mark;
use crate::note;
use crate::rest;
use crate::stem::{self, MIDDLE_PLACE, Stem};

/// A part, bar by bar.
#[derive(Debug)]
pub(crate) struct Voice<'a> {
    pub(crate) score: &'a Score,
    pub(crate) clef: Clef,
    pub(crate) bars: Vec<Bar<'a>>,
    pub(crate) slurs: Vec<Slur>,
}

/// A slur's two notes, each by its bar and its place there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Slur {
    pub(crate) from: (usize, usize),
    pub(crate) to: (usize, usize),
    pub(crate) above: bool,
}

/// A bar.
#[derive(Debug)]
pub(crate) struct Bar<'a> {
    pub(crate) measure: &'a Measure,
    /// In force in it.
    pub(crate) signature: Signature,
    /// What was in force before, where another one is printed.
    pub(crate) cancelled: Option<Signature>,
    /// In force in it.
    pub(crate) meter: Option<&'a Meter>,
    /// Whether the meter is printed.
    pub(crate) new_meter: bool,
    pub(crate) exercise: u16,
    pub(crate) events: Vec<Event<'a>>,
    /// Ticks.
    pub(crate) length: u32,
}

impl<'a> Voice<'a> {
    pub(crate) fn of(score: &'a Score) -> Voice<'a> {
        let clef = score.part.clef;
        let mut signature = Signature::NONE;
        let mut meter: Option<&Meter> = None;
        let mut bars = Vec::with_capacity(score.part.measures.len());
        for (place, measure) in score.part.measures.iter().enumerate() {
            let new = measure.key.map(|key| key.signature);
            let cancelled = new
                .filter(|new| *new != signature || place == 0)
                .map(|_| signature);
            signature = new.unwrap_or(signature);
            let new_meter = measure.meter.as_ref();
            meter = new_meter.or(meter);
            let mut bar = Bar {
                measure,
                signature,
                cancelled,
                meter,
                new_meter: new_meter.is_some(),
                exercise: score.exercise_of(place) as u16,
                events: Vec::with_capacity(measure.elements.len()),
                length: 0,
            };
            for element in &measure.elements {
                bar.events.push(event(element, bar.length, clef));
                bar.length += element.written().length;
            }
            beam(&mut bar.events);
            for event in &mut bar.events {
                event.marks = match event.element {
                    Element::Rest(rest) => rest::marks(rest),
                    Element::Note(_) | Element::Slash(_) => note::marks(event),
                };
                let stem = note::stem_marks(event, event.stem);
                event.inks = event.marks.iter().chain(&stem).map(Mark::ink).collect();
            }
            bars.push(bar);
        }
        let slurs = slurs(&bars);
        Voice {
            score,
            clef,
            bars,
            slurs,
        }
    }
}

/// The slurs, on the heads' side, or above where stems go both ways.
fn slurs(bars: &[Bar<'_>]) -> Vec<Slur> {
    let mut slurs = Vec::new();
    let mut open: Option<(usize, usize)> = None;
    // Only where all stems go up is the heads' side below.
    let mut down = false;
    for (bar, events) in bars.iter().map(|bar| &bar.events).enumerate() {
        for (place, event) in events.iter().enumerate() {
            let Some(note) = event.note() else { continue };
            let own = match event.stem {
                Some(stem) => !stem.up,
                None => event.place >= MIDDLE_PLACE,
            };
            down |= own;
            if note.marks.slur_ends
                && let Some(from) = open.take()
            {
                slurs.push(Slur {
                    from,
                    to: (bar, place),
                    above: down,
                });
            }
            if note.marks.slur_begins {
                open = Some((bar, place));
                down = own;
            }
        }
    }
    slurs
}

fn event(element: &Element, onset: u32, clef: Clef) -> Event<'_> {
    let place = match element {
        Element::Note(note) => i32::from(note.pitch.steps() - clef.bottom_line()),
        Element::Slash(_) | Element::Rest(_) => MIDDLE_PLACE,
    };
    let kind = element.written().value.kind;
    let stemmed = match element {
        Element::Note(_) => kind <= ValueKind::Half,
        Element::Slash(slash) => slash.rhythmic && kind <= ValueKind::Half,
        Element::Rest(_) => false,
    };
    Event {
        element,
        onset,
        place,
        stem: stemmed.then(|| stem::single(place, flags(kind))),
        beamed: false,
        marks: Vec::new(),
        inks: Vec::new(),
        width: match element {
            Element::Rest(rest) => rest::width(rest),
            Element::Note(_) | Element::Slash(_) => note::head(element).width(),
        },
    }
}

/// Gives the notes under one beam one direction.
fn beam(events: &mut [Event<'_>]) {
    for (from, to) in groups(events) {
        let group = &mut events[from..=to];
        let up = stem::goes_up(group.iter().map(|event| event.place));
        for event in group {
            let head = stem::height(event.place);
            let length = stem::length(0);
            event.beamed = true;
            event.stem = Some(Stem {
                up,
                tip: if up { head - length } else { head + length },
            });
        }
    }
}

/// The first and the last note of each beam.
pub(crate) fn groups(events: &[Event<'_>]) -> Vec<(usize, usize)> {
    let mut groups = Vec::new();
    let mut began = None;
    for (place, event) in events.iter().enumerate() {
        let stemmed = event.stem.is_some();
        match event.note().and_then(|note| note.beams[0]) {
            Some(Beam::Begin) if stemmed => began = Some(place),
            Some(Beam::End) if stemmed => {
                groups.extend(began.take().map(|from| (from, place)));
            }
            Some(Beam::Continue) if stemmed => (),
            _ => began = None,
        }
    }
    groups
}
