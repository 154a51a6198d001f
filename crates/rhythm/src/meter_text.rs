//! Reading a meter: `4/4`, `6/8`, `5/4 = 2+3`; and the groups of meters that
//! say none.

use std::str::FromStr;

use crate::{Meter, MeterKind};

/// Why a text is no meter: a sentence for the teacher.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct MeterParseError(pub String);

/// The largest upper number.
const MOST_UNITS: u16 = 32;

/// The largest group that can still be felt as one.
const LARGEST_GROUP: u16 = 4;

impl FromStr for Meter {
    type Err = MeterParseError;

    /// Reads `upper/lower`, with `= a+b+…` where groups matter. Groups that
    /// say what the meter does anyway leave its kind as it is; others make it
    /// odd.
    fn from_str(text: &str) -> Result<Meter, MeterParseError> {
        let (fraction, groups) = match text.split_once('=') {
            Some((fraction, groups)) => (fraction, Some(groups)),
            None => (text, None),
        };
        let (upper, lower) = numbers(fraction)?;
        let (kind, beats) = felt(upper, lower);
        let Some(groups) = groups else {
            return Ok(Meter::new(upper, lower, beats, kind));
        };
        let groups = added(upper, lower, groups)?;
        if groups == beats || is_plain_four(upper, &groups) {
            return Ok(Meter::new(upper, lower, beats, kind));
        }
        Ok(Meter::new(upper, lower, groups, MeterKind::Odd))
    }
}

fn numbers(text: &str) -> Result<(u16, u16), MeterParseError> {
    let said = text.trim();
    let both = said
        .split_once('/')
        .and_then(|(upper, lower)| Some((number(upper)?, number(lower)?)));
    let Some((upper, lower)) = both else {
        return wrong(format!(
            "\"{said}\" is no meter: a meter is two numbers with a stroke between, like 4/4"
        ));
    };
    if !(1..=MOST_UNITS).contains(&upper) {
        return wrong(format!(
            "the upper number of a meter is 1 to {MOST_UNITS}, not {upper}"
        ));
    }
    if ![1, 2, 4, 8, 16, 32].contains(&lower) {
        return wrong(format!(
            "the lower number of a meter is 1, 2, 4, 8, 16 or 32, not {lower}"
        ));
    }
    Ok((upper, lower))
}

fn added(upper: u16, lower: u16, text: &str) -> Result<Vec<u16>, MeterParseError> {
    let said = text.trim();
    let groups: Option<Vec<u16>> = said.split('+').map(number).collect();
    let Some(groups) = groups else {
        return wrong(format!(
            "\"{said}\" are no groups: write them like {}",
            sum(&example(upper))
        ));
    };
    if let Some(odd_one) = groups
        .iter()
        .find(|group| !(1..=LARGEST_GROUP).contains(*group))
    {
        return wrong(format!(
            "a group is 1 to {LARGEST_GROUP}, mostly 2 or 3, not {odd_one}"
        ));
    }
    let total: u64 = groups.iter().map(|group| u64::from(*group)).sum();
    if total == u64::from(upper) {
        return Ok(groups);
    }
    let twice = u64::from(upper) * 2;
    let instead = if total == twice && lower < 32 && twice <= u64::from(MOST_UNITS) {
        format!("{twice}/{} = {}", lower * 2, sum(&groups))
    } else {
        format!("{upper}/{lower} = {}", sum(&example(upper)))
    };
    wrong(format!(
        "the groups {} add up to {total}, not {upper}: write for example {instead}",
        sum(&groups)
    ))
}

fn number(text: &str) -> Option<u16> {
    let digits = text.trim();
    // `parse` alone would take a plus sign.
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    Some(digits.parse().unwrap_or(u16::MAX))
}

fn wrong<T>(sentence: String) -> Result<T, MeterParseError> {
    Err(MeterParseError(sentence))
}

fn sum(groups: &[u16]) -> String {
    let words: Vec<String> = groups.iter().map(ToString::to_string).collect();
    words.join("+")
}

/// How a meter is felt when its groups aren't said.
fn felt(upper: u16, lower: u16) -> (MeterKind, Vec<u16>) {
    if upper.is_multiple_of(3) && (upper > 3 || lower >= 8) {
        (MeterKind::Compound, vec![3; usize::from(upper / 3)])
    } else if upper <= 4 {
        (MeterKind::Simple, vec![1; usize::from(upper)])
    } else {
        (MeterKind::Odd, groups(upper))
    }
}

/// Common practice: twos with the three last; 8 as 3+3+2 (else one would
/// write 4); longer even bars as two halves.
fn groups(upper: u16) -> Vec<u16> {
    match upper {
        0..=4 => vec![upper],
        8 => vec![3, 3, 2],
        6 => vec![3, 3],
        _ if upper.is_multiple_of(2) => groups(upper / 2).repeat(2),
        _ => {
            let mut twos = vec![2; usize::from((upper - 3) / 2)];
            twos.push(3);
            twos
        }
    }
}

/// Groups to show in a message.
fn example(upper: u16) -> Vec<u16> {
    match upper {
        3 => vec![2, 1],
        4 => vec![2, 2],
        _ => groups(upper),
    }
}

/// `4/4 = 2+2` says no more than 4/4 does.
fn is_plain_four(upper: u16, groups: &[u16]) -> bool {
    upper == 4 && groups == [2, 2]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A meter and its kind with its groups, or the sentence against it.
    fn check(text: &str, expected: &str) {
        let said = match text.parse::<Meter>() {
            Ok(meter) => format!(
                "{meter} {:?} {}",
                meter.kind(),
                sum(meter.groups())
            ),
            Err(error) => error.to_string(),
        };
        assert_eq!(said, expected, "{text}");
    }

    #[test]
    fn meters_and_their_groups() {
        // Harvard Dictionary (from memory), music21 TimeSignature.beatCount.
        check("2/4", "2/4 Simple 1+1");
        check("3/4", "3/4 Simple 1+1+1");
        check("4/4", "4/4 Simple 1+1+1+1");
        check("2/2", "2/2 Simple 1+1");
        check("3/2", "3/2 Simple 1+1+1");
        check("6/8", "6/8 Compound 3+3");
        check("9/8", "9/8 Compound 3+3+3");
        check("12/8", "12/8 Compound 3+3+3+3");
        check("6/4", "6/4 Compound 3+3");
        check("3/8", "3/8 Compound 3");
        // music21's defaults: 5/4 2+3, 5/8 2+3, 7/8 2+2+3, 7/4 2+2+3.
        check("5/4", "5/4 Odd 2+3");
        check("5/8", "5/8 Odd 2+3");
        check("7/8", "7/8 Odd 2+2+3");
        check("7/4", "7/4 Odd 2+2+3");
        // Common practice.
        check("1/4", "1/4 Simple 1");
        check("4/8", "4/8 Simple 1+1+1+1");
        check("8/8", "8/8 Odd 3+3+2");
        check("10/8", "10/8 Odd 2+3+2+3");
        check("11/8", "11/8 Odd 2+2+2+2+3");
        check("15/16", "15/16 Compound 3+3+3+3+3");
    }

    #[test]
    fn groups_that_are_set() {
        check("5/4 = 2+3", "5/4 Odd 2+3");
        check("5/4=3+2", "5/4 Odd 3+2");
        check("7/8=3+2+2", "7/8 Odd 3+2+2");
        check(" 7 / 8 =  2 + 3 + 2 ", "7/8 Odd 2+3+2");
        check("9/8 = 2+2+2+3", "9/8 Odd 2+2+2+3");
        check("8/8 = 3+3+2", "8/8 Odd 3+3+2");
        check("6/8 = 2+2+2", "6/8 Odd 2+2+2");
        check("6/8 = 3+3", "6/8 Compound 3+3");
        check("4/4 = 1+1+1+1", "4/4 Simple 1+1+1+1");
        check("4/4 = 2+2", "4/4 Simple 1+1+1+1");
        check("4/4 = 3+1", "4/4 Odd 3+1");
    }

    #[test]
    fn what_is_no_meter() {
        let no_meter = |said: &str| {
            format!("\"{said}\" is no meter: a meter is two numbers with a stroke between, like 4/4")
        };
        for said in ["", "4", "4-4", "four/four", "4/", "/4", "+4/4", "-4/4", "4.0/4", "4/4/4"] {
            check(said, &no_meter(said));
        }
        check("0/4", "the upper number of a meter is 1 to 32, not 0");
        check("33/4", "the upper number of a meter is 1 to 32, not 33");
        check("99999999999999999999/4", "the upper number of a meter is 1 to 32, not 65535");
        check("4/5", "the lower number of a meter is 1, 2, 4, 8, 16 or 32, not 5");
        check("4/0", "the lower number of a meter is 1, 2, 4, 8, 16 or 32, not 0");
        check("5/4 = 2+2", "the groups 2+2 add up to 4, not 5: write for example 5/4 = 2+3");
        check("4/4 = 3+3+2", "the groups 3+3+2 add up to 8, not 4: write for example 8/8 = 3+3+2");
        check("5/4 = 2;3", "\"2;3\" are no groups: write them like 2+3");
        check("5/4 =", "\"\" are no groups: write them like 2+3");
        check("5/4 = 5", "a group is 1 to 4, mostly 2 or 3, not 5");
        check("5/4 = 0+3+2", "a group is 1 to 4, mostly 2 or 3, not 0");
    }
}
