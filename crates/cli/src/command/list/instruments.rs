//! The instruments there are.

use serde::Serialize;
use theory::{ClefSign, Instrument, Letter, Level, Pitch, Range};

use super::listing::Listing;
use crate::args::Family;

fn word(family: theory::Family) -> String {
    format!("{family:?}").to_lowercase()
}

fn is_of(family: Family, instrument: &Instrument) -> bool {
    use theory::Family as Of;
    instrument.family
        == match family {
            Family::Woodwind => Of::Woodwind,
            Family::Brass => Of::Brass,
            Family::Strings => Of::Strings,
            Family::Plucked => Of::Plucked,
            Family::Keyboard => Of::Keyboard,
            Family::Percussion => Of::Percussion,
            Family::Voice => Of::Voice,
            Family::Generic => Of::Generic,
        }
}

#[derive(Serialize)]
struct InstrumentItem {
    id: String,
    name: String,
    abbreviation: String,
    family: String,
    clef: String,
    diatonic: i16,
    chromatic: i16,
    beginner: Reach,
    intermediate: Reach,
    advanced: Reach,
    register_break: Option<String>,
    midi_program: u8,
    sound: String,
    aliases: Vec<&'static str>,
}

/// Written lowest and highest pitch.
#[derive(Serialize)]
struct Reach {
    low: String,
    high: String,
}

impl Reach {
    fn of(range: Range) -> Reach {
        Reach {
            low: range.low.to_string(),
            high: range.high.to_string(),
        }
    }
}

/// Every instrument, those of a family, or one.
pub fn instruments(family: Option<Family>, id: Option<&str>) -> Listing<7, impl Serialize> {
    let row = |instrument: Instrument| {
        let range = |level| Reach::of(instrument.range(level));
        let item = InstrumentItem {
            id: instrument.id.to_string(),
            name: instrument.name.to_string(),
            abbreviation: instrument.abbreviation.to_string(),
            family: word(instrument.family),
            clef: clef(&instrument),
            diatonic: instrument.written_to_sounding.steps(),
            chromatic: instrument.written_to_sounding.semitones(),
            beginner: range(Level::Beginner),
            intermediate: range(Level::Intermediate),
            advanced: range(Level::Advanced),
            register_break: instrument.register_break.map(|at| at.below.to_string()),
            midi_program: instrument.midi_program,
            sound: instrument.sound_id.to_string(),
            aliases: instrument.aliases(),
        };
        let written_c = Pitch::new(Letter::C, 0, 4);
        let span = |reach: &Reach| format!("{}–{}", reach.low, reach.high);
        let cells = [
            item.id.clone(),
            item.clef.clone(),
            (written_c + instrument.written_to_sounding).to_string(),
            span(&item.beginner),
            span(&item.intermediate),
            span(&item.advanced),
            item.aliases.join(", "),
        ];
        (cells, item)
    };
    Listing {
        heading: [
            "id",
            "clef",
            "C4 sounds",
            "beginner",
            "intermediate",
            "advanced",
            "also called",
        ],
        rows: Instrument::catalogue()
            .into_iter()
            .filter(|one| family.is_none_or(|family| is_of(family, one)))
            .filter(|one| id.is_none_or(|id| one.id == id))
            .map(row)
            .collect(),
    }
}

/// `treble`, `bass`, `treble, an octave lower`.
fn clef(instrument: &Instrument) -> String {
    let clef = instrument.clef;
    let name = match (clef.sign, clef.line) {
        (ClefSign::G, 2) => "treble".to_owned(),
        (ClefSign::F, 4) => "bass".to_owned(),
        (ClefSign::C, 3) => "alto".to_owned(),
        (ClefSign::C, 4) => "tenor".to_owned(),
        (sign, line) => format!("{sign:?} on line {line}"),
    };
    match clef.octave_change {
        0 => name,
        down if down < 0 => format!("{name}, 8 below"),
        _ => format!("{name}, 8 above"),
    }
}
