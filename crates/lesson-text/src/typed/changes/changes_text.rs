//! `[changes]` and `[[section]]`: a chord progression in words, or the lead
//! sheet that has it.

use std::ops::Range;

use lesson::{Changes, LessonScale};
use rhythm::Meter;
use theory::{KeySignature, Mode, PitchName, Signature};

use crate::language::choice::folded;
use crate::language::known_table;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::{nearest, shown};
use crate::mistakes::text::Text;
use crate::tables::tree::{Table, Value};
use crate::tables::value::{as_number, as_text, as_texts, page_text, wrong_kind};
use crate::tables::walk::{Walk, tables};
use crate::typed::changes::bars::{Running, bars};
use crate::typed::changes::choose::{Occasion, choices};
use crate::typed::scale::{ScaleText, split};

/// What a lesson says of its changes.
#[derive(Debug)]
pub(crate) struct ChangesText {
    pub span: Range<usize>,
    pub changes: Changes,
    /// The key they are named in, and whether it is minor.
    pub key: Saying<(PitchName, bool)>,
    pub choices: Vec<(Spanned<Occasion>, LessonScale)>,
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
                &walk.key_span(key),
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
        let own = Walk::open(table, known_table::CHANGES, report);
        let key = own.text("key", report).and_then(|text| key(&text, report));
        let changes = if own.has("lead_sheet") {
            from_sheet(&own, walk, lead, report)
        } else {
            in_words(&own, walk, report)
        };
        Some(ChangesText {
            span: own.span.clone(),
            changes: changes?,
            key,
            choices: choices?,
        })
    })
}

/// A file that a lesson takes its changes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeadSheet {
    /// The file's name, relative to the lesson's folder.
    pub file: String,
    /// Where the lesson's text names it.
    pub span: Range<usize>,
    /// The part that has them, by its name, id or number, if that is said.
    pub part: Option<String>,
}

/// The lead sheet that a lesson's tables name, and the part of it.
pub(crate) fn lead_sheet(table: &Table) -> Option<LeadSheet> {
    let inner = |table: &Table, key: &str| {
        let entry = table.entries.iter().find(|entry| entry.key == key);
        entry.map(|entry| entry.node.clone())
    };
    let Value::Table(changes) = inner(table, "changes")?.value else {
        return None;
    };
    let words = |key| {
        let node = inner(&changes, key)?;
        match node.value {
            Value::Text(words) => Some((words, node.span)),
            // A part may be said by its number.
            Value::Number(Some(number)) => Some((number.to_string(), node.span)),
            _ => None,
        }
    };
    let (file, span) = words("lead_sheet")?;
    // An empty name is a mistake of the lesson's, told where all are.
    (!file.trim().is_empty()).then(|| LeadSheet {
        file,
        span,
        part: words("part").map(|(part, _)| part),
    })
}

fn from_sheet(
    own: &Walk<'_>,
    walk: &Walk<'_>,
    lead: Option<&Changes>,
    report: &mut Report<'_>,
) -> Option<Changes> {
    let text = own.text("lead_sheet", report);
    own.read("part", |node| match node.value {
        Value::Number(_) => as_number("part", node, limit::PARTS, report).map(|_| ()),
        _ => as_text("part", node, report).map(|_| ()),
    });
    for (walk, key) in [
        (own, "bars"),
        (own, "meter"),
        (own, "form"),
        (walk, "section"),
    ] {
        if walk.has(key) {
            report.mistake(
                &walk.key_span(key),
                format!("the lead sheet and {key} both say what the changes are"),
                "keep one of them",
            );
            return None;
        }
    }
    let text = text.said()?;
    if lead.is_none() {
        let message = if text.value.trim().is_empty() {
            "the lead sheet's name is empty".to_owned()
        } else {
            format!("the lead sheet {} is not at hand", shown(&text.value))
        };
        report.mistake(
            &text.span,
            message,
            "name a MusicXML file beside the lesson",
        );
    }
    lead.cloned()
}

fn in_words(own: &Walk<'_>, walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Changes> {
    if own.has("part") {
        let message = "part says nothing without a lead sheet";
        let help = "leave it out, or name one: lead_sheet = \"tune.musicxml\"";
        report.mistake(&own.key_span("part"), message, help);
    }
    let meter = own
        .text("meter", report)
        .and_then(|text| match text.value.parse::<Meter>() {
            Ok(meter) => Some(meter),
            Err(error) => {
                let help = "write meter = \"4/4\", or \"5/4 = 2+3\" to set the groups";
                report.mistake(&text.span, error.to_string(), help);
                None
            }
        });
    let said = own.text("bars", report);
    let parts = tables(walk, "section", limit::FIGURES, report);
    let form = form(own, report);
    if own.has("form") && own.has("bars") {
        let help = "put these bars into a [[section]] with a name, or leave form out";
        report.mistake(&own.key_span("bars"), "form has no place for bars", help);
        return None;
    }
    if !own.has("bars") && !walk.has("section") {
        if own.lacks("bars") {
            let help = "write bars = \"| C7 | F7 | same | G7 |\" below it";
            report.missing(&own.span, "these changes have no bars", help);
        }
        return None;
    }
    let mut running = Running::from(meter.or(Meter::common())?);
    let mut sections = Vec::new();
    let mut good = true;
    if let Some(text) = said.said() {
        match bars(text, &mut running, report) {
            Some(read) => sections.extend(read),
            None => good = false,
        }
    }
    let mut named = Vec::new();
    for table in parts.said().map_or(&[][..], |said| &said.value) {
        let played = own.has("form");
        match section(table, played, &mut running, report) {
            Some(read) => named.push(read),
            None => good = false,
        }
    }
    match &form {
        Saying::Unsaid => sections.extend(named.into_iter().flat_map(|one| one.sections)),
        Saying::Said(form) if good => sections = in_form(&form.value, &named, report)?,
        _ => good = false,
    }
    let clear = good && !matches!(said, Saying::Unclear) && !matches!(parts, Saying::Unclear);
    clear.then_some(Changes {
        title: None,
        key: None,
        named: lesson::Named::Concert,
        sections,
    })
}

/// `form = ["A", "A", "B", "A"]`, or one string where no name has a space.
fn form(own: &Walk<'_>, report: &mut Report<'_>) -> Saying<Vec<Text>> {
    own.read("form", |node| {
        let texts = match &node.value {
            Value::Text(words) => split(words, char::is_whitespace)
                .into_iter()
                .map(|(part, word)| {
                    let whole = Text {
                        value: words.clone(),
                        span: node.span.clone(),
                    };
                    Text {
                        value: word.to_owned(),
                        span: whole.part(report, &part),
                    }
                })
                .collect(),
            _ => as_texts("form", node, limit::FORM, report)?,
        };
        if texts.is_empty() || texts.len() > limit::FORM {
            let message = format!("a form names from 1 to {} sections", limit::FORM);
            report.mistake(
                &node.span,
                message,
                "write form = [\"A\", \"A\", \"B\", \"A\"]",
            );
            return None;
        }
        Some(texts)
    })
}

/// The sections as the form plays them.
fn in_form(
    form: &[Text],
    named: &[NamedSection],
    report: &mut Report<'_>,
) -> Option<Vec<lesson::Section>> {
    let before = report.count();
    let mut sections = Vec::new();
    let mut played = vec![false; named.len()];
    for text in form {
        let typed = folded(&text.value);
        let found = named.iter().position(|section| {
            let name = section.name.as_deref();
            name.is_some_and(|name| folded(name) == typed)
        });
        match found {
            Some(at) => {
                played[at] = true;
                sections.extend(named[at].sections.iter().cloned());
            }
            None => {
                let names = named.iter().filter_map(|section| section.name.as_deref());
                let help = match nearest(&text.value, names) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => "give a [[section]] that name".to_owned(),
                };
                let message = format!("no section is called {}", shown(&text.value));
                report.mistake(&text.span, message, help);
            }
        }
    }
    // A name that isn't found may have been meant for one that isn't played.
    let clear = report.count() == before;
    let unplayed = named.iter().zip(&played).filter(|(_, played)| !**played);
    for (section, _) in unplayed.filter(|_| clear) {
        let message = match &section.name {
            Some(name) => format!("the form never plays {}", shown(name)),
            None => "the form can't play a section without a name".to_owned(),
        };
        report.mistake(
            &section.span,
            message,
            "name it in the form, or leave it out",
        );
    }
    (report.count() == before).then_some(sections)
}

/// A `[[section]]`.
struct NamedSection {
    name: Option<String>,
    sections: Vec<lesson::Section>,
    span: Range<usize>,
}

/// A section; one that is played several times is its bars that often, each
/// time with its name.
fn section(
    table: &Table,
    in_form: bool,
    running: &mut Running,
    report: &mut Report<'_>,
) -> Option<NamedSection> {
    let walk = Walk::open(table, known_table::SECTION, report);
    let name = walk
        .text("name", report)
        .and_then(|text| page_text("name", &text, report));
    let times = walk.number("times", report);
    if walk.lacks("bars") {
        report.missing(
            &table.span,
            "this section has no bars",
            "write bars = \"| C7 | F7 |\" below it",
        );
    }
    if in_form && walk.has("times") {
        let help = "name the section in the form as often as it is played";
        report.mistake(&walk.key_span("times"), "the form says how often", help);
        return None;
    }
    let text = walk.text("bars", report);
    let mut sections = bars(text.said()?, running, report)?;
    let times = u16::try_from(times.or(1)?).ok()?;
    let name = name.maybe().ok()?;
    if let Some(first) = sections.first_mut() {
        first.name.clone_from(&name);
    }
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
    Some(NamedSection {
        name,
        sections,
        span: table.span.clone(),
    })
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
            &text.span,
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
