//! A count's words read one after another, each where it stands in its bar.

use std::ops::Range;

use crate::count_end::{Kind, Onset};
use crate::count_words::{CountToken, Subdivision};
use crate::length::MOST_BARS;
use crate::{CountMistake, Fraction, Meter};

/// Where a count has come to.
pub(crate) struct CountReader<'a> {
    text: &'a str,
    meter: &'a Meter,
    /// Length of what is numbered, and how many there are to the bar.
    numbered: Fraction,
    to_a_bar: u16,
    /// The bar line of the segment being read.
    bar_line: Fraction,
    bars: i64,
    /// The number in force, and the last place counted in this bar.
    number: Option<u16>,
    last: Option<Fraction>,
    /// Whether thirds or halves of the number in force have been counted.
    parts: Option<bool>,
    /// After a word or number that can't be, to the next number or bar line:
    /// what depends on it isn't refused as well.
    lost: bool,
    open: Option<Range<usize>>,
    since_open: usize,
    /// A hyphen whose count is still to come.
    hold: Option<Range<usize>>,
    counted: Vec<Onset>,
    pickup: Option<Fraction>,
    mistakes: Vec<CountMistake>,
}

impl<'a> CountReader<'a> {
    pub fn new(text: &'a str, meter: &'a Meter, counts_beats: bool) -> CountReader<'a> {
        let numbered = if counts_beats {
            meter.beat()
        } else {
            meter.unit()
        };
        let to_a_bar = (meter.bar() / numbered).to_integer();
        CountReader {
            text,
            meter,
            numbered,
            to_a_bar: u16::try_from(to_a_bar).unwrap_or(u16::MAX),
            bar_line: Fraction::ZERO,
            bars: 1,
            number: None,
            last: None,
            parts: None,
            lost: false,
            open: None,
            since_open: 0,
            hold: None,
            counted: Vec::new(),
            pickup: None,
            mistakes: Vec::new(),
        }
    }

    pub fn take(
        &mut self,
        word: CountToken,
        span: Range<usize>,
        ahead: &[(CountToken, Range<usize>)],
    ) {
        if matches!(
            word,
            CountToken::Open | CountToken::Close | CountToken::Hold
        ) && let Some(hold) = self.hold.take()
        {
            self.leads_nowhere(hold);
        }
        match word {
            CountToken::Hold => self.hold = Some(span),
            CountToken::Open if self.open.is_some() => self.wrong(
                span,
                "this ( stands inside another".to_owned(),
                "close the first one before it",
            ),
            CountToken::Open => {
                self.open = Some(span);
                self.since_open = 0;
            }
            CountToken::Close => match self.open.take() {
                None => self.wrong(
                    span,
                    "this ) closes nothing".to_owned(),
                    "write ( before the silence, as in (3)",
                ),
                Some(open) if self.since_open == 0 => {
                    self.wrong(
                        open.start..span.end,
                        "these parentheses hold nothing".to_owned(),
                        "put the silent count in them, as in (3)",
                    );
                }
                Some(_) => {}
            },
            CountToken::BarLine => self.bar_line(span),
            CountToken::Number(number) => self.number(number, span),
            CountToken::Subdivision(part) => self.part(part, span, ahead),
            CountToken::Unknown => self.unknown(span),
        }
    }

    fn unknown(&mut self, span: Range<usize>) {
        let message = format!("“{}” is no word of a count", &self.text[span.clone()]);
        let help = "count with numbers, &, e, a, trip let or la li; put silence in ( ), write | for a bar line, and join with - what is held";
        self.wrong(span, message, help);
        self.lost = true;
        self.hold = None;
        self.since_open += 1;
    }

    fn bar_line(&mut self, span: Range<usize>) {
        if self.last.is_none() && !self.lost {
            let help = "count at least one beat between bar lines, in ( ) if it is silent";
            return self.wrong(
                span,
                "nothing is counted before this bar line".to_owned(),
                help,
            );
        }
        let first = self
            .counted
            .first()
            .map_or(Fraction::ZERO, |counted| counted.at);
        if self.bars == 1 && self.pickup.is_none() && first > Fraction::ZERO {
            self.pickup = Some(self.meter.bar() - first);
        } else {
            self.bars += 1;
        }
        if self.bars == MOST_BARS + 1 {
            self.wrong(
                span,
                format!("a figure lasts {MOST_BARS} bars at most"),
                "write a shorter figure",
            );
            // Go on in the next bar, so that what follows isn't refused as well.
        }
        self.bar_line += self.meter.bar();
        (self.number, self.last, self.parts) = (None, None, None);
        self.lost = false;
    }

    fn number(&mut self, number: u16, span: Range<usize>) {
        if number == 0 || number > self.to_a_bar {
            self.lost = true;
            self.hold = None;
            self.since_open += 1;
            let bar = self.meter;
            let message = format!("there is no {number} in {}/{}", bar.upper(), bar.lower());
            return self.wrong(
                span,
                message,
                &format!(
                    "count from 1 to {}, and write | for the next bar",
                    self.to_a_bar
                ),
            );
        }
        if std::mem::take(&mut self.lost) {
            // What it holds was not understood.
            self.hold = None;
        }
        let within = self.numbered * i64::from(number - 1);
        if self.last.is_some_and(|last| within <= last) {
            let message = format!("{number} comes after what was counted before it");
            let help = if self.number == Some(number) {
                format!("say {number} once, and part it with & or e & a")
            } else {
                format!("write | before it if a new bar begins there: | {number}")
            };
            self.wrong(span.clone(), message, &help);
            // Go on from here, so that what follows isn't refused as well.
        }
        self.number = Some(number);
        self.parts = None;
        self.count(within, span);
    }

    fn part(
        &mut self,
        part: Subdivision,
        span: Range<usize>,
        ahead: &[(CountToken, Range<usize>)],
    ) {
        if self.lost {
            self.hold = None;
            return;
        }
        let Some(number) = self.number.or_else(|| self.number_before(ahead)) else {
            let help = "begin with a number, as in 1 &";
            return self.wrong(
                span,
                "there is no beat before this to part".to_owned(),
                help,
            );
        };
        self.number = Some(number);
        if self.parts.is_some_and(|thirds| thirds != part.thirds()) {
            let message = format!("beat {number} is counted in thirds and in halves or quarters");
            self.wrong(
                span.clone(),
                message,
                "count one beat either with & and e & a or with trip let",
            );
        }
        self.parts = Some(part.thirds());
        if self.too_fine(part) {
            let (word, bar) = (&self.text[span.clone()], self.meter);
            let message = format!(
                "“{word}” is finer than a 64th in {}/{}",
                bar.upper(),
                bar.lower()
            );
            self.wrong(span.clone(), message, "write the figure in longer values");
        }
        let (upper, lower) = part.place();
        let within =
            self.numbered * i64::from(number - 1) + self.numbered * Fraction::new(upper, lower);
        if self.last.is_some_and(|last| within <= last) {
            let word = &self.text[span.clone()];
            self.wrong(
                span.clone(),
                format!("“{word}” comes too late: more of beat {number} is counted already"),
                "count 1 e & a or 1 trip let in this order",
            );
        }
        self.count(within, span);
    }

    /// Whether no value is short enough: halves of a 32nd, and the thirds that
    /// are written with them, are 64ths; quarters of it have none.
    fn too_fine(&self, part: Subdivision) -> bool {
        let quarter = matches!(part, Subdivision::SecondQuarter | Subdivision::LastQuarter);
        quarter && self.numbered / 4 < Fraction::new(1, 16)
    }

    /// The beat that a part belongs to when no number comes before it: the
    /// one before the next number; in a pickup without numbers the bar's last.
    fn number_before(&self, ahead: &[(CountToken, Range<usize>)]) -> Option<u16> {
        for (word, _) in ahead {
            match word {
                CountToken::Number(number) => {
                    return number.checked_sub(1).filter(|before| *before > 0);
                }
                CountToken::BarLine if self.counted.is_empty() => return Some(self.to_a_bar),
                CountToken::BarLine => break,
                _ => {}
            }
        }
        Some(1)
    }

    fn count(&mut self, within: Fraction, span: Range<usize>) {
        self.last = Some(within);
        self.since_open += 1;
        let kind = match self.hold.take() {
            Some(hold) => {
                self.held(hold.start..span.end);
                Kind::Held
            }
            None if self.open.is_some() => Kind::Silence,
            None => Kind::Note,
        };
        self.counted.push(Onset {
            at: self.bar_line + within,
            kind,
            span,
        });
    }

    /// What is held goes on: a note outside parentheses, silence inside them.
    fn held(&mut self, span: Range<usize>) {
        let before = self.counted.iter().rfind(|one| one.kind != Kind::Held);
        let silent = self.open.is_some();
        let (message, help) = match before.map(|before| before.kind == Kind::Silence) {
            Some(before) if before == silent => return,
            None => (
                "nothing comes before this that could be held",
                "begin with the count on which the note starts, as in 1-2",
            ),
            Some(true) => (
                "silence comes before this, and can't be held as a note",
                "leave out the hyphen to start a note here",
            ),
            Some(false) => (
                "a note that is held isn't silent",
                "write 1-2 for a note that goes on, 1 (2) for one that stops",
            ),
        };
        self.wrong(span, message.to_owned(), help);
    }

    fn leads_nowhere(&mut self, hold: Range<usize>) {
        self.wrong(
            hold,
            "no count comes after this hyphen".to_owned(),
            "write the count through which the note is held after it, as in 1-2",
        );
    }

    /// What was counted, and the length of a pickup.
    ///
    /// # Errors
    /// Every mistake, in order.
    pub fn finish(mut self) -> Result<(Vec<Onset>, Fraction), Vec<CountMistake>> {
        if let Some(hold) = self.hold.take() {
            self.leads_nowhere(hold);
        }
        if let Some(open) = self.open.take() {
            self.wrong(
                open,
                "this ( is never closed".to_owned(),
                "write ) after the silent count, as in (3)",
            );
        }
        if self.counted.is_empty() && self.mistakes.is_empty() {
            self.wrong(
                0..self.text.len(),
                "nothing is counted".to_owned(),
                "count the figure, as in 1 & 2 & 3 4",
            );
        }
        if !self.mistakes.is_empty() {
            self.mistakes.sort_by_key(|mistake| mistake.span.start);
            return Err(self.mistakes);
        }
        let Some(pickup) = self.pickup else {
            return Ok((self.counted, Fraction::ZERO));
        };
        let bar = self.meter.bar();
        if let Some(mistake) = silent_pickup(&self.counted, bar) {
            return Err(vec![mistake]);
        }
        let moved = self.counted.into_iter().map(|counted| Onset {
            at: counted.at - bar,
            ..counted
        });
        Ok((moved.collect(), pickup))
    }

    fn wrong(&mut self, span: Range<usize>, message: String, help: &str) {
        self.mistakes
            .push(CountMistake::in_count(span, message, help));
    }
}

/// A pickup in which nothing sounds: it would only make the figure longer.
fn silent_pickup(counted: &[Onset], bar: Fraction) -> Option<CountMistake> {
    let before: Vec<&Onset> = counted.iter().filter(|one| one.at < bar).collect();
    let (first, last) = (before.first()?, before.last()?);
    let silent = before.iter().all(|one| one.kind != Kind::Note);
    silent.then(|| {
        CountMistake::in_count(
            first.span.start..last.span.end,
            "nothing sounds in this pickup".to_owned(),
            "leave it out, and begin with the first bar",
        )
    })
}
