//! A phrase from a notated line.

use std::ops::Range;

use lesson::{Phrase, PlacedChord};
use rhythm::Fraction;

use crate::around::around;
use crate::choice::choose;
use crate::chord_place::left_out;
use crate::file::score;
use crate::grid::{GridBar, grid, whole_bar};
use crate::line::{Excerpt, line};
use crate::part::{Concern, Part, PlacedWarning, Sound};
use crate::reading::{NOT_THERE, TOO_MUCH};
use crate::time::add;
use crate::voice::chosen;
use crate::warnings::gathered;
use crate::{Bars, Place, ReadError, Reading, Selection, Warning};

/// Reads a single line of a MusicXML file (2.0 to 4.0, by part or by time,
/// plain or `.mxl`): the bars asked for, or all of them. Repeats are not
/// played out.
///
/// # Errors
/// The one thing that cannot be read, with its place; no such bars; no notes
/// in them.
pub fn phrase(
    bytes: &[u8],
    asked: &Selection,
    bars: Option<Bars>,
) -> Result<Reading<Phrase>, ReadError> {
    let (document, mut warnings) = score(bytes, asked.named)?;
    let title = document.title.clone();
    let (mut part, several) = choose(document, asked.part.as_deref(), has_notes, "notes")?;
    warnings.extend(several);
    let (grid, mut told) = grid(&part);
    let measures = match bars {
        Some(bars) => selected(&part, &grid, bars)?,
        None => 0..part.measures.len(),
    };
    // What is lost after the last bar asked for does no harm.
    if let Some((_, fault)) = part.fault.take_if(|(at, _)| *at < measures.end) {
        return Err(fault);
    }
    let onsets = onsets(&part, &grid[measures.clone()], measures.start, &mut told)?;
    let (voice, other_lines) = chosen(&part, asked, measures.clone())?;
    warnings.extend(other_lines);
    let around = around(&part, voice, measures.clone());
    endings(&part, measures.clone(), &mut told);
    let excerpt = Excerpt {
        grid: &grid,
        measures: measures.clone(),
        onsets: &onsets,
    };
    let notes = line(&mut part, voice, &excerpt, &mut told)?;
    let chords = chords(&part, &grid, measures.clone(), &onsets, &mut told);
    let told = std::mem::take(&mut part.warnings)
        .into_iter()
        .chain(told)
        .collect();
    warnings.extend(gathered(
        told,
        &part,
        |about| about != Concern::Chords,
        measures.clone(),
    ));
    let first = &grid[measures.start];
    let value = Phrase {
        title,
        played_by: part.played_by.clone(),
        named: asked.named,
        written_to_sounding: part.measures[measures.start].written_to_sounding,
        key: part.measures[measures.start].key,
        home: part.measures[measures.start].home.clone(),
        around,
        meter: first.said.clone(),
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

/// The measures between two printed numbers, with the other pieces of a bar
/// that was cut.
fn selected(part: &Part, grid: &[GridBar], bars: Bars) -> Result<Range<usize>, ReadError> {
    let numbers: Vec<Option<u16>> = part
        .measures
        .iter()
        .map(|measure| number(&measure.number))
        .collect();
    let from = numbers.iter().position(|number| *number == Some(bars.from));
    let to = |from: usize| {
        let own = |number: &Option<u16>| *number == Some(bars.to);
        let after = from + numbers[from..].iter().position(own)?;
        // `4`, then `4a` or `X4`, are one bar in pieces.
        Some(
            after
                + numbers[after..]
                    .iter()
                    .take_while(|number| own(number))
                    .count(),
        )
    };
    match from.and_then(|from| Some(from..to(from)?)) {
        Some(measures) => {
            let first = whole_bar(part, grid, measures.start);
            let last = whole_bar(part, grid, measures.end - 1);
            Ok(first.start..last.end)
        }
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
            Err(ReadError::whole(format!("{missing}: the {range}")).with(NOT_THERE))
        }
    }
}

/// The bar that a printed number means: `4`, `4a`, `X4`.
fn number(printed: &str) -> Option<u16> {
    let digits = printed.trim().trim_start_matches(['X', 'x']);
    let digits = digits.trim_end_matches(|letter: char| letter.is_ascii_alphabetic());
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit());
    digits.parse().ok().filter(|_| plain)
}

/// Says where a second ending stands right after a first one: they are taken
/// as they stand on the page, not one for each time.
fn endings(part: &Part, measures: Range<usize>, told: &mut Vec<PlacedWarning>) {
    let mut before = false;
    for at in measures {
        if part.measures[at].lines.ending.is_none() {
            continue;
        }
        if !std::mem::replace(&mut before, true) {
            continue;
        }
        let number = |at: usize| &part.measures[at].number;
        let message = format!(
            "two endings stand here one after the other, as on the page, though only one of them is \
             played at a time: ask for bars up to {} to have the first",
            crate::shown::short(number(at.saturating_sub(1))),
        );
        told.push(PlacedWarning {
            about: Concern::Line,
            warning: Warning {
                place: Place {
                    measure: Some(crate::shown::short(number(at))),
                    ..Place::default()
                },
                message,
            },
            measure: at,
        });
    }
}

/// Where each bar begins, in quarters from the first bar line.
fn onsets(
    part: &Part,
    bars: &[GridBar],
    first: usize,
    told: &mut Vec<PlacedWarning>,
) -> Result<Vec<Fraction>, ReadError> {
    let place = |at: usize| Place {
        measure: Some(crate::shown::short(&part.measures[first + at].number)),
        ..Place::default()
    };
    let Some(opening) = bars.first() else {
        return Err(ReadError::whole("the part has no measures"));
    };
    let other = |bar: &GridBar| {
        (bar.said.upper(), bar.said.lower()) != (opening.said.upper(), opening.said.lower())
    };
    if let Some(at) = bars.iter().position(other) {
        let (before, after) = (&opening.said, &bars[at].said);
        told.push(PlacedWarning {
            about: Concern::Line,
            warning: Warning {
                place: place(at),
                message: format!(
                    "the meter changes from {before} to {after}: all is counted in {before}"
                ),
            },
            measure: first + at,
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
            help: TOO_MUCH,
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
    told: &mut Vec<PlacedWarning>,
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
                Err(fault) => told.push(left_out(fault, at)),
            }
        }
    }
    chords.sort_by_key(|chord| chord.at);
    chords
}
