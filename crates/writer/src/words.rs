//! The standard's words for values, signs and beams (MusicXML 4.0
//! `note-type-value`, `accidental-value`, `beam-value`).

use rhythm::{Beam, ValueKind};
use theory::Letter;

/// `note-type-value`.
pub(crate) const fn value_kind(kind: ValueKind) -> &'static str {
    match kind {
        ValueKind::SixtyFourth => "64th",
        ValueKind::ThirtySecond => "32nd",
        ValueKind::Sixteenth => "16th",
        ValueKind::Eighth => "eighth",
        ValueKind::Quarter => "quarter",
        ValueKind::Half => "half",
        ValueKind::Whole => "whole",
        ValueKind::Breve => "breve",
    }
}

/// `accidental-value` of an alteration; none past the triple signs, which is
/// as far as the standard goes.
pub(crate) const fn accidental(alteration: i16) -> Option<&'static str> {
    match alteration {
        0 => Some("natural"),
        1 => Some("sharp"),
        -1 => Some("flat"),
        2 => Some("double-sharp"),
        -2 => Some("flat-flat"),
        3 => Some("triple-sharp"),
        -3 => Some("triple-flat"),
        _ => None,
    }
}

/// `beam-value`.
pub(crate) const fn beam(beam: Beam) -> &'static str {
    match beam {
        Beam::Begin => "begin",
        Beam::Continue => "continue",
        Beam::End => "end",
        Beam::ForwardHook => "forward hook",
        Beam::BackwardHook => "backward hook",
    }
}

/// `step`.
pub(crate) const fn step(letter: Letter) -> &'static str {
    match letter {
        Letter::C => "C",
        Letter::D => "D",
        Letter::E => "E",
        Letter::F => "F",
        Letter::G => "G",
        Letter::A => "A",
        Letter::B => "B",
    }
}
