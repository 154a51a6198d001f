//! Which line of a part is read: one voice on one staff.

use std::ops::Range;

use rhythm::Fraction;

use crate::part::{Part, Sound};
use crate::reading::{NO_NOTES, NOT_THERE};
use crate::shown::shown;
use crate::{Place, ReadError, Selection, Warning};

/// A staff, and a voice by its place among the part's.
pub(crate) type Voice = (u8, usize);

/// What a voice does in some measures.
#[derive(Debug, Clone, Copy)]
struct Line {
    voice: Voice,
    /// How often something begins: notes on one stem count once.
    onsets: i64,
    /// The sum of its notes' heights, the highest of each stem.
    heights: i64,
}

/// The voice asked for; if none is, that of the uppermost staff which lies
/// highest among those that are no mere fragments. What else there is, is
/// told.
///
/// # Errors
/// No notes at all, or none on the staff or in the voice asked for.
pub(crate) fn chosen(
    part: &Part,
    asked: &Selection,
    measures: Range<usize>,
) -> Result<(Voice, Option<Warning>), ReadError> {
    let lines = lines(part, measures);
    if lines.is_empty() {
        return Err(ReadError::whole("there are no notes in these bars").with(NO_NOTES));
    }
    let name = |line: &Line| part.voices.get(line.voice.1).map_or("1", String::as_str);
    let wanted: Vec<&Line> = lines
        .iter()
        .filter(|line| asked.staff.is_none_or(|staff| staff == line.voice.0))
        .filter(|line| {
            asked
                .voice
                .as_deref()
                .is_none_or(|voice| voice == name(line))
        })
        .collect();
    let Some(upper) = wanted.iter().map(|line| line.voice.0).min() else {
        let there: Vec<String> = lines
            .iter()
            .map(|line| said(line.voice.0, name(line)))
            .collect();
        return Err(ReadError::whole(format!(
            "there is no such line in these bars: there are {}",
            there.join(", ")
        ))
        .with(NOT_THERE));
    };
    let of_staff = || wanted.iter().filter(|line| line.voice.0 == upper);
    let most = of_staff().map(|line| line.onsets).max().unwrap_or(0);
    let leading = of_staff()
        .filter(|line| 2 * line.onsets >= most)
        .max_by_key(|line| {
            (
                Fraction::new(line.heights, line.onsets.max(1)),
                -(line.voice.1 as i64),
            )
        });
    let Some(leading) = leading else {
        return Err(ReadError::whole("there are no notes in these bars").with(NO_NOTES));
    };
    let others: Vec<String> = lines
        .iter()
        .filter(|line| line.voice != leading.voice)
        .map(|line| {
            let (staff, voice) = (line.voice.0, name(line));
            if staff == leading.voice.0 {
                format!("--voice {voice}")
            } else if lines.iter().filter(|other| other.voice.0 == staff).count() == 1 {
                format!("--staff {staff}")
            } else {
                format!("--staff {staff} --voice {voice}")
            }
        })
        .collect();
    let told = !others.is_empty() && asked.voice.is_none();
    let warning = told.then(|| Warning {
        place: Place::default(),
        message: format!(
            "several lines stand here: {} was taken; another with {}",
            said(leading.voice.0, name(leading)),
            others.join(" or ")
        ),
    });
    Ok((leading.voice, warning))
}

fn said(staff: u8, voice: &str) -> String {
    format!("voice {} of staff {staff}", shown(voice))
}

/// The voices with notes, by staff and by their order in the file.
fn lines(part: &Part, measures: Range<usize>) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for note in part.measures[measures]
        .iter()
        .flat_map(|measure| &measure.notes)
    {
        let height = match &note.sound {
            Sound::Pitch(pitch) => i64::from(pitch.midi()),
            Sound::Unreadable(_) => 60,
            Sound::Rest | Sound::Hidden | Sound::Unpitched(_) => continue,
        };
        let voice = (note.staff, note.voice);
        let at = match lines.iter().position(|line| line.voice == voice) {
            Some(at) => at,
            None => {
                lines.push(Line {
                    voice,
                    onsets: 0,
                    heights: 0,
                });
                lines.len() - 1
            }
        };
        if !note.on_stem {
            lines[at].onsets += 1;
            lines[at].heights += height;
        }
    }
    lines.sort_by_key(|line| line.voice);
    lines
}
