//! What a file's first track says: meters, keys, tempos, headings.

use rhythm::{Fraction, Meter, Ticks};
use score::Direction;
use theory::{KeySignature, Mode};

use crate::form::{Count, Passage};
use crate::sheet::{Bar, Sheet};
use crate::{KeyMark, MeterMark, Performance};

/// Follows a track and says what changes. A meter is said where it changes,
/// and wherever a bar line falls beside those that the last one gives; a
/// pickup in the middle of a sheet is a bar of its own length.
#[derive(Debug, Default)]
pub(crate) struct Conductor {
    meter: Option<MeterMark>,
    /// The last meter's tick and bar.
    since: u64,
    bar: u64,
    key: Option<KeyMark>,
    tempo: Option<u32>,
}

impl Conductor {
    /// What holds during bars of click.
    pub(crate) fn count(&mut self, count: &Count<'_>, said: &mut Performance) {
        let sheet = &count.timeline.sheet;
        if let Some(bar) = sheet.bars.first() {
            self.bar_line(count.begins, bar, count.bar, said);
            self.follow(count.begins, sheet, bar, said);
        }
    }

    /// What changes in a passage, and its headings where the line sounds.
    pub(crate) fn passage(&mut self, passage: &Passage<'_>, said: &mut Performance) {
        let Passage {
            timeline,
            from,
            to,
            call,
            ..
        } = *passage;
        let sheet = &timeline.sheet;
        if call && from == 0 {
            let head = sheet.score.head.iter().map(|line| line.text.clone());
            said.heads
                .extend(head.map(|line| (passage.begins as u32, line)));
        }
        let bars = sheet
            .bars
            .iter()
            .filter(|bar| bar.start < to && bar.end() > from);
        for bar in bars {
            let at = passage.straight(bar.start);
            let begins = bar.start >= from;
            if begins {
                let whole = timeline
                    .grid
                    .ticks(bar.whole(sheet.divisions), sheet.divisions);
                if bar.missing(sheet.divisions) > 0 {
                    let length = timeline.straight(bar.length);
                    match short(bar, sheet.quarters(bar.length)) {
                        Some(short) => self.pickup(at, short, length, said),
                        None => self.bar_line(at, bar, whole, said),
                    }
                } else {
                    self.bar_line(at, bar, whole, said);
                }
            }
            self.follow(at, sheet, bar, said);
            if begins && call {
                said.markers
                    .extend(heading(bar).map(|text| (at as u32, text)));
            }
        }
    }

    fn bar_line(&mut self, at: u64, bar: &Bar<'_>, whole: u64, said: &mut Performance) {
        let Some(meter) = bar.meter else { return };
        let mark = mark(meter);
        if self.meter != Some(mark) || !self.on_bar_line(at) {
            self.say_meter(at, mark, whole, said);
        }
    }

    fn pickup(&mut self, at: u64, short: MeterMark, length: u64, said: &mut Performance) {
        if self.meter.is_none() || self.on_bar_line(at) {
            self.say_meter(at, short, length, said);
        }
    }

    fn on_bar_line(&self, at: u64) -> bool {
        (at - self.since).checked_rem(self.bar) == Some(0)
    }

    fn say_meter(&mut self, at: u64, mark: MeterMark, bar: u64, said: &mut Performance) {
        if self.meter != Some(mark) || self.since != at {
            said.meters.push((at as u32, mark));
        }
        (self.meter, self.since, self.bar) = (Some(mark), at, bar);
    }

    fn follow(&mut self, at: u64, sheet: &Sheet<'_>, bar: &Bar<'_>, said: &mut Performance) {
        let key = bar.key.map(|key| sounding(key, sheet));
        if key.is_some() && key != self.key {
            said.keys.extend(key.map(|key| (at as u32, key)));
            self.key = key;
        }
        let tempo = bar.tempo.micros_per_quarter();
        if self.tempo != Some(tempo) {
            said.tempos.push((at as u32, tempo));
            self.tempo = Some(tempo);
        }
    }
}

fn mark(meter: &Meter) -> MeterMark {
    let small = |n: u16| n.min(255) as u8;
    let clocks = meter.beat() * 24;
    MeterMark {
        upper: small(meter.upper()),
        lower: small(meter.lower()),
        clocks: clocks.to_integer().clamp(1, 255) as u8,
    }
}

/// A pickup of that many quarters as a meter, in the coarsest value that
/// counts it; none where no value down to the 64th does.
fn short(bar: &Bar<'_>, quarters: Fraction) -> Option<MeterMark> {
    let meter = bar.meter?;
    let mut lower = meter.lower().max(1);
    while lower <= 64 {
        let upper = quarters * Ticks::from(lower) / 4;
        if upper.is_integer() {
            return Some(MeterMark {
                upper: u8::try_from(upper.to_integer()).ok()?,
                lower: lower as u8,
                ..mark(meter)
            });
        }
        lower *= 2;
    }
    None
}

/// A written key signature in sounding pitch; past seven signs, the one that
/// sounds the same.
fn sounding(key: KeySignature, sheet: &Sheet<'_>) -> KeyMark {
    let fifths = i16::from(key.signature.fifths()) + sheet.to_sound.fifths();
    KeyMark {
        fifths: if (-7..=7).contains(&fifths) {
            fifths as i8
        } else {
            ((fifths + 6).rem_euclid(12) - 6) as i8
        },
        minor: key.mode == Some(Mode::Minor),
    }
}

/// A bar's rehearsal letter and words on one line.
fn heading(bar: &Bar<'_>) -> Option<String> {
    let words: Vec<&str> = bar
        .measure
        .directions
        .iter()
        .filter_map(|direction| match direction {
            Direction::Rehearsal(letter) | Direction::Section(letter) => Some(letter.as_str()),
            Direction::Words(words) | Direction::Heading(words) => Some(words.as_ref()),
            Direction::Tempo(_)
            | Direction::Tempos(_)
            | Direction::Text(_)
            | Direction::Dynamic(_)
            | Direction::Swing
            | Direction::Straight => None,
        })
        .collect();
    (!words.is_empty()).then(|| words.join(" · "))
}
