//! Which sheets a lesson makes: every player in every key, the roots named by
//! rule 1.

use lesson::{Exercise, Keys, Lesson, Named, Player};
use theory::{Interval, PitchName, Scale, concert_root, transposition, written_root};

/// One sheet to be made: a player in a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetPlan {
    /// Which player of the lesson.
    pub player: usize,
    /// Place of the key in the lesson's order, from 1; gaps stay where a
    /// player leaves keys out.
    pub number: u16,
    /// The concert root.
    pub concert: PitchName,
    /// The written root.
    pub written: PitchName,
    /// Written to sounding, with the letters that the two names give.
    pub written_to_sounding: Interval,
}

/// Every sheet, player by player, keys in order: the lesson's (or the
/// player's own), then those that only an exercise asks for.
pub(crate) fn plans(lesson: &Lesson) -> Vec<SheetPlan> {
    let mut plans = Vec::new();
    for (at, player) in lesson.players.iter().enumerate() {
        let order = sounding(&lesson.keys, player);
        let own = player
            .keys
            .as_ref()
            .map_or_else(|| order.clone(), |keys| sounding(keys, player));
        let added = lesson
            .exercises
            .iter()
            .filter_map(|exercise| exercise.keys.as_ref());
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
        for class in wanted {
            let number = numbered
                .iter()
                .position(|one| *one == class)
                .map_or(0, |place| place as u16 + 1);
            let plays = |exercise: &&Exercise| is_in(lesson, exercise, player, class);
            if let Some(first) = lesson.exercises.iter().find(plays) {
                let scale = &lesson.scales[first.scale].scale;
                let keys = player.keys.as_ref().unwrap_or(&lesson.keys);
                plans.push(named(keys, player, class, scale, at, number));
            }
        }
    }
    plans
}

/// The exercises of a sheet, as places in the lesson.
pub(crate) fn exercises(lesson: &Lesson, plan: &SheetPlan) -> Vec<usize> {
    let player = &lesson.players[plan.player];
    let class = plan.concert.class();
    let all = lesson.exercises.iter().enumerate();
    all.filter(|(_, exercise)| is_in(lesson, exercise, player, class))
        .map(|(at, _)| at)
        .collect()
}

/// Whether an exercise is played in a key: one with keys of its own only in
/// those, any other in the player's.
fn is_in(lesson: &Lesson, exercise: &Exercise, player: &Player, class: u8) -> bool {
    let keys = exercise
        .keys
        .as_ref()
        .or(player.keys.as_ref())
        .unwrap_or(&lesson.keys);
    sounding(keys, player).contains(&class)
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

fn named(
    keys: &Keys,
    player: &Player,
    class: u8,
    scale: &Scale,
    at: usize,
    number: u16,
) -> SheetPlan {
    let horn = player.instrument.written_to_sounding;
    let prefer = keys.prefer;
    let concert = concert_root(class, scale, prefer);
    let written = match keys.named {
        Named::Concert => written_root(concert, horn, scale, prefer),
        // The same written names for everyone, whatever the horn.
        Named::Written => {
            let up = i16::from(class) - horn.semitones();
            concert_root(up.rem_euclid(12) as u8, scale, prefer)
        }
    };
    SheetPlan {
        player: at,
        number,
        concert,
        written,
        written_to_sounding: transposition(written, concert, horn),
    }
}
