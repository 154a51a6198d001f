//! What instruments sound like in the plain voice: their partials, soft and
//! loud, and how notes begin, last and end (common practice, by ear).
#![allow(clippy::float_arithmetic)]

use crate::Role;

/// How an instrument sounds.
#[derive(Debug)]
pub(crate) struct Timbre {
    pub partials: Partials,
    /// Seconds that a note takes to rise.
    pub rise: f32,
    /// Seconds that it takes to fall after its end.
    pub fall: f32,
    /// How fast it dies away: 1 to 37 % in a second.
    pub decay: f32,
    /// How fast its brightness dies away beside that.
    pub dulls: f32,
    /// Cents of vibrato to either side.
    pub vibrato: f32,
}

/// Loudness of the fundamental and the partials over it.
#[derive(Debug)]
pub(crate) enum Partials {
    /// One by one, played softly and loudly.
    Listed(&'static [f32], &'static [f32]),
    /// Falling with their number to these powers, softly and loudly, up to a
    /// frequency in hertz.
    Falling(f32, f32, f32),
}

const FLUTE: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.32, 0.10, 0.04, 0.02],
        &[0.7, 0.6, 0.34, 0.16, 0.09, 0.05, 0.02],
    ),
    rise: 0.04,
    fall: 0.045,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 9.0,
};
const CLARINET: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.03, 0.36, 0.03, 0.14, 0.02, 0.06],
        &[
            0.9, 0.06, 0.66, 0.08, 0.42, 0.09, 0.26, 0.07, 0.14, 0.05, 0.08,
        ],
    ),
    rise: 0.032,
    fall: 0.035,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 3.0,
};
const SAXOPHONE: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.72, 0.48, 0.3, 0.17, 0.1, 0.06, 0.03],
        &[
            0.75, 0.8, 0.72, 0.58, 0.48, 0.38, 0.28, 0.2, 0.15, 0.1, 0.07, 0.05,
        ],
    ),
    rise: 0.028,
    fall: 0.035,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 10.0,
};
const DOUBLE_REED: Timbre = Timbre {
    partials: Partials::Listed(
        &[0.7, 0.8, 0.6, 0.3, 0.2, 0.1, 0.06],
        &[0.45, 0.7, 0.9, 0.7, 0.5, 0.36, 0.28, 0.2, 0.14, 0.1, 0.06],
    ),
    rise: 0.028,
    fall: 0.03,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 8.0,
};
const BRASS: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.6, 0.34, 0.16, 0.08, 0.04],
        &[
            0.55, 0.72, 0.8, 0.72, 0.6, 0.5, 0.4, 0.32, 0.25, 0.18, 0.12, 0.08,
        ],
    ),
    rise: 0.03,
    fall: 0.035,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 5.0,
};
const BOWED: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.6, 0.42, 0.28, 0.2, 0.13, 0.08, 0.05],
        &[0.8, 0.7, 0.6, 0.48, 0.4, 0.32, 0.25, 0.2, 0.15, 0.11, 0.08],
    ),
    rise: 0.04,
    fall: 0.05,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 10.0,
};
/// Partials up to 1.2 kHz, which a telephone sounds.
const PLUCKED_BASS: Timbre = Timbre {
    partials: Partials::Falling(0.9, 0.35, 1_250.0),
    rise: 0.005,
    fall: 0.05,
    decay: 0.9,
    dulls: 2.2,
    vibrato: 0.0,
};
const STRUCK: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.38, 0.18, 0.1, 0.05, 0.03],
        &[0.4, 0.6, 0.42, 0.32, 0.24, 0.16, 0.1, 0.07, 0.04],
    ),
    rise: 0.004,
    fall: 0.07,
    decay: 1.1,
    dulls: 5.0,
    vibrato: 0.0,
};
const REED_ORGAN: Timbre = Timbre {
    partials: Partials::Listed(
        &[1.0, 0.6, 0.4, 0.24, 0.15, 0.1, 0.06],
        &[1.0, 0.6, 0.4, 0.24, 0.15, 0.1, 0.06],
    ),
    rise: 0.15,
    fall: 0.2,
    decay: 0.0,
    dulls: 0.0,
    vibrato: 0.0,
};

/// The plain voice of a role, for a small player elsewhere: what it plays at a
/// middling loudness.
#[derive(Debug, Clone, PartialEq)]
pub struct PlainTone {
    /// Loudness of the fundamental and the partials over it; 1 in all.
    pub partials: Vec<f32>,
    /// Seconds that a note takes to rise.
    pub rise: f32,
    /// Seconds that it takes to fall.
    pub fall: f32,
    /// How fast it dies away: 1 to 37 % in a second.
    pub decay: f32,
    /// Cents of vibrato to either side: it begins after 0.3 s and grows for as
    /// long, with 5.2 beats a second.
    pub vibrato: f32,
}

/// The plain voice of a role that has pitches; `program` is the line's General
/// MIDI program, from 1.
pub fn plain_tone(role: Role, program: u8) -> PlainTone {
    const MOST: usize = 12;
    let timbre = timbre(role, program);
    let mut partials: Vec<f32> = match &timbre.partials {
        Partials::Listed(soft, loud) => (0..MOST)
            .map(|at| {
                let of = |list: &[f32]| list.get(at).copied().unwrap_or(0.0);
                (of(soft) + of(loud)) / 2.0
            })
            .collect(),
        Partials::Falling(soft, loud, _) => (1..=MOST)
            .map(|number| (number as f32).powf(-(soft + loud) / 2.0))
            .collect(),
    };
    let all: f32 = partials.iter().sum();
    for partial in &mut partials {
        *partial /= all;
    }
    partials.truncate(
        partials
            .iter()
            .rposition(|one| *one > 0.0)
            .map_or(0, |at| at + 1),
    );
    PlainTone {
        partials,
        rise: timbre.rise,
        fall: timbre.fall,
        decay: timbre.decay,
        vibrato: timbre.vibrato,
    }
}

/// What a role's notes sound like; `program` is the line's General MIDI
/// program, from 1.
pub(crate) fn timbre(role: Role, program: u8) -> &'static Timbre {
    match role {
        Role::Chords => &STRUCK,
        Role::Drone => &REED_ORGAN,
        Role::Bass => &PLUCKED_BASS,
        Role::Line | Role::Drums | Role::Count | Role::Click => of_program(program),
    }
}

/// General MIDI Level 1 sound set, by its families.
fn of_program(program: u8) -> &'static Timbre {
    match program {
        33..=40 => &PLUCKED_BASS,
        17..=24 => &REED_ORGAN,
        41..=46 | 49..=56 => &BOWED,
        57..=64 => &BRASS,
        65..=68 => &SAXOPHONE,
        69..=71 => &DOUBLE_REED,
        72 => &CLARINET,
        73..=80 => &FLUTE,
        _ => &STRUCK,
    }
}
