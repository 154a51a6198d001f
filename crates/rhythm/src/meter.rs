//! Meters: how long a bar is, where its beats and groups fall.

use std::fmt;
use std::str::FromStr;

use crate::Fraction;

/// How a meter is felt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MeterKind {
    /// Beats halve: 2/4, 3/4, 4/4, 2/2, 3/2.
    Simple,
    /// Beats third: 6/8, 9/8, 12/8, 6/4; 3/8 is one such beat.
    Compound,
    /// Groups of two and three: 5/4, 5/8, 7/8; or groups a lesson sets.
    Odd,
}

/// A meter: `4/4`, `6/8`, `5/4 = 2+3`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Meter {
    upper: u16,
    lower: u16,
    groups: Vec<u16>,
    kind: MeterKind,
}

/// The largest upper number.
const MOST_UNITS: u16 = 32;

impl Meter {
    /// 4/4, where none is said.
    pub fn common() -> Meter {
        Meter {
            upper: 4,
            lower: 4,
            groups: vec![1; 4],
            kind: MeterKind::Simple,
        }
    }

    /// The upper number.
    pub fn upper(&self) -> u16 {
        self.upper
    }

    /// The lower number: 1, 2, 4, 8, 16, 32.
    pub fn lower(&self) -> u16 {
        self.lower
    }

    /// How it is felt.
    pub fn kind(&self) -> MeterKind {
        self.kind
    }

    /// Felt beats or groups, in units of the lower number: 4/4 is [1, 1, 1,
    /// 1], 6/8 [3, 3], 7/8 [2, 2, 3].
    pub fn groups(&self) -> &[u16] {
        &self.groups
    }

    /// Length of a bar in quarters.
    pub fn bar(&self) -> Fraction {
        Fraction::new(4 * i64::from(self.upper), i64::from(self.lower))
    }

    /// Length of the unit the lower number names, in quarters.
    pub fn unit(&self) -> Fraction {
        Fraction::new(4, i64::from(self.lower))
    }

    /// The same bars and groups in units of another lower number, for a count
    /// whose numbers go by smaller values; none where that isn't finer, or too
    /// fine.
    pub fn in_units_of(&self, lower: u16) -> Option<Meter> {
        let times = lower.checked_div(self.lower).filter(|times| *times > 1)?;
        let groups: Vec<String> = self
            .groups
            .iter()
            .map(|group| (group * times).to_string())
            .collect();
        let upper = self.upper.checked_mul(times)?;
        format!("{upper}/{lower} = {}", groups.join("+"))
            .parse()
            .ok()
    }

    /// Length of what `3 beats` counts, in quarters: the felt beat, in odd
    /// meters the unit.
    pub fn beat(&self) -> Fraction {
        match self.kind {
            MeterKind::Compound => self.unit() * 3,
            MeterKind::Simple | MeterKind::Odd => self.unit(),
        }
    }

    /// Where felt beats (simple, compound) or groups (odd) begin in a bar, in
    /// quarters from the bar line, first 0.
    pub fn beats(&self) -> Vec<Fraction> {
        let starts = self.groups.iter().scan(0, |at, group| {
            let start = *at;
            *at += i64::from(*group);
            Some(start)
        });
        starts.map(|start| self.unit() * start).collect()
    }

    /// The strong beats of a bar: the bar line; also mid-bar in 4/4, 6/8 and
    /// 12/8 (and their kin), and each group's start in odd meters.
    pub fn strong_beats(&self) -> Vec<Fraction> {
        match (self.kind, self.groups.len()) {
            (MeterKind::Odd, _) => self.beats(),
            (MeterKind::Simple, 4) | (MeterKind::Compound, 2 | 4) => {
                vec![Fraction::ZERO, self.bar() / 2]
            }
            _ => vec![Fraction::ZERO],
        }
    }
}

/// As a lesson says it: `4/4`, `5/4 = 3+2` where the groups aren't the usual.
impl fmt::Display for Meter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.upper, self.lower)?;
        if usual(self.upper, self.lower).1 != self.groups {
            let groups: Vec<String> = self.groups.iter().map(u16::to_string).collect();
            write!(f, " = {}", groups.join("+"))?;
        }
        Ok(())
    }
}

/// Why a text is no meter: a sentence for the teacher.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct MeterParseError(pub String);

impl FromStr for Meter {
    type Err = MeterParseError;

    fn from_str(text: &str) -> Result<Meter, MeterParseError> {
        let (signature, said) = match text.split_once('=') {
            Some((signature, groups)) => (signature, Some(groups)),
            None => (text, None),
        };
        let (upper, lower) = signature.split_once('/').ok_or_else(|| {
            MeterParseError(
                "a meter is two numbers with a stroke between them, as in 4/4 or 6/8".to_owned(),
            )
        })?;
        let upper = number(upper)
            .filter(|upper| (1..=MOST_UNITS).contains(upper))
            .ok_or_else(|| {
                MeterParseError(format!(
                    "the upper number of a meter is from 1 to {MOST_UNITS}, as in 4/4"
                ))
            })?;
        let lower = number(lower)
            .filter(|lower| [1, 2, 4, 8, 16, 32].contains(lower))
            .ok_or_else(|| {
                MeterParseError(
                    "the lower number of a meter is 1, 2, 4, 8, 16 or 32, as in 4/4".to_owned(),
                )
            })?;
        let Usual(kind, groups) = usual(upper, lower);
        let Some(said) = said else {
            return Ok(Meter {
                upper,
                lower,
                groups,
                kind,
            });
        };
        let said: Option<Vec<u16>> = said
            .split('+')
            .map(|group| number(group).filter(|group| *group > 0))
            .collect();
        let said = said.ok_or_else(|| {
            MeterParseError(
                "the groups of a meter are numbers with + between them, as in 5/4 = 2+3".to_owned(),
            )
        })?;
        let sum: u32 = said.iter().map(|group| u32::from(*group)).sum();
        if sum != u32::from(upper) {
            return Err(MeterParseError(format!(
                "these groups add up to {sum}, but {upper}/{lower} has {upper} to the bar"
            )));
        }
        let kind = if said == groups { kind } else { MeterKind::Odd };
        Ok(Meter {
            upper,
            lower,
            groups: said,
            kind,
        })
    }
}

fn number(text: &str) -> Option<u16> {
    let text = text.trim();
    (text.bytes().all(|byte| byte.is_ascii_digit()) && text.len() <= 4)
        .then(|| text.parse().ok())
        .flatten()
}

/// How a meter is felt when its groups aren't said.
struct Usual(MeterKind, Vec<u16>);

/// 5 is 2+3, 7 is 2+2+3 (common practice), other odd numbers alike; even ones
/// that aren't compound go in twos.
fn usual(upper: u16, lower: u16) -> Usual {
    let thirds = upper.is_multiple_of(3) && (lower >= 8 || upper > 3);
    match upper {
        _ if thirds => Usual(MeterKind::Compound, vec![3; usize::from(upper / 3)]),
        1..=4 => Usual(MeterKind::Simple, vec![1; usize::from(upper)]),
        _ => {
            let mut groups = vec![2; usize::from(upper / 2)];
            if let Some(last) = groups.last_mut() {
                *last += upper % 2;
            }
            Usual(MeterKind::Odd, groups)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use MeterKind::{Compound, Odd, Simple};

    /// Kind, groups, and strong beats in units.
    fn check(text: &str, kind: MeterKind, groups: &[u16], strong: &[i64]) {
        let meter: Meter = text.parse().unwrap();
        assert_eq!((meter.kind(), meter.groups()), (kind, groups), "{text}");
        let units: Vec<Fraction> = strong
            .iter()
            .map(|at| Fraction::from(*at) * meter.unit())
            .collect();
        assert_eq!(meter.strong_beats(), units, "{text}");
        assert_eq!(meter.to_string().parse::<Meter>().unwrap(), meter, "{text}");
    }

    #[test]
    fn felt() {
        // Meter rows of the reference table (handbook tables; common practice).
        check("2/4", Simple, &[1, 1], &[0]);
        check("3/4", Simple, &[1, 1, 1], &[0]);
        check("4/4", Simple, &[1, 1, 1, 1], &[0, 2]);
        check("3/2", Simple, &[1, 1, 1], &[0]);
        check("6/8", Compound, &[3, 3], &[0, 3]);
        check("9/8", Compound, &[3, 3, 3], &[0]);
        check("12/8", Compound, &[3, 3, 3, 3], &[0, 6]);
        check("6/4", Compound, &[3, 3], &[0, 3]);
        check("3/8", Compound, &[3], &[0]);
        check("5/4", Odd, &[2, 3], &[0, 2]);
        check("5/8", Odd, &[2, 3], &[0, 2]);
        check("7/8", Odd, &[2, 2, 3], &[0, 2, 4]);
        check("7/4", Odd, &[2, 2, 3], &[0, 2, 4]);
        check("7/8 = 3+2+2", Odd, &[3, 2, 2], &[0, 3, 5]);
        check("5/4=3+2", Odd, &[3, 2], &[0, 3]);
        check("8/8 = 3+3+2", Odd, &[3, 3, 2], &[0, 3, 6]);
        check("6/8 = 3+3", Compound, &[3, 3], &[0, 3]);
        check(" 4 / 4 ", Simple, &[1, 1, 1, 1], &[0, 2]);
    }

    #[test]
    fn in_smaller_units() {
        let check = |text: &str, lower, expected: Option<&str>| {
            let meter: Meter = text.parse().unwrap();
            let finer = meter.in_units_of(lower).map(|finer| finer.to_string());
            assert_eq!(finer.as_deref(), expected, "{text} in {lower}ths");
        };
        // A bar of 4/4 is eight eighths, in pairs (arithmetic).
        check("4/4", 8, Some("8/8"));
        check("3/4", 8, Some("6/8 = 2+2+2"));
        check("5/4 = 3+2", 8, Some("10/8 = 6+4"));
        check("4/4", 4, None);
        check("4/4", 2, None);
        check("4/4", 12, None);
        check("12/4", 32, None);
    }

    #[test]
    fn refused() {
        for text in [
            "",
            "4",
            "4/",
            "/4",
            "0/4",
            "4/3",
            "33/4",
            "4/4/4",
            "-3/4",
            "+4/4",
            "00004/4",
            "5/4 = 2+2",
            "5/4 =",
            "5/4 = 2++3",
            "5/4 = 5+0",
            "a/b",
            "99999999999/4",
        ] {
            assert!(text.parse::<Meter>().is_err(), "{text}");
        }
    }
}
