//! Everything there is to choose from, in the words of those who know it.

use lesson_text::edit::{kinds, words_of};
use serde_json::{Value as Json, json};
use theory::{Chord, Instrument, KeyOrder, Scale};

use crate::json::of_word;

pub(crate) fn choices() -> Json {
    let words = |table| -> Vec<Json> { words_of(table).iter().map(of_word).collect() };
    let kinds: Vec<Json> = kinds()
        .iter()
        .map(|(word, about, words)| {
            let words: Vec<Json> = words.iter().map(of_word).collect();
            json!({ "kind": word, "about": about, "words": words })
        })
        .collect();
    json!({
        "scales": Scale::catalogue().iter().map(scale).collect::<Vec<_>>(),
        "instruments": Instrument::catalogue().iter().map(instrument).collect::<Vec<_>>(),
        "chords": Chord::catalogue().iter().map(Chord::suffix).filter(|chord| !chord.is_empty()).collect::<Vec<_>>(),
        "orders": KeyOrder::all().iter().map(KeyOrder::words).collect::<Vec<_>>(),
        "kinds": kinds,
        "words": {
            "lesson": words(None),
            "keys": words(Some("keys")),
            "scale": words(Some("scale")),
            "figure": words(Some("figure")),
            "player": words(Some("player")),
            "track": words(Some("track")),
            "changes": words(Some("changes")),
            "section": words(Some("section")),
            "instrument": words(Some("instrument")),
        },
    })
}

fn scale(scale: &Scale) -> Json {
    let degrees: Vec<String> = scale.degrees.iter().map(|degree| degree.signs()).collect();
    json!({
        "name": scale.name,
        "says": scale.id.as_deref().unwrap_or(&scale.name).replace('-', " "),
        "aliases": scale.aliases(),
        "degrees": degrees.join(" "),
        "chord": scale.chord.as_ref().map(|chord| format!("C{}", chord.suffix())),
    })
}

fn instrument(instrument: &Instrument) -> Json {
    json!({
        "name": instrument.name,
        "says": instrument.id.replace('-', " "),
        "aliases": instrument.aliases(),
    })
}
