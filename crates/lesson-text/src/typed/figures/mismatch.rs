//! Where a line and its count part company, said to the teacher.

use std::ops::Range;

use lesson::counted;
use rhythm::Count;

use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::text::Text;
use crate::typed::figures::agree::{Mismatch, agree, notes};
use crate::typed::figures::wording::{Beat, MoveWord};

/// How to say that a count has no note of its own.
fn not_struck(word: Option<&str>) -> String {
    match word {
        Some(word) => format!(
            "add a move for it, or write ({word}) for silence, -{word} to hold the note before"
        ),
        None => "add a move for it".to_owned(),
    }
}

pub(crate) fn beats(moves: &[Spanned<MoveWord>]) -> Vec<Spanned<Beat>> {
    moves
        .iter()
        .map(|said| Spanned {
            value: said.value.beat(),
            span: said.span.clone(),
        })
        .collect()
}

/// A count as it is said, and where each of its slots' words stands in it.
#[derive(Clone, Copy)]
pub(crate) struct CountWords<'t> {
    pub text: &'t Text,
    pub words: &'t [Range<usize>],
}

impl CountWords<'_> {
    fn word(&self, slot: usize) -> &str {
        &self.text.value[self.words[slot].clone()]
    }
}

/// Tells where a line and its count part company; `said` is the count, if it is
/// said.
pub(crate) fn compare(
    beats: &[Spanned<Beat>],
    count: &Count,
    said: Option<CountWords<'_>>,
    report: &mut Report<'_>,
) -> Option<()> {
    let Err(mismatch) = agree(beats, count) else {
        return Some(());
    };
    let totals = format!(
        "{} on {}",
        counted(notes(beats), "note"),
        counted(count.sounding(), "sounding count")
    );
    let (span, message, help) = match mismatch {
        Mismatch::NoNote { slot } => {
            // Where no count is said, the line that is too short is at fault.
            let whole = beats
                .first()
                .zip(beats.last())
                .map_or(0..0, |(first, last)| first.span.start..last.span.end);
            let span = said.map_or(whole, |said| said.text.part(report, &said.words[slot]));
            let which = match said {
                Some(said) => format!("the count {}", said.word(slot)),
                None => "the last count".to_owned(),
            };
            (
                span,
                format!("{which} has no note ({totals})"),
                not_struck(said.as_ref().map(|said| said.word(slot))),
            )
        }
        Mismatch::NoCount { word } => {
            let help = "add a count for it, or leave it out".to_owned();
            (
                beats[word].span.clone(),
                format!("no count is left for this ({totals})"),
                help,
            )
        }
        Mismatch::RestOnNote { word: at, slot } => {
            let (message, help) = match said.as_ref().map(|said| said.word(slot)) {
                Some(word) => (
                    format!("a rest is said where the count {word} sounds"),
                    format!("write ({word}) in the count, or leave the rest out"),
                ),
                None => (
                    "a rest is said where the count sounds".to_owned(),
                    "leave the rest out".to_owned(),
                ),
            };
            (beats[at].span.clone(), message, help)
        }
        Mismatch::NoSilence { word } => {
            let help = "put a count in parentheses for it, or leave the rest out".to_owned();
            (
                beats[word].span.clone(),
                "the count has no silence left for this rest".to_owned(),
                help,
            )
        }
    };
    report.mistake(&span, message, help);
    None
}
