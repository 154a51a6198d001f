//! A phrase that moves note for note: `literal = true` in a figure, with its
//! `chords` and the `key` it is written in.

use std::ops::Range;

use lesson::{Bar, Literal, LiteralNote, PlacedChord, counted};
use rhythm::{Count, Fraction, Meter};
use theory::Mode;

use crate::language::choice::folded;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::walk::Walk;
use crate::typed::changes::bars::{Running, bars};
use crate::typed::figures::wording::{NoteWord, Wording};

/// What a literal phrase says beside its notes.
#[derive(Debug)]
pub(crate) struct LiteralText {
    pub mode: Mode,
    pub chords: Vec<PlacedChord>,
    /// Bars of its chords from the first bar line on, and where they stand.
    bars: Option<(i64, Range<usize>)>,
    /// Where it is said to be one.
    pub span: Range<usize>,
}

/// Words that say where a figure goes, but nothing of a literal phrase.
const NOT_LITERAL: [(&str, &str); 4] = [
    (
        "moves",
        "write its notes as degrees of the major scale: degrees = \"1 b3 3 5\"",
    ),
    (
        "rungs",
        "write its notes as degrees of the major scale: degrees = \"1 b3 3 5\"",
    ),
    ("flipped", "leave it out, or leave literal out"),
    ("unflipped", "leave it out, or leave literal out"),
];

/// Whether a figure is a literal phrase, before anything else of it is read.
pub(crate) fn is_literal(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<bool> {
    let literal = walk.switch("literal", report).or(false)?;
    let before = report.count();
    if literal {
        for (key, help) in NOT_LITERAL.into_iter().filter(|(key, _)| walk.has(key)) {
            let message = match key {
                "flipped" | "unflipped" => {
                    "a literal phrase moves note for note and is never turned upside down"
                }
                _ => "a literal phrase is said in degrees, since it is on no scale",
            };
            report.mistake(&walk.key_span(key), message, help);
        }
    } else {
        for key in ["chords", "key"].into_iter().filter(|key| walk.has(key)) {
            let message = format!("{key} says nothing about a figure that isn't literal");
            let help = match key {
                "chords" => {
                    "write literal = true above it, or put the chords into [changes] as bars"
                }
                _ => "leave it out, or write literal = true above it",
            };
            report.mistake(&walk.key_span(key), message, help);
        }
    }
    (report.count() == before).then_some(literal)
}

/// What a literal phrase says beside its line and count.
pub(crate) fn literal(
    walk: &Walk<'_>,
    meter: &Meter,
    report: &mut Report<'_>,
) -> Option<LiteralText> {
    let mode = walk
        .text("key", report)
        .and_then(|text| mode(&text, report));
    let chords = walk
        .text("chords", report)
        .and_then(|text| chords(&text, meter, report));
    let bars = chords.said().map(|said| (said.value.1, said.span.clone()));
    Some(LiteralText {
        mode: mode.or(Mode::Major)?,
        chords: chords.or((Vec::new(), 0))?.0,
        bars,
        span: walk.key_span("literal"),
    })
}

impl LiteralText {
    /// Its chords take no more bars than the phrase.
    pub(crate) fn fits(&self, meter: &Meter, count: &Count, report: &mut Report<'_>) -> Option<()> {
        let Some((bars, span)) = &self.bars else {
            return Some(());
        };
        let whole = (count.length / meter.bar()).ceil().to_integer();
        if *bars <= whole {
            return Some(());
        }
        report.mistake(
            span,
            format!(
                "the phrase has {}, its chords have {}",
                counted(whole, "bar"),
                counted(*bars, "bar")
            ),
            "write as many bars of chords as the phrase has, or say a longer length",
        );
        None
    }

    /// The phrase; `None` where it goes off every instrument.
    pub(crate) fn phrase(&self, wording: &Wording, report: &mut Report<'_>) -> Option<Literal> {
        let Wording::Notes(places) = wording else {
            return None;
        };
        let mut notes = Vec::with_capacity(places.len());
        for said in places {
            match said.value {
                NoteWord::Degree(word) => {
                    let note = LiteralNote {
                        degree: word.degree,
                        octaves: word.octaves,
                    };
                    on_an_instrument(&note, said, report)?;
                    notes.push(note);
                }
                NoteWord::Rest | NoteWord::Rung { .. } => {}
            }
        }
        Some(Literal {
            notes,
            chords: self.chords.clone(),
            mode: self.mode,
        })
    }

    /// The scale of its key.
    pub(crate) fn home(&self) -> &'static str {
        match self.mode {
            Mode::Major => "major",
            Mode::Minor => "natural-minor",
        }
    }
}

fn on_an_instrument<T>(
    note: &LiteralNote,
    said: &Spanned<T>,
    report: &mut Report<'_>,
) -> Option<()> {
    const MOST: i32 = limit::RUNGS / 7;
    if note.octaves.abs() <= MOST {
        return Some(());
    }
    let message = "the phrase wanders off every instrument here";
    let help = format!("stay within {MOST} octaves");
    report.mistake(&said.span, message, help);
    None
}

/// `C`, `C minor`: what is moved is always written on C.
fn mode(text: &Text, report: &mut Report<'_>) -> Option<Mode> {
    let typed = folded(&text.value);
    match typed.as_str() {
        "c" | "c major" => Some(Mode::Major),
        "c minor" | "cm" => Some(Mode::Minor),
        _ => {
            report.mistake(
                &text.span,
                format!(
                    "a literal phrase is written in C, not in {}",
                    shown(&text.value)
                ),
                "write it in C major, or in key = \"C minor\": [keys] moves it",
            );
            None
        }
    }
}

/// `| Dm7 | G7 | Cmaj7 |`: bars as those of changes, over the whole phrase.
fn chords(text: &Text, meter: &Meter, report: &mut Report<'_>) -> Option<(Vec<PlacedChord>, i64)> {
    if text.value.trim().is_empty() {
        let help = "write chords = \"| Dm7 | G7 | Cmaj7 |\", or leave the line out";
        report.mistake(&text.span, "no chord is said", help);
        return None;
    }
    let sections = bars(text, &mut Running::from(meter.clone()), report)?;
    let played: Vec<&Bar> = sections
        .iter()
        .flat_map(|section| section.played())
        .take(limit::CHANGES_BARS)
        .collect();
    if let Some(odd) = played.iter().find(|bar| bar.meter != *meter) {
        report.mistake(
            &text.span,
            format!(
                "the phrase is in {meter}, and a bar of its chords in {}",
                odd.meter
            ),
            "leave the meter to the figure: meter = \"3/4\"",
        );
        return None;
    }
    // A pickup lies before the first bar line.
    let mut at = match played.first() {
        Some(pickup) if pickup.from > Fraction::ZERO => -pickup.length,
        _ => Fraction::ZERO,
    };
    let mut chords: Vec<PlacedChord> = Vec::new();
    for bar in &played {
        for chord in &bar.chords {
            // The same chord again is one that goes on.
            if chords.last().is_none_or(|last| last.symbol != chord.symbol) {
                chords.push(PlacedChord {
                    at: at + chord.at - bar.from,
                    symbol: chord.symbol.clone(),
                });
            }
        }
        at += bar.length;
    }
    let bars = (at / meter.bar()).ceil().to_integer();
    Some((chords, bars))
}
