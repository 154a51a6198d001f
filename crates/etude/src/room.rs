//! One score with everyone in it: sheets of the same key laid bar to bar, at
//! concert pitch or each in its own transposition.

use std::borrow::Cow;
use std::sync::atomic::AtomicBool;

use lesson::{Lesson, Named, Player};
use rhythm::TickError;
use score::{About, HeadLine, Score, Transposition, choose_clef, full_score};
use theory::{Instrument, Interval, PitchName, Range, RootWish, concert_root, transposition};

use crate::notate::heading::key_name;
use crate::{Composer, LeftOut, SheetPlan, plan};

/// How the parts of a room score are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RoomPitch {
    /// As they sound, but for octaves.
    Concert,
    /// Each in its own transposition.
    Transposed,
}

/// A score with everyone in it in one key.
#[derive(Debug)]
pub struct Room {
    /// The name of its file without an ending: `01-c`, by the concert root.
    pub stem: String,
    /// Its parts, of the same bars; the first one's head is the score's.
    pub parts: Vec<Score>,
}

/// Why there are no room scores.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoRooms {
    /// The lesson's rhythms need finer ticks than readers take.
    TooFine(TickError),
    /// Someone asked to stop.
    Stopped,
}

impl From<TickError> for NoRooms {
    fn from(error: TickError) -> NoRooms {
        NoRooms::TooFine(error)
    }
}

/// The room scores of a lesson: one for each key of these sheets, numbered as
/// the first player's; who is left out in a key is not in it.
///
/// # Errors
/// When the lesson's rhythms need finer ticks than readers take, or once `stop`
/// is raised.
pub fn rooms(
    lesson: &Lesson,
    plans: &[SheetPlan],
    pitch: RoomPitch,
    stop: &AtomicBool,
) -> Result<Vec<Room>, NoRooms> {
    let played: Cow<Lesson> = match pitch {
        RoomPitch::Concert => Cow::Owned(at_concert_pitch(lesson)),
        RoomPitch::Transposed => Cow::Borrowed(lesson),
    };
    let composer = Composer::new(&played)?.until(stop);
    let mut keys: Vec<(&SheetPlan, Vec<(SheetPlan, Score)>)> = Vec::new();
    for plan in plans {
        let same = |other: &&SheetPlan| other.player == plan.player && other.goes_with(plan);
        let Some(own) = composer.plans().iter().find(same) else {
            continue;
        };
        let sheet = match composer.compose(own) {
            Ok(sheet) => sheet,
            Err(LeftOut::Stopped) => return Err(NoRooms::Stopped),
            Err(LeftOut::OffTheHorn { .. } | LeftOut::NothingToPlay) => continue,
        };
        let score = (*own, sheet.score);
        match keys.iter_mut().find(|(first, _)| first.goes_with(plan)) {
            Some((_, sheets)) => sheets.push(score),
            None => keys.push((plan, vec![score])),
        }
    }
    let rooms = keys
        .into_iter()
        .map(|(first, sheets)| room(lesson, first, sheets, pitch));
    Ok(rooms.collect())
}

/// A lesson for a score at concert pitch: every horn that is written in
/// another key reads what sounds. Octave transposers stay as they are
/// (MusicXML 4.0 `concert-score`).
fn at_concert_pitch(lesson: &Lesson) -> Lesson {
    let mut concert = lesson.clone();
    for player in &mut concert.players {
        let horn = player.instrument.written_to_sounding;
        if horn.fifths() == 0 {
            continue;
        }
        player.low = player.low.map(|pitch| pitch + horn);
        player.high = player.high.map(|pitch| pitch + horn);
        player.instrument = sounding(&player.instrument);
    }
    concert
}

/// Sheets of one key as the parts of one score, by the names of who plays
/// them.
fn room(
    lesson: &Lesson,
    first: &SheetPlan,
    sheets: Vec<(SheetPlan, Score)>,
    pitch: RoomPitch,
) -> Room {
    let concert = concert_name(lesson, first);
    let players: Vec<&Player> = sheets
        .iter()
        .map(|(plan, _)| &lesson.players[plan.player])
        .collect();
    let mut parts: Vec<Score> = Vec::with_capacity(sheets.len());
    for ((plan, sheet), player) in sheets.into_iter().zip(&players) {
        let mut part = sheet;
        part.part.name = name(player);
        let horn = player.instrument.written_to_sounding;
        match pitch {
            RoomPitch::Concert if horn.fifths() != 0 => choose_clef(&mut part),
            // The name that everyone sees decides its letters.
            RoomPitch::Transposed if !plan.through_keys => {
                let letters = transposition(plan.written, concert, horn);
                part.part.transposition = Transposition::of(letters);
            }
            RoomPitch::Concert | RoomPitch::Transposed => {}
        }
        parts.push(part);
    }
    let mut parts = full_score(parts);
    if let Some(head) = parts.first_mut() {
        head.head = room_head(lesson, first, concert, &players, &head.head);
    }
    let stem = SheetPlan { concert, ..*first };
    Room {
        stem: stem.concert_stem(),
        parts,
    }
}

/// The lesson's class, who plays, the key, and what the first sheet's head
/// says of the music.
fn room_head(
    lesson: &Lesson,
    plan: &SheetPlan,
    concert: PitchName,
    players: &[&Player],
    head: &[HeadLine],
) -> Vec<HeadLine> {
    let names: Vec<String> = players.iter().map(|player| name(player)).collect();
    let class = lesson.class.iter().cloned();
    let mut lines: Vec<HeadLine> = class
        .chain([names.join(", ")])
        .map(|line| HeadLine::new(About::Player, line))
        .collect();
    if !plan.through_keys {
        let key = key_name(concert, plan::is_minor(lesson, plan), lesson);
        lines.push(HeadLine::new(About::Key, format!("Concert {key}")));
    }
    let music = |line: &&HeadLine| match line.about {
        About::Figure | About::Keys | About::Care => true,
        About::Sheet | About::Player | About::Key | About::Edition => false,
    };
    lines.extend(head.iter().filter(music).cloned());
    lines
}

/// A player's own name, else the instrument's.
fn name(player: &Player) -> String {
    let own = player.name.clone();
    own.unwrap_or_else(|| player.instrument.name.to_string())
}

/// The name of a sheet's concert root as instruments in C read it.
fn concert_name(lesson: &Lesson, plan: &SheetPlan) -> PitchName {
    let exercises = plan::exercises(lesson, plan);
    let Some(first) = exercises.first().map(|at| &lesson.exercises[*at]) else {
        return plan.concert;
    };
    let class = plan.concert.class();
    let keys = &lesson.keys;
    let typed = keys.typed(class).filter(|_| keys.named == Named::Concert);
    let over = first.kind.over().map(|over| over.key);
    let wish = RootWish {
        typed: typed.or(over.filter(|key| key.class() == class)),
        prefer: keys.prefer,
    };
    concert_root(class, &lesson.scales[first.scale].scale, wish)
}

/// An instrument that is written as it sounds, as far as its sheets go by it:
/// its clef is chosen by what it plays.
fn sounding(instrument: &Instrument) -> Instrument {
    let horn = instrument.written_to_sounding;
    let moved = |range: Range| Range {
        low: range.low + horn,
        high: range.high + horn,
    };
    Instrument {
        written_to_sounding: Interval::UNISON,
        ranges: instrument.ranges.map(moved),
        ..instrument.clone()
    }
}
