//! From what a lesson says to what it means: names become the things they
//! name, and what isn't said takes its usual value.

use lesson::{Exercise, Lesson, LessonScale};
use rhythm::{Fraction, divisions};
use theory::Scale;

use crate::meaning::assignment::{Assignment, assign};
use crate::meaning::material::times_of;
use crate::meaning::progression::{Progression, progression};
use crate::meaning::setting::Setting;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Unclear};
use crate::typed::figures::figure::FigureText;
use crate::typed::head::{Head, HeadText};
use crate::typed::lesson_text::LessonText;
use crate::typed::player::{self, PlayerText};
use crate::typed::scale::ScaleText;

/// Who plays a lesson.
pub(crate) enum Cast<'c, 's> {
    /// Those it names itself.
    Own,
    /// Those of its course, whose mistakes go there; `None` where it isn't
    /// clear who they are.
    Course(Option<&'c [PlayerText]>, &'c mut Report<'s>),
}

/// The lesson; `None` where there are mistakes. What its head doesn't say is
/// as in `rest`.
pub(crate) fn meaning(
    text: &mut LessonText,
    stem: &str,
    rest: &Head,
    cast: Cast<'_, '_>,
    report: &mut Report<'_>,
) -> Option<Lesson> {
    let keys = text.head.keys(rest);
    let level = text.head.level.or(rest.level);
    let named = text.players.as_ref();
    let own = named.and_then(|texts| player::resolve(texts, level, keys.as_ref(), report));
    let players = match cast {
        Cast::Own => own.clone(),
        Cast::Course(texts, course) => {
            texts.and_then(|texts| player::resolve(texts, level, keys.as_ref(), course))
        }
    };
    if let Some(figures) = &text.figures {
        one_clock(figures, report);
    }
    let progression = changes(text, report).ok()?;
    if let (Some(figures), Some(scales)) = (&text.figures, &mut text.scales) {
        add_homes(figures, scales);
    }
    let setting = Setting {
        keys: keys.as_ref(),
        players: players.as_deref(),
        own: own.as_deref(),
        labels: text.head.labels.or(rest.labels.clone()),
        chord_symbols: text.head.chord_symbols.or(rest.chord_symbols),
    };
    let assigned = assign(text, progression.as_ref(), &setting, report);
    let scales = text.scales.as_ref()?.iter();
    let scales: Option<Vec<LessonScale>> = scales.map(|scale| scale.scale.clone()).collect();
    let Assignment {
        figures,
        exercises,
        remarks,
    } = assigned?;
    let asks = exercises.iter().any(Exercise::asks);
    answerable(&text.head, asks, report)?;
    own?;
    let head = text.head.head(rest)?;
    Some(Lesson {
        id: text.id.or(stem.to_owned())?,
        title: text.title.said()?.value.clone(),
        subtitle: text.subtitle.maybe().ok()?,
        class: head.class,
        own: head.own,
        paper: head.paper,
        players: players?,
        tempo: head.tempo,
        feel: head.feel,
        signature: head.signature,
        spelling: head.spelling,
        labels: head.labels,
        keys: head.keys,
        scales: scales?,
        figures,
        exercises,
        together: head.together,
        track: head.track,
        remarks,
        note_names: head.note_names,
        large_print: head.large_print,
        dynamic: head.dynamic,
        breath: head.breath,
        answers: head.answers && asks,
        care: head.care,
    })
}

/// The changes played out, if there are some.
fn changes(text: &mut LessonText, report: &mut Report<'_>) -> Result<Option<Progression>, Unclear> {
    match (&text.changes, &mut text.scales) {
        (Saying::Said(said), Some(scales)) => progression(&said.value, scales, report)
            .map(Some)
            .ok_or(Unclear),
        (Saying::Unclear, _) => Err(Unclear),
        (Saying::Unsaid, _) | (Saying::Said(_), None) => Ok(None),
    }
}

/// Answers are asked for where something is left to be answered.
fn answerable(head: &HeadText, asks: bool, report: &mut Report<'_>) -> Option<()> {
    if let Saying::Said(answers) = &head.answers
        && answers.value
        && !asks
    {
        report.mistake(
            &answers.span,
            "no exercise leaves anything to be answered",
            "leave it out, or write kind = \"write out\" or hide = \"notes\" in an exercise",
        );
        return None;
    }
    Some(())
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
            scales.push(ScaleText::added(added, literal.span.clone()));
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
            report.mistake(&cell.count_span, error.to_string(), help);
            return;
        }
    }
}
