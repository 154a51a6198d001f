//! `list`: what a lesson can name, as text or JSON.

use std::io::Write;

use anyhow::anyhow;
use copyist::Refusal;
use lesson::ExerciseKind;
use serde::Serialize;
use theory::{
    Chord, ClefSign, Degree, Instrument, KeyOrder, Letter, Level, Pitch, Range, RootWish, Scale,
    concert_root,
};

use crate::args::{Catalogue, TextFormat};
use crate::exit::Exit;
use crate::table;

pub fn run(what: Catalogue, format: TextFormat, out: &mut impl Write) -> anyhow::Result<Exit> {
    match what {
        Catalogue::Scales => scales().print(format, out),
        Catalogue::Instruments => instruments().print(format, out),
        Catalogue::Chords => chords().print(format, out),
        Catalogue::KeyOrders => key_orders()?.print(format, out),
        Catalogue::Exercises => exercises().print(format, out),
    }
}

/// A catalogue both ways: columns of text, and objects.
struct Listing<const N: usize, T> {
    heading: [&'static str; N],
    rows: Vec<([String; N], T)>,
}

impl<const N: usize, T: Serialize> Listing<N, T> {
    fn print(self, format: TextFormat, out: &mut impl Write) -> anyhow::Result<Exit> {
        let (rows, objects): (Vec<_>, Vec<_>) = self.rows.into_iter().unzip();
        match format {
            TextFormat::Text => table::print(out, "", self.heading, &rows)?,
            TextFormat::Json => {
                serde_json::to_writer_pretty(&mut *out, &objects)?;
                writeln!(out)?;
            }
        }
        Ok(Exit::Done)
    }
}

#[derive(Serialize)]
struct ScaleItem {
    id: String,
    name: String,
    degrees: Vec<String>,
    descending: Option<Vec<String>>,
    chord: Option<String>,
    aliases: Vec<&'static str>,
}

fn scales() -> Listing<4, ScaleItem> {
    let row = |scale: Scale| {
        let item = ScaleItem {
            id: scale.id.as_deref().unwrap_or(&scale.name).to_owned(),
            name: scale.name.to_string(),
            degrees: words(&scale.degrees),
            descending: scale.descending.as_deref().map(words),
            chord: scale.chord.as_ref().map(|chord| chord.suffix().to_owned()),
            aliases: scale.aliases(),
        };
        let down = item
            .descending
            .as_ref()
            .map(|down| format!(", down {}", down.join(" ")))
            .unwrap_or_default();
        let chord = item
            .chord
            .as_ref()
            .map(|chord| format!("C{chord}"))
            .unwrap_or_default();
        let cells = [
            item.id.clone(),
            item.degrees.join(" ") + &down,
            chord,
            item.aliases.join(", "),
        ];
        (cells, item)
    };
    Listing {
        heading: ["id", "degrees", "chord", "also called"],
        rows: Scale::catalogue().into_iter().map(row).collect(),
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

fn instruments() -> Listing<7, InstrumentItem> {
    let row = |instrument: Instrument| {
        let range = |level| Reach::of(instrument.range(level));
        let item = InstrumentItem {
            id: instrument.id.to_string(),
            name: instrument.name.to_string(),
            abbreviation: instrument.abbreviation.to_string(),
            family: format!("{:?}", instrument.family).to_lowercase(),
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
        rows: Instrument::catalogue().into_iter().map(row).collect(),
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

#[derive(Serialize)]
struct ChordItem {
    id: &'static str,
    suffix: &'static str,
    degrees: Vec<String>,
    also_written: &'static [&'static str],
    scale: &'static str,
    other_scales: &'static [&'static str],
}

fn chords() -> Listing<5, ChordItem> {
    let row = |chord: Chord| {
        let (scale, other_scales) = chord.scales();
        let item = ChordItem {
            id: chord.id(),
            suffix: chord.suffix(),
            degrees: words(chord.degrees()),
            also_written: chord.spellings(),
            scale,
            other_scales,
        };
        let root = if item.degrees.is_empty() { "" } else { "C" };
        let cells = [
            item.id.to_owned(),
            format!("{root}{}", item.suffix),
            item.degrees.join(" "),
            scale.to_owned(),
            item.also_written.join(", "),
        ];
        (cells, item)
    };
    Listing {
        heading: ["id", "on C", "degrees", "scale", "also written"],
        rows: Chord::catalogue().into_iter().map(row).collect(),
    }
}

#[derive(Serialize)]
struct KeyOrderItem {
    id: String,
    from_c: Vec<String>,
}

fn key_orders() -> anyhow::Result<Listing<2, KeyOrderItem>> {
    let major = Scale::named("major")
        .map_err(|error| anyhow!(Refusal::of_name(&error, "scale", "scales").message))?;
    let row = |order: KeyOrder| {
        let names = order
            .classes(0)
            .map(|class| concert_root(class, &major, RootWish::default()).to_string());
        let item = KeyOrderItem {
            id: order.words(),
            from_c: names.to_vec(),
        };
        ([item.id.clone(), item.from_c.join(" ")], item)
    };
    Ok(Listing {
        heading: ["order", "from C"],
        rows: KeyOrder::all().into_iter().map(row).collect(),
    })
}

#[derive(Serialize)]
struct ExerciseItem {
    id: &'static str,
    about: &'static str,
}

fn exercises() -> Listing<2, ExerciseItem> {
    let row = |(id, about): (&'static str, &'static str)| {
        let item = ExerciseItem { id, about };
        ([id.to_owned(), about.to_owned()], item)
    };
    let kinds = ExerciseKind::ALL
        .into_iter()
        .map(|kind| (kind.word(), kind.about()));
    let write_out = (
        "write out",
        "any of these but trade with its first bars given, for the student to write out",
    );
    Listing {
        heading: ["kind", "what it is"],
        rows: kinds.chain([write_out]).map(row).collect(),
    }
}

fn words(degrees: &[Degree]) -> Vec<String> {
    degrees.iter().map(|degree| degree.to_string()).collect()
}
