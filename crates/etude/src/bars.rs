//! The bars of an exercise: where each begins, in which meter.

use lesson::{BarTime, Over};
use rhythm::{Event, Meter, Ticks};

use crate::ticks::{counted, ticks};

/// The bars of an exercise, in ticks from the first bar line. Before it they
/// go on like the first, after the last that is known like that one.
#[derive(Debug)]
pub(crate) struct Bars {
    starts: Vec<(Ticks, usize)>,
    meters: Vec<MeterTicks>,
    /// Where a meter begins that isn't the one before, and which.
    changes: Vec<(Ticks, usize)>,
    /// Where sections begin, and their names.
    sections: Vec<(Ticks, String)>,
    end: Ticks,
}

/// A meter in ticks.
#[derive(Debug)]
struct MeterTicks {
    meter: Meter,
    length: Ticks,
    beats: Vec<Ticks>,
    counted: Vec<Ticks>,
    strong: Vec<Ticks>,
}

impl Bars {
    /// Bars of one meter, to be ended somewhere.
    pub fn of_meter(meter: &Meter, per_quarter: u32) -> Bars {
        let mut bars = Bars {
            starts: Vec::new(),
            meters: Vec::new(),
            changes: Vec::new(),
            sections: Vec::new(),
            end: 0,
        };
        let place = bars.place_of(meter, per_quarter);
        bars.starts.push((0, place));
        bars.changes.push((0, place));
        bars
    }

    /// The same, ending at a time.
    pub fn ending_at(self, end: Ticks) -> Bars {
        Bars { end, ..self }
    }

    /// The bars of all choruses of an exercise over changes.
    pub fn of(over: &Over, per_quarter: u32) -> Bars {
        let chorus = ticks(over.length, per_quarter);
        let mut bars = Bars {
            starts: Vec::with_capacity(over.bars.len() * over.choruses.len()),
            meters: Vec::new(),
            changes: Vec::new(),
            sections: Vec::new(),
            end: chorus * over.choruses.len() as Ticks,
        };
        for number in 0..over.choruses.len() {
            let zero = chorus * number as Ticks;
            for BarTime { at, meter, section } in &over.bars {
                let place = bars.place_of(meter, per_quarter);
                let start = zero + ticks(*at, per_quarter);
                bars.sections
                    .extend(section.clone().map(|name| (start, name)));
                if bars
                    .starts
                    .last()
                    .is_none_or(|(_, before)| *before != place)
                {
                    bars.changes.push((start, place));
                }
                bars.starts.push((start, place));
            }
        }
        bars
    }

    fn place_of(&mut self, meter: &Meter, per_quarter: u32) -> usize {
        let known = self.meters.iter().position(|one| one.meter == *meter);
        known.unwrap_or_else(|| {
            let times = |times: Vec<rhythm::Fraction>| {
                let times = times.into_iter().map(|time| ticks(time, per_quarter));
                times.collect()
            };
            self.meters.push(MeterTicks {
                meter: meter.clone(),
                length: ticks(meter.bar(), per_quarter).max(1),
                beats: times(meter.beats()),
                counted: times(counted(meter)),
                strong: times(meter.strong_beats()),
            });
            self.meters.len() - 1
        })
    }

    /// Where its bars begin.
    pub fn lines(&self) -> impl Iterator<Item = Ticks> + '_ {
        self.starts.iter().map(|(start, _)| *start)
    }

    pub fn end(&self) -> Ticks {
        self.end
    }

    /// Sections' names by the times they begin at.
    pub fn sections(&self) -> &[(Ticks, String)] {
        &self.sections
    }

    /// Meters by the times they begin at; the first holds before that too.
    pub fn meters(&self) -> impl Iterator<Item = (Ticks, &Meter)> {
        self.changes
            .iter()
            .map(|(at, place)| (*at, &self.meters[*place].meter))
    }

    /// The next change of meter after a time.
    pub fn next_meter(&self, time: Ticks) -> Option<Ticks> {
        let next = self.changes.partition_point(|(at, _)| *at <= time);
        self.changes.get(next).map(|(at, _)| *at)
    }

    /// The number of the bar that a time is in, the first being 0.
    pub fn number(&self, time: Ticks) -> i64 {
        let (known, _, past) = self.find(time);
        known as i64 + past
    }

    /// Where the bar that a time is in begins.
    pub fn start(&self, time: Ticks) -> Ticks {
        let (known, metered, past) = self.find(time);
        let start = self.starts.get(known).map_or(0, |(start, _)| *start);
        start + past * metered.map_or(1, |metered| metered.length)
    }

    /// How long the bar that a time is in lasts.
    pub fn length(&self, time: Ticks) -> Ticks {
        self.find(time).1.map_or(1, |metered| metered.length)
    }

    /// The next bar line after a time.
    pub fn next(&self, time: Ticks) -> Ticks {
        self.start(time) + self.length(time)
    }

    pub fn is_line(&self, time: Ticks) -> bool {
        self.start(time) == time
    }

    pub fn is_strong(&self, time: Ticks) -> bool {
        let within = time - self.start(time);
        let metered = self.find(time).1;
        metered.is_some_and(|metered| metered.strong.contains(&within))
    }

    /// The next beat or bar line after a time.
    pub fn next_beat(&self, time: Ticks) -> Ticks {
        let start = self.start(time);
        let beats = self.find(time).1.map_or(&[][..], |metered| &metered.beats);
        let beat = beats.iter().map(|beat| start + beat).find(|at| *at > time);
        beat.unwrap_or_else(|| self.next(time))
    }

    /// The whole beats, as they are counted to improvise on, of a stretch.
    pub fn counted_beats(&self, from: Ticks, until: Ticks) -> Vec<Event> {
        let mut whole = Vec::new();
        let mut line = self.start(from);
        while line < until {
            let next = self.next(line);
            let counted = self.find(line).1;
            let counted = counted.map_or(&[][..], |metered| &metered.counted);
            let begins = || counted.iter().map(|beat| line + beat);
            let ends = begins().skip(1).chain([next]);
            let beats = begins().zip(ends);
            let beats = beats.filter(|(begin, end)| *begin >= from && *end <= until);
            whole.extend(beats.map(|(onset, end)| Event {
                onset,
                length: end - onset,
            }));
            line = next;
        }
        whole
    }

    /// The last counted beat at or before a time.
    pub fn counted_beat(&self, time: Ticks) -> Ticks {
        let start = self.start(time);
        let beats = self
            .find(time)
            .1
            .map_or(&[][..], |metered| &metered.counted);
        let after = beats.partition_point(|beat| start + beat <= time);
        start + after.checked_sub(1).map_or(0, |place| beats[place])
    }

    /// The bar that is written down and comes last at or before a time, or
    /// the first; its meter; and how many bars like it later the time is.
    fn find(&self, time: Ticks) -> (usize, Option<&MeterTicks>, i64) {
        let after = self.starts.partition_point(|(start, _)| *start <= time);
        let known = after.saturating_sub(1);
        let Some((start, place)) = self.starts.get(known) else {
            return (0, None, 0);
        };
        let metered = &self.meters[*place];
        (
            known,
            Some(metered),
            (time - start).div_euclid(metered.length),
        )
    }
}

#[cfg(test)]
mod tests {
    use lesson::{Chorus, ChorusKind, RhythmPlan, Weights};
    use rhythm::Fraction;

    use super::*;

    /// Two choruses of a bar of 4/4 and two of 3/4, in ticks of an eighth.
    fn bars() -> Bars {
        let bar = |at: i64, meter: &str| BarTime {
            at: Fraction::from(at),
            meter: meter.parse().unwrap(),
            section: None,
        };
        let chorus = Chorus {
            kind: ChorusKind::Line,
            figures: Vec::new(),
        };
        let over = Over {
            bars: vec![bar(0, "4/4"), bar(4, "3/4"), bar(7, "3/4")],
            key: "C".parse().unwrap(),
            chords: Vec::new(),
            pickup: Fraction::ZERO,
            length: Fraction::from(10),
            choruses: vec![chorus.clone(), chorus],
            plan: RhythmPlan { play: 1, rest: 0 },
            anticipate: false,
            weights: Weights::default(),
            in_a_row: 2,
            seed: 1,
        };
        Bars::of(&over, 2)
    }

    #[test]
    fn the_bar_of_a_time() {
        let bars = bars();
        let check = |time, number, start, next, next_beat| {
            let found = (
                bars.number(time),
                bars.start(time),
                bars.next(time),
                bars.next_beat(time),
            );
            assert_eq!(found, (number, start, next, next_beat), "{time}");
        };
        check(-1, -1, -8, 0, 0);
        check(0, 0, 0, 8, 2);
        check(7, 0, 0, 8, 8);
        check(8, 1, 8, 14, 10);
        check(19, 2, 14, 20, 20);
        check(20, 3, 20, 28, 22);
        check(39, 5, 34, 40, 40);
        check(41, 6, 40, 46, 42);
    }

    #[test]
    fn meters_and_strong_beats() {
        let bars = bars();
        let meters: Vec<String> = bars
            .meters()
            .map(|(at, meter)| format!("{meter}@{at}"))
            .collect();
        assert_eq!(meters.join(" "), "4/4@0 3/4@8 4/4@20 3/4@28");
        let strong: Vec<Ticks> = (-8..28).filter(|time| bars.is_strong(*time)).collect();
        assert_eq!(strong, [-8, -4, 0, 4, 8, 14, 20, 24]);
        assert_eq!(bars.next_meter(8), Some(20));
        assert_eq!(bars.next_meter(28), None);
    }
}
