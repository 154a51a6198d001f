//! Reading a count: from its words to slots in time.

use std::ops::Range;

use crate::count::{Count, CountMistake, Counting, Thirds};
use crate::count_end::{Counted, Kind, MOST_COUNTS, counted_out, told};
use crate::count_words::{Part, Said, words};
use crate::length::MOST_BARS;
use crate::{Fraction, Meter, MeterKind};

pub(crate) fn read_placed(
    text: &str,
    meter: &Meter,
    lower: Option<u16>,
    said: Option<&str>,
) -> Result<(Count, Vec<Range<usize>>), Vec<CountMistake>> {
    let finer = lower.and_then(|lower| meter.in_units_of(lower));
    let lower = finer.as_ref().map(Meter::lower);
    let numbered = finer.as_ref().unwrap_or(meter);
    let words = words(text);
    if words.len() > MOST_COUNTS {
        return Err(vec![mistake(
            0..text.len(),
            format!("a count has {MOST_COUNTS} words at most"),
            "write a shorter figure",
        )]);
    }
    let counting = Counting {
        lower,
        ..counting(numbered, text, &words)
    };
    let words = match counting.thirds {
        Thirds::AndA => thirds_of_the_beat(words),
        Thirds::TripLet | Thirds::LaLi => words,
    };
    let mut reading = Reading::new(text, numbered, counting.beats);
    for (at, (word, place)) in words.iter().enumerate() {
        reading.take(*word, place.clone(), &words[at + 1..]);
    }
    match (reading.finish(), told(said, meter)) {
        (Ok((counted, pickup)), Ok(said)) => {
            let (count, places) = counted_out(counted, pickup, meter, said, text.len())?;
            Ok((Count { counting, ..count }, places))
        }
        (Ok(_), Err(mistake)) => Err(vec![mistake]),
        (Err(mistakes), Ok(_)) => Err(mistakes),
        (Err(mut mistakes), Err(mistake)) => {
            mistakes.push(mistake);
            Err(mistakes)
        }
    }
}

pub(crate) fn even_eighths(
    silent: &[bool],
    meter: &Meter,
    said: Option<&str>,
) -> Result<Count, Vec<CountMistake>> {
    let half = Fraction::new(1, 2);
    let counted = silent.iter().zip(0i64..).map(|(silent, place)| {
        let at = half * place;
        Counted {
            at,
            kind: if *silent { Kind::Silence } else { Kind::Note },
            place: 0..0,
        }
    });
    let said = told(said, meter).map_err(|mistake| vec![mistake])?;
    counted_out(counted.collect(), Fraction::ZERO, meter, said, 0).map(|(count, _)| count)
}

/// How a count is counted. In a compound meter numbers are its units, but
/// beats where `la` or `li` occurs, or where every `&` is followed by its `a`
/// and nothing tells of smaller parts or more numbers.
fn counting(meter: &Meter, text: &str, words: &[(Said, Range<usize>)]) -> Counting {
    let compound = meter.kind() == MeterKind::Compound;
    let typed = || {
        words
            .iter()
            .filter_map(|(_, place)| thirds(&text[place.clone()]))
    };
    let la_li = typed().any(|thirds| thirds == Thirds::LaLi);
    if compound && !la_li && each_and_has_its_a(meter, words) {
        return Counting {
            beats: true,
            thirds: Thirds::AndA,
            lower: None,
        };
    }
    Counting {
        beats: compound && la_li,
        // Where both are typed, labels keep to the first.
        thirds: typed().next().unwrap_or_default(),
        lower: None,
    }
}

/// What a word calls the thirds, if it is one of them.
fn thirds(word: &str) -> Option<Thirds> {
    match word.to_ascii_lowercase().as_str() {
        "trip" | "let" => Some(Thirds::TripLet),
        "la" | "li" => Some(Thirds::LaLi),
        _ => None,
    }
}

/// `1 & a 2 & a` in a compound meter: at least one `&`, each followed by its
/// `a`, no `e`, and no number beyond the bar's beats.
fn each_and_has_its_a(meter: &Meter, words: &[(Said, Range<usize>)]) -> bool {
    let beats = meter.groups().len();
    let said = words.iter().map(|(said, _)| *said);
    let counts: Vec<Said> = said
        .filter(|said| !matches!(said, Said::Open | Said::Close | Said::Hold))
        .collect();
    let and = Said::Part(Part::Half);
    let alone = counts.iter().zip(1..).any(|(said, next)| {
        *said == and && counts.get(next) != Some(&Said::Part(Part::LastQuarter))
    });
    let too_many = |said: &Said| match said {
        Said::Part(Part::SecondQuarter) => true,
        Said::Number(number) => usize::from(*number) > beats,
        _ => false,
    };
    counts.contains(&and) && !alone && !counts.iter().any(too_many)
}

/// `&` and `a` as the second and last third of a beat.
fn thirds_of_the_beat(words: Vec<(Said, Range<usize>)>) -> Vec<(Said, Range<usize>)> {
    let third = |said| match said {
        Said::Part(Part::Half) => Said::Part(Part::SecondThird),
        Said::Part(Part::LastQuarter) => Said::Part(Part::LastThird),
        other => other,
    };
    let words = words.into_iter();
    words.map(|(said, place)| (third(said), place)).collect()
}

/// Where a count has come to.
struct Reading<'a> {
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
    counted: Vec<Counted>,
    pickup: Option<Fraction>,
    mistakes: Vec<CountMistake>,
}

impl<'a> Reading<'a> {
    fn new(text: &'a str, meter: &'a Meter, counts_beats: bool) -> Reading<'a> {
        let numbered = if counts_beats {
            meter.beat()
        } else {
            meter.unit()
        };
        let to_a_bar = (meter.bar() / numbered).to_integer();
        Reading {
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

    fn take(&mut self, word: Said, place: Range<usize>, ahead: &[(Said, Range<usize>)]) {
        if matches!(word, Said::Open | Said::Close | Said::Hold)
            && let Some(hold) = self.hold.take()
        {
            self.leads_nowhere(hold);
        }
        match word {
            Said::Hold => self.hold = Some(place),
            Said::Open if self.open.is_some() => self.wrong(
                place,
                "this ( stands inside another".to_owned(),
                "close the first one before it",
            ),
            Said::Open => {
                self.open = Some(place);
                self.since_open = 0;
            }
            Said::Close => match self.open.take() {
                None => self.wrong(
                    place,
                    "this ) closes nothing".to_owned(),
                    "write ( before the silence, as in (3)",
                ),
                Some(open) if self.since_open == 0 => {
                    self.wrong(
                        open.start..place.end,
                        "these parentheses hold nothing".to_owned(),
                        "put the silent count in them, as in (3)",
                    );
                }
                Some(_) => {}
            },
            Said::BarLine => self.bar_line(place),
            Said::Number(number) => self.number(number, place),
            Said::Part(part) => self.part(part, place, ahead),
            Said::Unknown => self.unknown(place),
        }
    }

    fn unknown(&mut self, place: Range<usize>) {
        let message = format!("“{}” is no word of a count", &self.text[place.clone()]);
        let help = "count with numbers, &, e, a, trip let or la li; put silence in ( ), write | for a bar line, and join with - what is held";
        self.wrong(place, message, help);
        self.lost = true;
        self.hold = None;
        self.since_open += 1;
    }

    fn bar_line(&mut self, place: Range<usize>) {
        if self.last.is_none() && !self.lost {
            let help = "count at least one beat between bar lines, in ( ) if it is silent";
            return self.wrong(
                place,
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
        if self.bars > MOST_BARS {
            self.bars = MOST_BARS;
            return self.wrong(
                place,
                format!("a figure lasts {MOST_BARS} bars at most"),
                "write a shorter figure",
            );
        }
        self.bar_line += self.meter.bar();
        (self.number, self.last, self.parts) = (None, None, None);
        self.lost = false;
    }

    fn number(&mut self, number: u16, place: Range<usize>) {
        if number == 0 || number > self.to_a_bar {
            self.lost = true;
            self.hold = None;
            self.since_open += 1;
            let bar = self.meter;
            let message = format!("there is no {number} in {}/{}", bar.upper(), bar.lower());
            return self.wrong(
                place,
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
            self.wrong(place.clone(), message, &help);
            // Go on from here, so that what follows isn't refused as well.
        }
        self.number = Some(number);
        self.parts = None;
        self.count(within, place);
    }

    fn part(&mut self, part: Part, place: Range<usize>, ahead: &[(Said, Range<usize>)]) {
        if self.lost {
            self.hold = None;
            return;
        }
        let Some(number) = self.number.or_else(|| self.number_before(ahead)) else {
            let help = "begin with a number, as in 1 &";
            return self.wrong(
                place,
                "there is no beat before this to part".to_owned(),
                help,
            );
        };
        self.number = Some(number);
        if self.parts.is_some_and(|thirds| thirds != part.thirds()) {
            let message = format!("beat {number} is counted in thirds and in halves or quarters");
            self.wrong(
                place.clone(),
                message,
                "count one beat either with & and e & a or with trip let",
            );
        }
        self.parts = Some(part.thirds());
        if self.too_fine(part) {
            let (word, bar) = (&self.text[place.clone()], self.meter);
            let message = format!(
                "“{word}” is finer than a 64th in {}/{}",
                bar.upper(),
                bar.lower()
            );
            self.wrong(place.clone(), message, "write the figure in longer values");
        }
        let (upper, lower) = part.place();
        let within =
            self.numbered * i64::from(number - 1) + self.numbered * Fraction::new(upper, lower);
        if self.last.is_some_and(|last| within <= last) {
            let word = &self.text[place.clone()];
            self.wrong(
                place.clone(),
                format!("“{word}” comes too late: more of beat {number} is counted already"),
                "count 1 e & a or 1 trip let in this order",
            );
        }
        self.count(within, place);
    }

    /// Whether no value is short enough: thirds are written with halves, the
    /// parts of a compound beat with its units.
    fn too_fine(&self, part: Part) -> bool {
        let written = if self.numbered > self.meter.unit() {
            self.meter.unit()
        } else if matches!(part, Part::SecondQuarter | Part::LastQuarter) {
            self.numbered / 4
        } else {
            self.numbered / 2
        };
        written < Fraction::new(1, 16)
    }

    /// The beat that a part belongs to when no number comes before it: the
    /// one before the next number; in a pickup without numbers the bar's last.
    fn number_before(&self, ahead: &[(Said, Range<usize>)]) -> Option<u16> {
        for (word, _) in ahead {
            match word {
                Said::Number(number) => return number.checked_sub(1).filter(|before| *before > 0),
                Said::BarLine if self.counted.is_empty() => return Some(self.to_a_bar),
                Said::BarLine => break,
                _ => {}
            }
        }
        Some(1)
    }

    fn count(&mut self, within: Fraction, place: Range<usize>) {
        self.last = Some(within);
        self.since_open += 1;
        let kind = match self.hold.take() {
            Some(hold) => {
                self.held(hold.start..place.end);
                Kind::Held
            }
            None if self.open.is_some() => Kind::Silence,
            None => Kind::Note,
        };
        self.counted.push(Counted {
            at: self.bar_line + within,
            kind,
            place,
        });
    }

    /// What is held goes on: a note outside parentheses, silence inside them.
    fn held(&mut self, place: Range<usize>) {
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
        self.wrong(place, message.to_owned(), help);
    }

    fn leads_nowhere(&mut self, hold: Range<usize>) {
        self.wrong(
            hold,
            "no count comes after this hyphen".to_owned(),
            "write the count through which the note is held after it, as in 1-2",
        );
    }

    fn finish(mut self) -> Result<(Vec<Counted>, Fraction), Vec<CountMistake>> {
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
            self.mistakes.sort_by_key(|mistake| mistake.place.start);
            return Err(self.mistakes);
        }
        let Some(pickup) = self.pickup else {
            return Ok((self.counted, Fraction::ZERO));
        };
        let bar = self.meter.bar();
        if let Some(mistake) = silent_pickup(&self.counted, bar) {
            return Err(vec![mistake]);
        }
        let moved = self.counted.into_iter().map(|counted| Counted {
            at: counted.at - bar,
            ..counted
        });
        Ok((moved.collect(), pickup))
    }

    fn wrong(&mut self, place: Range<usize>, message: String, help: &str) {
        self.mistakes.push(mistake(place, message, help));
    }
}

/// A pickup in which nothing sounds: it would only make the figure longer.
fn silent_pickup(counted: &[Counted], bar: Fraction) -> Option<CountMistake> {
    let before: Vec<&Counted> = counted.iter().filter(|one| one.at < bar).collect();
    let (first, last) = (before.first()?, before.last()?);
    let silent = before.iter().all(|one| one.kind != Kind::Note);
    silent.then(|| {
        mistake(
            first.place.start..last.place.end,
            "nothing sounds in this pickup".to_owned(),
            "leave it out, and begin with the first bar",
        )
    })
}

pub(crate) fn mistake(place: Range<usize>, message: String, help: &str) -> CountMistake {
    CountMistake {
        place,
        in_length: false,
        message,
        help: help.to_owned(),
    }
}
