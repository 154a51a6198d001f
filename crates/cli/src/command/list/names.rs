//! The names of the catalogues, as a shell completes them.

use theory::{Instrument, Scale};

/// Ids of instruments.
pub fn instruments() -> Vec<String> {
    let all = Instrument::catalogue().into_iter();
    all.map(|instrument| instrument.id.to_string()).collect()
}

/// Ids of scales.
pub fn scales() -> Vec<String> {
    let id = |scale: Scale| scale.id.as_deref().unwrap_or(&scale.name).to_owned();
    Scale::catalogue().into_iter().map(id).collect()
}

/// The names of the twelve keys and the other names of five.
pub fn keys() -> Vec<String> {
    let names = "C Db D Eb E F Gb G Ab A Bb B C# D# F# G# A#";
    names.split(' ').map(str::to_owned).collect()
}
