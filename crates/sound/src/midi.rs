//! A performance as a Standard MIDI File: format 1, the conductor's track
//! first, then a named track for each role.

use midly::num::{u4, u7, u15, u24, u28};
use midly::{
    Format, Header, MetaMessage, MidiMessage, Smf, Timing, Track, TrackEvent, TrackEventKind,
};

use crate::ascii::ascii;
use crate::{Performance, Role, Strike};

/// General MIDI Level 1 programs, from 1: Acoustic Grand Piano, Reed Organ and
/// Acoustic Bass.
pub(crate) const PIANO: u8 = 1;
pub(crate) const ORGAN: u8 = 21;
pub(crate) const BASS: u8 = 33;

/// Names of tracks, in ASCII: many programs show no others.
#[derive(Debug)]
struct Names {
    title: String,
    part: String,
}

/// Writes a performance down. Names are ASCII, other text is UTF-8. At a tick, notes end before
/// others begin, so that repeated notes stay separate.
pub fn midi(performance: &Performance) -> Vec<u8> {
    let names = Names {
        title: ascii(&performance.title),
        part: ascii(&performance.part),
    };
    let timing = Timing::Metrical(u15::from(performance.per_quarter));
    let mut file = Smf::new(Header::new(Format::Parallel, timing));
    file.tracks.push(conductor(performance, &names));
    for roles in performance
        .roles
        .chunk_by(|(a, _), (b, _)| together(*a, *b))
    {
        let Some((role, _)) = roles.first() else {
            continue;
        };
        // the count-in and the click are one track
        let mut strikes: Vec<Strike> = roles
            .iter()
            .flat_map(|(_, strikes)| strikes)
            .copied()
            .collect();
        strikes.sort_by_key(|strike| strike.onset);
        file.tracks
            .push(track(performance, &names, *role, &strikes));
    }
    let mut bytes = Vec::new();
    // fails only for a track of more than four gigabytes, which its ticks
    // don't reach
    let written = file.write(&mut bytes);
    debug_assert_eq!(written, Ok(()));
    bytes
}

fn together(one: Role, other: Role) -> bool {
    one == Role::Count && other == Role::Click
}

/// The General MIDI program of a role, from 1; percussion needs none.
pub(crate) fn program(performance: &Performance, role: Role) -> Option<u8> {
    match role {
        Role::Line => Some(performance.program),
        Role::Chords => Some(PIANO),
        Role::Drone => Some(ORGAN),
        Role::Bass => Some(BASS),
        Role::Drums | Role::Count | Role::Click => None,
    }
}

/// Controllers that tune a channel away from 440: the registered parameters
/// for coarse and fine tuning, then none chosen (MIDI 1.0).
pub(crate) fn tuning(performance: &Performance) -> Vec<(u8, u8)> {
    let Some((coarse, fine)) = performance.tuning.channel_tuning() else {
        return Vec::new();
    };
    let (msb, lsb) = ((fine >> 7) as u8, (fine & 0x7F) as u8);
    vec![
        (101, 0),
        (100, 2),
        (6, coarse),
        (101, 0),
        (100, 1),
        (6, msb),
        (38, lsb),
        (101, 127),
        (100, 127),
    ]
}

fn conductor<'a>(performance: &'a Performance, names: &'a Names) -> Track<'a> {
    let mut events = Events::named(names.title.as_bytes());
    for (at, line) in &performance.heads {
        events.meta(*at, MetaMessage::Text(line.as_bytes()));
    }
    for (at, meter) in &performance.meters {
        let power = meter.lower.max(1).ilog2() as u8;
        events.meta(
            *at,
            MetaMessage::TimeSignature(meter.upper, power, meter.clocks, 8),
        );
    }
    for (at, key) in &performance.keys {
        events.meta(*at, MetaMessage::KeySignature(key.fifths, key.minor));
    }
    for (at, micros) in &performance.tempos {
        events.meta(*at, MetaMessage::Tempo(u24::from(*micros)));
    }
    for (at, heading) in &performance.markers {
        events.meta(*at, MetaMessage::Marker(heading.as_bytes()));
    }
    events.track(performance.end)
}

fn track<'a>(
    performance: &'a Performance,
    names: &'a Names,
    role: Role,
    strikes: &[Strike],
) -> Track<'a> {
    let name = match role {
        Role::Line => &names.part,
        Role::Chords => "Chords",
        Role::Drone => "Drone",
        Role::Bass => "Bass",
        Role::Drums => "Drums",
        Role::Count | Role::Click => "Click",
    };
    let mut events = Events::named(name.as_bytes());
    let channel = u4::from(role.channel());
    let say = |message| TrackEventKind::Midi { channel, message };
    if let Some(program) = program(performance, role) {
        for (controller, value) in tuning(performance) {
            let (controller, value) = (u7::from(controller), u7::from(value));
            events.add(
                0,
                Order::Setting,
                say(MidiMessage::Controller { controller, value }),
            );
        }
        let program = u7::from(program.saturating_sub(1));
        events.add(
            0,
            Order::Setting,
            say(MidiMessage::ProgramChange { program }),
        );
    }
    for (controller, value) in place(role, performance.levels.of(role)) {
        let (controller, value) = (u7::from(controller), u7::from(value));
        events.add(
            0,
            Order::Setting,
            say(MidiMessage::Controller { controller, value }),
        );
    }
    if role == Role::Line {
        for (at, text) in &performance.lyrics {
            events.meta(*at, MetaMessage::Lyric(text.as_bytes()));
        }
    }
    for strike in strikes {
        let (key, vel) = (
            u7::from(strike.key),
            u7::from(loud(performance, role, strike)),
        );
        events.add(
            strike.onset,
            Order::On,
            say(MidiMessage::NoteOn { key, vel }),
        );
        let vel = u7::from(64);
        events.add(
            strike.end,
            Order::Off,
            say(MidiMessage::NoteOff { key, vel }),
        );
    }
    events.track(performance.end)
}

/// Channel volume and pan (MIDI 1.0, controllers 7 and 10) of a role, so that
/// the line stands before what accompanies it. Percussion shares a channel:
/// its levels are in its velocities.
pub(crate) fn place(role: Role, level: u8) -> Vec<(u8, u8)> {
    let (volume, pan) = match role {
        Role::Line => (112, 64),
        Role::Chords => (84, 44),
        Role::Drone => (72, 64),
        Role::Bass => (100, 64),
        Role::Drums | Role::Count | Role::Click => return Vec::new(),
    };
    vec![(7, scaled(volume, level)), (10, pan)]
}

fn loud(performance: &Performance, role: Role, strike: &Strike) -> u8 {
    match role {
        Role::Drums | Role::Count | Role::Click => {
            scaled(strike.velocity, performance.levels.of(role))
        }
        Role::Line | Role::Chords | Role::Drone | Role::Bass => strike.velocity,
    }
}

/// A volume or velocity at so many hundredths of its amplitude, which goes by
/// its square (General MIDI 2; from memory).
fn scaled(value: u8, level: u8) -> u8 {
    let square = u32::from(value).pow(2) * u32::from(level) / 100;
    square.isqrt().clamp(1, 127) as u8
}

/// What comes first at a tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Order {
    Name,
    Off,
    Setting,
    Meta,
    On,
}

/// A track's events at their ticks.
#[derive(Debug)]
struct Events<'a>(Vec<(u32, Order, TrackEventKind<'a>)>);

impl<'a> Events<'a> {
    fn named(name: &'a [u8]) -> Events<'a> {
        let name = TrackEventKind::Meta(MetaMessage::TrackName(name));
        Events(vec![(0, Order::Name, name)])
    }

    fn add(&mut self, at: u32, order: Order, kind: TrackEventKind<'a>) {
        self.0.push((at, order, kind));
    }

    fn meta(&mut self, at: u32, message: MetaMessage<'a>) {
        self.add(at, Order::Meta, TrackEventKind::Meta(message));
    }

    /// In order, with times from event to event, up to the track's end.
    fn track(mut self, end: u32) -> Track<'a> {
        self.0.sort_by_key(|(at, order, _)| (*at, *order));
        let end = self.0.last().map_or(end, |(at, ..)| end.max(*at));
        let end_of_track = (
            end,
            Order::On,
            TrackEventKind::Meta(MetaMessage::EndOfTrack),
        );
        let mut last = 0;
        self.0
            .into_iter()
            .chain([end_of_track])
            .map(|(at, _, kind)| {
                let delta = u28::from(at - last);
                last = at;
                TrackEvent { delta, kind }
            })
            .collect()
    }
}
