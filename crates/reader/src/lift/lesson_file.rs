//! The lesson file of a lifted phrase.

use lesson::{Named, Phrase};
use theory::{Chord, Scale};

use crate::lift::Fit;
use crate::lift::count::Counted;
use crate::lift::fit::OnScale;
use crate::lift::horn::{Horn, Player, Sequence};
use crate::lift::moves::Moves;

/// What a line is called that no instrument has the range for.
const LINE: &str = "Lifted line";

/// The file's text.
pub(crate) fn text(
    phrase: &Phrase,
    on: &OnScale,
    fit: Fit,
    moves: &Moves,
    counted: &Counted,
    horn: &Horn,
) -> String {
    let mut text = String::new();
    let title = phrase.title.as_deref().unwrap_or("Lifted phrase");
    line(&mut text, "title", title);
    match &horn.player {
        Player::Unsaid | Player::Reaching(..) => {}
        Player::Instrument(instrument) => {
            text.push_str(&format!("instruments = [{}]\n", quoted(&instrument.id)));
        }
        Player::Line { .. } => text.push_str(&format!("instruments = [{}]\n", quoted(LINE))),
    }
    if horn.advanced {
        line(&mut text, "level", "advanced");
    }
    text.push_str("\n[keys]\n");
    line(&mut text, "order", "fourths");
    line(&mut text, "from", &on.root.to_string());
    if phrase.named == Named::Written {
        line(&mut text, "named", "written");
    }
    text.push_str(&format!("\n# {}\n[scale]\n", fits(fit)));
    match name(&on.scale) {
        Some(name) => line(&mut text, "name", &name),
        None => {
            let degrees: Vec<String> = on.scale.degrees.iter().map(ToString::to_string).collect();
            line(&mut text, "degrees", &degrees.join(" "));
        }
    }
    if let Some(chord) = chord(on) {
        line(&mut text, "chord", chord.id());
    }
    text.push_str("\n[figure]\n");
    line(&mut text, "meter", &counted.meter.to_string());
    line(&mut text, "moves", &moves.moves);
    line(&mut text, "count", &counted.count);
    if horn.sequence == Sequence::Flipped {
        line(&mut text, "flipped", &moves.flipped);
    }
    text.push_str("\n[[exercise]]\nkind = \"figure\"\n");
    if horn.sequence != Sequence::TooWide {
        text.push_str("\n[[exercise]]\nkind = \"sequence\"\n");
    }
    if horn.sequence == Sequence::AsItIs {
        line(&mut text, "coming_down", "as it is");
    }
    player(&mut text, &horn.player);
    text
}

/// How well the scale fits, as a sentence begins.
fn fits(fit: Fit) -> String {
    let said = fit.to_string();
    let mut letters = said.chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase());
    first.into_iter().chain(letters).chain(['.']).collect()
}

/// A player whose range is said.
fn player(text: &mut String, player: &Player) {
    match player {
        Player::Unsaid | Player::Instrument(_) => {}
        Player::Reaching(instrument, range) => {
            text.push_str("\n[[player]]\n");
            line(text, "instrument", &instrument.id);
            line(text, "low", &range.low.to_string());
            line(text, "high", &range.high.to_string());
        }
        Player::Line { is_low, range } => {
            text.push_str("\n[[instrument]]\n");
            line(text, "name", LINE);
            line(text, "clef", if *is_low { "bass" } else { "treble" });
            line(text, "range", &format!("{} to {}", range.low, range.high));
        }
    }
}

/// The name that finds this very scale.
fn name(scale: &Scale) -> Option<String> {
    let id = scale.id.as_deref()?;
    let names = [
        scale.name.to_lowercase(),
        id.replace('-', " "),
        id.to_owned(),
    ];
    names
        .into_iter()
        .find(|name| Scale::named(name).is_ok_and(|found| found.id.as_deref() == Some(id)))
}

/// The chord over the phrase, where the scale wouldn't show it by itself.
fn chord(on: &OnScale) -> Option<&Chord> {
    let symbol = on.chord.as_ref()?;
    let own = symbol.root == on.root && symbol.bass.is_none();
    Some(&symbol.chord).filter(|chord| own && on.scale.chord.as_ref() != Some(chord))
}

fn line(text: &mut String, key: &str, value: &str) {
    text.push_str(&format!("{key} = {}\n", quoted(value)));
}

/// A text as TOML writes it.
fn quoted(value: &str) -> String {
    let mut quoted = "\"".to_owned();
    for letter in value.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            letter if letter.is_control() => quoted.push(' '),
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}
