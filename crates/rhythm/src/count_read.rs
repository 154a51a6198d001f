//! Reading a count: from its words to slots in time.

use std::ops::Range;

use crate::count_end::{Kind, MOST_COUNTS, Onset, counted_out, read_length};
use crate::count_reader::CountReader;
use crate::count_words::words;
use crate::counting::{counting, thirds_of_the_beat};
use crate::{Count, CountMistake, Counting, Fraction, Meter, Thirds};

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
        Count::read_with_spans(text, meter, lower, length).map(|(count, _)| count)
    }

    /// The same, with the bytes of the text at which each slot's word stands.
    ///
    /// # Errors
    /// Every mistake in it, in order.
    pub fn read_with_spans(
        text: &str,
        meter: &Meter,
        lower: Option<u16>,
        length: Option<&str>,
    ) -> Result<(Count, Vec<Range<usize>>), Vec<CountMistake>> {
        let finer = lower.and_then(|lower| meter.in_units_of(lower));
        let lower = finer.as_ref().map(Meter::lower);
        let numbered = finer.as_ref().unwrap_or(meter);
        let words = words(text);
        if words.len() > MOST_COUNTS {
            return Err(vec![CountMistake::in_count(
                0..text.len(),
                format!("a count has {MOST_COUNTS} words at most"),
                "write a shorter figure",
            )]);
        }
        let counting = Counting {
            lower,
            ..counting(numbered, text, &words)
        };
        let words = match counting.thirds {
            Thirds::AndA => thirds_of_the_beat(words),
            Thirds::TripLet | Thirds::LaLi => words,
        };
        let mut reading = CountReader::new(text, numbered, counting.beats);
        for (at, (word, span)) in words.iter().enumerate() {
            reading.take(*word, span.clone(), &words[at + 1..]);
        }
        match (reading.finish(), read_length(length, meter)) {
            (Ok((onsets, pickup)), Ok(length)) => {
                let (count, spans) = counted_out(onsets, pickup, meter, length, text.len())?;
                Ok((Count { counting, ..count }, spans))
            }
            (Ok(_), Err(mistake)) => Err(vec![mistake]),
            (Err(mistakes), Ok(_)) => Err(mistakes),
            (Err(mut mistakes), Err(mistake)) => {
                mistakes.push(mistake);
                Err(mistakes)
            }
        }
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
        let half = Fraction::new(1, 2);
        let counted = silent.iter().zip(0i64..).map(|(silent, place)| {
            let at = half * place;
            Onset {
                at,
                kind: if *silent { Kind::Silence } else { Kind::Note },
                span: 0..0,
            }
        });
        let length = read_length(length, meter).map_err(|mistake| vec![mistake])?;
        counted_out(counted.collect(), Fraction::ZERO, meter, length, 0).map(|(count, _)| count)
    }
}
