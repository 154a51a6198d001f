//! Who plays: `instruments`, or a `[[player]]` each.

use std::ops::Range;

use lesson::{Keys, Player, slug};
use theory::{Instrument, Level, Pitch};

use crate::language::known_table;
use crate::language::words;
use crate::limit;
use crate::mistakes::name_fault::name_fault;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::{nearest, shown};
use crate::mistakes::text::Text;
use crate::tables::tree::Table;
use crate::tables::value::{as_texts, page_text};
use crate::tables::walk::{Walk, tables};
use crate::typed::keys::{KeysText, keys};
use crate::typed::own_instrument::{OwnInstrument, own_instruments};

/// The instrument of a lesson that names none.
const UNSAID: &str = "concert-treble";

/// One who plays, as the lesson says it.
#[derive(Debug)]
pub(crate) struct PlayerText {
    span: Range<usize>,
    name: Saying<String>,
    instrument: Saying<Instrument>,
    level: Saying<Level>,
    low: Saying<Pitch>,
    high: Saying<Pitch>,
    keys: Saying<KeysText>,
    copies: Saying<i64>,
}

/// Reads `instruments` and `[[player]]`; `None` where it isn't clear who
/// plays.
pub(crate) fn players(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Vec<PlayerText>> {
    if walk.has("instruments") && walk.has("player") {
        let help = "keep the list, or say a [[player]] for each";
        report.mistake(
            &walk.key_span("instruments"),
            "instruments and [[player]] both say who plays",
            help,
        );
    }
    let own = own_instruments(walk, report);
    let own = own.as_deref();
    let instruments = walk.read("instruments", |node| {
        let names = as_texts("instruments", node, limit::PLAYERS, report)?;
        if names.is_empty() {
            let help = "write names in the brackets, or leave the line out";
            report.mistake(&node.span, "no instrument is given", help);
            return None;
        }
        Some(
            names
                .into_iter()
                .map(|name| plain(name, own, report))
                .collect::<Vec<_>>(),
        )
    });
    let said = tables(walk, "player", limit::PLAYERS, report).and_then(|tables| {
        Some(
            tables
                .value
                .into_iter()
                .map(|table| read(table, own, report))
                .collect::<Vec<_>>(),
        )
    });
    let players = match (instruments, said) {
        (Saying::Unsaid, Saying::Unsaid) => return Some(Vec::new()),
        (Saying::Said(players), Saying::Unsaid) | (Saying::Unsaid, Saying::Said(players)) => {
            players.value
        }
        (instruments, said) => {
            for players in [instruments.said(), said.said()].into_iter().flatten() {
                told_apart(&players.value, report);
            }
            return None;
        }
    };
    told_apart(&players, report);
    Some(players)
}

/// The players meant; `level` and `rest` are the lesson's.
pub(crate) fn resolve(
    texts: &[PlayerText],
    level: Option<Level>,
    rest: Option<&Keys>,
    report: &mut Report<'_>,
) -> Option<Vec<Player>> {
    if texts.is_empty() {
        let instrument = Instrument::named(UNSAID).ok()?;
        let player = Player {
            name: None,
            instrument,
            level: level?,
            low: None,
            high: None,
            keys: None,
            copies: 1,
        };
        return Some(vec![player]);
    }
    let players: Vec<Player> = texts
        .iter()
        .filter_map(|text| text.player(level, rest, report))
        .collect();
    (players.len() == texts.len()).then_some(players)
}

fn plain(name: Text, own: Option<&[OwnInstrument]>, report: &mut Report<'_>) -> PlayerText {
    PlayerText {
        span: name.span.clone(),
        name: Saying::Unsaid,
        instrument: Saying::Said(name).and_then(|text| instrument(&text, own, report)),
        level: Saying::Unsaid,
        low: Saying::Unsaid,
        high: Saying::Unsaid,
        keys: Saying::Unsaid,
        copies: Saying::Unsaid,
    }
}

fn read(table: &Table, own: Option<&[OwnInstrument]>, report: &mut Report<'_>) -> PlayerText {
    let walk = Walk::open(table, known_table::PLAYER, report);
    if walk.lacks("instrument") {
        let help = "write instrument = \"alto saxophone\" below it";
        report.missing(&table.span, "this player has no instrument", help);
    }
    PlayerText {
        span: table.span.clone(),
        name: walk
            .text("name", report)
            .and_then(|text| name(&text, report)),
        instrument: walk
            .text("instrument", report)
            .and_then(|text| instrument(&text, own, report)),
        level: walk.word("level", words::LEVELS, report),
        low: walk
            .text("low", report)
            .and_then(|text| pitch("low", &text, report)),
        high: walk
            .text("high", report)
            .and_then(|text| pitch("high", &text, report)),
        keys: keys(&walk, report),
        copies: walk.number("copies", report),
    }
}

fn name(text: &Text, report: &mut Report<'_>) -> Option<String> {
    let name = page_text("name", text, report)?;
    if slug(&name).is_empty() {
        let help = "give the name a letter or a digit: the player's folder is called after it";
        report.mistake(
            &text.span,
            format!("{} can't name a folder", shown(&name)),
            help,
        );
        return None;
    }
    Some(name)
}

/// One of the lesson's own, or of the catalogue; where it is unclear what the
/// lesson's own are called, a stranger may be one of them.
fn instrument(
    text: &Text,
    own: Option<&[OwnInstrument]>,
    report: &mut Report<'_>,
) -> Option<Instrument> {
    let unclear = own.is_none_or(|own| own.iter().any(|one| one.name.said().is_none()));
    let own = own.unwrap_or_default();
    if let Some(found) = own.iter().find(|one| one.is_called(&text.value)) {
        return found.instrument.clone();
    }
    match Instrument::named(text.value.trim()) {
        Ok(instrument) => Some(instrument),
        Err(_) if unclear => None,
        Err(error) => {
            let mut mistake = name_fault(&text.span, &error, "instrument", "instruments");
            let names = own.iter().filter_map(|one| one.name.said());
            let near = nearest(&text.value, names.map(|name| name.value.as_str()));
            if let Some(near) = near {
                mistake.help = format!("did you mean \"{near}\"?");
            }
            report.note(mistake);
            None
        }
    }
}

fn pitch(key: &str, text: &Text, report: &mut Report<'_>) -> Option<Pitch> {
    let pitch = text.value.trim().parse::<Pitch>().ok();
    if pitch.is_none() {
        let help = "write the written note with its octave: Bb3, F#5 (middle C is C4)";
        report.mistake(
            &text.span,
            format!("{key} is no note: {}", shown(&text.value)),
            help,
        );
    }
    pitch
}

/// No two share a folder.
fn told_apart(players: &[PlayerText], report: &mut Report<'_>) {
    let mut taken: Vec<String> = Vec::new();
    for player in players {
        let (folder, span, help) = match (&player.name, player.instrument.said()) {
            (Saying::Said(name), _) => (
                slug(&name.value),
                &name.span,
                "give this player another name",
            ),
            (Saying::Unsaid, Some(instrument)) => {
                let help = "leave it out, or give each [[player]] a name";
                (instrument.value.id.to_string(), &instrument.span, help)
            }
            _ => continue,
        };
        if taken.contains(&folder) {
            report.mistake(span, format!("{folder} is there already"), help);
        } else {
            taken.push(folder);
        }
    }
}

impl PlayerText {
    /// The player's own name, where it is clear.
    pub(crate) fn name(&self) -> Option<&Spanned<String>> {
        self.name.said()
    }

    fn player(
        &self,
        level: Option<Level>,
        rest: Option<&Keys>,
        report: &mut Report<'_>,
    ) -> Option<Player> {
        let level = match &self.level {
            Saying::Unsaid => level,
            said => said.said().map(|said| said.value),
        };
        if let Saying::Said(instrument) = &self.instrument {
            self.check_range(&instrument.value, level, report);
        } else if self.instrument.is_unsaid() {
            return None;
        }
        let keys = match &self.keys {
            Saying::Unsaid => None,
            said => Some(said.said()?.value.keys(rest?)),
        };
        Some(Player {
            name: self.name.maybe().ok()?,
            instrument: self.instrument.said()?.value.clone(),
            level: level?,
            low: self.low.maybe().ok()?,
            high: self.high.maybe().ok()?,
            keys,
            copies: u16::try_from(self.copies.or(1)?).ok()?,
        })
    }

    /// Own bounds lie on the horn and in order.
    fn check_range(&self, instrument: &Instrument, level: Option<Level>, report: &mut Report<'_>) {
        let extreme = instrument.extreme;
        let mut off = false;
        for (key, bound) in [("low", &self.low), ("high", &self.high)] {
            if let Some(Spanned { value, span }) =
                bound.said().filter(|said| !extreme.holds(said.value))
            {
                off = true;
                let help = format!(
                    "written notes of {} go from {} to {}",
                    instrument.name, extreme.low, extreme.high
                );
                report.mistake(span, format!("{key} = {value} is off the horn"), help);
            }
        }
        let unclear = |bound: &Saying<Pitch>| matches!(bound, Saying::Unclear);
        let (Some(level), false) = (level, off || unclear(&self.low) || unclear(&self.high)) else {
            return;
        };
        let range = instrument.range(level);
        let low = self.low.said().map_or(range.low, |said| said.value);
        let high = self.high.said().map_or(range.high, |said| said.value);
        if low.midi() > high.midi() {
            let span = self
                .low
                .said()
                .or(self.high.said())
                .map_or(&self.span, |said| &said.span);
            let help = match (self.low.said(), self.high.said()) {
                (Some(_), Some(_)) => {
                    "low is the lowest written note, high the highest: change them about".to_owned()
                }
                (None, _) => format!(
                    "say low too: {} begins at {low} for this level",
                    instrument.name
                ),
                (_, None) => format!(
                    "say high too: {} ends at {high} for this level",
                    instrument.name
                ),
            };
            report.mistake(span, format!("no note lies between {low} and {high}"), help);
        }
    }
}
