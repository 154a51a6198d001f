//! What may surprise whoever opens a lesson's sheets, in sentences.

use std::collections::BTreeMap;
use std::fmt;

use etude::{SheetPlan, Surprising};
use lesson::Lesson;

use crate::contents::key_words;
use crate::survey::Survey;

/// One kind of surprise and all the sheets it is on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SurpriseLine {
    /// What it is.
    pub what: Surprising,
    /// How many sheets it is on.
    pub sheets: usize,
    /// How many sheets there are, those left out included.
    pub of: usize,
    /// Whose and in which keys: a player's name, and the written keys unless
    /// they are all.
    pub whose: Vec<(String, Option<Vec<String>>)>,
}

/// Players named in one sentence at most, and keys of each.
const MOST_PLAYERS: usize = 4;
const MOST_KEYS: usize = 4;

/// What may surprise in a lesson's sheets, the most surprising first.
pub fn surprise_lines(survey: &Survey, lesson: &Lesson) -> Vec<SurpriseLine> {
    let mut found: BTreeMap<Surprising, Vec<SheetPlan>> = BTreeMap::new();
    for surprise in etude::surprises(&survey.sheets) {
        // Most scales have a note to avoid: that surprises nobody.
        if surprise.what == Surprising::Clashes {
            continue;
        }
        let plans = found.entry(surprise.what).or_default();
        for plan in surprise.sheets {
            // Several exercises on a sheet may do the same.
            if !plans.contains(&plan) {
                plans.push(plan);
            }
        }
    }
    let line = |(what, plans): (Surprising, Vec<SheetPlan>)| SurpriseLine {
        what,
        sheets: plans.len(),
        of: survey.sheets.len(),
        whose: whose(survey, lesson, &plans),
    };
    found.into_iter().map(line).collect()
}

fn whose(
    survey: &Survey,
    lesson: &Lesson,
    plans: &[SheetPlan],
) -> Vec<(String, Option<Vec<String>>)> {
    let players = lesson.players.iter().enumerate();
    players
        .filter_map(|(place, player)| {
            let own = plans.iter().filter(|plan| plan.player == place);
            let keys: Vec<String> = own.map(|plan| key_words(plan, plan.written)).collect();
            let has = survey
                .sheets
                .iter()
                .filter(|(plan, _)| plan.player == place);
            let all = has.count() == keys.len();
            let name = player.name.clone();
            let name = name.unwrap_or_else(|| player.instrument.name.to_string());
            (!keys.is_empty()).then_some((name, (!all).then_some(keys)))
        })
        .collect()
}

/// What one sheet does, and what several do.
fn words(what: Surprising) -> [&'static str; 2] {
    match what {
        Surprising::LeftOut => ["is left out", "are left out"],
        Surprising::NoWayDown => [
            "has an exercise without its way down",
            "have an exercise without its way down",
        ],
        Surprising::Shorter => [
            "has an exercise shorter than asked",
            "have an exercise shorter than asked",
        ],
        Surprising::Jumps => ["jumps an octave", "jump an octave"],
        Surprising::PlaysAlone => [
            "doesn't keep together with the others",
            "don't keep together with the others",
        ],
        Surprising::WishUnmet => [
            "can't have all that is asked over its changes",
            "can't have all that is asked over their changes",
        ],
        Surprising::Doubles => ["has double accidentals", "have double accidentals"],
        Surprising::Clashes => [
            "names a chord that a note of its scale rubs against",
            "name a chord that a note of their scale rubs against",
        ],
    }
}

/// `2 of 24 sheets jump an octave: Ada in F♯; trombone in every key`.
impl fmt::Display for SurpriseLine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [one, several] = words(self.what);
        let does = if self.sheets == 1 { one } else { several };
        write!(f, "{} of {} sheets {does}: ", self.sheets, self.of)?;
        for (place, (name, keys)) in self.whose.iter().take(MOST_PLAYERS).enumerate() {
            let before = if place > 0 { "; " } else { "" };
            match keys {
                Some(keys) if keys.len() > MOST_KEYS => {
                    write!(f, "{before}{name} in {} keys", keys.len())?
                }
                Some(keys) => write!(f, "{before}{name} in {}", keys.join(", "))?,
                None => write!(f, "{before}{name} in every key")?,
            }
        }
        match self.whose.len().saturating_sub(MOST_PLAYERS) {
            0 => Ok(()),
            1 => f.write_str("; and one more player"),
            more => write!(f, "; and {more} more players"),
        }
    }
}

#[cfg(test)]
mod tests {
    use etude::Composer;

    use super::*;
    use crate::stop::Stop;

    fn check(rest: &str, expected: &[&str]) {
        let text = format!("title = \"A\"\n{rest}");
        let lesson = lesson_text::read(&text, "a").unwrap();
        let composer = Composer::new(&lesson).unwrap();
        let survey = Survey::of(&composer, &Stop::default()).unwrap();
        let said: Vec<String> = surprise_lines(&survey, &lesson)
            .iter()
            .map(SurpriseLine::to_string)
            .collect();
        assert_eq!(said, expected, "{rest}");
    }

    const FIGURE: &str = "[figure]\nmoves = \"start, step up, step up, up 3 steps\"\n";

    #[test]
    fn a_lesson_that_fits_surprises_nobody() {
        check(
            &format!(
                "instruments = [\"flute\"]\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n{FIGURE}"
            ),
            &[],
        );
    }

    /// A voice of an octave: the figure goes up from C and has no way down, F leaves no room for an
    /// octave at all, so the worst comes first.
    #[test]
    fn the_most_surprising_comes_first() {
        let head = "[keys]\nonly = [\"C\", \"F\"]\n[scale]\nname = \"major\"\n";
        let player =
            "[[player]]\nname = \"Ada\"\ninstrument = \"trombone\"\nlow = \"C3\"\nhigh = \"E4\"\n";
        let exercise = "[[exercise]]\nkind = \"sequence\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\nwhen_too_wide = \"leave out\"\n";
        check(
            &format!("{head}{FIGURE}{player}{exercise}"),
            &[
                "1 of 2 sheets is left out: Ada in F",
                "1 of 2 sheets has an exercise without its way down: Ada in C",
            ],
        );
    }

    /// Rule 3: strict C ultralocrian has a B double flat, and C sharp melodic minor keeps its B sharp, the leading note.
    #[test]
    fn hard_names_are_told() {
        check(
            &format!(
                "instruments = [\"flute\"]\n[keys]\nonly = [\"C#\"]\n[scale]\nname = \"melodic minor\"\n{FIGURE}"
            ),
            &[],
        );
        check(
            &format!(
                "instruments = [\"flute\"]\nspelling = \"strict\"\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"ultralocrian\"\n{FIGURE}"
            ),
            &["1 of 1 sheets has double accidentals: Flute in every key"],
        );
    }
}
