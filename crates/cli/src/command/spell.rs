//! `spell`: how a scale or a chord is spelled, and how an instrument reads it.

use std::io::Write;

use anyhow::{Result, anyhow};
use copyist::Refusal;
use serde::Serialize;
use theory::{
    ChordSymbol, Form, Instrument, NameError, NameFault, PitchName, Scale, SpellingStyle,
    spell_scale, transposition, written_root,
};

use crate::args::TextFormat;
use crate::console::Console;
use crate::exit::Exit;
use crate::json::JsonDocument;

pub fn run(
    what: &str,
    instrument: Option<&str>,
    format: TextFormat,
    out: &mut impl Write,
    console: &Console,
) -> Result<Exit> {
    let refuse = |error: &NameError, kind, catalogue| {
        console.refusal(&Refusal::of_name(error, kind, catalogue));
        Ok(Exit::Mistake)
    };
    let instrument = match instrument.map(Instrument::named).transpose() {
        Ok(instrument) => instrument,
        Err(error) => return refuse(&error, "instrument", "instruments"),
    };
    let spelled = match read(what) {
        Ok(Spellable::Scale(root, scale)) => Spelling::scale(root, &scale, instrument.as_ref()),
        Ok(Spellable::Chord(chord)) => Spelling::chord(&chord, instrument.as_ref())?,
        Err(error) => return refuse(&error, "scale or chord", "scales"),
    };
    spelled.print(format, out)?;
    Ok(Exit::Done)
}

enum Spellable {
    Scale(PitchName, Scale),
    Chord(ChordSymbol),
}

/// A scale on a root, or else a chord symbol; when it is neither, the error
/// of whichever has a near miss to offer.
fn read(what: &str) -> Result<Spellable, NameError> {
    let scale_error = match Scale::with_root(what) {
        Ok((root, scale)) => return Ok(Spellable::Scale(root, scale)),
        Err(error) => error,
    };
    match what.parse() {
        Ok(chord) => Ok(Spellable::Chord(chord)),
        Err(chord_error) if scale_error.fault == NameFault::Unknown(Vec::new()) => Err(chord_error),
        Err(_) => Err(scale_error),
    }
}

/// Names of notes, upward, or downward where a scale comes down otherwise.
type Names = Vec<String>;

/// All rows; those that would say nothing new are missing.
#[derive(Debug, Default, Serialize)]
struct Spelling {
    sounding: Names,
    #[serde(skip_serializing_if = "Option::is_none")]
    sounding_down: Option<Names>,
    #[serde(skip_serializing_if = "Option::is_none")]
    written: Option<Names>,
    #[serde(skip_serializing_if = "Option::is_none")]
    written_down: Option<Names>,
    #[serde(skip_serializing_if = "Option::is_none")]
    strict: Option<Names>,
    #[serde(skip_serializing_if = "Option::is_none")]
    written_strict: Option<Names>,
}

impl Spelling {
    fn scale(root: PitchName, scale: &Scale, instrument: Option<&Instrument>) -> Spelling {
        let own = OnRoot { scale, root };
        let mut spelled = Spelling {
            sounding: own.readable(Form::Rising),
            sounding_down: own.falling(),
            strict: own.strict(),
            ..Spelling::default()
        };
        if let Some(instrument) = instrument {
            let written = OnRoot {
                scale,
                root: written_root(root, instrument.written_to_sounding, scale, None),
            };
            spelled.written = Some(written.readable(Form::Rising));
            spelled.written_down = written.falling();
            spelled.written_strict = written.strict();
        }
        spelled
    }

    /// A horn's root is named as for the scale that the chord takes.
    fn chord(chord: &ChordSymbol, instrument: Option<&Instrument>) -> Result<Spelling> {
        let names = |chord: &ChordSymbol| -> Names {
            let tones = chord.tones().into_iter();
            tones.map(|tone| tone.printable().to_string()).collect()
        };
        let mut spelled = Spelling {
            sounding: names(chord),
            ..Spelling::default()
        };
        if let Some(instrument) = instrument {
            let horn = instrument.written_to_sounding;
            let root = written_root(chord.root, horn, &scale_of(chord)?, None);
            let down_to_sound = transposition(root, chord.root, horn);
            spelled.written = Some(names(&chord.transposed(-down_to_sound)));
        }
        Ok(spelled)
    }

    fn print(&self, format: TextFormat, out: &mut impl Write) -> Result<()> {
        if format == TextFormat::Json {
            serde_json::to_writer_pretty(&mut *out, &JsonDocument::now(self))?;
            writeln!(out)?;
            return Ok(());
        }
        let rows = [
            ("sounding", Some(&self.sounding)),
            ("sounding, coming down", self.sounding_down.as_ref()),
            ("written", self.written.as_ref()),
            ("written, coming down", self.written_down.as_ref()),
            ("strict", self.strict.as_ref()),
            ("strict, written", self.written_strict.as_ref()),
        ];
        for (row, names) in rows {
            if let Some(names) = names {
                writeln!(out, "{}", format!("{row}: {}", names.join(" ")).trim_end())?;
            }
        }
        Ok(())
    }
}

/// The scale a chord takes by default.
fn scale_of(chord: &ChordSymbol) -> Result<Scale> {
    let (id, _) = chord.chord.scales();
    Scale::named(if id.is_empty() { "major" } else { id })
        .map_err(|error| anyhow!(Refusal::of_name(&error, "scale", "scales").message))
}

/// A scale on a root, spelled as a sheet in that key spells it.
struct OnRoot<'a> {
    scale: &'a Scale,
    root: PitchName,
}

impl OnRoot<'_> {
    fn readable(&self, form: Form) -> Names {
        self.names(SpellingStyle::Readable, form)
    }

    /// The form coming down, where it is another.
    fn falling(&self) -> Option<Names> {
        self.scale
            .descending
            .as_ref()
            .map(|_| self.readable(Form::Falling))
    }

    /// The strict spelling, where it is another.
    fn strict(&self) -> Option<Names> {
        let strict = self.names(SpellingStyle::Strict, Form::Rising);
        (strict != self.readable(Form::Rising)).then_some(strict)
    }

    fn names(&self, style: SpellingStyle, form: Form) -> Names {
        let mut names = spell_scale(self.root, self.scale, form, style);
        if form == Form::Falling {
            names.extend(names.first().copied());
        }
        names.iter().map(PitchName::to_string).collect()
    }
}
