//! What a player is called on the page.

use lesson::Player;

/// A player's name, or the instrument's.
pub(crate) fn called(player: &Player) -> String {
    match &player.name {
        Some(name) => format!("{name} ({})", player.instrument.name),
        None => player.instrument.name.to_string(),
    }
}
