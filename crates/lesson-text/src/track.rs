//! What a lesson says of its practice tracks.

use lesson::{Track, TrackForm};

use crate::known;
use crate::limit;
use crate::report::Report;
use crate::said::Saying;
use crate::suggestion::shown;
use crate::tree::{Node, Table, Value};
use crate::value::{as_texts, wrong_kind};
use crate::walk::Walk;
use crate::words::{self, choose};

/// Reads `[track]`; what it doesn't say is as usual.
pub(crate) fn track(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Track> {
    walk.read("track", |node| match &node.value {
        Value::Table(table) => read(table, report),
        other => {
            let help = "write [track] alone on a line, once, and what it says on the lines below";
            wrong_kind("track", node, other, help, report);
            None
        }
    })
}

fn read(table: &Table, report: &mut Report<'_>) -> Option<Track> {
    let walk = Walk::open(table, known::TRACK, report);
    let usual = Track::default();
    let small = |number: i64| u8::try_from(number).ok();
    let count_in = walk.number("count_in", limit::COUNT_IN, report);
    let times = walk.number("times", limit::TIMES, report);
    let forms = walk.read("forms", |node| forms(node, report));
    let tuning = walk.number("tuning", limit::TUNING, report);
    Some(Track {
        count_in: small(count_in.or(usual.count_in.into())?)?,
        times: small(times.or(usual.times.into())?)?,
        forms: forms.or(usual.forms)?,
        tuning: u16::try_from(tuning.or(usual.tuning.into())?).ok()?,
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
                &text.place,
                format!("{} is there already", shown(&text.value)),
                "name each form once",
            );
        } else {
            forms.push(form);
        }
    }
    (report.count() == before).then_some(forms)
}
