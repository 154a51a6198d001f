//! What a sheet contains, told apart from how it is written down: so that
//! any reader of the sheet can be held against it, note for note. Times are
//! exact fractions of a quarter from the beginning of the sheet.

use rhythm::Ticks;
use serde::Serialize;
use theory::{DegreeChange, Mode};

use crate::{
    Direction, Element, Marks, Measure, Score, SoundingNote, TieChain, boxes_in_words,
    sounding_notes,
};

/// A whole sheet, to be serialized.
#[derive(Debug, Serialize)]
pub struct Description {
    title: String,
    subtitle: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    author: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rights: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    footer: Option<String>,
    /// The teacher's own paragraphs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    text: Vec<String>,
    head: Vec<String>,
    part: String,
    clef: Clef,
    /// What to add to what is written to get what sounds.
    transposition: Option<Transposition>,
    measures: Vec<Bar>,
    directions: Vec<DirectionItem>,
    chords: Vec<Chord>,
    exercises: Vec<ExerciseGround>,
    notes: Vec<Note>,
    slashes: Vec<Slash>,
}

#[derive(Debug, Serialize)]
struct Clef {
    sign: String,
    line: u8,
    octave_change: i8,
}

#[derive(Debug, Serialize)]
struct Transposition {
    diatonic: i16,
    chromatic: i16,
    octave_change: i16,
}

/// A measure, with the signature and the meter that are printed in it.
#[derive(Debug, Serialize)]
struct Bar {
    number: String,
    onset: String,
    length: String,
    pickup: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    signature: Option<i8>,
    #[serde(skip_serializing_if = "Option::is_none")]
    mode: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    meter: Option<String>,
    /// Whether nothing of it is printed but its staff.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    blank: bool,
}

/// Something that stands over a measure.
#[derive(Debug, Serialize)]
struct DirectionItem {
    onset: String,
    #[serde(flatten)]
    what: What,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "snake_case")]
enum What {
    Letter(String),
    Words(String),
    /// Quarters a minute, exact.
    Tempo(String),
    Dynamic(&'static str),
    Feel(&'static str),
}

/// What an exercise is played over.
#[derive(Debug, Serialize)]
struct ExerciseGround {
    onset: String,
    /// Written.
    tonic: String,
    scale: Vec<String>,
    /// Over changes the bars of a chorus.
    chorus: Option<u32>,
}

/// A printed chord symbol, in written pitch.
#[derive(Debug, Serialize)]
struct Chord {
    onset: String,
    symbol: String,
    root: String,
    bass: Option<String>,
    kind: &'static str,
    degrees: Vec<String>,
    tones: Vec<String>,
    /// Its scale, against the root.
    scale: Vec<String>,
}

/// A note as it sounds, ties joined.
#[derive(Debug, Serialize)]
struct Note {
    written: String,
    sounding: String,
    onset: String,
    length: String,
    exercise: u16,
    statement: u16,
    degree: String,
    ornament: bool,
    chord: Option<String>,
    labels: Vec<Option<String>>,
    /// Signs of how it is played, in the standard's words.
    marks: Vec<&'static str>,
}

/// Something to be played that isn't written: a beat, or a note's rhythm.
#[derive(Debug, Serialize)]
struct Slash {
    onset: String,
    length: String,
    rhythmic: bool,
    labels: Vec<Option<String>>,
}

impl Description {
    /// What a score contains.
    pub fn of(score: &Score) -> Description {
        let part = &score.part;
        let mut description = Description {
            title: score.title.clone(),
            subtitle: score.subtitle.clone(),
            author: score.imprint.author.clone(),
            rights: score.imprint.rights.clone(),
            footer: score.imprint.footer.clone(),
            text: score.imprint.text.clone(),
            head: score.head.iter().map(|line| line.text.clone()).collect(),
            part: part.name.clone(),
            clef: Clef {
                sign: format!("{:?}", part.clef.sign),
                line: part.clef.line,
                octave_change: part.clef.octave_change,
            },
            transposition: part.transposition.map(|by| Transposition {
                diatonic: by.diatonic,
                chromatic: by.chromatic,
                octave_change: by.octave_change,
            }),
            measures: Vec::with_capacity(part.measures.len()),
            directions: Vec::new(),
            chords: Vec::new(),
            exercises: Vec::new(),
            notes: notes(score),
            slashes: slashes(score),
        };
        let quarters = |ticks: Ticks| score.quarters(ticks).to_string();
        let mut at: Ticks = 0;
        for (place, measure) in part.measures.iter().enumerate() {
            let begun = score.exercise_from(place);
            description
                .exercises
                .extend(begun.map(|one| ExerciseGround {
                    onset: quarters(at),
                    tonic: one.tonic.to_string(),
                    scale: signs(&one.scale),
                    chorus: one.chorus,
                }));
            let length = Ticks::from(measure.length());
            description
                .measures
                .push(bar(measure, quarters(at), quarters(length)));
            let said = measure.directions.iter().map(|direction| DirectionItem {
                onset: quarters(at),
                what: what(direction),
            });
            description.directions.extend(said);
            let cues = measure.cues.iter().map(|cue| DirectionItem {
                onset: quarters(at + Ticks::from(cue.at)),
                what: What::Words(cue.words.clone()),
            });
            description.directions.extend(cues);
            let mut within = at;
            for written in measure.elements.iter().map(Element::written) {
                let here = written.chord.and_then(|place| score.chords.get(place));
                let here = here.map(|here| chord(here, quarters(within)));
                description.chords.extend(here);
                within += Ticks::from(written.length);
            }
            at += length;
        }
        description
    }
}

fn notes(score: &Score) -> Vec<Note> {
    let note = |(note, chain): (SoundingNote, TieChain<'_, crate::Note>)| Note {
        written: note.written.to_string(),
        sounding: note.sounding.to_string(),
        onset: note.onset.to_string(),
        length: note.length.to_string(),
        exercise: note.origin.exercise,
        statement: note.origin.statement,
        degree: note.origin.degree.to_string(),
        ornament: note.origin.ornament,
        chord: note
            .origin
            .chord
            .and_then(|chord| score.chords.symbol(chord))
            .map(ToString::to_string),
        labels: labels(chain.first),
        marks: marks(chain.marks()),
    };
    sounding_notes(score)
        .into_iter()
        .zip(score.notes())
        .map(note)
        .collect()
}

fn slashes(score: &Score) -> Vec<Slash> {
    let slash = |chain: TieChain<'_, crate::Slash>| Slash {
        onset: score.quarters(chain.onset).to_string(),
        length: score.quarters(chain.length).to_string(),
        rhythmic: chain.first.rhythmic,
        labels: labels(&chain.first.note),
    };
    score.slashes().into_iter().map(slash).collect()
}

fn marks(marks: Marks) -> Vec<&'static str> {
    let signs = [
        (marks.slur_ends, "slur stop"),
        (marks.slur_begins, "slur start"),
        (marks.accent, "accent"),
        (marks.staccato, "staccato"),
        (marks.tenuto, "tenuto"),
        (marks.breath, "breath-mark"),
        (marks.ghost, "ghost"),
        (marks.fall, "falloff"),
        (marks.scoop, "scoop"),
        (marks.doit, "doit"),
    ];
    let there = signs.into_iter().filter(|(there, _)| *there);
    there.map(|(_, sign)| sign).collect()
}

/// The rows of labels down to the last that has one.
fn labels(note: &crate::Note) -> Vec<Option<String>> {
    let rows = note
        .lyrics
        .iter()
        .rposition(Option::is_some)
        .map_or(0, |last| last + 1);
    note.lyrics[..rows]
        .iter()
        .map(|label| label.as_ref().map(|text| text.to_string()))
        .collect()
}

fn bar(measure: &Measure, onset: String, length: String) -> Bar {
    let key = measure.key;
    Bar {
        number: measure.label().to_string(),
        onset,
        length,
        pickup: measure.implicit,
        signature: key.map(|key| key.signature.fifths()),
        mode: key.and_then(|key| key.mode).map(|mode| match mode {
            Mode::Major => "major",
            Mode::Minor => "minor",
        }),
        meter: measure
            .meter
            .as_ref()
            .map(|meter| format!("{}/{}", meter.upper(), meter.lower())),
        blank: measure
            .elements
            .iter()
            .all(|element| matches!(element, Element::Rest(rest) if rest.hidden)),
    }
}

fn what(direction: &Direction) -> What {
    match direction {
        Direction::Rehearsal(letter) | Direction::Section(letter) => What::Letter(letter.clone()),
        Direction::Words(words) | Direction::Heading(words) => What::Words(words.to_string()),
        Direction::Text(text) => What::Words(text.clone()),
        Direction::Tempos(row) => What::Words(boxes_in_words(row)),
        Direction::Tempo(mark) => What::Tempo(mark.quarters_per_minute().to_string()),
        Direction::Dynamic(letters) => What::Dynamic(letters),
        Direction::Swing => What::Feel("swing"),
        Direction::Straight => What::Feel("straight"),
    }
}

fn signs(degrees: &[theory::Degree]) -> Vec<String> {
    degrees.iter().map(ToString::to_string).collect()
}

fn chord(chord: &crate::Chord, onset: String) -> Chord {
    let crate::Chord {
        symbol: chord,
        scale,
    } = chord;
    let (degrees, _) = chord.chord.musicxml_degrees();
    let degree = |degree: &theory::ChordDegree| {
        let change = match degree.change {
            DegreeChange::Add => "add",
            DegreeChange::Alter => "alter",
            DegreeChange::Subtract => "subtract",
        };
        format!("{change} {} {}", degree.value, degree.alter)
    };
    Chord {
        onset,
        symbol: chord.to_string(),
        root: chord.root.to_string(),
        bass: chord.bass.map(|bass| bass.to_string()),
        kind: chord.chord.musicxml_kind(),
        degrees: degrees.iter().map(degree).collect(),
        scale: signs(scale),
        tones: chord.tones().iter().map(|tone| tone.to_string()).collect(),
    }
}

#[cfg(test)]
mod tests;
