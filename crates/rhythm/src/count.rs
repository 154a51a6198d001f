//! The count: a rhythm written as it is counted aloud.

use std::fmt;
use std::ops::Range;

use crate::{Fraction, Meter};
use crate::{count_aloud, count_read};

/// One note or silence of a figure, with the count it begins on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Quarters from the figure's first bar line; negative in a pickup.
    pub onset: Fraction,
    /// Quarters to the next count or the figure's end.
    pub length: Fraction,
    /// In parentheses.
    pub silent: bool,
}

/// A note or a silence in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sound {
    /// Quarters from the first bar line; negative in a pickup.
    pub onset: Fraction,
    /// In quarters, more than 0.
    pub length: Fraction,
    /// Whether it is a silence.
    pub silent: bool,
}

/// What a count has no words for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoWords {
    /// Something begins or ends here, quarters from the first bar line, and no
    /// word says it: finer than a quarter of what is numbered, or no part of
    /// it.
    Between(Fraction),
    /// The thirds and the halves or quarters of what is numbered meet here.
    Mixed(Fraction),
    /// There is nothing to count, or it can't be a figure.
    NoFigure,
}

/// A figure's rhythm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// Notes and silences in order, without gaps from the first to the end.
    pub slots: Vec<Slot>,
    /// Quarters before the first bar line; 0 without a pickup.
    pub pickup: Fraction,
    /// Quarters from one statement's bar line to the next one's: whole bars,
    /// or the felt beats that `length` says.
    pub span: Fraction,
    /// Whether silence is counted where the next pickup begins: after the last
    /// statement it stays silence, and the last note doesn't fill the bar.
    pub closes_with_rest: bool,
    /// How it is counted, for labels in the words that were typed.
    pub counting: Counting,
}

/// How a rhythm is counted aloud.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Counting {
    /// Whether numbers count the beats of a compound meter (`1 la li`, `1 & a`)
    /// and not its units.
    pub beats: bool,
    /// What the thirds of what is numbered are called.
    pub thirds: Thirds,
    /// The lower number that a meter of the numbers would have, where they go
    /// by smaller values than the meter's own: 8 for eighths in 4/4.
    pub lower: Option<u16>,
}

/// What the thirds after a number are called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Thirds {
    /// `1 trip let`
    #[default]
    TripLet,
    /// `1 la li`
    LaLi,
    /// `1 & a`, in compound meters
    AndA,
}

/// A mistake in a count: where in its text, what, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountMistake {
    /// Bytes of the text at fault.
    pub place: Range<usize>,
    /// Whether it is the `length` text that is at fault, not the count.
    pub in_length: bool,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What to write instead.
    pub help: String,
}

impl Count {
    /// Reads a count in a meter, with the figure's `length` if it says one.
    ///
    /// # Errors
    /// Every mistake in it, in order.
    pub fn read(
        text: &str,
        meter: &Meter,
        length: Option<&str>,
    ) -> Result<Count, Vec<CountMistake>> {
        Count::read_in(text, meter, None, length)
    }

    /// The same where the numbers go by smaller values than the meter's own,
    /// those of a lower number: `1 e & a 2` in eighths of 4/4.
    ///
    /// # Errors
    /// Every mistake in it, in order.
    pub fn read_in(
        text: &str,
        meter: &Meter,
        lower: Option<u16>,
        length: Option<&str>,
    ) -> Result<Count, Vec<CountMistake>> {
        Count::read_placed(text, meter, lower, length).map(|(count, _)| count)
    }

    /// The same, with the bytes of the text at which each slot's word stands.
    ///
    /// # Errors
    /// Every mistake in it, in order.
    pub fn read_placed(
        text: &str,
        meter: &Meter,
        lower: Option<u16>,
        length: Option<&str>,
    ) -> Result<(Count, Vec<Range<usize>>), Vec<CountMistake>> {
        count_read::read_placed(text, meter, lower, length)
    }

    /// Even eighths for a figure that says no count: `silent[i]` says whether
    /// the i-th is a rest; the last note fills the bar. In meters over 8 or
    /// 16 still eighths.
    ///
    /// # Errors
    /// A length that is shorter than the eighths, or no length at all; places
    /// of mistakes in the count itself are empty, since it has no text.
    pub fn even_eighths(
        silent: &[bool],
        meter: &Meter,
        length: Option<&str>,
    ) -> Result<Count, Vec<CountMistake>> {
        count_read::even_eighths(silent, meter, length)
    }

    /// Says a rhythm aloud: the text of a count that reads back as these notes
    /// and silences, without gaps, and as silence from there to the bar line
    /// where the figure's last bar ends. A first onset before the bar line is a
    /// pickup.
    ///
    /// # Errors
    /// The first place that has no words.
    pub fn aloud(sounds: &[Sound], meter: &Meter) -> Result<String, NoWords> {
        count_aloud::aloud(sounds, meter)
    }

    /// Slots that sound.
    pub fn sounding(&self) -> usize {
        self.slots.iter().filter(|slot| !slot.silent).count()
    }
}

/// A word of the count, for labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CountWord {
    /// The number of a beat or unit, from 1.
    Number(u16),
    /// `&`
    And,
    /// `e`
    E,
    /// `a`
    A,
    /// `trip`: the second third.
    Trip,
    /// `let`: the last third.
    Let,
    /// `la`: the second third.
    La,
    /// `li`: the last third.
    Li,
}

/// As it is typed and printed.
impl fmt::Display for CountWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            CountWord::Number(number) => return write!(f, "{number}"),
            CountWord::And => "&",
            CountWord::E => "e",
            CountWord::A => "a",
            CountWord::Trip => "trip",
            CountWord::Let => "let",
            CountWord::La => "la",
            CountWord::Li => "li",
        })
    }
}

/// How a place in the bar (quarters from its bar line) is counted aloud; none
/// where the count has no word.
pub fn count_word(meter: &Meter, at: Fraction, counting: Counting) -> Option<CountWord> {
    let numbered = match counting.lower {
        Some(lower) => Fraction::new(4, i64::from(lower.max(1))),
        None if counting.beats => meter.beat(),
        None => meter.unit(),
    };
    let (at, bar, numbered) = commonly(at, meter.bar(), numbered)?;
    let within = at.rem_euclid(bar);
    let part = within % numbered;
    Some(match part {
        0 => CountWord::Number(u16::try_from(within / numbered).ok()? + 1),
        _ if part * 2 == numbered => CountWord::And,
        _ if part * 4 == numbered => CountWord::E,
        _ if part * 4 == numbered * 3 => CountWord::A,
        _ if part * 3 == numbered => counting.thirds.words().0,
        _ if part * 3 == numbered * 2 => counting.thirds.words().1,
        _ => return None,
    })
}

impl Thirds {
    /// The second and the last third.
    const fn words(self) -> (CountWord, CountWord) {
        match self {
            Thirds::TripLet => (CountWord::Trip, CountWord::Let),
            Thirds::LaLi => (CountWord::La, CountWord::Li),
            Thirds::AndA => (CountWord::And, CountWord::A),
        }
    }
}

/// Three lengths as whole numbers of one unit: a place is asked for with each
/// label, and fractions would be shortened at every step. None where the
/// numbers are past all music.
fn commonly(one: Fraction, two: Fraction, three: Fraction) -> Option<(i64, i64, i64)> {
    let whole = |of: Fraction, others: [Fraction; 2]| {
        let [first, second] = others.map(|other| *other.denom());
        let whole = of.numer().checked_mul(first.checked_mul(second)?)?;
        // Four times as much is still a number: quarters are asked for.
        whole.checked_mul(4).map(|_| whole)
    };
    Some((
        whole(one, [two, three])?,
        whole(two, [one, three])?,
        whole(three, [one, two])?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(meter: &str, quarters: (i64, i64), beats: bool, expected: Option<CountWord>) {
        let at = Fraction::new(quarters.0, quarters.1);
        let counting = Counting {
            lower: None,
            beats,
            thirds: Thirds::TripLet,
        };
        assert_eq!(
            count_word(&meter.parse().unwrap(), at, counting),
            expected,
            "{meter} at {at}"
        );
    }

    #[test]
    fn words_of_the_count() {
        use CountWord::{A, And, E, Let, Number, Trip};
        check("4/4", (0, 1), false, Some(Number(1)));
        check("4/4", (7, 2), false, Some(And));
        check("4/4", (5, 4), false, Some(E));
        check("4/4", (7, 4), false, Some(A));
        check("4/4", (4, 3), false, Some(Trip));
        check("4/4", (5, 3), false, Some(Let));
        check("4/4", (1, 8), false, None);
        check("4/4", (5, 1), false, Some(Number(2)));
        check("4/4", (-1, 2), false, Some(And));
        // 2/2, four quarters: 1 & 2 & (common practice).
        check("2/2", (1, 1), false, Some(And));
        check("6/8", (3, 2), false, Some(Number(4)));
        check("6/8", (3, 2), true, Some(Number(2)));
        check("6/8", (2, 1), true, Some(Trip));
        check("7/8", (3, 1), false, Some(Number(7)));
        check("4/4", (1 << 60, 3), false, Some(Trip));
        check("4/4", (1 << 62, 3), false, None);
        check("4/4", (-(1 << 62), 1), false, None);
    }

    #[test]
    fn thirds_are_called_as_they_were_typed() {
        let check = |thirds, expected| {
            let counting = Counting {
                lower: None,
                beats: true,
                thirds,
            };
            let six_eight = "6/8".parse().unwrap();
            let word = |eighth| count_word(&six_eight, Fraction::new(eighth, 2), counting);
            assert_eq!((word(1), word(2)), expected, "{thirds:?}");
            assert_eq!(word(3), Some(CountWord::Number(2)));
        };
        use CountWord::{A, And, La, Let, Li, Trip};
        check(Thirds::TripLet, (Some(Trip), Some(Let)));
        check(Thirds::LaLi, (Some(La), Some(Li)));
        check(Thirds::AndA, (Some(And), Some(A)));
    }
}
