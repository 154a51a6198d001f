//! Instruments that a lesson defines, for horns the catalogue lacks.

use lesson::slug;
use theory::{Clef, Instrument, Pitch, Range};

use crate::language::choice::folded;
use crate::language::known_table;
use crate::language::words;
use crate::limit;
use crate::mistakes::name_fault::name_fault;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Table;
use crate::tables::value::page_text;
use crate::tables::walk::{Walk, tables};
use crate::typed::scale::unique;

/// What an own instrument sounds like if nothing is said.
const UNSAID: &str = "concert-treble";

/// An instrument of the lesson's own; `None` where unclear.
#[derive(Debug)]
pub(crate) struct OwnInstrument {
    pub name: Saying<String>,
    pub instrument: Option<Instrument>,
}

impl OwnInstrument {
    /// Whether a name is this instrument's.
    pub(crate) fn is_called(&self, typed: &str) -> bool {
        self.name
            .said()
            .is_some_and(|name| folded(&name.value) == folded(typed))
    }
}

/// Reads every `[[instrument]]`; `None` where unclear.
pub(crate) fn own_instruments(
    walk: &Walk<'_>,
    report: &mut Report<'_>,
) -> Option<Vec<OwnInstrument>> {
    let said = match tables(walk, "instrument", limit::PLAYERS, report) {
        Saying::Unsaid => return Some(Vec::new()),
        said => said,
    };
    let tables = &said.said()?.value;
    let own: Vec<OwnInstrument> = tables.iter().map(|table| read(table, report)).collect();
    unique(own.iter().map(|own| &own.name), "instrument", report);
    Some(own)
}

fn read(table: &Table, report: &mut Report<'_>) -> OwnInstrument {
    let walk = Walk::open(table, known_table::INSTRUMENT, report);
    let name = walk
        .text("name", report)
        .and_then(|text| name(&text, report));
    if walk.lacks("name") {
        let help = "write name = and what the players call it";
        report.missing(&table.span, "this instrument has no name", help);
    }
    let clef = walk.word("clef", words::CLEFS, report);
    let sounds = walk
        .text("sounds", report)
        .and_then(|text| pitch(&text, report));
    let like = walk.text("like", report).and_then(|text| {
        let found = Instrument::named(text.value.trim());
        if let Err(error) = &found {
            report.note(name_fault(&text.span, error, "instrument", "instruments"));
        }
        found.ok()
    });
    let mut level = |key| {
        walk.text(key, report)
            .and_then(|text| range(key, &text, report))
    };
    let whole = level("range");
    let levels = ["beginner", "intermediate", "advanced"].map(level);
    if walk.lacks("range") && levels.iter().any(Saying::is_unsaid) {
        let help = "write range = \"C4 to G5\", or a range for each of beginner, intermediate and advanced";
        report.missing(
            &table.span,
            "this instrument doesn't say its written range",
            help,
        );
    }
    let instrument = InstrumentText {
        name: &name,
        clef,
        sounds,
        like,
        whole,
        levels,
    }
    .instrument();
    OwnInstrument { name, instrument }
}

/// An instrument as the lesson says it.
struct InstrumentText<'n> {
    name: &'n Saying<String>,
    clef: Saying<Clef>,
    /// What a written C4 sounds.
    sounds: Saying<Pitch>,
    like: Saying<Instrument>,
    /// Its range at every level that says none of its own.
    whole: Saying<Range>,
    levels: [Saying<Range>; 3],
}

impl InstrumentText<'_> {
    fn instrument(&self) -> Option<Instrument> {
        let name = self.name.said()?.value.clone();
        let like = match &self.like {
            Saying::Unsaid => Instrument::named(UNSAID).ok()?,
            said => said.said()?.value.clone(),
        };
        let middle_c: Pitch = "C4".parse().ok()?;
        let whole = self.whole.maybe().ok()?;
        let mut ranges = Vec::with_capacity(self.levels.len());
        for level in &self.levels {
            ranges.push(level.maybe().ok()?.or(whole)?);
        }
        let widest = |one: Range, other: Range| Range {
            low: if other.low.midi() < one.low.midi() {
                other.low
            } else {
                one.low
            },
            high: if other.high.midi() > one.high.midi() {
                other.high
            } else {
                one.high
            },
        };
        let written_to_sounding = self.sounds.or(middle_c)? - middle_c;
        Some(Instrument {
            tube: like.tube.and_then(|tube| {
                tube.written_otherwise(like.written_to_sounding, written_to_sounding)
            }),
            id: slug(&name).into(),
            abbreviation: name.clone().into(),
            name: name.into(),
            clef: self.clef.or(like.clef)?,
            written_to_sounding,
            extreme: ranges.iter().copied().chain(whole).reduce(widest)?,
            ranges: ranges.try_into().ok()?,
            register_break: None,
            ..like
        })
    }
}

fn name(text: &Text, report: &mut Report<'_>) -> Option<String> {
    let name = page_text("name", text, report)?;
    let help = if slug(&name).is_empty() {
        "give the name a letter or a digit: a folder is called after it"
    } else if Instrument::named(&name).is_ok() {
        "the catalogue has one of that name: give yours another"
    } else {
        return Some(name);
    };
    report.mistake(
        &text.span,
        format!("{} can't name an instrument of your own", shown(&name)),
        help,
    );
    None
}

/// The sound of written middle C, three octaves away at most.
fn pitch(text: &Text, report: &mut Report<'_>) -> Option<Pitch> {
    let pitch = text.value.trim().parse::<Pitch>().ok();
    let near = pitch.filter(|pitch| (24..=96).contains(&pitch.midi()));
    if near.is_none() {
        report.mistake(
            &text.span,
            format!("sounds is no note near middle C: {}", shown(&text.value)),
            "write what a written C4 sounds, with its octave: sounds = \"Eb3\"",
        );
    }
    near
}

/// A written range: `C4 to G5`.
fn range(key: &str, text: &Text, report: &mut Report<'_>) -> Option<Range> {
    let ends = text.value.split_once(" to ").and_then(|(low, high)| {
        let range = Range {
            low: low.trim().parse().ok()?,
            high: high.trim().parse().ok()?,
        };
        Some(range)
    });
    let widest = Range::WIDEST;
    let help = "write the lowest and the highest written note: \"C4 to G5\"";
    match ends {
        None => report.mistake(
            &text.span,
            format!("{key} is no range: {}", shown(&text.value)),
            help,
        ),
        Some(range) if !widest.holds(range.low) || !widest.holds(range.high) => report.mistake(
            &text.span,
            format!("{key} goes beyond C0 to C9: {}", shown(&text.value)),
            help,
        ),
        Some(range) if range.high.midi() < range.low.midi() + 12 => report.mistake(
            &text.span,
            format!("{key} is less than an octave: {}", shown(&text.value)),
            help,
        ),
        Some(range) => return Some(range),
    }
    None
}
