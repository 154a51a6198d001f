//! From bar lines to sections: repeats, first and second endings, rehearsal
//! marks.

use lesson::{Bar, NumberedEnding, Section};
use rhythm::Fraction;

use crate::part::{BarLines, Concern, PlacedWarning};
use crate::{Place, Warning, limit};

/// A bar with what its bar lines and its mark say.
#[derive(Debug)]
pub(crate) struct SectionBar {
    pub bar: Bar,
    pub lines: BarLines,
    pub mark: Option<String>,
}

/// The sections that bars make, and what was guessed.
pub(crate) fn sections(bars: Vec<SectionBar>, told: &mut Vec<PlacedWarning>) -> Vec<Section> {
    let mut building = SectionBuilder {
        done: Vec::new(),
        open: Open::default(),
        told,
        at: 0,
        number: String::new(),
    };
    let mut forward = false;
    let mut lined = bars.into_iter().peekable();
    while let Some(SectionBar { bar, lines, mark }) = lined.next() {
        building.number = crate::shown::short(&bar.number);
        if lines.forward || forward {
            building.begin_repeat();
        }
        if let Some(times) = lines.ending {
            building.begin_ending(times);
        } else if building.open.ending.is_none() && !building.open.endings.is_empty() {
            building.close(1);
        }
        building.open.push(bar, mark);
        forward = lines.forward_after;
        let next = lined.peek().map(|next| &next.lines);
        let backward = lines.backward || next.is_some_and(|next| next.backward_before);
        let times = match next {
            Some(next) if !lines.backward && next.backward_before => next.times,
            _ => lines.times,
        };
        if backward {
            building.end_repeat(times);
        }
        if lines.ending_over {
            building.end_ending();
        }
        if backward && building.open.ending.is_none() && building.open.endings.is_empty() {
            building.close(building.open.times.unwrap_or(1));
        }
        building.at += 1;
    }
    building.finish()
}

/// A section not yet closed.
#[derive(Debug, Default)]
struct Open {
    bars: Vec<(Bar, Option<String>)>,
    endings: Vec<NumberedEnding>,
    /// The ending that bars now go into.
    ending: Option<NumberedEnding>,
    /// Whether a repeat sign opened it.
    repeated: bool,
    /// How often it is played, once a repeat sign has said so.
    times: Option<u16>,
    /// The endings that turn back.
    turning: usize,
}

impl Open {
    fn push(&mut self, bar: Bar, mark: Option<String>) {
        match &mut self.ending {
            Some(ending) => ending.bars.push(bar),
            None => self.bars.push((bar, mark)),
        }
    }

    fn is_empty(&self) -> bool {
        self.bars.is_empty() && self.endings.is_empty() && self.ending.is_none()
    }
}

struct SectionBuilder<'a> {
    done: Vec<Section>,
    open: Open,
    told: &'a mut Vec<PlacedWarning>,
    at: usize,
    number: String,
}

impl SectionBuilder<'_> {
    fn begin_repeat(&mut self) {
        if !self.open.is_empty() {
            self.close(1);
        }
        self.open.repeated = true;
    }

    fn begin_ending(&mut self, mut times: Vec<u16>) {
        self.end_ending();
        let next = self.last_time() + 1;
        if times.is_empty() {
            times = vec![next];
        }
        let again =
            !self.open.endings.is_empty() && times.first().is_some_and(|first| *first < next);
        if again {
            // A first ending after a second belongs to another repeat.
            self.close(1);
        }
        if self.open.bars.is_empty() && self.open.endings.is_empty() {
            self.tell("an ending stands without the bars that it ends");
        }
        self.open.ending = Some(NumberedEnding {
            at_times: times,
            bars: Vec::new(),
        });
    }

    fn end_ending(&mut self) {
        if let Some(ending) = self.open.ending.take() {
            self.open.endings.push(ending);
        }
    }

    fn end_repeat(&mut self, times: Option<u16>) {
        if self.open.ending.is_some() {
            self.open.turning += 1;
            return;
        }
        self.open.times = Some(times.unwrap_or(2));
    }

    /// The last time that an ending names; 0 before any.
    fn last_time(&self) -> u16 {
        let endings = self.open.endings.iter().chain(&self.open.ending);
        endings
            .flat_map(|ending| ending.at_times.iter().copied())
            .max()
            .unwrap_or(0)
    }

    /// Closes the open section, played so many times where no ending says
    /// otherwise.
    fn close(&mut self, times: u16) {
        self.end_ending();
        let last = self.last_time();
        let open = std::mem::take(&mut self.open);
        if open.bars.is_empty() && open.endings.is_empty() {
            return;
        }
        let mut times = times;
        if !open.endings.is_empty() {
            // With one ending that turns back, the next time goes on past it.
            let alone = open.endings.len() == 1 && open.turning > 0;
            times = if alone { last.saturating_add(1) } else { last };
            times = times.min(limit::TIMES);
            if open.turning >= open.endings.len() && !alone {
                self.tell("the last ending turns back too: it was taken as the last time");
            }
            if open.turning + 1 < open.endings.len() {
                self.tell("an ending without a repeat sign was taken to turn back");
            }
            let named = |time: &u16| {
                open.endings
                    .iter()
                    .any(|ending| ending.at_times.contains(time))
            };
            if !alone && !(1..=last).all(|time| named(&time)) {
                self.tell("no ending is named for every time");
            }
        } else if open.repeated && open.times.is_none() {
            self.tell("a repeat that begins never ends: it was played once");
        }
        let (pickup, bars) = split_pickup(
            open.bars,
            &open.endings,
            times > 1 && !open.repeated && self.done.is_empty(),
        );
        if let Some((bar, mark)) = pickup {
            self.tell("the repeat goes back to the first full bar, not to the pickup");
            self.done.push(section(vec![(bar, mark)], Vec::new(), 1));
        }
        if times == 1 && open.endings.is_empty() {
            for bars in at_marks(bars) {
                self.done.push(section(bars, Vec::new(), 1));
            }
        } else {
            self.done.push(section(bars, open.endings, times));
        }
    }

    fn finish(mut self) -> Vec<Section> {
        self.close(1);
        self.done
    }

    fn tell(&mut self, message: &str) {
        let place = Place {
            measure: Some(self.number.clone()),
            element: Some("barline".to_owned()),
            ..Place::default()
        };
        let warning = Warning {
            place,
            message: message.to_owned(),
        };
        self.told.push(PlacedWarning {
            about: Concern::Chords,
            warning,
            measure: self.at,
        });
    }
}

type BarWithMark = (Bar, Option<String>);

/// Parts a pickup from a repeat that begins with the piece but is too full to
/// go back to it: where the turning bar leaves no room for the pickup.
fn split_pickup(
    mut bars: Vec<BarWithMark>,
    endings: &[NumberedEnding],
    repeated: bool,
) -> (Option<BarWithMark>, Vec<BarWithMark>) {
    let Some((first, _)) = bars
        .first()
        .filter(|(first, _)| repeated && first.from > Fraction::ZERO)
    else {
        return (None, bars);
    };
    let turning = match endings.first() {
        Some(ending) => ending.bars.last(),
        None => bars.last().map(|(bar, _)| bar),
    };
    let room = turning.is_some_and(|bar| bar.from + bar.length + first.length <= bar.meter.bar());
    if room || bars.len() < 2 {
        return (None, bars);
    }
    let pickup = bars.remove(0);
    (Some(pickup), bars)
}

/// Bars that are played once, parted where a rehearsal mark stands.
fn at_marks(bars: Vec<BarWithMark>) -> Vec<Vec<BarWithMark>> {
    let mut stretches: Vec<Vec<BarWithMark>> = Vec::new();
    for (bar, mark) in bars {
        match stretches.last_mut().filter(|_| mark.is_none()) {
            Some(stretch) => stretch.push((bar, None)),
            None => stretches.push(vec![(bar, mark)]),
        }
    }
    stretches
}

fn section(bars: Vec<BarWithMark>, endings: Vec<NumberedEnding>, times: u16) -> Section {
    Section {
        name: bars.first().and_then(|(_, mark)| mark.clone()),
        bars: bars.into_iter().map(|(bar, _)| bar).collect(),
        endings,
        times,
    }
}

#[cfg(test)]
mod tests {
    use lesson::{Changes, Named};
    use rhythm::Meter;

    use super::*;

    /// Bars as `|:1 [1]2 :| …`: signs before and after a number. Expected:
    /// sections with their times, then the order played, then the number of
    /// warnings.
    fn check(music: &str, expected: &str, played: &str, warned: usize) {
        let bars = music.split_whitespace().map(|text| {
            let (ending, rest) = match text.trim_start_matches("|:").strip_prefix('[') {
                Some(rest) => {
                    let (times, rest) = rest.split_once(']').unwrap();
                    let times = times
                        .split(',')
                        .filter_map(|time| time.parse().ok())
                        .collect();
                    (Some(times), rest)
                }
                None => (None, text),
            };
            let number: String = rest
                .trim_start_matches("|:")
                .chars()
                .take_while(|c| *c != ':' && *c != ']')
                .collect();
            let from = Fraction::from(if number.starts_with('p') { 3 } else { 0 });
            let length = if number.ends_with('s') {
                Fraction::from(3)
            } else {
                Fraction::from(4) - from
            };
            SectionBar {
                bar: Bar {
                    number,
                    meter: Meter::common(),
                    from,
                    length,
                    chords: Vec::new(),
                },
                lines: BarLines {
                    forward: text.starts_with("|:"),
                    backward: text.contains(":|"),
                    times: text
                        .split_once(":|x")
                        .and_then(|(_, times)| times.parse().ok()),
                    ending,
                    ending_over: rest.ends_with(']'),
                    ..BarLines::default()
                },
                mark: None,
            }
        });
        let mut told = Vec::new();
        let sections = sections(bars.collect(), &mut told);
        let said: Vec<String> = sections
            .iter()
            .map(|section| format!("{}x{}", section.bars.len(), section.times))
            .collect();
        assert_eq!(said.join(" "), expected, "{music}");
        let changes = Changes {
            title: None,
            key: None,
            named: Named::Concert,
            sections,
        };
        let order: Vec<&str> = changes.played().map(|bar| bar.number.as_str()).collect();
        assert_eq!(order.join(" "), played, "{music}");
        assert_eq!(told.len(), warned, "{music}: {told:?}");
    }

    #[test]
    fn repeats() {
        check("1 2 3", "3x1", "1 2 3", 0);
        check("|:1 2:| 3", "2x2 1x1", "1 2 1 2 3", 0);
        check("1 2:| 3 4:|", "2x2 2x2", "1 2 1 2 3 4 3 4", 0);
        check("1 |:2 3:| 4", "1x1 2x2 1x1", "1 2 3 2 3 4", 0);
        check("1:|x3", "1x3", "1 1 1", 0);
        check("|:1 2", "2x1", "1 2", 1);
    }

    #[test]
    fn endings() {
        check("|:1 [1]2:|] [2]3] 4", "1x2 1x1", "1 2 1 3 4", 0);
        check("|:1 [1]2:|] [2]3 4]", "1x2", "1 2 1 3 4", 0);
        check("|:1 [1,2]2:|] [3]3]", "1x3", "1 2 1 2 1 3", 0);
        check("|:1 [1]2:|] 3", "1x2 1x1", "1 2 1 3", 0);
        check("|:1 [1]2:|] [2]3:|] 4", "1x2 1x1", "1 2 1 3 4", 1);
        check("|:1 []2:|] []3] 4", "1x2 1x1", "1 2 1 3 4", 0);
        check(
            "|:1 [1]2:|] [2]3] |:4 [1]5:|] [2]6]",
            "1x2 1x2",
            "1 2 1 3 4 5 4 6",
            0,
        );
        check("|:1 [1]2] [2]3]", "1x2", "1 2 1 3", 1);
        check("|:1 [1]2:|] [3]3]", "1x3", "1 2 1 1 3", 1);
    }

    #[test]
    fn pickups() {
        check("p 1 2s:| 3", "3x2 1x1", "p 1 2s p 1 2s 3", 0);
        check("p 1 2:| 3", "1x1 2x2 1x1", "p 1 2 1 2 3", 1);
        check("p |:1 2:| 3", "1x1 2x2 1x1", "p 1 2 1 2 3", 0);
        check("p 1 [1]2s:|] [2]3]", "2x2", "p 1 2s p 1 3", 0);
    }
}
