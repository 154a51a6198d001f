//! The mistakes found so far.

use std::ops::Range;

use crate::limit;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::within::on_characters;

/// Collects mistakes while a lesson is read.
#[derive(Debug)]
pub(crate) struct Report<'s> {
    /// The file's text.
    pub source: &'s str,
    /// Whether a broken line hides what it meant: then nothing is called
    /// missing or unknown that it may have said.
    pub lost: bool,
    mistakes: Vec<Mistake>,
}

impl<'s> Report<'s> {
    pub(crate) fn new(source: &'s str) -> Report<'s> {
        Report {
            source,
            lost: false,
            mistakes: Vec::new(),
        }
    }

    /// Makes a mistake and notes it.
    pub(crate) fn mistake(
        &mut self,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.note(Mistake::new(span.clone(), message, help));
    }

    /// Notes a mistake, once, its sentences short enough and its span inside
    /// the file.
    pub(crate) fn note(&mut self, mistake: Mistake) {
        if self.is_full() {
            return;
        }
        let mistake = Mistake {
            span: on_characters(self.source, &mistake.span),
            message: short(mistake.message),
            help: short(mistake.help),
        };
        if !self.mistakes.contains(&mistake) {
            self.mistakes.push(mistake);
        }
    }

    /// Notes that something is missing, unless a broken line may have said it.
    pub(crate) fn missing(
        &mut self,
        span: &Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        if !self.lost {
            self.mistake(span, message, help);
        }
    }

    /// Whether enough has been told for one go.
    pub(crate) fn is_full(&self) -> bool {
        self.mistakes.len() >= limit::MISTAKES
    }

    /// How many so far.
    pub(crate) fn count(&self) -> usize {
        self.mistakes.len()
    }

    /// The mistakes in the order they stand in the file.
    pub(crate) fn into_mistakes(mut self) -> Vec<Mistake> {
        self.mistakes
            .sort_by_key(|mistake| (mistake.span.start, mistake.span.end));
        self.mistakes
    }
}

/// A sentence short enough to print, whatever it quotes.
fn short(mut sentence: String) -> String {
    if let Some((end, _)) = sentence.char_indices().nth(limit::SENTENCE_LETTERS) {
        sentence.truncate(end);
        sentence.push('…');
    }
    sentence
}
