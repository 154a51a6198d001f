//! Which sheets a lesson makes: every player in every key, then one sheet for
//! what moves through the keys; the roots named by rule 1.

use lesson::{Exercise, Keys, KindName, Lesson, Named, Player};
use theory::{Interval, PitchName, Root, RootWish, Scale};

/// One sheet to be made: a player in a key, or a player through the keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetPlan {
    /// Which player of the lesson.
    pub player: usize,
    /// Place of the key in the lesson's order, from 1; gaps stay where a
    /// player leaves keys out. A sheet through the keys comes after those.
    pub number: u16,
    /// Whether the sheet moves through the keys.
    pub through_keys: bool,
    /// The concert root; through the keys, the first one's.
    pub concert: PitchName,
    /// The written root; through the keys, the first one's.
    pub written: PitchName,
    /// Written to sounding, with the letters that the two names give; through
    /// the keys, the instrument's own.
    pub written_to_sounding: Interval,
}

impl SheetPlan {
    /// The name of its file without an ending: `03-bb`, `13-through-keys`.
    pub fn stem(&self) -> String {
        self.stem_on(self.written)
    }

    /// The same by the concert root, for what several horns share.
    pub fn concert_stem(&self) -> String {
        self.stem_on(self.concert)
    }

    /// Whether two sheets are of the same sounding key, or both move through
    /// the keys.
    pub fn goes_with(&self, other: &SheetPlan) -> bool {
        self.through_keys == other.through_keys
            && (self.through_keys || self.concert.class() == other.concert.class())
    }

    fn stem_on(&self, root: PitchName) -> String {
        let key = if self.through_keys {
            "through-keys".to_owned()
        } else {
            root.slug()
        };
        format!("{:02}-{key}", self.number)
    }
}

/// Every sheet, player by player, keys in order: the lesson's (or the
/// player's own), then those that only an exercise asks for, then the sheet
/// through the keys.
pub(crate) fn plans(lesson: &Lesson) -> Vec<SheetPlan> {
    let mut plans = Vec::new();
    for at in 0..lesson.players.len() {
        let (mut own, keys) = in_keys(lesson, at);
        own.extend(through_keys(lesson, at, keys));
        // A player for whom nothing is has one plan, to be told of.
        let (played, empty): (Vec<SheetPlan>, Vec<SheetPlan>) = own
            .into_iter()
            .partition(|plan| !exercises(lesson, plan).is_empty());
        if played.is_empty() {
            plans.extend(empty.into_iter().take(1));
        }
        plans.extend(played);
    }
    plans
}

/// The exercises that have a sheet for each key.
fn keyed(lesson: &Lesson) -> impl Iterator<Item = &Exercise> + Clone {
    let exercises = lesson.exercises.iter();
    exercises.filter(|exercise| exercise.kind.name() != KindName::Keys)
}

/// A player's sheets in one key each, and how many keys are numbered.
fn in_keys(lesson: &Lesson, at: usize) -> (Vec<SheetPlan>, u16) {
    let player = &lesson.players[at];
    let order = sounding(&lesson.keys, player);
    let own = player
        .keys
        .as_ref()
        .map_or_else(|| order.clone(), |keys| sounding(keys, player));
    let added = keyed(lesson).filter_map(|exercise| exercise.keys.as_ref());
    let added = added.flat_map(|keys| sounding(keys, player));
    let mut numbered = order;
    for class in own.iter().copied().chain(added.clone()) {
        if !numbered.contains(&class) {
            numbered.push(class);
        }
    }
    let mut wanted = own;
    for class in added {
        if !wanted.contains(&class) {
            wanted.push(class);
        }
    }
    let mut plans = Vec::new();
    for class in wanted {
        let number = numbered
            .iter()
            .position(|one| *one == class)
            .map_or(0, |place| place as u16 + 1);
        let plays = |exercise: &&Exercise| is_in(lesson, exercise, player, class);
        if let Some(first) = keyed(lesson).find(plays) {
            let scale = &lesson.scales[first.scale].scale;
            let keys = player.keys.as_ref().unwrap_or(&lesson.keys);
            // The key that changes were typed in names itself.
            let typed = first.kind.over().map(|over| over.key);
            let root = named(keys, player, class, scale, typed);
            let horn = player.instrument.written_to_sounding;
            plans.push(SheetPlan {
                player: at,
                number,
                through_keys: false,
                concert: root.concert,
                written: root.written,
                written_to_sounding: root.written_to_sounding(horn),
            });
        }
    }
    (plans, numbered.len() as u16)
}

/// A player's sheet through the keys, which comes after those of so many.
fn through_keys(lesson: &Lesson, at: usize, keys: u16) -> Option<SheetPlan> {
    let player = &lesson.players[at];
    let exercise = lesson
        .exercises
        .iter()
        .find(|exercise| exercise.kind.name() == KindName::Keys)?;
    let roots = roots_through(lesson, exercise, player);
    let Root { concert, written } = roots.first().copied()?;
    let before = keyed(lesson).next().map_or(0, |_| keys);
    Some(SheetPlan {
        player: at,
        number: before + 1,
        through_keys: true,
        concert,
        written,
        written_to_sounding: player.instrument.written_to_sounding,
    })
}

/// The exercises of a sheet, as places in the lesson: those that are for its
/// player.
pub(crate) fn exercises(lesson: &Lesson, plan: &SheetPlan) -> Vec<usize> {
    let mut exercises = for_anyone(lesson, plan);
    exercises.retain(|at| is_for(&lesson.exercises[*at], plan.player));
    exercises
}

pub(crate) fn is_for(exercise: &Exercise, player: usize) -> bool {
    let only = exercise.only_for.as_ref();
    only.is_none_or(|players| players.contains(&player))
}

/// The exercises that some player has on such a sheet, in whose order they
/// have their letters.
pub(crate) fn for_anyone(lesson: &Lesson, plan: &SheetPlan) -> Vec<usize> {
    let player = &lesson.players[plan.player];
    let class = plan.concert.class();
    let all = lesson.exercises.iter().enumerate();
    all.filter(|(_, exercise)| {
        let through_keys = exercise.kind.name() == KindName::Keys;
        through_keys == plan.through_keys
            && (through_keys || is_in(lesson, exercise, player, class))
    })
    .map(|(at, _)| at)
    .collect()
}

/// Whether the key of a sheet is called minor: its first exercise's scale says
/// so, over changes that of their key.
pub(crate) fn is_minor(lesson: &Lesson, plan: &SheetPlan) -> bool {
    let first = for_anyone(lesson, plan).first().copied();
    first.is_some_and(|at| {
        let scale = lesson.exercises[at].scale;
        lesson.scales[scale].scale.says_minor()
    })
}

/// The roots that an exercise is played on, in order: the sheet's, or all that
/// it moves through.
pub(crate) fn roots(lesson: &Lesson, exercise: &Exercise, plan: &SheetPlan) -> Vec<Root> {
    if plan.through_keys {
        return roots_through(lesson, exercise, &lesson.players[plan.player]);
    }
    vec![Root {
        concert: plan.concert,
        written: plan.written,
    }]
}

/// The keys an exercise is played in: its own, the player's, or the lesson's.
pub(crate) fn keys<'a>(lesson: &'a Lesson, exercise: &'a Exercise, player: &'a Player) -> &'a Keys {
    exercise
        .keys
        .as_ref()
        .or(player.keys.as_ref())
        .unwrap_or(&lesson.keys)
}

fn roots_through(lesson: &Lesson, exercise: &Exercise, player: &Player) -> Vec<Root> {
    let keys = keys(lesson, exercise, player);
    let scale = &lesson.scales[exercise.scale].scale;
    let classes = sounding(keys, player).into_iter();
    classes
        .map(|class| named(keys, player, class, scale, None))
        .collect()
}

/// Whether an exercise is played in a key: one with keys of its own only in
/// those, any other in the player's.
fn is_in(lesson: &Lesson, exercise: &Exercise, player: &Player, class: u8) -> bool {
    sounding(keys(lesson, exercise, player), player).contains(&class)
}

/// The sounding pitch classes of keys for a player, in order.
fn sounding(keys: &Keys, player: &Player) -> Vec<u8> {
    let down = match keys.named {
        Named::Concert => 0,
        Named::Written => player.instrument.written_to_sounding.semitones(),
    };
    let to_sound = |class: u8| (i16::from(class) + down).rem_euclid(12) as u8;
    keys.classes().into_iter().map(to_sound).collect()
}

/// A key's names by rule 1; `typed` is one more name that the teacher typed.
fn named(keys: &Keys, player: &Player, class: u8, scale: &Scale, typed: Option<PitchName>) -> Root {
    let horn = player.instrument.written_to_sounding;
    let wish = |class| RootWish {
        typed: keys
            .typed(class)
            .or(typed.filter(|name| name.class() == class)),
        prefer: keys.prefer,
    };
    match keys.named {
        Named::Concert => Root::sounding(class, horn, scale, wish(class)),
        // The same written names for everyone, whatever the horn.
        Named::Written => {
            let up = (i16::from(class) - horn.semitones()).rem_euclid(12) as u8;
            Root::written(up, horn, scale, wish(up))
        }
    }
}
