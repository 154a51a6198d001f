//! What a sheet contains, told apart from how it is written down: so that
//! any reader of the sheet can be held against it, note for note. Times are
//! exact fractions of a quarter from the beginning of the sheet.

use rhythm::{Fraction, Ticks, ValueKind};
use serde::Serialize;
use theory::{ChordSymbol, DegreeChange, Mode};

use crate::{Direction, Element, Marks, Measure, Score, SoundingNote, sounding_notes};

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
    exercises: Vec<Played>,
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
struct Played {
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
        let quarters = |ticks: Ticks| Fraction::new(ticks, i64::from(score.divisions)).to_string();
        let mut at: Ticks = 0;
        for (place, measure) in part.measures.iter().enumerate() {
            let begun = score.exercises.iter().filter(|one| one.first == place);
            description.exercises.extend(begun.map(|one| Played {
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
    let elements = score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements);
    let written = elements.filter_map(|element| match element {
        Element::Note(note) => Some(note),
        _ => None,
    });
    let mut begun: Vec<(&crate::Note, Marks)> = Vec::new();
    for note in written {
        match begun.last_mut().filter(|_| note.tied_from) {
            // What a note ends with stands on its last piece.
            Some((_, marks)) => {
                marks.slur_ends |= note.marks.slur_ends;
                marks.breath |= note.marks.breath;
                marks.fall |= note.marks.fall;
                marks.doit |= note.marks.doit;
            }
            None => begun.push((note, note.marks)),
        }
    }
    let note = |(note, (begun, marked)): (SoundingNote, (&crate::Note, Marks))| Note {
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
            .map(symbol),
        labels: labels(begun),
        marks: marks(marked),
    };
    sounding_notes(score)
        .into_iter()
        .zip(begun)
        .map(note)
        .collect()
}

/// Slashes in order, ties joined.
fn slashes(score: &Score) -> Vec<Slash> {
    let quarters = |ticks: Ticks| Fraction::new(ticks, i64::from(score.divisions));
    let measures = &score.part.measures;
    let mut at: Ticks = 0;
    let mut slashes: Vec<(Ticks, Ticks, &crate::Slash)> = Vec::new();
    for element in measures.iter().flat_map(|measure| &measure.elements) {
        let length = Ticks::from(element.written().length);
        if let Element::Slash(slash) = element {
            match slashes.last_mut().filter(|_| slash.note.tied_from) {
                Some((_, tied, _)) => *tied += length,
                None => slashes.push((at, length, slash)),
            }
        }
        at += length;
    }
    let slash = |(onset, length, slash): (Ticks, Ticks, &crate::Slash)| Slash {
        onset: quarters(onset).to_string(),
        length: quarters(length).to_string(),
        rhythmic: slash.rhythmic,
        labels: labels(&slash.note),
    };
    slashes.into_iter().map(slash).collect()
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
        Direction::Tempos(row) => {
            let boxes: Vec<String> = row.iter().map(|tempo| format!("□ {tempo}")).collect();
            What::Words(boxes.join("   "))
        }
        Direction::Tempo { beat, per_minute } => {
            let dots = (1..=beat.dots)
                .map(|dot| Fraction::new(1, 1 << dot))
                .sum::<Fraction>();
            let quarters = plain_length(beat.kind) * (dots + 1);
            What::Tempo((quarters * i64::from(*per_minute)).to_string())
        }
        Direction::Dynamic(letters) => What::Dynamic(letters),
        Direction::Swing => What::Feel("swing"),
        Direction::Straight => What::Feel("straight"),
    }
}

fn plain_length(kind: ValueKind) -> Fraction {
    match kind {
        ValueKind::SixtyFourth => Fraction::new(1, 16),
        ValueKind::ThirtySecond => Fraction::new(1, 8),
        ValueKind::Sixteenth => Fraction::new(1, 4),
        ValueKind::Eighth => Fraction::new(1, 2),
        ValueKind::Quarter => Fraction::from(1),
        ValueKind::Half => Fraction::from(2),
        ValueKind::Whole => Fraction::from(4),
        ValueKind::Breve => Fraction::from(8),
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
        symbol: symbol(chord),
        root: chord.root.to_string(),
        bass: chord.bass.map(|bass| bass.to_string()),
        kind: chord.chord.musicxml_kind(),
        degrees: degrees.iter().map(degree).collect(),
        scale: signs(scale),
        tones: chord.tones().iter().map(|tone| tone.to_string()).collect(),
    }
}

/// As musicians write it; no root before N.C.
fn symbol(chord: &ChordSymbol) -> String {
    let suffix = chord.chord.suffix();
    let root = if chord.chord.degrees().is_empty() {
        String::new()
    } else {
        chord.root.to_string()
    };
    let bass = chord
        .bass
        .map(|bass| format!("/{bass}"))
        .unwrap_or_default();
    format!("{root}{suffix}{bass}")
}
