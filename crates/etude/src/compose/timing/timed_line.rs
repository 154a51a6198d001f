//! A line whose times are known, written down in bars that may change meter.

use rhythm::{BarPieces, BeamStyle, Event, Meter, PieceKind, Ticks, notate};

use super::{Sound, Timing};
use crate::compose::breath::Breathing;
use crate::over::Bars;
use crate::ticks::{ticks, up_to};

/// A line whose times are known.
#[derive(Debug, Default)]
pub(crate) struct TimedLine {
    /// Its notes, each with its statement and its number there.
    pub notes: Vec<(Event, u16, u16)>,
    /// The first note of each passage.
    pub passages: Vec<usize>,
    /// The notes after which a breath may be taken.
    pub chances: Vec<usize>,
    /// Where statements begin.
    pub starts: Vec<Ticks>,
    /// Chord symbols by their times.
    pub symbols: Vec<(Ticks, u16)>,
    /// Silent beats that a chord stands over.
    pub silences: Vec<Event>,
    /// Stretches to improvise on.
    pub slashes: Vec<(Ticks, Ticks)>,
}

impl Timing {
    /// Writes a line whose times are known in bars.
    pub fn laid(
        laid: TimedLine,
        bars: &Bars,
        per_quarter: u32,
        style: BeamStyle,
        breathing: Breathing,
    ) -> Timing {
        let mut timing = Timing {
            events: Vec::with_capacity(laid.notes.len()),
            statements: Vec::with_capacity(laid.notes.len()),
            numbers: Vec::with_capacity(laid.notes.len()),
            breaths: Vec::new(),
            chances: laid.chances,
            slashes: Vec::new(),
            sounds: Vec::new(),
            passages: laid.passages,
            starts: laid.starts,
            bars: Vec::new(),
            systems: Vec::new(),
            counts: Vec::new(),
        };
        for (event, statement, number) in laid.notes {
            timing.push(event.onset, event.length, (statement, number));
        }
        for (from, until) in laid.slashes {
            let begins = bars.meters().map(|(at, _)| at).skip(1);
            for ((at, meter), next) in bars.meters().zip(begins.chain([bars.end()])) {
                let stretch = (from.max(at), until.min(next));
                timing.lay_slashes(meter, at, stretch, per_quarter);
            }
        }
        timing.part_slashes(&laid.symbols);
        timing.breathe(breathing, per_quarter);
        let mut sounding: Vec<(Event, Sound)> = timing
            .sound()
            .into_iter()
            .zip(std::mem::take(&mut timing.sounds))
            .collect();
        add(&mut sounding, &laid.silences);
        let parts = Parts::of(sounding, cuts(&laid.symbols, bars));
        let write = |events: &[Event]| written(bars, per_quarter, events, style);
        timing.write(parts, !laid.silences.is_empty(), write);
        timing
    }

    /// Writes a line of one meter under chords that come at their own times.
    pub fn write_under(
        &mut self,
        chords: &[Ticks],
        meter: &Meter,
        per_quarter: u32,
        (events, until): (Vec<Event>, Ticks),
        style: BeamStyle,
    ) {
        let bar = ticks(meter.bar(), per_quarter).max(1);
        let beats: Vec<Ticks> = meter
            .beats()
            .into_iter()
            .map(|beat| ticks(beat, per_quarter))
            .collect();
        let is_line = |at: Ticks| at.rem_euclid(bar) == 0;
        let next_beat = |at: Ticks| {
            let start = at - at.rem_euclid(bar);
            let beat = beats
                .iter()
                .map(|beat| start + beat)
                .find(|beat| *beat > at);
            beat.unwrap_or(start + bar)
        };
        let silences = silences(&self.events, chords, up_to(until, bar), is_line, next_beat);
        let mut sounding: Vec<(Event, Sound)> = events
            .into_iter()
            .zip(std::mem::take(&mut self.sounds))
            .collect();
        add(&mut sounding, &silences);
        let parts = Parts::of(sounding, chords.to_vec());
        let write = |events: &[Event]| notate(meter, per_quarter, events, until, style);
        self.write(parts, !silences.is_empty(), write);
    }

    fn write(&mut self, parts: Parts, silent: bool, write: impl Fn(&[Event]) -> Vec<BarPieces>) {
        self.bars = write(&parts.events);
        parts.tie(&mut self.bars);
        self.sounds = parts.sounds;
        if silent {
            self.beam_past_silences(&parts.events, write);
        }
    }

    /// Parts the slashes within which a chord comes.
    fn part_slashes(&mut self, symbols: &[(Ticks, u16)]) {
        for (at, _) in symbols {
            let place = self.slashes.partition_point(|(slash, _)| slash.onset < *at);
            let Some(before) = place.checked_sub(1) else {
                continue;
            };
            let (slash, parted) = &mut self.slashes[before];
            let end = slash.onset + slash.length;
            if *at < end {
                slash.length = at - slash.onset;
                *parted = true;
                let rest = Event {
                    onset: *at,
                    length: end - at,
                };
                self.slashes.insert(place, (rest, true));
            }
        }
    }

    /// Silent beats are there to stand under a chord: no beam knows of them.
    fn beam_past_silences(&mut self, events: &[Event], write: impl Fn(&[Event]) -> Vec<BarPieces>) {
        let heard = events.iter().zip(&self.sounds);
        let heard: Vec<Event> = heard
            .filter(|(_, sound)| **sound != Sound::Silence)
            .map(|(event, _)| *event)
            .collect();
        let beamed = write(&heard);
        for (bar, beamed) in self.bars.iter_mut().zip(&beamed) {
            for piece in &mut bar.pieces {
                let same = beamed.pieces.iter().find(|one| one.at == piece.at);
                piece.beams = same
                    .filter(|one| matches!(one.kind, PieceKind::Note { .. }))
                    .map_or([None; 4], |one| one.beams);
            }
        }
    }
}

fn add(sounding: &mut Vec<(Event, Sound)>, silences: &[Event]) {
    sounding.extend(silences.iter().map(|event| (*event, Sound::Silence)));
    sounding.sort_by_key(|(event, _)| event.onset);
}

/// Silent beats that a chord needs to stand over: where it comes within a
/// silence, off the bar line. Notes and chords are in order; the last chord
/// lasts to the end.
pub(crate) fn silences(
    notes: &[Event],
    chords: &[Ticks],
    end: Ticks,
    is_line: impl Fn(Ticks) -> bool,
    next_beat: impl Fn(Ticks) -> Ticks,
) -> Vec<Event> {
    let nexts = chords.iter().skip(1).copied().chain([end]);
    let within = chords.iter().copied().zip(nexts);
    within
        .filter(|(at, _)| !is_line(*at))
        .filter_map(|(at, next_chord)| {
            let next = notes.partition_point(|event| event.onset < at);
            let sounds = next
                .checked_sub(1)
                .is_some_and(|before| notes[before].onset + notes[before].length >= at);
            let follows = notes.get(next).map(|event| event.onset);
            if sounds || follows == Some(at) {
                return None;
            }
            let until = next_beat(at)
                .min(next_chord)
                .min(follows.unwrap_or(Ticks::MAX));
            Some(Event {
                onset: at,
                length: until - at,
            })
        })
        .collect()
}

/// Where a note is parted if it sounds on: where its chord begins within it,
/// and where the meter changes.
fn cuts(symbols: &[(Ticks, u16)], bars: &Bars) -> Vec<Ticks> {
    let symbols = symbols.iter().map(|(at, _)| *at);
    let mut cuts: Vec<Ticks> = symbols.chain(bars.meters().map(|(at, _)| at)).collect();
    cuts.sort_unstable();
    cuts
}

/// What sounds, in parts that are tied.
struct Parts {
    events: Vec<Event>,
    sounds: Vec<Sound>,
    /// Whether it is tied from the one before.
    tied: Vec<bool>,
}

impl Parts {
    fn of(sounding: Vec<(Event, Sound)>, cuts: Vec<Ticks>) -> Parts {
        let mut parts = Parts {
            events: Vec::with_capacity(sounding.len()),
            sounds: Vec::with_capacity(sounding.len()),
            tied: Vec::with_capacity(sounding.len()),
        };
        for (event, sound) in sounding {
            let end = event.onset + event.length;
            let within = cuts.partition_point(|cut| *cut <= event.onset);
            let within = cuts[within..].iter().copied();
            let mut onset = event.onset;
            for until in within.take_while(|cut| *cut < end).chain([end]) {
                if until > onset {
                    parts.tied.push(onset > event.onset);
                    parts.events.push(Event {
                        onset,
                        length: until - onset,
                    });
                    parts.sounds.push(sound);
                    onset = until;
                }
            }
        }
        parts
    }

    fn tie(&self, bars: &mut [BarPieces]) {
        for piece in bars.iter_mut().flat_map(|bar| &mut bar.pieces) {
            if let PieceKind::Note {
                event,
                tied_from,
                tied_to,
            } = &mut piece.kind
            {
                *tied_from |= self.tied[*event];
                *tied_to |= self.tied.get(*event + 1).is_some_and(|tied| *tied);
            }
        }
    }
}

/// Writes events down, meter by meter.
fn written(bars: &Bars, per_quarter: u32, events: &[Event], style: BeamStyle) -> Vec<BarPieces> {
    let mut all = Vec::new();
    let mut begin = 0;
    let ends = bars.meters().map(|(at, _)| at).skip(1).map(Some);
    for ((from, meter), until) in bars.meters().zip(ends.chain([None])) {
        let end = until.map_or(events.len(), |until| {
            events.partition_point(|event| event.onset < until)
        });
        let here = events[begin..end].iter().map(|event| Event {
            onset: event.onset - from,
            ..*event
        });
        let here: Vec<Event> = here.collect();
        let length = until.unwrap_or(bars.end()) - from;
        let mut written = notate(meter, per_quarter, &here, length, style);
        for bar in &mut written {
            bar.start += from;
            for piece in &mut bar.pieces {
                if let PieceKind::Note { event, .. } = &mut piece.kind {
                    *event += begin;
                }
            }
        }
        all.extend(written);
        begin = end;
    }
    all
}
