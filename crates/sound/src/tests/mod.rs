//! Tests of whole tracks, on sheets written in a line of text per bar.

mod backing;
mod band;
mod call;
mod click;
mod conductor;
mod file;
mod form;
mod line;
mod property;
mod sound;
mod sound_font;
mod stems;
mod swing;

use std::io::Cursor;

use rhythm::{Fraction, NoteValue, Tuplet, ValueKind};
use score::{
    About, Chords, Direction, Element, Exercise, HeadLine, Marks, Measure, Note, Origin, Page,
    Part, Rest, Score, TempoMark, Written,
};
use theory::{Chord, ChordSymbol, Clef, ClefSign, Degree};

use crate::{Performance, Recording, Role, SoundError, Strike, Style, Voice};

/// A sheet in a meter. A bar is elements between spaces, `C5/2` or `r/2`, the
/// length in ticks; before it `Dm7@` sets a chord over it, `~` ties it from
/// the one before, `+` begins a statement and `++` an exercise; a `t` at the
/// end puts it in a triplet. A bar that begins with `^` is a pickup.
pub(super) fn sheet(divisions: u32, meter: &str, bars: &[&str]) -> Score {
    let mut score = Score {
        title: "Five Gates".into(),
        subtitle: None,
        head: vec![HeadLine::new(About::Key, "Written C · concert C")],
        page: Page {
            staff_height: 70,
            width: 2_100,
            height: 2_970,
        },
        divisions,
        chords: Chords::default(),
        exercises: Vec::new(),
        imprint: score::Imprint::default(),
        part: Part {
            name: "Alto Saxophone in E♭".into(),
            abbreviation: "A. Sax.".into(),
            sound_id: "wind.reed.saxophone.alto".into(),
            midi_program: 66,
            clef: Clef {
                sign: ClefSign::G,
                line: 2,
                octave_change: 0,
            },
            transposition: None,
            measures: Vec::new(),
        },
    };
    let mut origin = origin(0, 0);
    for (number, bar) in bars.iter().enumerate() {
        let mut measure = Measure {
            number: number as u32,
            implicit: bar.starts_with('^'),
            meter: (number == 0).then(|| meter.parse().unwrap()),
            ..Measure::default()
        };
        for word in bar.trim_start_matches('^').split_whitespace() {
            let element = element(word, &mut score.chords, &mut origin);
            measure.elements.push(element);
        }
        score.part.measures.push(measure);
    }
    score
}

/// Every style.
pub(super) const STYLES: [Style; 10] = [
    Style::Swing,
    Style::TwoBeat,
    Style::Waltz,
    Style::Bossa,
    Style::Funk,
    Style::Shuffle,
    Style::Ballad,
    Style::EvenEighths,
    Style::Drone,
    Style::Plain,
];

/// Says of a sheet that its exercises are on C major, and how many bars a
/// chorus has; each chord is on its usual scale.
pub(super) fn grounded(score: &mut Score, chorus: Option<u32>) {
    let scale = |id: &str| {
        let known = theory::Scale::catalogue();
        let known = known
            .into_iter()
            .find(|scale| scale.id.as_deref() == Some(id));
        known.map(|scale| scale.degrees).unwrap_or_default()
    };
    score.exercises = vec![Exercise {
        place: 0,
        first: 0,
        letter: None,
        heading: String::new(),
        tonic: theory::PitchName::from_fifths(0),
        scale: scale("major"),
        chorus,
    }];
    let on_scale = |chord: &score::Chord| score::Chord {
        symbol: chord.symbol.clone(),
        scale: scale(chord.symbol.scales().0),
    };
    score.chords = score.chords.iter().map(on_scale).collect();
}

/// The same, swinging, at 120 beats a minute.
pub(super) fn swinging(divisions: u32, meter: &str, bars: &[&str]) -> Score {
    let mut score = sheet(divisions, meter, bars);
    let directions = &mut score.part.measures[0].directions;
    directions.extend([tempo(ValueKind::Quarter, 0, 120), Direction::Swing]);
    score
}

/// Everything that a performance sounds: left and right by turns.
pub(super) fn heard(performance: &Performance, voice: Voice<'_>) -> Result<Vec<i16>, SoundError> {
    let mut recording = Recording::new(performance, voice, Cursor::new(Vec::new()))?;
    let balance = recording.balance()?;
    let mut samples = Vec::new();
    recording.form(|_| true, &balance, &mut |block| {
        samples.extend_from_slice(block);
        Ok(())
    })?;
    Ok(samples)
}

pub(super) fn tempo(kind: ValueKind, dots: u8, per_minute: u16) -> Direction {
    let beat = NoteValue {
        kind,
        dots,
        tuplet: None,
    };
    Direction::Tempo(TempoMark { beat, per_minute })
}

/// What a role plays: key, onset and end in quarters.
pub(super) fn played(performance: &Performance, role: Role) -> String {
    let notes = performance.strikes(role).iter().map(|strike| {
        let Strike {
            onset, end, key, ..
        } = *strike;
        format!(
            "{key} {} {}",
            quarters(performance, onset),
            quarters(performance, end)
        )
    });
    notes.collect::<Vec<_>>().join(", ")
}

/// The onsets a role plays, in quarters.
pub(super) fn onsets(performance: &Performance, role: Role) -> String {
    let strikes = performance.strikes(role).iter();
    let onsets = strikes.map(|strike| quarters(performance, strike.onset).to_string());
    onsets.collect::<Vec<_>>().join(" ")
}

pub(super) fn quarters(performance: &Performance, tick: u32) -> Fraction {
    Fraction::new(tick.into(), performance.per_quarter.into())
}

fn element(word: &str, chords: &mut Chords, origin: &mut Origin) -> Element {
    let (chord, word) = word
        .split_once('@')
        .map_or((None, word), |(chord, rest)| (Some(chord), rest));
    let (tied_from, word) = (word.starts_with('~'), word.trim_start_matches('~'));
    let pluses = word.len() - word.trim_start_matches('+').len();
    if pluses == 2 {
        *origin = self::origin(origin.exercise + 1, 0);
    } else if pluses == 1 {
        origin.statement += 1;
    }
    let word = word.trim_start_matches('+');
    let triplet = word.ends_with('t');
    let (pitch, length) = word.trim_end_matches('t').split_once('/').unwrap();
    let written = Written {
        length: length.parse().unwrap(),
        value: NoteValue {
            kind: ValueKind::Eighth,
            dots: 0,
            tuplet: triplet.then_some(Tuplet {
                actual: 3,
                normal: 2,
                unit: ValueKind::Eighth,
            }),
        },
        edge: None,
        chord: chord.map(|chord| chords.place_of(&symbol(chord), &[])),
    };
    if pitch == "r" {
        return Element::Rest(Rest {
            written,
            whole_bar: false,
            hidden: false,
        });
    }
    Element::Note(Note {
        written,
        pitch: pitch.parse().unwrap(),
        accidental: None,
        tied_from,
        tied_to: false,
        beams: [None; 4],
        lyrics: [const { None }; 4],
        marks: Marks::default(),
        origin: *origin,
    })
}

pub(super) fn symbol(text: &str) -> ChordSymbol {
    if text == "N.C." {
        return ChordSymbol::on(
            theory::PitchName::from_fifths(0),
            &Chord::parse(text).unwrap(),
        );
    }
    text.parse().unwrap()
}

fn origin(exercise: u16, statement: u16) -> Origin {
    Origin {
        exercise,
        statement,
        degree: Degree::ROOT,
        chord: None,
        ornament: false,
    }
}
