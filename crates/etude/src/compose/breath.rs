//! Where a player breathes: at the ends of statements where no rest follows,
//! as far apart as one breath reaches at the slowest tempo.

use lesson::{Breath, Tempo};
use rhythm::{Event, Meter, Ticks};
use theory::Level;

use crate::ticks::ticks;

/// How long players of a level play on one breath, in seconds (common
/// practice: phrases of two slow bars for beginners, of four for others).
const fn seconds(level: Level) -> i64 {
    match level {
        Level::Beginner => 6,
        Level::Intermediate => 9,
        Level::Advanced => 12,
    }
}

/// Beats a minute where no tempo is said: slow practice.
const UNSAID: u16 = 60;

/// What a breath becomes, and how many ticks it lasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Breathing {
    pub how: Breath,
    pub lasts: Ticks,
}

impl Breathing {
    pub fn of(
        how: Breath,
        level: Level,
        tempo: Option<Tempo>,
        meter: &Meter,
        per_quarter: u32,
    ) -> Breathing {
        let beats = i64::from(tempo.map_or(UNSAID, Tempo::slowest));
        let minutely = beats * ticks(meter.beat(), per_quarter);
        Breathing {
            how,
            lasts: seconds(level) * minutely / 60,
        }
    }

    /// Takes breaths after notes where it may; the notes after which a mark
    /// stands, where none gives a rest.
    pub fn take(self, notes: &mut [Event], may: &[usize], per_quarter: u32) -> Vec<usize> {
        if self.how == Breath::None {
            return Vec::new();
        }
        let mut marked = places(notes, may, self.lasts);
        marked.retain(|at| {
            let gives = self.how == Breath::Rest && give_rest(&mut notes[*at], per_quarter);
            !gives
        });
        marked
    }
}

/// The notes after which a breath is wanted, of those where it may be taken
/// (in order): each as late as one breath allows. A rest of any length is a
/// breath already.
fn places(notes: &[Event], may: &[usize], lasts: Ticks) -> Vec<usize> {
    let mut taken = Vec::new();
    let mut since = notes.first().map_or(0, |note| note.onset);
    let mut waiting: Option<usize> = None;
    for (at, note) in notes.iter().enumerate() {
        let end = note.onset + note.length;
        let next = notes.get(at + 1).map(|next| next.onset);
        let follows_on = next == Some(end);
        let is_chance = follows_on && may.binary_search(&at).is_ok();
        if !is_chance && follows_on {
            continue;
        }
        if end - since > lasts
            && let Some(before) = waiting.take()
        {
            taken.push(before);
            since = notes[before].onset + notes[before].length;
        }
        if is_chance {
            waiting = Some(at);
        } else {
            waiting = None;
            since = next.unwrap_or(end);
        }
    }
    taken
}

/// Takes an eighth rest from a note's end; false where the note is too short,
/// or doesn't end on an eighth.
fn give_rest(note: &mut Event, per_quarter: u32) -> bool {
    let eighth = Ticks::from(per_quarter) / 2;
    let whole = |time: Ticks| eighth > 0 && time.rem_euclid(eighth) == 0;
    let gives = note.length > eighth && whole(note.length) && whole(note.onset);
    if gives {
        note.length -= eighth;
    }
    gives
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Notes as lengths in ticks, `-` before a rest of that length, `.` after
    /// the last note of a statement; `,` where a breath is expected.
    fn check(line: &str, lasts: Ticks) {
        let (mut notes, mut may, mut expected) = (Vec::new(), Vec::new(), Vec::new());
        let mut at = 0;
        for word in line.split(' ') {
            let number: Ticks = word.trim_matches(['-', '.', ',']).parse().unwrap();
            if !word.starts_with('-') {
                if word.contains('.') {
                    may.push(notes.len());
                }
                if word.contains(',') {
                    expected.push(notes.len());
                }
                notes.push(Event {
                    onset: at,
                    length: number,
                });
            }
            at += number;
        }
        assert_eq!(places(&notes, &may, lasts), expected, "{line}, {lasts}");
    }

    #[test]
    fn breaths_are_as_far_apart_as_one_reaches() {
        check("4 4. 4 4. 4 4.", 24);
        check("4 4. 4 4., 4 4. 4 4.", 16);
        check("4 4. 4 4., 4 4. 4 4., 4 4.", 20);
        check("4 4., 4 4., 4 4.", 8);
        // A statement longer than a breath: after each.
        check("9 9., 9 9., 9 9.", 8);
    }

    #[test]
    fn none_stands_before_a_rest_or_at_the_end() {
        check("4 4. -2 4 4. -2 4 4.", 8);
        check("4 4., 4 2. -2 4 4.", 8);
        check("4 -1 4., 4 4 4.", 8);
    }

    #[test]
    fn a_rest_is_an_eighth_of_a_longer_note() {
        let rest = |onset, length, per_quarter| {
            let mut note = Event { onset, length };
            let gives = give_rest(&mut note, per_quarter);
            (gives, note.length)
        };
        assert_eq!(rest(8, 4, 4), (true, 2));
        assert_eq!(rest(8, 2, 4), (false, 2));
        assert_eq!(rest(9, 4, 4), (false, 4));
        assert_eq!(rest(12, 8, 12), (false, 8));
    }

    #[test]
    fn a_breath_lasts_by_level_and_tempo() {
        let lasts = |level, tempo, meter: &str| {
            Breathing::of(Breath::Mark, level, tempo, &meter.parse().unwrap(), 2).lasts
        };
        let ladder = Tempo::Ladder {
            from: 80,
            to: 120,
            by: 8,
        };
        assert_eq!(lasts(Level::Beginner, None, "4/4"), 12);
        assert_eq!(lasts(Level::Intermediate, Some(ladder), "4/4"), 24);
        assert_eq!(lasts(Level::Advanced, Some(Tempo::At(60)), "6/8"), 36);
    }
}
