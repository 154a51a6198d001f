//! `[changes]` and `[[section]]`: a chord progression in words, or the lead
//! sheet that has it.

use std::ops::Range;

use lesson::{Changes, LessonScale, Named, PlacedChord};
use rhythm::Meter;
use theory::{KeySignature, Mode, PitchName, Signature};

use crate::bars::bars;
use crate::choose::{Chosen, choices};
use crate::known;
use crate::limit;
use crate::report::Report;
use crate::said::Saying;
use crate::scale::ScaleText;
use crate::suggestion::shown;
use crate::text::Text;
use crate::tree::{Table, Value};
use crate::value::{page_text, wrong_kind};
use crate::walk::{Walk, tables};

/// What a lesson says of its changes.
#[derive(Debug)]
pub(crate) struct ChangesText {
    pub place: Range<usize>,
    pub changes: Changes,
    /// The key they are named in, and whether it is minor.
    pub key: Saying<(PitchName, bool)>,
    pub choices: Vec<(Chosen, LessonScale)>,
}

/// Reads the changes; `Unsaid` where there are none. `lead` is what the lead
/// sheet says that they name.
pub(crate) fn changes(
    walk: &Walk<'_>,
    scales: Option<&[ScaleText]>,
    lead: Option<&Changes>,
    report: &mut Report<'_>,
) -> Saying<ChangesText> {
    let Some(node) = walk.node("changes") else {
        for key in ["section", "choose"]
            .into_iter()
            .filter(|key| walk.has(key))
        {
            let help = "write [changes] alone on a line, and bars = \"| C7 | F7 |\" below it";
            report.missing(
                &walk.key_place(key),
                format!("{key} says nothing without changes"),
                help,
            );
        }
        return Saying::Unsaid;
    };
    walk.read("changes", |_| {
        let Value::Table(table) = &node.value else {
            let help = "write [changes] alone on a line, and bars = \"| C7 | F7 |\" below it";
            wrong_kind("changes", node, &node.value, help, report);
            return None;
        };
        let choices = choices(walk, scales.unwrap_or_default(), report);
        let own = Walk::open(table, known::CHANGES, report);
        let key = own.text("key", report).and_then(|text| key(&text, report));
        let changes = if own.has("lead_sheet") {
            from_sheet(&own, walk, lead, report)
        } else {
            in_words(&own, walk, report)
        };
        Some(ChangesText {
            place: own.place.clone(),
            changes: changes?,
            key,
            choices: choices?,
        })
    })
}

/// The lead sheet that a lesson's tables name, and the part of it.
pub(crate) fn lead_sheet(table: &Table) -> Option<(String, Option<String>)> {
    let inner = |table: &Table, key: &str| {
        let entry = table.entries.iter().find(|entry| entry.key == key);
        entry.map(|entry| entry.node.value.clone())
    };
    let Some(Value::Table(changes)) = inner(table, "changes") else {
        return None;
    };
    let words = |key| match inner(&changes, key) {
        Some(Value::Text(words)) => Some(words),
        _ => None,
    };
    Some((words("lead_sheet")?, words("part")))
}

fn from_sheet(
    own: &Walk<'_>,
    walk: &Walk<'_>,
    lead: Option<&Changes>,
    report: &mut Report<'_>,
) -> Option<Changes> {
    let text = own.text("lead_sheet", report);
    own.text("part", report);
    for (walk, key) in [(own, "bars"), (own, "meter"), (walk, "section")] {
        if walk.has(key) {
            report.mistake(
                &walk.key_place(key),
                format!("the lead sheet and {key} both say what the changes are"),
                "keep one of them",
            );
            return None;
        }
    }
    let text = text.said()?;
    if lead.is_none() {
        let message = format!("the lead sheet {} is not at hand", shown(&text.value));
        report.mistake(
            &text.place,
            message,
            "name a MusicXML file beside the lesson",
        );
    }
    lead.cloned()
}

fn in_words(own: &Walk<'_>, walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Changes> {
    let meter = own
        .text("meter", report)
        .and_then(|text| match text.value.parse::<Meter>() {
            Ok(meter) => Some(meter),
            Err(error) => {
                let help = "write meter = \"4/4\", or \"5/4 = 2+3\" to set the groups";
                report.mistake(&text.place, error.to_string(), help);
                None
            }
        });
    let said = own.text("bars", report);
    let parts = tables(walk, "section", limit::FIGURES, report);
    if !own.has("bars") && !walk.has("section") {
        if own.lacks("bars") {
            let help = "write bars = \"| C7 | F7 | same | G7 |\" below it";
            report.missing(&own.place, "these changes have no bars", help);
        }
        return None;
    }
    let mut meter = meter.or(Meter::common())?;
    let (mut number, mut before) = (0, None);
    let mut sections = Vec::new();
    let mut good = true;
    if let Some(text) = said.said() {
        match bars(text, &mut meter, &mut number, &mut before, report) {
            Some(read) => sections.extend(read),
            None => good = false,
        }
    }
    for table in parts.said().map_or(&[][..], |said| &said.value) {
        match section(table, &mut meter, &mut number, &mut before, report) {
            Some(read) => sections.extend(read),
            None => good = false,
        }
    }
    let clear = good && !matches!(said, Saying::Unclear) && !matches!(parts, Saying::Unclear);
    clear.then_some(Changes {
        title: None,
        key: None,
        named: Named::Concert,
        sections,
    })
}

/// A section; one that is played several times is its bars that often.
fn section(
    table: &Table,
    meter: &mut Meter,
    number: &mut u32,
    before: &mut Option<Vec<PlacedChord>>,
    report: &mut Report<'_>,
) -> Option<Vec<lesson::Section>> {
    let walk = Walk::open(table, known::SECTION, report);
    let name = walk
        .text("name", report)
        .and_then(|text| page_text("name", &text, report));
    let times = walk.number("times", limit::SECTION_TIMES, report);
    if walk.lacks("bars") {
        report.missing(
            &table.place,
            "this section has no bars",
            "write bars = \"| C7 | F7 |\" below it",
        );
    }
    let text = walk.text("bars", report);
    let mut sections = bars(text.said()?, meter, number, before, report)?;
    let times = u16::try_from(times.or(1)?).ok()?;
    match sections.as_mut_slice() {
        [only] if only.times == 1 => only.times = times,
        _ if times > 1 => {
            let once = sections.clone();
            for _ in 1..times {
                sections.extend(once.iter().cloned());
            }
        }
        _ => {}
    }
    if let Some(first) = sections.first_mut() {
        first.name = name.maybe()?;
    }
    Some(sections)
}

/// `F`, `Bb major`, `D minor`.
fn key(text: &Text, report: &mut Report<'_>) -> Option<(PitchName, bool)> {
    let words: Vec<&str> = text.value.split_whitespace().collect();
    let key = match words.as_slice() {
        [name] | [name, "major"] => name.parse().ok().map(|name| (name, false)),
        [name, "minor"] => name.parse().ok().map(|name| (name, true)),
        _ => None,
    };
    if key.is_none() {
        report.mistake(
            &text.place,
            format!("{} is no key", shown(&text.value)),
            "write key = \"F\", or key = \"D minor\"",
        );
    }
    key
}

/// The key of a signature; a minor one only where the mode says so.
pub(crate) fn key_of(signature: KeySignature) -> (PitchName, bool) {
    let minor = signature.mode == Some(Mode::Minor);
    let fifths = i16::from(Signature::fifths(signature.signature));
    (
        PitchName::from_fifths(fifths + if minor { 3 } else { 0 }),
        minor,
    )
}
