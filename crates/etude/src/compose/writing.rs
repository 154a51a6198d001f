//! What sounds at known times, written down in bars that may change meter:
//! parted and tied where a chord or a meter begins within it, with a silent beat
//! under a chord that comes in silence.

use rhythm::{BarPieces, BeamStyle, Event, PieceKind, Ticks, notate};

use crate::bars::Bars;

/// An event of a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sound {
    /// A note of the line, by its number among its notes.
    Note(usize),
    /// A silent beat that a chord stands over.
    Silence,
    /// A beat to improvise on, or a part of one where a chord parts it, after
    /// a note; the first note where it comes before any.
    Slash { after: usize, parted: bool },
}

/// How a line is written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Writing<'a> {
    pub bars: &'a Bars,
    pub per_quarter: u32,
    pub style: BeamStyle,
}

impl Writing<'_> {
    /// The bars of notes, slashes and the chords over them, each in order, and
    /// what the events of those bars are.
    pub fn write(
        &self,
        notes: &[Event],
        slashes: Vec<Event>,
        chords: &[Ticks],
    ) -> (Vec<BarPieces>, Vec<Sound>) {
        let mut sounding = sounding(notes, slashes, chords);
        let silences = silences(&sounding, chords, self.bars);
        let silent = !silences.is_empty();
        sounding.extend(silences.into_iter().map(|event| (event, Sound::Silence)));
        sounding.sort_by_key(|(event, _)| event.onset);
        let parts = Parts::of(sounding, &self.cuts(chords));
        let mut bars = self.pieces(&parts.events);
        parts.tie(&mut bars);
        if silent {
            self.beam_past_silences(&parts, &mut bars);
        }
        (bars, parts.sounds)
    }

    /// Where a note is parted if it sounds on: where its chord begins within
    /// it, and where the meter changes.
    fn cuts(&self, chords: &[Ticks]) -> Vec<Ticks> {
        let meters = self.bars.meters().map(|(at, _)| at).skip(1);
        let mut cuts: Vec<Ticks> = chords.iter().copied().chain(meters).collect();
        cuts.sort_unstable();
        cuts
    }

    /// Events in bars, meter by meter.
    fn pieces(&self, events: &[Event]) -> Vec<BarPieces> {
        let mut all = Vec::new();
        let mut begin = 0;
        let bars = self.bars;
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
            let mut written = notate(meter, self.per_quarter, &here, length, self.style);
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

    /// Silent beats are there to stand under a chord: no beam knows of them.
    fn beam_past_silences(&self, parts: &Parts, bars: &mut [BarPieces]) {
        let heard = parts.events.iter().zip(&parts.sounds);
        let heard: Vec<Event> = heard
            .filter(|(_, sound)| **sound != Sound::Silence)
            .map(|(event, _)| *event)
            .collect();
        let beamed = self.pieces(&heard);
        for (bar, beamed) in bars.iter_mut().zip(&beamed) {
            for piece in &mut bar.pieces {
                let same = beamed.pieces.iter().find(|one| one.at == piece.at);
                piece.beams = same
                    .filter(|one| matches!(one.kind, PieceKind::Note { .. }))
                    .map_or([None; 4], |one| one.beams);
            }
        }
    }
}

/// Notes and slashes as they come; slashes after a note of the same time.
fn sounding(notes: &[Event], slashes: Vec<Event>, chords: &[Ticks]) -> Vec<(Event, Sound)> {
    let notes_only = notes.iter().enumerate();
    let mut sounding: Vec<(Event, Sound)> = notes_only
        .map(|(at, note)| (*note, Sound::Note(at)))
        .collect();
    // Nothing says what slashes without any note would be.
    if !notes.is_empty() {
        let slashes = parted(slashes, chords).into_iter();
        sounding.extend(slashes.map(|(slash, parted)| {
            let after = notes.partition_point(|note| note.onset <= slash.onset);
            let after = after.saturating_sub(1);
            (slash, Sound::Slash { after, parted })
        }));
        sounding.sort_by_key(|(event, _)| event.onset);
    }
    sounding
}

/// Slashes, parted where a chord comes within one; and whether they are.
fn parted(slashes: Vec<Event>, chords: &[Ticks]) -> Vec<(Event, bool)> {
    let mut slashes: Vec<(Event, bool)> = slashes.into_iter().map(|slash| (slash, false)).collect();
    for at in chords {
        let place = slashes.partition_point(|(slash, _)| slash.onset < *at);
        let Some(before) = place.checked_sub(1) else {
            continue;
        };
        let (slash, parted) = &mut slashes[before];
        let end = slash.onset + slash.length;
        if *at < end {
            slash.length = at - slash.onset;
            *parted = true;
            let rest = Event {
                onset: *at,
                length: end - at,
            };
            slashes.insert(place, (rest, true));
        }
    }
    slashes
}

/// Silent beats that a chord needs to stand over: where it comes within a
/// silence, off the bar line.
fn silences(sounding: &[(Event, Sound)], chords: &[Ticks], bars: &Bars) -> Vec<Event> {
    let nexts = chords.iter().skip(1).copied().chain([Ticks::MAX]);
    let within = chords.iter().copied().zip(nexts);
    within
        .filter(|(at, _)| !bars.is_line(*at))
        .filter_map(|(at, next_chord)| {
            let next = sounding.partition_point(|(event, _)| event.onset < at);
            let sounds = next.checked_sub(1).is_some_and(|before| {
                let (event, _) = sounding[before];
                event.onset + event.length >= at
            });
            let follows = sounding.get(next).map(|(event, _)| event.onset);
            if sounds || follows == Some(at) {
                return None;
            }
            let until = bars
                .next_beat(at)
                .min(next_chord)
                .min(follows.unwrap_or(Ticks::MAX));
            Some(Event {
                onset: at,
                length: until - at,
            })
        })
        .collect()
}

/// What sounds, in parts that are tied.
struct Parts {
    events: Vec<Event>,
    sounds: Vec<Sound>,
    /// Whether it is tied from the one before.
    tied: Vec<bool>,
}

impl Parts {
    fn of(sounding: Vec<(Event, Sound)>, cuts: &[Ticks]) -> Parts {
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
