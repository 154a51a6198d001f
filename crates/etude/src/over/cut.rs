//! Figures cut to their slots, in every form that fits there.

use std::collections::BTreeSet;

use rhythm::Ticks;

use super::chord_span::ChordSpan;
use super::fitted_figure::{FittedFigure, TimedFigure, in_time};
use super::form::Frame;
use super::lay::Raw;
use super::slot::{OnChord, OverLine, StatementSlot};
use super::way::ways;
use crate::remark::{Remark, UnmetWish};

/// A statement that has time to sound.
struct Heard {
    slot: StatementSlot,
    /// Where its time begins and ends.
    from: Ticks,
    until: Ticks,
    /// Its figures as they are, cut.
    plain: Vec<FittedFigure>,
}

impl OverLine {
    /// Cuts every figure to its slot. What a slot takes of the time before
    /// it, for a pickup or a chord that is taken early, the slot before
    /// leaves it.
    pub(crate) fn fit(
        &mut self,
        raw: Vec<Raw>,
        plays: OnChord,
        per_quarter: u32,
        ends: &BTreeSet<Ticks>,
    ) {
        let eighth = (Ticks::from(per_quarter) / 2).max(1);
        let heard = self.heard(raw, plays, eighth);
        for Heard { from, .. } in &heard {
            let mut slashes = self.slashes.iter_mut();
            if let Some((_, until)) = slashes.find(|(at, until)| (*at..*until).contains(from)) {
                // A slash is a whole beat or nothing.
                *until = self.bars.counted_beat(*from);
            }
        }
        let slashed = |from: Ticks, until: Ticks| {
            let slashes = self.slashes.iter();
            slashes
                .into_iter()
                .any(|(begin, end)| *begin < until && *end > from)
        };
        let begins: Vec<Ticks> = heard.iter().map(|one| one.from).collect();
        let mut slots = Vec::with_capacity(heard.len());
        let mut before = 0;
        for (at, one) in heard.into_iter().enumerate() {
            let Heard {
                mut slot,
                from,
                until,
                plain,
            } = one;
            let next = begins.get(at + 1).copied();
            let frame = Frame {
                from,
                until,
                next: next.filter(|next| !slashed(until, *next)),
                may_come_early: at > 0 && !slashed(before, from),
                eighth,
                rest: self.bars.length(until - 1) / 2,
                ends: ends.contains(&slot.start),
                shifts: self.shifts(),
                connects: self.connects(),
            };
            let forms = plain.into_iter();
            slot.fitted = forms
                .flat_map(|plain| frame.forms(plain, &self.bars))
                .collect();
            let sounding = |span: &ChordSpan| (span.at..span.until).contains(&(from - 1));
            slot.before = self.spans.iter().position(sounding).unwrap_or(slot.span);
            slot.until = until;
            before = until;
            slots.push(slot);
        }
        self.slots = slots;
    }

    /// The statements of which something sounds; of the others it is told.
    fn heard(&mut self, mut raw: Vec<Raw>, plays: OnChord, eighth: Ticks) -> Vec<Heard> {
        let leads = self.leads(&mut raw, plays, eighth);
        let begins = raw.iter().zip(&leads);
        let begins: Vec<Ticks> = begins
            .map(|((slot, _, _), (lead, _))| slot.start - lead)
            .collect();
        let strong = |onset| self.bars.is_strong(onset);
        let mut heard = Vec::with_capacity(raw.len());
        for (at, (slot, until, cells)) in raw.into_iter().enumerate() {
            let until = begins.get(at + 1).map_or(until, |next| until.min(*next));
            let cells = cells.iter();
            let plain: Vec<FittedFigure> = cells
                .filter_map(|timed| timed.fit(slot.start, leads[at], until, strong))
                .collect();
            if plain.is_empty() {
                self.remarks.push(Remark::Wish(UnmetWish::Unheard));
            } else {
                heard.push(Heard {
                    slot,
                    from: begins[at],
                    until,
                    plain,
                });
            }
        }
        heard
    }

    /// How much earlier than its time each statement begins, and how much of
    /// that because its chord is taken early.
    fn leads(&mut self, raw: &mut [Raw], plays: OnChord, eighth: Ticks) -> Vec<(Ticks, Ticks)> {
        let mut leads = Vec::with_capacity(raw.len());
        for at in 0..raw.len() {
            let (slot, _, _) = &raw[at];
            let early = self.over.anticipate
                && self.bars.is_line(slot.start)
                && self.spans[slot.span].at == slot.start;
            let before = at.checked_sub(1).map(|before| &raw[before]);
            let room = match before {
                None if plays == OnChord::Figure && slot.start >= 0 => self.bars.length(slot.start),
                None => 0,
                Some((before, until, _)) if *until == slot.start => (until - before.start) - eighth,
                Some((_, until, _)) => slot.start - until,
            };
            let early = if early && before.is_some() { eighth } else { 0 };
            if plays == OnChord::Target {
                let cells = std::mem::take(&mut raw[at].2);
                // Better led up to than early.
                let room = if room - early < eighth {
                    room
                } else {
                    room - early
                };
                raw[at].2 = in_time(cells, room, at);
                if at > 0 && room < eighth {
                    let bare = Remark::Wish(UnmetWish::NotLedUpTo);
                    self.remarks.push(bare);
                }
            }
            let pickup = raw[at].2.iter().map(TimedFigure::lead).max().unwrap_or(0);
            let lead = [(pickup + early, early), (pickup, 0), (early, early)]
                .into_iter()
                .find(|(lead, _)| *lead <= room);
            leads.push(lead.unwrap_or((0, 0)));
        }
        leads
    }

    /// The tones of the chord that sounds after a slot, above its own root,
    /// where that is on a strong beat.
    fn rung_into(&self, slot: &StatementSlot, span: &ChordSpan) -> Vec<i32> {
        if !self.shifts() || !self.bars.is_strong(slot.until) {
            return Vec::new();
        }
        let sounding = |next: &&ChordSpan| (next.at..next.until).contains(&slot.until);
        let Some(next) = self.spans.iter().find(sounding) else {
            return Vec::new();
        };
        let class = |span: &ChordSpan| i32::from(span.symbol.root.class());
        let up = class(next) - class(span);
        let tones = next.tones.iter();
        tones.map(|tone| (tone + up).rem_euclid(12)).collect()
    }

    /// The place of a slot's ways among the line's.
    pub(crate) fn ways_of(&mut self, slot: &StatementSlot) -> usize {
        let span = &self.spans[slot.span];
        let found = match &span.heights {
            Some(heights) => {
                let into = self.rung_into(slot, span);
                (ways(&slot.fitted, heights, span, &into), heights.size())
            }
            None => (Vec::new(), 1),
        };
        let known = self.ways.iter().position(|one| *one == found);
        known.unwrap_or_else(|| {
            self.ways.push(found);
            self.ways.len() - 1
        })
    }
}
