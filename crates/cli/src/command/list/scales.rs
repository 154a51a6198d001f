//! The scales there are, and one of them in every key.

use std::io::{self, Write};

use serde::Serialize;
use theory::{Form, RootWish, Scale, SpellingStyle, concert_root, spell_scale};

use super::listing::{Listing, words};

#[derive(Serialize)]
struct ScaleItem {
    id: String,
    name: String,
    degrees: Vec<String>,
    descending: Option<Vec<String>>,
    chord: Option<String>,
    aliases: Vec<&'static str>,
}

/// Every scale, or those with so many notes.
pub fn scales(notes: Option<usize>) -> Listing<4, impl Serialize> {
    let row = |scale: Scale| {
        let item = ScaleItem {
            id: scale.id.as_deref().unwrap_or(&scale.name).to_owned(),
            name: scale.name.to_string(),
            degrees: words(&scale.degrees),
            descending: scale.descending.as_deref().map(words),
            chord: scale.chord.as_ref().map(|chord| chord.suffix().to_owned()),
            aliases: scale.aliases(),
        };
        let down = item
            .descending
            .as_ref()
            .map(|down| format!(", down {}", down.join(" ")))
            .unwrap_or_default();
        let chord = item
            .chord
            .as_ref()
            .map(|chord| format!("C{chord}"))
            .unwrap_or_default();
        let cells = [
            item.id.clone(),
            item.degrees.join(" ") + &down,
            chord,
            item.aliases.join(", "),
        ];
        (cells, item)
    };
    Listing {
        heading: ["id", "degrees", "chord", "also called"],
        rows: Scale::catalogue()
            .into_iter()
            .filter(|scale| notes.is_none_or(|notes| scale.degrees.len() == notes))
            .map(row)
            .collect(),
    }
}

/// One scale in a key.
#[derive(Serialize)]
struct InKey {
    key: String,
    notes: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    coming_down: Option<Vec<String>>,
}

/// A scale's degrees, and its notes on each of the twelve roots, as sheets
/// print them.
pub fn in_every_key(scale: &Scale) -> Listing<2, impl Serialize> {
    let names = |root, form| -> Vec<String> {
        let names = spell_scale(root, scale, form, SpellingStyle::Readable);
        names.iter().map(ToString::to_string).collect()
    };
    let row = |class: u8| {
        let root = concert_root(class, scale, RootWish::default());
        let falls = scale.descending.is_some();
        let item = InKey {
            key: root.to_string(),
            notes: names(root, Form::Rising),
            coming_down: falls.then(|| names(root, Form::Falling)),
        };
        let down = item.coming_down.as_ref();
        let down = down.map_or(String::new(), |down| format!(", down {}", down.join(" ")));
        ([item.key.clone(), item.notes.join(" ") + &down], item)
    };
    Listing {
        heading: ["key", "notes"],
        rows: (0..12).map(row).collect(),
    }
}

/// What stands over those twelve.
pub fn head(scale: &Scale, out: &mut impl Write) -> io::Result<()> {
    let down = scale.descending.as_deref().map(words);
    let down = down.map_or(String::new(), |down| format!(", down {}", down.join(" ")));
    writeln!(
        out,
        "{}: {}{down}",
        scale.name,
        words(&scale.degrees).join(" ")
    )
}
