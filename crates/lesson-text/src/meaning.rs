//! From what a lesson says to what it means: names become the things they
//! name, and what isn't said takes its usual value.

use lesson::{Exercise, Feel, Lesson, LessonScale, Track};
use rhythm::{Count, Fraction, Meter, divisions};
use theory::{Level, Scale};

use crate::assignment::{Assignment, assign};
use crate::figure::FigureText;
use crate::keys;
use crate::lesson_text::LessonText;
use crate::player;
use crate::progression::progression;
use crate::report::Report;
use crate::said::Saying;
use crate::scale::ScaleText;

/// The lesson; `None` where there are mistakes.
pub(crate) fn meaning(
    text: &mut LessonText,
    stem: &str,
    report: &mut Report<'_>,
) -> Option<Lesson> {
    let keys = match &text.keys {
        Saying::Unsaid => Some(keys::unsaid()),
        said => said.said().map(|said| said.value.keys(&keys::unsaid())),
    };
    let level = text.level.or(Level::default());
    let players = text
        .players
        .as_ref()
        .and_then(|texts| player::resolve(texts, level, keys.as_ref(), report));
    if let Some(figures) = &text.figures {
        one_clock(figures, report);
    }
    let progression = match (&text.changes, &mut text.scales) {
        (Saying::Said(said), Some(scales)) => Some(progression(&said.value, scales, report)?),
        (Saying::Unclear, _) => return None,
        _ => None,
    };
    if let (Some(figures), Some(scales)) = (&text.figures, &mut text.scales) {
        add_homes(figures, scales);
    }
    let assigned = assign(
        text,
        progression.as_ref(),
        keys.as_ref(),
        players.as_deref(),
        report,
    );
    let scales: Option<Vec<LessonScale>> = text
        .scales
        .as_ref()?
        .iter()
        .map(|scale| scale.scale.clone())
        .collect();
    let Assignment {
        figures,
        exercises,
        remarks,
    } = assigned?;
    if let Saying::Said(answers) = &text.answers
        && answers.value
        && !exercises.iter().any(Exercise::asks)
    {
        report.mistake(
            &answers.place,
            "no exercise leaves anything to be answered",
            "leave it out, or write kind = \"write out\" or hide = \"notes\" in an exercise",
        );
        return None;
    }
    Some(Lesson {
        id: text.id.or(stem.to_owned())?,
        title: text.title.said()?.value.clone(),
        subtitle: text.subtitle.maybe()?,
        class: text.class.maybe()?,
        own: text.own.clone()?,
        paper: text.paper.maybe()?,
        players: players?,
        tempo: text.tempo.maybe()?,
        feel: text.feel.or(Feel::default())?,
        signature: text.signature.or(Default::default())?,
        spelling: text.spelling.or(Default::default())?,
        labels: text.labels.or(Vec::new())?,
        keys: keys?,
        scales: scales?,
        figures,
        exercises,
        together: text.together.or(false)?,
        track: text.track.or(Track::default())?,
        remarks,
        note_names: text.note_names.or(Default::default())?,
        large_print: text.large_print.or(false)?,
        dynamic: text.dynamic.maybe()?,
        breath: text.breath.or(Default::default())?,
        answers: text.answers.or(false)?,
        care: text.care.or(false)?,
    })
}

/// Phrases that move note for note bring the scale of their key.
fn add_homes(figures: &[FigureText], scales: &mut Vec<ScaleText>) {
    for cell in figures.iter().filter_map(|figure| figure.cell.as_ref()) {
        let literal = cell.literal.as_ref();
        let home = literal.and_then(|literal| Scale::named(literal.home()).ok());
        let (Some(literal), Some(scale)) = (literal, home) else {
            continue;
        };
        // One without a chord of its own: the phrase says its chords.
        let added = LessonScale { scale, chord: None };
        if !scales.iter().any(|one| one.scale.as_ref() == Some(&added)) {
            scales.push(ScaleText::added(added, literal.place.clone()));
        }
    }
}

/// All figures of a lesson are written in one smallest part of a quarter.
fn one_clock(figures: &[FigureText], report: &mut Report<'_>) {
    let eighth = Fraction::new(1, 2);
    let mut times = vec![eighth];
    for cell in figures.iter().filter_map(|figure| figure.cell.as_ref()) {
        times.extend(times_of(&cell.meter, &cell.count));
        times.sort_unstable();
        times.dedup();
        if let Err(error) = divisions(times.iter().copied()) {
            let help = "write it in larger counts, or put it into a lesson of its own";
            report.mistake(&cell.count_place, error.to_string(), help);
            return;
        }
    }
}

/// Everything that lasts in a count in its meter.
pub(crate) fn times_of<'a>(
    meter: &'a Meter,
    count: &'a Count,
) -> impl Iterator<Item = Fraction> + 'a {
    let slots = count
        .slots
        .iter()
        .flat_map(|slot| [slot.onset, slot.length]);
    let whole = [count.pickup, count.span, meter.bar(), meter.unit()];
    slots.chain(whole).chain(meter.beats())
}
