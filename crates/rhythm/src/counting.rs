//! How a count is counted: in beats or in units, and what its thirds are
//! called.

use std::ops::Range;

use crate::count_words::{CountToken, Subdivision};
use crate::{Counting, Meter, MeterKind, Thirds};

/// How a count is counted. In a compound meter numbers are its units, but
/// beats where `la` or `li` occurs, or where every `&` is followed by its `a`
/// and nothing tells of smaller parts or more numbers.
pub(crate) fn counting(
    meter: &Meter,
    text: &str,
    words: &[(CountToken, Range<usize>)],
) -> Counting {
    let compound = meter.kind() == MeterKind::Compound;
    let typed = || {
        words
            .iter()
            .filter_map(|(_, place)| thirds(&text[place.clone()]))
    };
    let la_li = typed().any(|thirds| thirds == Thirds::LaLi);
    if compound && !la_li && each_and_has_its_a(meter, words) {
        return Counting {
            beats: true,
            thirds: Thirds::AndA,
            lower: None,
        };
    }
    Counting {
        beats: compound && la_li,
        // Where both are typed, labels keep to the first.
        thirds: typed().next().unwrap_or_default(),
        lower: None,
    }
}

/// What a word calls the thirds, if it is one of them.
fn thirds(word: &str) -> Option<Thirds> {
    match word.to_ascii_lowercase().as_str() {
        "trip" | "let" => Some(Thirds::TripLet),
        "la" | "li" => Some(Thirds::LaLi),
        _ => None,
    }
}

/// `1 & a 2 & a` in a compound meter: at least one `&`, each followed by its
/// `a`, no `e`, and no number beyond the bar's beats.
fn each_and_has_its_a(meter: &Meter, words: &[(CountToken, Range<usize>)]) -> bool {
    let beats = meter.groups().len();
    let said = words.iter().map(|(said, _)| *said);
    let counts: Vec<CountToken> = said
        .filter(|said| {
            !matches!(
                said,
                CountToken::Open | CountToken::Close | CountToken::Hold
            )
        })
        .collect();
    let and = CountToken::Subdivision(Subdivision::Half);
    let alone = counts.iter().zip(1..).any(|(said, next)| {
        *said == and && counts.get(next) != Some(&CountToken::Subdivision(Subdivision::LastQuarter))
    });
    let too_many = |said: &CountToken| match said {
        CountToken::Subdivision(Subdivision::SecondQuarter) => true,
        CountToken::Number(number) => usize::from(*number) > beats,
        _ => false,
    };
    counts.contains(&and) && !alone && !counts.iter().any(too_many)
}

/// `&` and `a` as the second and last third of a beat.
pub(crate) fn thirds_of_the_beat(
    words: Vec<(CountToken, Range<usize>)>,
) -> Vec<(CountToken, Range<usize>)> {
    let third = |said| match said {
        CountToken::Subdivision(Subdivision::Half) => {
            CountToken::Subdivision(Subdivision::SecondThird)
        }
        CountToken::Subdivision(Subdivision::LastQuarter) => {
            CountToken::Subdivision(Subdivision::LastThird)
        }
        other => other,
    };
    let words = words.into_iter();
    words.map(|(said, place)| (third(said), place)).collect()
}
