//! What a lesson says of its practice tracks.

use lesson::{Loudness, Track, TrackForm};

use crate::language::choice::choose;
use crate::language::known_table;
use crate::language::words;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::tables::tree::{Node, Table, Value};
use crate::tables::value::{as_texts, wrong_kind};
use crate::tables::walk::Walk;

/// Reads `[track]`; what it doesn't say is as in `rest`.
pub(crate) fn track(walk: &Walk<'_>, rest: &Track, report: &mut Report<'_>) -> Saying<Track> {
    walk.read("track", |node| match &node.value {
        Value::Table(table) => read(table, rest, report),
        other => {
            let help = "write [track] alone on a line, once, and what it says on the lines below";
            wrong_kind("track", node, other, help, report);
            None
        }
    })
}

fn read(table: &Table, usual: &Track, report: &mut Report<'_>) -> Option<Track> {
    let walk = Walk::open(table, known_table::TRACK, report);
    let small = |number: i64| u8::try_from(number).ok();
    let count_in = walk.number("count_in", report);
    let times = walk.number("times", report);
    let forms = walk.read("forms", |node| forms(node, report));
    let tuning = walk.number("tuning", report);
    let style = walk.word("style", words::TRACK_STYLES, report);
    let click = walk.word("click", words::TRACK_CLICKS, report);
    let levels = walk.read("levels", |node| levels(node, usual.levels, report));
    Some(Track {
        count_in: small(count_in.or(usual.count_in.into())?)?,
        times: small(times.or(usual.times.into())?)?,
        forms: forms.or(usual.forms.clone())?,
        tuning: u16::try_from(tuning.or(usual.tuning.into())?).ok()?,
        style: style.maybe().ok()?.or(usual.style),
        click: click.maybe().ok()?.or(usual.click),
        levels: levels.or(usual.levels)?,
    })
}

fn levels(node: &Node, usual: Loudness, report: &mut Report<'_>) -> Option<Loudness> {
    let Value::Table(table) = &node.value else {
        let help =
            "write levels = { line = 100, chords = 80, bass = 100, drums = 60, click = 100 }";
        wrong_kind("levels", node, &node.value, help, report);
        return None;
    };
    let walk = Walk::open(table, known_table::LEVELS, report);
    let mut level = |key, usual: u8| {
        let said = walk.number(key, report).or(i64::from(usual))?;
        u8::try_from(said).ok()
    };
    let (line, chords) = (level("line", usual.line), level("chords", usual.chords));
    let (bass, drums) = (level("bass", usual.bass), level("drums", usual.drums));
    let click = level("click", usual.click);
    Some(Loudness {
        line: line?,
        chords: chords?,
        bass: bass?,
        drums: drums?,
        click: click?,
    })
}

fn forms(node: &Node, report: &mut Report<'_>) -> Option<Vec<TrackForm>> {
    let texts = as_texts("forms", node, words::TRACK_FORMS.len() + 1, report)?;
    let before = report.count();
    let mut forms = Vec::new();
    for text in &texts {
        let Some(form) = choose("a form", text, words::TRACK_FORMS, report) else {
            continue;
        };
        if forms.contains(&form) {
            report.mistake(
                &text.span,
                format!("{} is there already", shown(&text.value)),
                "name each form once",
            );
        } else {
            forms.push(form);
        }
    }
    (report.count() == before).then_some(forms)
}
