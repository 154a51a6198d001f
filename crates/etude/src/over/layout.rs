//! An exercise over changes laid out: the chords of all choruses, the
//! statements in their time, and what each is in its phrase.

use std::collections::BTreeSet;

use lesson::{ChorusKind, Lesson, Over, Phrasing};
use rhythm::Ticks;

use super::chord_span::ChordSpan;
use super::edges::Edges;
use super::fitted_figure::APPROACHES;
use super::phrase::{ends, give_roles, phrase_bars};
use super::slot::{OnChord, OverLine};
use crate::bars::Bars;
use crate::remark::{Remark, UnmetWish};
use crate::ticks::ticks;

impl OverLine {
    /// Lays an exercise over changes out.
    pub fn of(
        lesson: &Lesson,
        (over, phrasing): (&Over, Phrasing),
        plays: OnChord,
        per_quarter: u32,
    ) -> OverLine {
        let mut line = OverLine {
            spans: Vec::new(),
            slots: Vec::new(),
            variants: variants(lesson, plays, over),
            ways: Vec::new(),
            slashes: Vec::new(),
            bars: Bars::of(over, per_quarter),
            eighth: (Ticks::from(per_quarter) / 2).max(1),
            kinds: Vec::new(),
            edges: Edges::default(),
            guides: plays != OnChord::Figure,
            remarks: Vec::new(),
            over: over.clone(),
            phrasing,
        };
        for chorus in 0..line.over.choruses.len() {
            line.lay_spans(lesson, chorus, per_quarter);
        }
        line.find_names();
        line.tell_lacking(lesson);
        let mut raw = line.lay_slots(lesson, plays, per_quarter);
        if raw.is_empty() {
            line.remarks.push(Remark::Wish(UnmetWish::EveryBarPlayed));
            line.over.plan.rest = 0;
            raw = line.lay_slots(lesson, plays, per_quarter);
        }
        let per_bars = phrase_bars(&line, &raw);
        let ends = match line.phrasing.weights.phrase {
            0 => BTreeSet::new(),
            _ => ends(&line, &raw, per_bars),
        };
        line.fit(raw, plays, per_quarter, &ends);
        if line.phrasing.weights.phrase > 0 {
            give_roles(&mut line, lesson, per_bars);
        }
        let fitted = line.slots.iter().flat_map(|slot| &slot.fitted);
        line.edges = Edges::of(fitted, line.connects() || line.shifts());
        let mut slots = std::mem::take(&mut line.slots);
        for slot in &mut slots {
            slot.ways = line.ways_of(slot);
        }
        line.slots = slots;
        line
    }

    fn lay_spans(&mut self, lesson: &Lesson, chorus: usize, per_quarter: u32) {
        let whole = ticks(self.over.length, per_quarter);
        let zero = whole * chorus as Ticks;
        if self.over.choruses[chorus].kind == ChorusKind::Slashes {
            self.slashes.push((zero, zero + whole));
        }
        for chord in &self.over.chords {
            let at = ticks(chord.at, per_quarter);
            // A pickup comes before the first chorus only.
            if at < 0 && chorus > 0 && at + ticks(chord.length, per_quarter) <= 0 {
                continue;
            }
            let scale = chord.scale.map(|scale| &lesson.scales[scale].scale);
            self.spans.push(ChordSpan::of(
                chord,
                scale,
                &self.phrasing.begins,
                chorus + 1,
                (
                    zero + if chorus > 0 { at.max(0) } else { at },
                    zero + ticks(chord.at + chord.length, per_quarter),
                ),
            ));
        }
    }

    /// Tells which scales lack a degree to begin on, each once.
    fn tell_lacking(&mut self, lesson: &Lesson) {
        for span in &self.spans {
            let Some(scale) = span.scale.filter(|_| !span.lacking.is_empty()) else {
                continue;
            };
            let remark = Remark::Wish(UnmetWish::NoDegreeToBeginOn {
                scale: lesson.scales[scale].scale.name.to_string(),
                degrees: span.lacking.clone(),
            });
            if !self.remarks.contains(&remark) {
                self.remarks.push(remark);
            }
        }
    }

    /// Which chords are the same on the same scale.
    fn find_names(&mut self) {
        for place in 0..self.spans.len() {
            let span = &self.spans[place];
            let same = |other: &ChordSpan| {
                let names = |span: &ChordSpan| (span.scale, span.symbol.root);
                names(other) == names(span) && other.symbol.chord == span.symbol.chord
            };
            let first = self.spans.iter().position(same);
            self.spans[place].named_as = first.unwrap_or(place);
        }
    }
}

fn variants(lesson: &Lesson, plays: OnChord, over: &Over) -> Vec<Vec<String>> {
    let chosen = || over.choruses.iter().flat_map(|chorus| &chorus.figures);
    let names: BTreeSet<Option<&str>> = chosen()
        .flat_map(|(_, figures)| figures)
        .map(|at| lesson.figures[*at].name.as_deref())
        .collect();
    let name = |at: &usize| {
        let figure = &lesson.figures[*at];
        let said = figure.variant.as_deref().unwrap_or("as it is");
        // Several figures to choose from have names.
        match figure.name.as_deref().filter(|_| names.len() > 1) {
            Some(name) => format!("{name}, {said}"),
            None => said.to_owned(),
        }
    };
    let names = over.choruses.iter().map(|chorus| match plays {
        OnChord::GuideTone => vec!["held".to_owned()],
        OnChord::Target => APPROACHES.map(|(name, _)| name.to_owned()).to_vec(),
        OnChord::Figure => {
            let first = chorus.figures.first();
            let figures = first.map_or(&[][..], |(_, figures)| figures);
            figures.iter().map(name).collect()
        }
    });
    names.collect()
}
