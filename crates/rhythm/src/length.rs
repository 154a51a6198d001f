//! How long a figure is: `2 bars`, `3 beats`.

use crate::{CountMistake, Fraction, Meter};

/// The most bars a figure may last.
pub(crate) const MOST_BARS: i64 = 64;

/// A length as it is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Length {
    /// Bars from the bar line.
    Bars(i64),
    /// Felt beats from the first count.
    Beats(i64),
}

/// Reads a length.
///
/// # Errors
/// The one mistake in it.
pub(crate) fn length(text: &str, meter: &Meter) -> Result<Length, CountMistake> {
    let mistake = |message: String| {
        let help = "write a number and bars or beats, as in \"2 bars\" or \"3 beats\"";
        CountMistake::in_length(text, message, help)
    };
    let mut words = text.split_whitespace();
    let (number, what) = match (words.next(), words.next(), words.next()) {
        (Some(number), Some(what), None) => (number, what.to_lowercase()),
        _ => return Err(mistake(format!("“{text}” is no length"))),
    };
    let number = match number.parse::<i64>() {
        Ok(number) if number >= 1 => number,
        _ => return Err(mistake(format!("“{number}” is no number of bars or beats"))),
    };
    let (length, bars) = match what.as_str() {
        "bar" | "bars" => (Length::Bars(number), Some(number)),
        "beat" | "beats" => {
            let beats_to_a_bar = (meter.bar() / meter.beat()).ceil().to_integer().max(1);
            (Length::Beats(number), number.checked_div(beats_to_a_bar))
        }
        _ => return Err(mistake(format!("“{what}” is neither bars nor beats"))),
    };
    if bars.is_none_or(|bars| bars > MOST_BARS) {
        return Err(mistake(format!("a figure lasts {MOST_BARS} bars at most")));
    }
    Ok(length)
}

impl Length {
    /// In quarters.
    pub fn quarters(self, meter: &Meter) -> Fraction {
        match self {
            Length::Bars(bars) => meter.bar() * bars,
            Length::Beats(beats) => meter.beat() * beats,
        }
    }
}
