//! Which of a lesson's sheets are wanted: `--instrument` and `--key`.

use etude::{Composer, SheetPlan};
use lesson::{Lesson, Named, Player};
use theory::{Instrument, Level, NameError, NameFault, PitchName};

use crate::refusal::Refusal;

/// What was asked for; nothing means everything.
#[derive(Debug, Clone, Default)]
pub struct Choice {
    names: Vec<String>,
    keys: Vec<PitchName>,
}

impl Choice {
    /// From the words typed: names of players or instruments, and keys.
    ///
    /// # Errors
    /// A key that is none.
    pub fn new(names: &[String], keys: &[String]) -> Result<Choice, Refusal> {
        let key = |typed: &String| {
            typed.parse().map_err(|_| {
                Refusal::new(
                    format!("\"{typed}\" is no key"),
                    "write a letter A to G with # or b after it, as in Bb",
                )
            })
        };
        Ok(Choice {
            names: names.to_vec(),
            keys: keys.iter().map(key).collect::<Result<_, _>>()?,
        })
    }

    /// Whether nothing is left aside.
    pub fn is_everything(&self) -> bool {
        self.names.is_empty() && self.keys.is_empty()
    }

    /// The players asked for. An instrument that the lesson doesn't name
    /// joins it, at the level the lesson's players share.
    ///
    /// # Errors
    /// A name that is none.
    pub fn players(&self, lesson: &mut Lesson) -> Result<Vec<usize>, Refusal> {
        if self.names.is_empty() {
            return Ok((0..lesson.players.len()).collect());
        }
        let mut chosen = Vec::new();
        for name in &self.names {
            let mut found = playing(lesson, name);
            if found.is_empty() {
                let instrument =
                    instrument(lesson, name).map_err(|error| no_player(lesson, &error))?;
                found = playing(lesson, &instrument.id);
                if found.is_empty() {
                    found.push(lesson.players.len());
                    lesson.players.push(newcomer(lesson, instrument));
                }
            }
            chosen.extend(found);
        }
        chosen.sort_unstable();
        chosen.dedup();
        Ok(chosen)
    }

    /// The sheets asked for, in the lesson's order.
    ///
    /// # Errors
    /// A key that none of them is in.
    pub fn plans(
        &self,
        composer: &Composer<'_>,
        players: &[usize],
    ) -> Result<Vec<SheetPlan>, Refusal> {
        match self.missing(composer, players) {
            Some(key) => Err(no_key(key, composer, players)),
            None => Ok(self.wanted(composer, players)),
        }
    }

    /// The first key asked for that none of the sheets is in.
    fn missing(&self, composer: &Composer<'_>, players: &[usize]) -> Option<PitchName> {
        let has = |key: &&PitchName| {
            let mut sheets = in_a_key(composer, players);
            sheets.any(|plan| said(composer.lesson(), plan).class() == key.class())
        };
        self.keys.iter().find(|key| !has(key)).copied()
    }

    /// Those sheets asked for that there are.
    pub(crate) fn wanted(&self, composer: &Composer<'_>, players: &[usize]) -> Vec<SheetPlan> {
        let lesson = composer.lesson();
        let plans = composer.plans().iter();
        plans
            .filter(|plan| players.contains(&plan.player))
            .filter(|plan| self.keys.is_empty() || is_in(lesson, plan, &self.keys))
            .copied()
            .collect()
    }

    /// What of the choice none of a course's lessons has, as the first of them
    /// says it.
    pub(crate) fn lacking(&self, lessons: &[(Composer<'_>, Vec<usize>)]) -> Option<Refusal> {
        let lacks = |key: &&PitchName| {
            lessons.iter().all(|(composer, players)| {
                let mut sheets = in_a_key(composer, players);
                !sheets.any(|plan| said(composer.lesson(), plan).class() == key.class())
            })
        };
        let key = self.keys.iter().find(lacks)?;
        let (composer, players) = lessons.first()?;
        Some(no_key(*key, composer, players))
    }
}

/// Whether a sheet is in one of these keys, by sound, as its lesson names
/// keys; one through the keys is in none.
pub(crate) fn is_in(lesson: &Lesson, plan: &SheetPlan, keys: &[PitchName]) -> bool {
    let class = said(lesson, plan).class();
    !plan.through_keys && keys.iter().any(|key| key.class() == class)
}

fn in_a_key<'a>(
    composer: &'a Composer<'_>,
    players: &'a [usize],
) -> impl Iterator<Item = &'a SheetPlan> {
    let plans = composer.plans().iter();
    plans.filter(|plan| !plan.through_keys && players.contains(&plan.player))
}

/// The players of that name, or else all who play that instrument.
fn playing(lesson: &Lesson, name: &str) -> Vec<usize> {
    let asked = lesson::slug(name);
    let all = |same: &dyn Fn(&Player) -> bool| -> Vec<usize> {
        let players = lesson.players.iter().enumerate();
        players
            .filter(|(_, player)| same(player))
            .map(|(place, _)| place)
            .collect()
    };
    let named = all(&|player| {
        player
            .name
            .as_ref()
            .is_some_and(|own| lesson::slug(own) == asked)
    });
    if named.is_empty() {
        all(&|player| player.instrument.id == asked)
    } else {
        named
    }
}

/// An instrument of the catalogue; where a name fits several, the one that
/// the lesson has.
fn instrument(lesson: &Lesson, name: &str) -> Result<Instrument, NameError> {
    let error = match Instrument::named(name) {
        Ok(instrument) => return Ok(instrument),
        Err(error) => error,
    };
    let NameFault::Several(names) = &error.fault else {
        return Err(error);
    };
    let instruments = lesson.players.iter().map(|player| &player.instrument);
    let mut meant: Vec<&Instrument> = instruments
        .filter(|one| names.iter().any(|name| *name == one.name))
        .collect();
    meant.dedup_by_key(|one| &one.id);
    match meant[..] {
        [one] => Ok(one.clone()),
        _ => Err(error),
    }
}

fn newcomer(lesson: &Lesson, instrument: Instrument) -> Player {
    let level = match lesson.players.split_first() {
        Some((first, rest)) if rest.iter().all(|player| player.level == first.level) => first.level,
        _ => Level::default(),
    };
    Player {
        name: None,
        instrument,
        level,
        low: None,
        high: None,
        keys: None,
        copies: 1,
    }
}

/// The key as the lesson, or the player's own keys, name it.
fn said(lesson: &Lesson, plan: &SheetPlan) -> PitchName {
    let own = lesson.players[plan.player].keys.as_ref();
    match own.unwrap_or(&lesson.keys).named {
        Named::Concert => plan.concert,
        Named::Written => plan.written,
    }
}

fn no_player(lesson: &Lesson, error: &NameError) -> Refusal {
    let mut refusal = Refusal::of_name(error, "instrument", "instruments");
    let names: Vec<&str> = lesson
        .players
        .iter()
        .filter_map(|player| player.name.as_deref())
        .collect();
    if !names.is_empty() {
        let names = format!("The players of {} are {}", lesson.id, names.join(", "));
        let help = refusal.help.take().unwrap_or_default();
        refusal.help = Some(format!("{help} {names}"));
    }
    refusal
}

fn no_key(key: PitchName, composer: &Composer<'_>, players: &[usize]) -> Refusal {
    let lesson = composer.lesson();
    let mut has: Vec<String> = Vec::new();
    for plan in in_a_key(composer, players) {
        let name = said(lesson, plan).to_string();
        if !has.contains(&name) {
            has.push(name);
        }
    }
    let help = if has.is_empty() {
        "all its sheets move through the keys".to_owned()
    } else {
        format!("it has {}", has.join(", "))
    };
    Refusal::new(format!("{} has no sheet in {key}", lesson.id), help)
}
