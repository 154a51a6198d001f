//! A phrase from a notated line.

use std::ops::Range;

use lesson::{Phrase, PhraseNote, PlacedChord};
use rhythm::{Fraction, Meter};

use crate::choice::choose;
use crate::file::score;
use crate::grid::{GridBar, grid};
use crate::line::line;
use crate::part::{About, Part, Sound, Told};
use crate::time::add;
use crate::warnings::gathered;
use crate::{Asked, Bars, Place, ReadError, Reading, Warning};

/// Reads a single line of a MusicXML file (2.0 to 4.0, by part or by time,
/// plain or `.mxl`): the bars asked for, or all of them. Repeats are not
/// played out.
///
/// # Errors
/// The one thing that cannot be read, with its place; a meter that changes
/// within the phrase; no such bars; no notes in them.
pub fn phrase(
    bytes: &[u8],
    asked: &Asked,
    bars: Option<Bars>,
) -> Result<Reading<Phrase>, ReadError> {
    let (document, mut warnings) = score(bytes, asked.named)?;
    let title = document.title.clone();
    let (mut part, chosen) = choose(document, asked.part.as_deref(), has_notes, "notes")?;
    warnings.extend(chosen);
    let (grid, mut told) = grid(&part);
    let measures = match bars {
        Some(bars) => selected(&part, bars)?,
        None => 0..part.measures.len(),
    };
    let onsets = onsets(&part, &grid[measures.clone()], measures.start)?;
    let notes = line(&mut part, &grid, measures.clone(), &onsets, &mut told)?;
    let chords = chords(&part, &grid, measures.clone(), &onsets, &mut told);
    let told = std::mem::take(&mut part.warnings)
        .into_iter()
        .chain(told)
        .collect();
    warnings.extend(gathered(
        told,
        &part,
        |about| about != About::Chords,
        measures.clone(),
    ));
    let first = &grid[measures.start];
    let value = Phrase {
        title,
        part: part.name.clone().filter(|name| !name.is_empty()),
        named: asked.named,
        written_to_sounding: part.measures[measures.start].written_to_sounding,
        key: part.measures[measures.start].key,
        meter: first.meter.clone(),
        pickup: if first.from > Fraction::ZERO {
            first.length
        } else {
            Fraction::ZERO
        },
        notes,
        chords,
    };
    Ok(Reading { value, warnings })
}

fn has_notes(part: &Part) -> bool {
    part.measures
        .iter()
        .flat_map(|measure| &measure.notes)
        .any(|note| matches!(note.sound, Sound::Pitch(_)))
}

/// The measures between two printed numbers.
fn selected(part: &Part, bars: Bars) -> Result<Range<usize>, ReadError> {
    let numbers: Vec<Option<u16>> = part
        .measures
        .iter()
        .map(|measure| measure.number.trim().parse().ok())
        .collect();
    let from = numbers.iter().position(|number| *number == Some(bars.from));
    let to = |from: usize| {
        let after = numbers[from..]
            .iter()
            .position(|number| *number == Some(bars.to))?;
        // The other half of a bar that was cut in two belongs to it.
        let more = part.measures[from + after + 1..]
            .iter()
            .take_while(|measure| {
                measure.number.trim_start_matches(['X', 'x']) == bars.to.to_string()
            })
            .count();
        Some(from + after + 1 + more)
    };
    match from.and_then(|from| Some(from..to(from)?)) {
        Some(measures) => Ok(measures),
        None => {
            let counted: Vec<u16> = numbers.iter().flatten().copied().collect();
            let (low, high) = (counted.iter().min(), counted.iter().max());
            let range = match (low, high) {
                (Some(low), Some(high)) => format!("bars go from {low} to {high}"),
                _ => "bars have no numbers".to_owned(),
            };
            let missing = if bars.from == bars.to {
                format!("there is no bar {}", bars.from)
            } else {
                format!("there are no bars {}-{}", bars.from, bars.to)
            };
            Err(ReadError::whole(format!("{missing}: the {range}")))
        }
    }
}

/// Where each bar begins, in quarters from the first bar line.
fn onsets(part: &Part, bars: &[GridBar], first: usize) -> Result<Vec<Fraction>, ReadError> {
    let place = |at: usize| Place {
        measure: Some(crate::shown::short(&part.measures[first + at].number)),
        ..Place::default()
    };
    let Some(opening) = bars.first() else {
        return Err(ReadError::whole("the part has no measures"));
    };
    let same = |a: &Meter, b: &Meter| (a.upper(), a.lower()) == (b.upper(), b.lower());
    if let Some(at) = bars
        .iter()
        .position(|bar| !same(&bar.meter, &opening.meter))
    {
        let (before, after) = (&opening.meter, &bars[at].meter);
        return Err(ReadError {
            place: Box::new(place(at)),
            reason: format!(
                "the meter changes from {before} to {after}: ask for bars of one meter"
            ),
        });
    }
    let mut at = if opening.from > Fraction::ZERO {
        -opening.length
    } else {
        Fraction::ZERO
    };
    let mut onsets = Vec::with_capacity(bars.len());
    for (which, bar) in bars.iter().enumerate() {
        onsets.push(at);
        at = add(at, bar.length).ok_or_else(|| ReadError {
            place: Box::new(place(which)),
            reason: "the music is too long to hold".to_owned(),
        })?;
    }
    Ok(onsets)
}

/// The chords over the bars; those that can't be read are left out.
fn chords(
    part: &Part,
    grid: &[GridBar],
    measures: Range<usize>,
    onsets: &[Fraction],
    told: &mut Vec<Told>,
) -> Vec<PlacedChord> {
    let mut chords = Vec::new();
    for (at, onset) in measures.zip(onsets) {
        let bar = &grid[at];
        for chord in &part.measures[at].chords {
            match &chord.symbol {
                Ok(symbol) => {
                    let place = add(chord.at - bar.padding, *onset);
                    let within = chord.at >= bar.padding && chord.at - bar.padding < bar.length;
                    if let Some(at) = place.filter(|_| within) {
                        chords.push(PlacedChord {
                            at,
                            symbol: symbol.clone(),
                        });
                    }
                }
                Err(fault) => told.push(Told {
                    about: About::All,
                    warning: Warning {
                        place: (*fault.place).clone(),
                        message: format!("a chord was left out: {}", fault.reason),
                    },
                    measure: at,
                }),
            }
        }
    }
    chords.sort_by_key(|chord| chord.at);
    chords
}

/// A silence from one place to another, if there is any.
pub(crate) fn silence(from: Fraction, to: Fraction) -> Option<PhraseNote> {
    (to > from).then(|| PhraseNote {
        onset: from,
        length: to - from,
        pitch: None,
    })
}
