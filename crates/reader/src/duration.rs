//! How long a note lasts: by its duration, and by its written value (type,
//! dots, tuplet) where the duration is missing or was rounded.

use rhythm::Fraction;

use crate::element::Element;
use crate::shown::shown;
use crate::time::{decimal, integer, part, times};

/// A length with a word on what was guessed for it, or why there is none.
pub(crate) type Length = Result<(Fraction, Option<String>), (&'static str, String)>;

/// The length in quarters. `divisions` is how many a quarter has, if the file
/// has said it; `bar` the length of a full bar.
pub(crate) fn length(note: &Element, divisions: Option<Fraction>, bar: Fraction) -> Length {
    let written = written(note);
    let rest = note.child("rest");
    let Some(text) = note.said("duration") else {
        return match (written, rest) {
            (Some(written), _) => Ok((
                written,
                Some("the note has no duration: its written value was taken".to_owned()),
            )),
            (None, Some(rest)) if rest.says_yes("measure") => Ok((bar, None)),
            (None, Some(_)) => Ok((
                bar,
                Some("the rest says not how long it is: a full bar was taken".to_owned()),
            )),
            (None, None) => Err(("note", "the note says not how long it is".to_owned())),
        };
    };
    let parts = decimal(text)
        .filter(|parts| *parts >= Fraction::ZERO)
        .ok_or_else(|| ("duration", format!("{} is no duration", shown(text))))?;
    let too_fine = || {
        (
            "duration",
            format!("{} is a time too long or too fine to hold", shown(text)),
        )
    };
    let Some(per_quarter) = divisions else {
        // The caller has warned that divisions are missing.
        return match written {
            Some(written) => Ok((written, None)),
            None => Ok((parts, None)),
        };
    };
    let timed = part(parts, per_quarter).ok_or_else(too_fine)?;
    let Some(written) = written.filter(|written| *written != timed) else {
        return Ok((timed, None));
    };
    if rest.is_some() && timed > Fraction::ZERO && !is_tuplet(note) {
        // A whole rest fills a bar of any meter.
        return Ok((timed, None));
    }
    let off = if timed > written {
        timed - written
    } else {
        written - timed
    };
    let rounded = is_tuplet(note) && times(off, per_quarter).is_some_and(|off| off < Fraction::ONE);
    if rounded || timed == Fraction::ZERO {
        return Ok((
            written,
            Some(format!(
                "the duration is rounded: the written value of {written} quarters was taken"
            )),
        ));
    }
    Ok((
        timed,
        Some(format!(
            "the note lasts {timed} quarters by its duration but {written} as it is written: \
             the duration was taken"
        )),
    ))
}

fn is_tuplet(note: &Element) -> bool {
    note.child("time-modification").is_some()
}

/// The written value in quarters: type, dots and tuplet.
fn written(note: &Element) -> Option<Fraction> {
    let (_, (upper, lower)) = VALUES
        .iter()
        .find(|(name, _)| note.said("type") == Some(name))?;
    let plain = Fraction::new(*upper, *lower);
    let dots = u32::try_from(note.children("dot").take(5).count()).ok()?;
    let half_more = Fraction::new((2 << dots) - 1, 1 << dots);
    let dotted = times(plain, half_more)?;
    let Some(tuplet) = note.child("time-modification") else {
        return Some(dotted);
    };
    let number = |name| {
        tuplet
            .said(name)
            .and_then(integer)
            .filter(|number| (1..=1_000).contains(number))
    };
    times(
        dotted,
        Fraction::new(number("normal-notes")?, number("actual-notes")?),
    )
}

/// MusicXML 4.0 `note-type-value`.
const VALUES: [(&str, (i64, i64)); 14] = [
    ("maxima", (32, 1)),
    ("long", (16, 1)),
    ("breve", (8, 1)),
    ("whole", (4, 1)),
    ("half", (2, 1)),
    ("quarter", (1, 1)),
    ("eighth", (1, 2)),
    ("16th", (1, 4)),
    ("32nd", (1, 8)),
    ("64th", (1, 16)),
    ("128th", (1, 32)),
    ("256th", (1, 64)),
    ("512th", (1, 128)),
    ("1024th", (1, 256)),
];
