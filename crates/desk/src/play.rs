//! A sheet as it sounds, for the player in the page: events in ticks, the
//! time they take, and which note of the sheet each is.

use etude::Composer;
use lesson::{Feel, Lesson};
use rhythm::Fraction;
use score::{Element, Score};
use serde_json::{Value as Json, json};
use sound::{Performance, Role, Swing, SwingRatio, Take, Tuning, perform};

use crate::folder::Folder;
use crate::lessons;
use crate::look::Shown;

/// What the player plays, or why it can't.
pub(crate) fn play(folder: &Folder, shown: &Shown) -> Result<Json, String> {
    let lesson = lessons::read(folder, &shown.file, &shown.text)
        .map_err(|_| "the lesson has a mistake: mend it first".to_owned())?;
    let composer = Composer::new(&lesson).map_err(|error| error.to_string())?;
    let plan = shown
        .plan(&composer)
        .ok_or_else(|| "there is no sheet".to_owned())?;
    let made = composer.compose(&plan).map_err(|fault| fault.to_string())?;
    let performance = perform(&[&made.score], &take(&lesson)).map_err(|error| error.to_string())?;
    Ok(of(&performance, &made.score))
}

/// The sheet once, with everything in it: what isn't wanted is muted in the
/// page.
fn take(lesson: &Lesson) -> Take {
    Take {
        swing: match lesson.feel {
            Feel::Straight => Swing::Straight,
            Feel::Swing(lesson::Swing::ByTempo) => Swing::ByTempo,
            Feel::Swing(lesson::Swing::Ratio { long, short }) => {
                SwingRatio::new(long, short).map_or(Swing::default(), Swing::Ratio)
            }
        },
        count_in: lesson.track.count_in,
        tuning: Tuning::new(lesson.track.tuning).unwrap_or_default(),
        ..Take::default()
    }
}

fn of(performance: &Performance, score: &Score) -> Json {
    let role = |role: Role| -> Json {
        let strikes = performance.strikes(role).iter();
        strikes
            .map(|strike| json!([strike.onset, strike.end, strike.key, strike.velocity]))
            .collect()
    };
    let tempos: Vec<Json> = performance
        .tempos
        .iter()
        .map(|(at, microseconds)| json!([at, microseconds]))
        .collect();
    let meters: Vec<Json> = performance
        .meters
        .iter()
        .map(|(at, meter)| json!([at, meter.upper, meter.lower]))
        .collect();
    let (bars, notes) = places(performance, score);
    json!({
        "perQuarter": performance.per_quarter,
        "end": performance.end,
        "tuning": performance.tuning.hertz(),
        "tempos": tempos,
        "meters": meters,
        "beat": beat(score),
        "perMinute": per_minute(score),
        "bars": bars,
        "notes": notes,
        "line": role(Role::Line),
        "chords": role(Role::Chords),
        "bass": role(Role::Bass),
        "click": role(Role::Click),
    })
}

/// What a tempo counts, in quarters: the felt beat of the sheet's first meter.
fn beat(score: &Score) -> String {
    let meter = score
        .part
        .measures
        .iter()
        .find_map(|bar| bar.meter.as_ref());
    meter.map_or(Fraction::ONE, rhythm::Meter::beat).to_string()
}

/// Beats a minute at the sheet's beginning.
fn per_minute(score: &Score) -> u16 {
    let directions = score.part.measures.iter().flat_map(|bar| &bar.directions);
    let mark = directions
        .into_iter()
        .find_map(|direction| match direction {
            score::Direction::Tempo { per_minute, .. } => Some(*per_minute),
            _ => None,
        });
    mark.unwrap_or(sound::DEFAULT_TEMPO)
}

/// Where bars and written notes begin, in ticks, with their names on the
/// sheet. Of tied notes each has its own place.
fn places(performance: &Performance, score: &Score) -> (Vec<Json>, Vec<Json>) {
    let divisions = i64::from(score.divisions.max(1));
    let ticks = |time: i64| time * i64::from(performance.per_quarter) / divisions;
    let length: i64 = score
        .part
        .measures
        .iter()
        .flat_map(|bar| &bar.elements)
        .map(|element| i64::from(element.written().length))
        .sum();
    let start = i64::from(performance.end) - ticks(length);
    let mut strikes = performance.strikes(Role::Line).iter();
    let (mut bars, mut notes) = (Vec::new(), Vec::new());
    let mut at = 0;
    for (bar, name) in score.part.measures.iter().zip(names(score)) {
        let bar_start = at;
        bars.push(json!([start + ticks(at), name, !bar.implicit]));
        for element in &bar.elements {
            let length = i64::from(element.written().length);
            if let Element::Note(note) = element {
                let onset = if note.tied_from {
                    start + ticks(at)
                } else {
                    strikes
                        .next()
                        .map_or(start + ticks(at), |strike| i64::from(strike.onset))
                };
                let within = Fraction::new(at - bar_start, divisions).to_string();
                notes.push(json!([onset, name, within]));
            }
            at += length;
        }
    }
    (bars, notes)
}

/// What the drawn sheet calls its bars.
fn names(score: &Score) -> impl Iterator<Item = String> {
    score.part.measures.iter().map(|bar| {
        if bar.extra {
            format!("X{}", bar.number)
        } else {
            bar.number.to_string()
        }
    })
}
