//! What is remarked, in words: the one place where etude speaks to a teacher
//! of what became of an exercise.

use std::fmt;

use lesson::{Span, WordsPlace, counted};
use theory::Degree;

use crate::remark::{PrintGap, Remark, Shortfall, UnmetWish};
use crate::report::gathering::LeftOut;
use crate::report::tally::CountedRemark;

/// One clause, to stand after an exercise's heading and a colon.
impl fmt::Display for CountedRemark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(key) = self.key {
            write!(f, "in written {}, ", key.signs())?;
        }
        match &self.remark {
            Remark::Shortfall(shortfall) => shorter(*shortfall, f),
            Remark::Jump => write!(
                f,
                "jumps an octave {}, to stay on the horn",
                often(self.times)
            ),
            Remark::PlaysAlone => {
                f.write_str("plays alone: no turn or jump suits everyone's range")
            }
            Remark::Wish(wish) => unmet(wish, self.times, f),
            Remark::Print(gap) => unprinted(gap, self.times, f),
        }
    }
}

/// What of an exercise is played, and why no more.
fn shorter(shortfall: Shortfall, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match shortfall {
        Shortfall::Statements {
            ups,
            downs,
            of,
            both_ways,
        } => match (ups, downs) {
            (_, 0) => {
                let lost = if both_ways {
                    ", and none coming down"
                } else {
                    ""
                };
                write!(f, "turns early: {ups} of {of} statements up{lost}")
            }
            (0, _) => write!(f, "stops early: {downs} of {of} statements down"),
            _ => write!(f, "turns early: {ups} of {of} statements up, {downs} down"),
        },
        Shortfall::ComingDown => {
            f.write_str("the form coming down is left out: it would leave the horn")
        }
        Shortfall::WayDown => f.write_str("the way down is left out: it fits nowhere on the horn"),
        Shortfall::Octaves { got, asked } => write!(
            f,
            "{} instead of {}: more would leave the horn",
            got.words(),
            asked.words()
        ),
        Shortfall::WholeHorn { asked } => write!(
            f,
            "the whole horn instead of {}: more would leave it",
            asked.words()
        ),
        Shortfall::AsFarAsAll {
            asked: Span::WholeHorn,
        } => f.write_str("as far as everyone can play together"),
        Shortfall::AsFarAsAll { asked } => write!(
            f,
            "as far as everyone can play together instead of {}",
            asked.words()
        ),
    }
}

/// What a line over changes is not, and why.
fn unmet(wish: &UnmetWish, times: u32, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match wish {
        UnmetWish::InARow { limit } => write!(
            f,
            "a variant or a starting degree stands more than {} in a row: the horn allows no other line",
            often(u32::from(*limit))
        ),
        UnmetWish::Leap => write!(
            f,
            "leaps over an octave {}: the horn allows no other line",
            often(times)
        ),
        UnmetWish::HighPointElsewhere { bar } => write!(
            f,
            "its highest note comes in bar {bar}: no line that has it once has it past the middle"
        ),
        UnmetWish::NoHighPoint => {
            f.write_str("its highest note comes more than once: the horn allows no other line")
        }
        UnmetWish::EveryBarPlayed => {
            f.write_str("every bar is played: the plan rests wherever there is a chord")
        }
        UnmetWish::Unheard => match times {
            1 => f.write_str("one statement has no time to sound: its chord is too short"),
            many => write!(
                f,
                "{} have no time to sound: their chords are too short",
                counted(many, "statement")
            ),
        },
        UnmetWish::NotLedUpTo => {
            let (are, them) = match times {
                1 => ("is", "it"),
                _ => ("are", "them"),
            };
            write!(
                f,
                "{} {are} not led up to: there is no time before {them}",
                notes(times)
            )
        }
        UnmetWish::NoDegreeToBeginOn { scale, degrees } => {
            let names: Vec<String> = degrees.iter().map(Degree::to_string).collect();
            write!(f, "{scale} has no {} to begin on", names.join(" and no "))
        }
    }
}

/// What doesn't stand on the sheet, and why.
fn unprinted(gap: &PrintGap, times: u32, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    match gap {
        PrintGap::Row(row) => write!(f, "no row of {}: the instrument has none", row.words()),
        PrintGap::Fingering(row) => {
            let have = if times == 1 { "has" } else { "have" };
            write!(f, "{} {have} no {}", notes(times), row.words())
        }
        PrintGap::Words { place, words } => {
            let (what, number) = match place {
                WordsPlace::Bar(number) => ("bar", number),
                WordsPlace::Statement(number) => ("statement", number),
            };
            write!(f, "it has no {what} {number}, where “{words}” would stand")
        }
    }
}

/// `once`, `2 times`.
fn often(times: u32) -> String {
    match times {
        1 => "once".to_owned(),
        many => counted(many, "time"),
    }
}

/// `one note`, `2 notes`, to begin a clause with.
fn notes(times: u32) -> String {
    match times {
        1 => "one note".to_owned(),
        many => counted(many, "note"),
    }
}

impl fmt::Display for LeftOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LeftOut::OffTheHorn {
                heading,
                written,
                note,
                range,
                ..
            } => write!(
                f,
                "{heading}: in written {written} it needs {note}, outside the range {} to {}",
                range.low, range.high
            ),
            LeftOut::Stopped => f.write_str("stopped"),
            LeftOut::NothingToPlay => f.write_str("no exercise of this lesson is for this player"),
        }
    }
}

#[cfg(test)]
mod tests {
    use lesson::{Label, Span};
    use theory::{Letter, PitchName};

    use super::*;

    fn check(remark: Remark, times: u32, expected: &str) {
        let counted = CountedRemark {
            remark,
            key: None,
            times,
        };
        assert_eq!(counted.to_string(), expected);
        let in_key = CountedRemark {
            key: Some(PitchName::new(Letter::F, 1)),
            ..counted
        };
        assert_eq!(in_key.to_string(), format!("in written F♯, {expected}"));
    }

    #[test]
    fn less_than_asked() {
        let statements = |ups, downs, both_ways| {
            Remark::Shortfall(Shortfall::Statements {
                ups,
                downs,
                of: 8,
                both_ways,
            })
        };
        check(
            statements(5, 0, true),
            1,
            "turns early: 5 of 8 statements up, and none coming down",
        );
        check(
            statements(5, 0, false),
            1,
            "turns early: 5 of 8 statements up",
        );
        check(
            statements(0, 3, false),
            1,
            "stops early: 3 of 8 statements down",
        );
        check(
            statements(5, 3, true),
            1,
            "turns early: 5 of 8 statements up, 3 down",
        );
        let all = |asked| Remark::Shortfall(Shortfall::AsFarAsAll { asked });
        check(
            all(Span::WholeHorn),
            1,
            "as far as everyone can play together",
        );
        check(
            all(Span::TwoOctaves),
            1,
            "as far as everyone can play together instead of two octaves",
        );
    }

    #[test]
    fn one_and_several() {
        check(Remark::Jump, 1, "jumps an octave once, to stay on the horn");
        check(
            Remark::Jump,
            3,
            "jumps an octave 3 times, to stay on the horn",
        );
        let leap = || Remark::Wish(UnmetWish::Leap);
        check(
            leap(),
            1,
            "leaps over an octave once: the horn allows no other line",
        );
        check(
            leap(),
            2,
            "leaps over an octave 2 times: the horn allows no other line",
        );
        let bare = || Remark::Wish(UnmetWish::NotLedUpTo);
        check(
            bare(),
            1,
            "one note is not led up to: there is no time before it",
        );
        check(
            bare(),
            2,
            "2 notes are not led up to: there is no time before them",
        );
        let unheard = || Remark::Wish(UnmetWish::Unheard);
        check(
            unheard(),
            1,
            "one statement has no time to sound: its chord is too short",
        );
        check(
            unheard(),
            3,
            "3 statements have no time to sound: their chords are too short",
        );
        let bare = || Remark::Print(PrintGap::Fingering(Label::Positions));
        check(bare(), 1, "one note has no positions");
        check(bare(), 4, "4 notes have no positions");
    }

    #[test]
    fn limits() {
        let limit = |limit| Remark::Wish(UnmetWish::InARow { limit });
        check(
            limit(1),
            1,
            "a variant or a starting degree stands more than once in a row: the horn allows no other line",
        );
        check(
            limit(2),
            1,
            "a variant or a starting degree stands more than 2 times in a row: the horn allows no other line",
        );
    }
}
