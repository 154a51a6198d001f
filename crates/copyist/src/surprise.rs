//! What may surprise whoever opens a lesson's sheets, in sentences.

use std::collections::BTreeMap;
use std::fmt;

use etude::{Remark, SheetPlan};
use lesson::Lesson;

use crate::contents::key_words;
use crate::survey::{SheetSurvey, Survey};

/// Something that isn't as a teacher would expect it, the most surprising
/// first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurpriseKind {
    /// There is no sheet.
    LeftOut,
    /// An exercise lacks a whole way.
    WithoutWayDown,
    /// An exercise turns round early, or has fewer octaves.
    Shorter,
    /// The line leaves its octave.
    Jumps,
    /// Players who should keep together don't.
    Alone,
    /// Something over changes can't be had.
    OverChanges,
    /// Double accidentals are printed.
    Doubles,
    /// White keys are named with a sign that the signature hasn't.
    WhiteKeys,
}

/// A surprise and the sheets it is on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Surprise {
    /// What it is.
    pub kind: SurpriseKind,
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
pub fn surprises(survey: &Survey, lesson: &Lesson) -> Vec<Surprise> {
    let mut found: BTreeMap<SurpriseKind, Vec<&SheetPlan>> = BTreeMap::new();
    for (plan, _) in survey.left_out(None) {
        found.entry(SurpriseKind::LeftOut).or_default().push(plan);
    }
    for (plan, sheet) in survey.made(None) {
        let mut kinds = kinds(sheet);
        kinds.sort_unstable();
        kinds.dedup();
        for kind in kinds {
            found.entry(kind).or_default().push(plan);
        }
    }
    let surprise = |(kind, plans): (SurpriseKind, Vec<&SheetPlan>)| Surprise {
        kind,
        sheets: plans.len(),
        of: survey.sheets.len(),
        whose: whose(survey, lesson, &plans),
    };
    found.into_iter().map(surprise).collect()
}

fn kinds(sheet: &SheetSurvey) -> Vec<SurpriseKind> {
    let exercises = sheet.report.exercises.iter();
    let remarks = exercises.flat_map(|exercise| &exercise.remarks);
    let mut kinds: Vec<SurpriseKind> = remarks.map(kind).collect();
    if sheet.doubles > 0 {
        kinds.push(SurpriseKind::Doubles);
    }
    if sheet.white_keys > 0 {
        kinds.push(SurpriseKind::WhiteKeys);
    }
    kinds
}

fn kind(remark: &Remark) -> SurpriseKind {
    match remark {
        Remark::ComingDownLeftOut | Remark::WayDownLeftOut => SurpriseKind::WithoutWayDown,
        Remark::Shortened {
            downs: 0,
            both_ways: true,
            ..
        } => SurpriseKind::WithoutWayDown,
        Remark::Shortened { .. }
        | Remark::FewerOctaves { .. }
        | Remark::WholeHornInstead { .. }
        | Remark::AsFarAsAll { .. } => SurpriseKind::Shorter,
        Remark::Jumps(_) => SurpriseKind::Jumps,
        Remark::PlaysAlone => SurpriseKind::Alone,
        Remark::InARow { .. } | Remark::EveryBarPlayed | Remark::NotLedUpTo(_) => {
            SurpriseKind::OverChanges
        }
        Remark::InKey { remark, .. } => kind(remark),
    }
}

fn whose(
    survey: &Survey,
    lesson: &Lesson,
    plans: &[&SheetPlan],
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

impl SurpriseKind {
    /// What one sheet does, and what several do.
    fn words(self) -> [&'static str; 2] {
        match self {
            SurpriseKind::LeftOut => ["is left out", "are left out"],
            SurpriseKind::WithoutWayDown => [
                "has an exercise without its way down",
                "have an exercise without its way down",
            ],
            SurpriseKind::Shorter => [
                "has an exercise shorter than asked",
                "have an exercise shorter than asked",
            ],
            SurpriseKind::Jumps => ["jumps an octave", "jump an octave"],
            SurpriseKind::Alone => [
                "doesn't keep together with the others",
                "don't keep together with the others",
            ],
            SurpriseKind::OverChanges => [
                "can't have all that is asked over its changes",
                "can't have all that is asked over their changes",
            ],
            SurpriseKind::Doubles => ["has double accidentals", "have double accidentals"],
            SurpriseKind::WhiteKeys => [
                "has an E♯, B♯, C♭ or F♭ that isn't in its signature",
                "have an E♯, B♯, C♭ or F♭ that isn't in their signature",
            ],
        }
    }
}

/// `2 of 24 sheets jump an octave: Ada in F♯; trombone in every key`.
impl fmt::Display for Surprise {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [one, several] = self.kind.words();
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
        let lesson = lesson_text::read(&text, "a").unwrap().lesson;
        let composer = Composer::new(&lesson).unwrap();
        let survey = Survey::of(&composer, &Stop::default()).unwrap();
        let said: Vec<String> = surprises(&survey, &lesson)
            .iter()
            .map(Surprise::to_string)
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
            &[
                "1 of 1 sheets has an E♯, B♯, C♭ or F♭ that isn't in its signature: Flute in every key",
            ],
        );
        check(
            &format!(
                "instruments = [\"flute\"]\nspelling = \"strict\"\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"ultralocrian\"\n{FIGURE}"
            ),
            &[
                "1 of 1 sheets has double accidentals: Flute in every key",
                "1 of 1 sheets has an E♯, B♯, C♭ or F♭ that isn't in its signature: Flute in every key",
            ],
        );
    }
}
