//! Figures cut to their slots, in every form that fits there.

use std::collections::BTreeSet;

use rhythm::Ticks;

use super::chord_span::ChordSpan;
use super::fitted_figure::{TimedFigure, in_time};
use super::form::Frame;
use super::lay::Raw;
use super::slot::{OnChord, OverLine, StatementSlot};
use super::way::ways;
use crate::remark::{Remark, UnmetWish};

impl OverLine {
    /// Cuts every figure to its slot. What a slot takes of the time before
    /// it, for a pickup or a chord that is taken early, the slot before
    /// leaves it.
    pub(crate) fn fit(
        &mut self,
        mut raw: Vec<Raw>,
        plays: OnChord,
        per_quarter: u32,
        ends: &BTreeSet<Ticks>,
    ) {
        let eighth = (Ticks::from(per_quarter) / 2).max(1);
        let leads = self.leads(&mut raw, plays, eighth);
        for ((slot, _, _), (lead, _)) in raw.iter().zip(&leads) {
            let from = slot.start - lead;
            let mut slashes = self.slashes.iter_mut();
            if let Some((_, until)) = slashes.find(|(at, until)| (*at..*until).contains(&from)) {
                // A slash is a whole beat or nothing.
                *until = self.bars.counted_beat(from);
            }
        }
        let begins: Vec<Ticks> = raw
            .iter()
            .zip(&leads)
            .map(|((slot, _, _), (lead, _))| slot.start - lead)
            .collect();
        let slashed = |from: Ticks, until: Ticks| {
            let slashes = self.slashes.iter();
            slashes
                .into_iter()
                .any(|(begin, end)| *begin < until && *end > from)
        };
        let mut slots = Vec::with_capacity(raw.len());
        let mut before = 0;
        for (at, (mut slot, until, cells)) in raw.into_iter().enumerate() {
            let (lead, early) = leads[at];
            let from = begins[at];
            let next = begins.get(at + 1).copied();
            let until = next.map_or(until, |next| until.min(next));
            let next = next.filter(|next| !slashed(until, *next));
            let frame = Frame {
                from,
                until,
                next,
                may_come_early: at > 0 && !slashed(before, from),
                eighth,
                rest: self.bars.length(until - 1) / 2,
                ends: ends.contains(&slot.start),
                shifts: self.shifts(),
                connects: self.connects(),
            };
            let strong = |onset| self.bars.is_strong(onset);
            slot.fitted = cells
                .iter()
                .filter_map(|timed| timed.fit(slot.start, (lead, early), until, strong))
                .flat_map(|plain| frame.forms(plain, &self.bars))
                .collect();
            let sounding = |span: &ChordSpan| (span.at..span.until).contains(&(from - 1));
            slot.before = self.spans.iter().position(sounding).unwrap_or(slot.span);
            slot.until = until;
            before = until;
            if !slot.fitted.is_empty() {
                slots.push(slot);
            }
        }
        self.slots = slots;
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
