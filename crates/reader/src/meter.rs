//! Meters as the file writes them: `time`, and the meter of a file that says
//! none.

use rhythm::{Fraction, Meter};

use crate::element::Element;
use crate::shown::shown;
use crate::time::integer;

/// A meter with a word on what was guessed for it; no meter where music is
/// free.
///
/// # Errors
/// Why it can't be read.
pub(crate) fn meter(time: &Element) -> Result<(Option<Meter>, Option<String>), String> {
    if time.child("senza-misura").is_some() {
        let guess = "the music has no meter here: the last one was kept".to_owned();
        return Ok((None, Some(guess)));
    }
    let beats: Vec<&str> = time.children("beats").map(Element::text).collect();
    let types: Vec<&str> = time.children("beat-type").map(Element::text).collect();
    let said = || {
        let pairs = beats
            .iter()
            .zip(&types)
            .map(|(beats, lower)| format!("{beats}/{lower}"));
        shown(&pairs.collect::<Vec<_>>().join(" + "))
    };
    if beats.is_empty() || beats.len() != types.len() {
        return Err("a meter needs beats and a beat type".to_owned());
    }
    let no_meter = || format!("{} is no meter", said());
    let lowers: Option<Vec<i64>> = types
        .iter()
        .map(|text| integer(text).filter(|lower| [1, 2, 4, 8, 16, 32].contains(lower)))
        .collect();
    let lowers = lowers.ok_or_else(no_meter)?;
    let lowest = lowers.iter().copied().max().unwrap_or(4);
    let mut groups = Vec::new();
    for (text, lower) in beats.iter().zip(&lowers) {
        for group in text.split('+') {
            let group = integer(group).filter(|group| (1..=64).contains(group));
            groups.push(group.ok_or_else(no_meter)? * (lowest / lower));
        }
    }
    let upper: i64 = groups.iter().sum();
    let plain = format!("{upper}/{lowest}");
    let text = if groups.len() > 1 {
        let groups: Vec<String> = groups.iter().map(i64::to_string).collect();
        format!("{plain} = {}", groups.join("+"))
    } else {
        plain.clone()
    };
    let read = text.parse::<Meter>().map_err(|_| no_meter())?;
    let guess = (beats.len() > 1).then(|| format!("{} was taken as {plain}", said()));
    Ok((Some(read), guess))
}

/// The meter of music that says none: the length that most full measures
/// have.
pub(crate) fn likely(lengths: impl Iterator<Item = Fraction>) -> Meter {
    let mut counts: Vec<(Fraction, usize)> = Vec::new();
    for length in lengths.filter(|length| *length > Fraction::ZERO).take(64) {
        match counts.iter_mut().find(|(other, _)| *other == length) {
            Some((_, count)) => *count += 1,
            None => counts.push((length, 1)),
        }
    }
    counts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let length = counts
        .first()
        .map_or(Fraction::from(4), |(length, _)| *length);
    [4, 8, 16, 32]
        .into_iter()
        .find_map(|lower| {
            let units = length * Fraction::new(lower, 4);
            let text = units
                .is_integer()
                .then(|| format!("{}/{lower}", units.to_integer()))?;
            text.parse().ok()
        })
        .unwrap_or_else(Meter::common)
}
