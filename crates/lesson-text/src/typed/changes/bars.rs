//! Bars of changes in words: `| C7 | F7 | same | Gm7 (3&) C7 |`.

mod chords;

use std::ops::Range;

use lesson::{Bar, NumberedEnding, PlacedChord, Section};
use rhythm::{Fraction, Meter};

use chords::{BarChords, Word, fault};

use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::text::Text;

/// What runs on from one text of bars to the next.
pub(crate) struct Running {
    /// The meter, until a text says another.
    pub meter: Meter,
    /// The last bar's number.
    pub number: u32,
    /// The last bar's chords, for `same`.
    pub before: Option<Vec<PlacedChord>>,
}

impl Running {
    /// Before the first bar.
    pub(crate) fn from(meter: Meter) -> Running {
        Running {
            meter,
            number: 0,
            before: None,
        }
    }
}

/// Reads the bars of a text into the sections that its repeats make, numbered
/// on from what ran before.
pub(crate) fn bars(
    text: &Text,
    running: &mut Running,
    report: &mut Report<'_>,
) -> Option<Vec<Section>> {
    if text.value.len() > limit::CHANGES_LETTERS {
        report.mistake(
            &text.span,
            format!("these bars take {} letters", text.value.len()),
            format!("keep it to {}", limit::CHANGES_LETTERS),
        );
        return None;
    }
    let known = report.count();
    let mut reading = BarReader {
        text,
        running,
        sections: vec![plain()],
        ending: false,
    };
    for (index, cell) in cells(&text.value) {
        reading.bar(&text.value[cell.clone()], &cell, index == 0, report);
    }
    let sections: Vec<Section> = reading
        .sections
        .into_iter()
        .filter(|section| !section.bars.is_empty() || !section.endings.is_empty())
        .collect();
    if sections.is_empty() && report.count() == known {
        report.mistake(
            &text.span,
            "there is no bar here",
            "write bars = \"| C7 | F7 | same | G7 |\"",
        );
    }
    (report.count() == known).then_some(sections)
}

/// The bytes between bar lines; what stands before the first and after the
/// last may be empty.
fn cells(text: &str) -> Vec<(usize, Range<usize>)> {
    let mut cells = Vec::new();
    let mut from = 0;
    let ends = text
        .match_indices('|')
        .map(|(at, _)| at)
        .chain([text.len()]);
    for end in ends {
        cells.push(from..end);
        from = end + 1;
    }
    let empty = |cell: &Range<usize>| text[cell.clone()].trim().is_empty();
    // Where a line ends on a stroke, the next may begin with one.
    cells.retain(|cell| !(empty(cell) && text[cell.clone()].contains('\n')));
    if cells.last().is_some_and(empty) {
        cells.pop();
    }
    if cells.first().is_some_and(empty) {
        cells.remove(0);
    }
    cells.into_iter().enumerate().collect()
}

fn plain() -> Section {
    Section {
        name: None,
        bars: Vec::new(),
        endings: Vec::new(),
        times: 1,
    }
}

/// Reads bar after bar.
struct BarReader<'r, 't> {
    text: &'t Text,
    running: &'r mut Running,
    sections: Vec<Section>,
    /// Whether bars go into the last section's last ending.
    ending: bool,
}

impl BarReader<'_, '_> {
    /// Reads a bar; `None` where a fault of it was told.
    fn bar(
        &mut self,
        cell: &str,
        span: &Range<usize>,
        first: bool,
        report: &mut Report<'_>,
    ) -> Option<()> {
        let words = words(cell, span.start);
        let (words, pickup) = self.openings(&words, first, report)?;
        if words.is_empty() {
            fault(
                self.text,
                span,
                "this bar is empty",
                "write its chords, same, or N.C.",
                report,
            );
            return None;
        }
        let bar = BarChords {
            text: self.text,
            meter: &self.running.meter,
            before: self.running.before.as_deref(),
        };
        let chords = bar.read(words, report)?;
        let from = match chords.first() {
            Some(first) if pickup => first.at,
            _ => Fraction::ZERO,
        };
        if !pickup {
            self.running.number += 1;
        }
        self.running.before = Some(chords.clone());
        self.push(Bar {
            number: self.running.number.to_string(),
            meter: self.running.meter.clone(),
            from,
            length: self.running.meter.bar() - from,
            chords,
        });
        if pickup {
            // What is repeated begins on the bar line.
            self.sections.push(plain());
        }
        Some(())
    }

    fn push(&mut self, bar: Bar) {
        if let Some(section) = self.sections.last_mut() {
            match section.endings.last_mut().filter(|_| self.ending) {
                Some(ending) => ending.bars.push(bar),
                None => section.bars.push(bar),
            }
        }
    }

    /// The words before a bar's chords, which say what begins with it; gives
    /// the others, and whether it is a pickup.
    fn openings<'w, 't>(
        &mut self,
        mut words: &'w [Word<'t>],
        first: bool,
        report: &mut Report<'_>,
    ) -> Option<(&'w [Word<'t>], bool)> {
        let mut pickup = false;
        loop {
            words = match words {
                [("repeat", _), rest @ ..] => {
                    let (times, rest) = times(rest);
                    self.open(times);
                    rest
                }
                [("go", _), ("on", _), rest @ ..] => {
                    self.open(1);
                    rest
                }
                [(ordinal, at), ("ending", _), rest @ ..] => {
                    self.open_ending(ordinal, at, report);
                    rest
                }
                [("in", at), rest @ ..] => self.change_meter(at, rest, report)?,
                [("pickup", at), rest @ ..] => {
                    if !first || self.running.number > 0 {
                        let message = "a pickup comes before the first bar";
                        fault(self.text, at, message, "leave the word out", report);
                    }
                    pickup = true;
                    rest
                }
                _ => return Some((words, pickup)),
            };
        }
    }

    /// A section begins that is played so often.
    fn open(&mut self, times: u16) {
        self.sections.push(Section { times, ..plain() });
        self.ending = false;
    }

    /// `in 3/4`, `in 5/4 = 3+2`; gives the words after it.
    fn change_meter<'w, 't>(
        &mut self,
        at: &Range<usize>,
        words: &'w [Word<'t>],
        report: &mut Report<'_>,
    ) -> Option<&'w [Word<'t>]> {
        let (said, end, rest) = match words {
            [(meter, _), ("=", _), (groups, at), rest @ ..] => {
                (format!("{meter} = {groups}"), at.end, rest)
            }
            [(meter, at), rest @ ..] => ((*meter).to_owned(), at.end, rest),
            [] => (String::new(), at.end, words),
        };
        match said.parse() {
            Ok(meter) => {
                self.running.meter = meter;
                Some(rest)
            }
            Err(error) => {
                let help = "write in 3/4 before the bar that is the first in it, or in 5/4 = 3+2";
                fault(
                    self.text,
                    &(at.start..end),
                    &error.to_string(),
                    help,
                    report,
                );
                None
            }
        }
    }

    fn open_ending(&mut self, ordinal: &str, at: &Range<usize>, report: &mut Report<'_>) {
        let names = ["first", "second", "third", "fourth"];
        let time = names.iter().position(|name| *name == ordinal);
        let section = self.sections.last_mut();
        let next = section.as_ref().map_or(0, |section| section.endings.len());
        match (time, section) {
            (Some(time), Some(section)) if time == next && !section.bars.is_empty() => {
                let time = time as u16 + 1;
                section.times = section.times.max(time);
                section.endings.push(NumberedEnding {
                    at_times: vec![time],
                    bars: Vec::new(),
                });
                self.ending = true;
            }
            _ => fault(
                self.text,
                at,
                "this ending follows no bars that it could end",
                "write repeat before the bars, then first ending and second ending",
                report,
            ),
        }
    }
}

/// How often a repeat is played, where that is said: `repeat 3 times`.
fn times<'w, 't>(words: &'w [Word<'t>]) -> (u16, &'w [Word<'t>]) {
    match words {
        [(count, _), ("times", _), rest @ ..] => match count.parse() {
            Ok(count) if limit::SECTION_TIMES.contains(&i64::from(count)) => (count, rest),
            _ => (2, words),
        },
        _ => (2, words),
    }
}

/// The words of a bar; what stands in parentheses is one.
fn words(cell: &str, offset: usize) -> Vec<Word<'_>> {
    let mut words = Vec::new();
    let mut from = None;
    let mut depth = 0usize;
    for (at, letter) in cell.char_indices().chain([(cell.len(), ' ')]) {
        let ends = letter.is_whitespace() && (depth == 0 || at == cell.len());
        if ends {
            if let Some(from) = from.take() {
                words.push((&cell[from..at], offset + from..offset + at));
            }
            continue;
        }
        from = from.or(Some(at));
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bars as `number:chord@quarters`, sections between strokes.
    fn check(meter: &str, said: &str, expected: &str) {
        let source = format!("\"{said}\"");
        let text = Text {
            value: said.to_owned(),
            span: 0..source.len(),
        };
        let mut report = Report::new(&source);
        let begun: Meter = meter.parse().unwrap();
        let mut running = Running::from(begun.clone());
        let sections = bars(&text, &mut running, &mut report);
        let bar = |bar: &Bar| {
            let chords: Vec<String> = bar
                .chords
                .iter()
                .map(|chord| format!("{}@{}", chord.symbol, chord.at))
                .collect();
            let meter = if bar.meter == begun {
                String::new()
            } else {
                format!("[{}]", bar.meter)
            };
            format!("{}{meter}:{}", bar.number, chords.join(","))
        };
        let section = |section: &Section| {
            let bars: Vec<String> = section.played().map(bar).collect();
            bars.join(" ")
        };
        let found = match sections {
            Some(sections) => sections.iter().map(section).collect::<Vec<_>>().join(" / "),
            None => {
                let told = report.into_mistakes().into_iter();
                told.map(|mistake| mistake.message)
                    .collect::<Vec<_>>()
                    .join("; ")
            }
        };
        assert_eq!(found, expected, "{said}");
    }

    #[test]
    fn bars_as_they_are_said() {
        check("4/4", "| C7 | F7 |", "1:C7@0 2:F7@0");
        check("4/4", "C7 | same | Gm7 C7", "1:C7@0 2:C7@0 3:Gm7@0,C7@2");
        check("4/4", "| C7 |\n| F7 |\n", "1:C7@0 2:F7@0");
        check("4/4", "| Gm7 (3&) C7 |", "1:Gm7@0,C7@5/2");
        check("4/4", "| C Am Dm |", "1:C@0,Am@2,Dm@3");
        check("3/4", "| C7 F7 |", "1:C7@0,F7@2");
        check("5/4", "| C7 F7 |", "1:C7@0,F7@2");
        check("5/4 = 3+2", "| C7 F7 |", "1:C7@0,F7@3");
        check("6/8", "| C7 F7 |", "1:C7@0,F7@3/2");
        check(
            "4/4",
            "| N.C. | C/E (4) G7(b9) |",
            "1:N.C.@0 2:C/E@0,G7(b9)@3",
        );
        check("4/4", "| pickup (4) G7 | C |", "0:G7@3 / 1:C@0");
        check(
            "4/4",
            "| repeat C | F | go on G |",
            "1:C@0 2:F@0 1:C@0 2:F@0 / 3:G@0",
        );
        check(
            "4/4",
            "| repeat C | first ending F | second ending G | same | go on C |",
            "1:C@0 2:F@0 1:C@0 3:G@0 4:G@0 / 5:C@0",
        );
        check("4/4", "| repeat 3 times C |", "1:C@0 1:C@0 1:C@0");
    }

    #[test]
    fn meters_change_where_it_is_said() {
        check(
            "4/4",
            "| C F | in 3/4 G | same |",
            "1:C@0,F@2 2[3/4]:G@0 3[3/4]:G@0",
        );
        check(
            "4/4",
            "| C (4) F | in 3/4 same | in 4/4 G |",
            "1:C@0,F@3 2[3/4]:C@0 3:G@0",
        );
        check("4/4", "| in 5/4 = 3+2 C F |", "1[5/4 = 3+2]:C@0,F@3");
        check(
            "3/4",
            "| repeat C | first ending in 2/4 F | second ending in 3/4 G |",
            "1:C@0 2[2/4]:F@0 1:C@0 3:G@0",
        );
        check(
            "4/4",
            "| C | in F |",
            "a meter is two numbers with a stroke between them, as in 4/4 or 6/8",
        );
        check("4/4", "| C | in 3/4 |", "this bar is empty");
    }

    #[test]
    fn what_is_no_bar() {
        check("4/4", "| C7 | | F7 |", "this bar is empty");
        check(
            "4/4",
            "| same |",
            "there is no bar before that this could be the same as",
        );
        check(
            "3/4",
            "| C C C C |",
            "4 chords are more than this bar has beats",
        );
        check("4/4", "| H7 |", "no chord is called \"H7\"");
        check("4/4", "| C (9) F |", "\"9\" is no count of a bar of 4/4");
        check("4/4", "| C (3) |", "no chord follows this count");
        check(
            "4/4",
            "| C | pickup (4) F |",
            "a pickup comes before the first bar",
        );
        check(
            "4/4",
            "| second ending F |",
            "this ending follows no bars that it could end",
        );
        check("4/4", "", "there is no bar here");
    }
}
