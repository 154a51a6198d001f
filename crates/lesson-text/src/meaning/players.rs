//! For whom an exercise is: `for = ["beginner", "Window stand"]`.

use lesson::Player;
use theory::Instrument;

use crate::language::choice::folded;
use crate::language::words;
use crate::meaning::setting::Setting;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Unclear};
use crate::mistakes::suggestion::{listed, nearest, shown};
use crate::mistakes::text::Text;

/// The players meant, by their numbers in the lesson; none where all are.
pub(crate) fn meant_for(
    said: &Saying<Vec<Text>>,
    setting: &Setting<'_>,
    report: &mut Report<'_>,
) -> Result<Option<Vec<usize>>, Unclear> {
    let texts = match said {
        Saying::Unsaid => return Ok(None),
        Saying::Unclear => return Err(Unclear),
        Saying::Said(said) => &said.value,
    };
    let players = setting.players.ok_or(Unclear)?;
    let own = setting.own.unwrap_or(players);
    let before = report.count();
    let mut meant: Vec<usize> = Vec::new();
    for text in texts {
        let found = found(&text.value, players);
        // A course may have others than those for whom it is in the lesson.
        if found.is_empty() && self::found(&text.value, own).is_empty() {
            let message = format!("nobody in this lesson is {}", shown(&text.value));
            report.mistake(&text.span, message, help(&text.value, players));
        }
        meant.extend(found);
    }
    meant.sort_unstable();
    meant.dedup();
    if report.count() > before {
        return Err(Unclear);
    }
    Ok(Some(meant))
}

/// Players of that level, of that name, or who play that instrument.
fn found(typed: &str, players: &[Player]) -> Vec<usize> {
    let typed = folded(typed);
    let level = words::LEVELS.iter().find(|(word, _)| *word == typed);
    let instrument = Instrument::named(&typed).ok();
    let is_meant = |player: &Player| {
        let named = |name: &str| folded(name) == typed;
        level.is_some_and(|(_, level)| player.level == *level)
            || player.name.as_deref().is_some_and(named)
            || named(&player.instrument.name)
            || instrument
                .as_ref()
                .is_some_and(|one| one.id == player.instrument.id)
    };
    let places = players.iter().enumerate();
    let meant = places.filter(|(_, player)| is_meant(player));
    meant.map(|(at, _)| at).collect()
}

fn help(typed: &str, players: &[Player]) -> String {
    let mut known: Vec<&str> = Vec::new();
    for player in players {
        let level = words::LEVELS
            .iter()
            .find(|(_, level)| *level == player.level);
        let own = [
            level.map(|(word, _)| *word),
            player.name.as_deref(),
            Some(&*player.instrument.name),
        ];
        for word in own.into_iter().flatten() {
            if !known.contains(&word) {
                known.push(word);
            }
        }
    }
    match nearest(typed, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => {
            let quoted: Vec<String> = known.iter().map(|word| format!("\"{word}\"")).collect();
            format!("it may be for {}", listed(&quoted, "or"))
        }
    }
}
