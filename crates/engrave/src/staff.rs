//! One staff of a line, drawn: its lines, signs and notes at their places, and
//! what joins them.

use std::ops::Range;

use rhythm::Fraction;
use score::Element;

use crate::articulation;
use crate::beam::{self, BeamNote};
use crate::mark::{Mark, NotePlace, Role};
use crate::note;
use crate::place::{Ink, Sp};
use crate::placed::{PlacedNote, Staff};
use crate::rows::{PlacedChord, PlacedLabel};
use crate::setting::LineSetting;
use crate::stem::Stem;
use crate::tie;
use crate::tuplet;
use crate::voice::{Bar, Slur, Voice, groups};

/// A staff line's thickness (SMuFL 1.4, `engravingDefaults`).
const STAFF: Sp = 130;
/// How far two slurs' tips on one note stand from its middle.
const SHARED: Sp = 250;

/// Draws a voice's bars, by its place among the parts.
pub(crate) fn draw<'a>(setting: &LineSetting<'a>, number: usize) -> Staff<'a> {
    let LineSetting { plan, points, .. } = setting;
    let voice = &setting.voices[number];
    let mut staff = Staff::default();
    let right = setting.right();
    for line in 0..5 {
        let y = line * 1000;
        let line = Mark::line(Role::Staff, (0, y), (right, y), STAFF);
        staff.marks.push(line);
    }
    staff.signs(&plan.opening[number].marks, 0);
    let from = plan.bars.first().map_or(0, |bar| points[bar.start]);
    let mut line: Vec<Vec<PlacedNote<'a>>> = Vec::with_capacity(setting.bars.len());
    for (bar, at) in setting.planned(voice) {
        staff.signs(&at.signs[number].marks, points[at.start]);
        let part = setting.several().then_some(number);
        let edges = (points[at.start], points[at.barline]);
        let xs: Vec<Sp> = at.events[number]
            .iter()
            .map(|&point| points[point])
            .collect();
        line.push(staff.bar(voice, bar, &xs, edges, part));
    }
    staff.signs(&plan.warning[number].marks, points[plan.end]);
    let last = plan.bars.last().map_or(right, |bar| points[bar.barline]);
    staff.ties(&line, from, last);
    staff.slurs(&voice.slurs, &line, setting.bars.clone(), from, last);
    staff
}

impl<'a> Staff<'a> {
    fn signs(&mut self, marks: &[Mark], x: Sp) {
        for mark in marks {
            self.put(mark.clone().moved(x, 0));
        }
    }

    pub(crate) fn put(&mut self, mark: Mark) {
        self.inks.push(mark.ink());
        self.marks.push(mark);
    }

    fn bar(
        &mut self,
        voice: &'a Voice<'a>,
        bar: &'a Bar<'a>,
        xs: &[Sp],
        (left, right): (Sp, Sp),
        part: Option<usize>,
    ) -> Vec<PlacedNote<'a>> {
        let mut placed: Vec<PlacedNote<'a>> = bar
            .events
            .iter()
            .zip(xs)
            .map(|(event, &x)| PlacedNote {
                event,
                x: if event.is_bar_rest() {
                    (left + right - event.width) / 2
                } else {
                    x
                },
                stem: event.stem,
                note: None,
                inks: Vec::new(),
            })
            .collect();
        let groups = groups(&bar.events);
        for &(from, to) in &groups {
            self.beam(&mut placed[from..=to]);
        }
        for one in &mut placed {
            self.note(one, voice, bar, part);
        }
        articulation::draw(self, &mut placed);
        tuplet::draw(self, &placed, &groups);
        let next = |place: usize| {
            placed
                .get(place + 1)
                .map_or(right, |next: &PlacedNote<'_>| {
                    next.x + next.event.reach().0.min(0)
                })
        };
        let breaths: Vec<Sp> = (0..placed.len()).map(next).collect();
        for (one, next) in placed.iter().zip(breaths) {
            articulation::breath(self, one, next);
        }
        for cue in &bar.measure.cues {
            let at = placed.iter().rev().find(|one| one.event.onset <= cue.at);
            let x = at.map_or(left, |one| one.x);
            self.cues.push((x, cue.words.as_str()));
        }
        if let Some(first) = placed.first() {
            articulation::dynamics(self, bar.measure, first.x);
        }
        placed
    }

    /// Lays a beam over a group and makes its stems meet it.
    fn beam(&mut self, group: &mut [PlacedNote<'a>]) {
        let up = group
            .first()
            .and_then(|one| one.stem)
            .is_some_and(|stem| stem.up);
        let notes: Vec<BeamNote> = group
            .iter()
            .map(|one| BeamNote {
                x: one.x + note::stem_x(one.event.element, up),
                place: one.event.place,
                beams: one.event.note().map(|note| note.beams).unwrap_or_default(),
            })
            .collect();
        let Some(line) = beam::lay(&notes, up) else {
            return;
        };
        for (one, note) in group.iter_mut().zip(&notes) {
            // To the beam's middle: its own edge is slanted.
            one.stem = Some(Stem {
                up,
                tip: line.at(note.x),
            });
        }
        for mark in beam::draw(&notes, &line) {
            self.put(mark);
        }
    }

    /// A note, rest or slash with what belongs to it.
    fn note(
        &mut self,
        one: &mut PlacedNote<'a>,
        voice: &'a Voice<'a>,
        bar: &'a Bar<'a>,
        part: Option<usize>,
    ) {
        let event = one.event;
        let symbol = event.element.written().chord;
        let symbol = symbol.and_then(|at| voice.score.chords.symbol(at));
        if let Some(symbol) = symbol {
            self.chords.push(PlacedChord {
                left: one.x,
                symbol,
            });
        }
        if event.is_hidden() {
            return;
        }
        let quarters =
            |ticks: u32| Fraction::new(i64::from(ticks), i64::from(voice.score.divisions.max(1)));
        let measure = bar.measure;
        let place = NotePlace {
            silence: matches!(event.element, Element::Rest(_)),
            part,
            exercise: event
                .note()
                .map_or(bar.exercise, |note| note.origin.exercise),
            bar: measure.label(),
            onset: quarters(event.onset),
            length: quarters(event.length()),
        };
        let note = self.notes.len();
        self.notes.push(place);
        one.note = Some(note);
        for mark in event.marks.iter().cloned() {
            self.put_of(one, mark.moved(one.x, 0));
        }
        for mark in note::stem_marks(event, one.stem) {
            self.put_of(one, mark.moved(one.x, 0));
        }
        if let Some(written) = event.note() {
            let rows = written.lyrics.iter().enumerate();
            let middle = one.middle();
            self.labels.extend(rows.filter_map(|(row, text)| {
                Some(PlacedLabel {
                    row,
                    middle,
                    text: text.as_deref()?,
                    note,
                })
            }));
        }
    }

    /// A mark of a note.
    pub(crate) fn put_of(&mut self, one: &mut PlacedNote<'_>, mark: Mark) {
        let ink = mark.ink();
        one.inks.push(ink);
        self.inks.push(ink);
        self.marks.push(match one.note {
            Some(note) => mark.of(note),
            None => mark,
        });
    }

    /// Ties between notes of the line, and halves at its ends.
    fn ties(&mut self, line: &[Vec<PlacedNote<'a>>], left: Sp, right: Sp) {
        let notes: Vec<&PlacedNote<'a>> = line.iter().flatten().collect();
        for (place, one) in notes.iter().enumerate() {
            let Element::Note(note) = one.event.element else {
                continue;
            };
            let next = notes.get(place + 1).copied();
            if note.tied_to {
                let above = bow_above(one, next);
                let y = tie::tip_height(one.event.place, above);
                let from = beside(&one.inks, y, true).unwrap_or(one.x);
                let to = match next {
                    Some(next) => beside(&next.inks, y, false).unwrap_or(next.x),
                    None => right - tie::CLEAR,
                };
                self.put(tie::tie((from, y), (to.max(from + 600), y), above));
            }
            if note.tied_from && place == 0 {
                let above = one.heads_above();
                let y = tie::tip_height(one.event.place, above);
                let to = beside(&one.inks, y, false).unwrap_or(one.x);
                let from = (left + tie::CLEAR).min(to - 900);
                self.put(tie::tie((from, y), (to, y), above));
            }
        }
    }

    fn slurs(
        &mut self,
        slurs: &[Slur],
        line: &[Vec<PlacedNote<'a>>],
        bars: Range<usize>,
        left: Sp,
        right: Sp,
    ) {
        // Slurs that meet on a note don't push each other away.
        let inks = self.inks.clone();
        for slur in slurs {
            if slur.to.0 < bars.start || slur.from.0 >= bars.end {
                continue;
            }
            let at = |(bar, place): (usize, usize)| {
                let bar = line.get(bar.checked_sub(bars.start)?)?;
                bar.get(place)
            };
            let tip = |one: &PlacedNote<'_>, begins: bool| {
                let (top, bottom) = one.reach();
                let marks = one.event.note().map(|note| note.marks);
                let shared = marks.is_some_and(|marks| marks.slur_begins && marks.slur_ends);
                let aside = match (shared, begins) {
                    (false, _) => 0,
                    (true, true) => SHARED,
                    (true, false) => -SHARED,
                };
                let y = if slur.above {
                    top - tie::CLEAR - 100
                } else {
                    bottom + tie::CLEAR + 100
                };
                (one.middle() + aside, tie::off_lines(y, slur.above))
            };
            let from = at(slur.from).map(|one| tip(one, true));
            let to = at(slur.to).map(|one| tip(one, false));
            let (from, to) = match (from, to) {
                (Some(from), Some(to)) => (from, to),
                (Some(from), None) => (from, (right - tie::CLEAR, from.1)),
                (None, Some(to)) => ((left + tie::CLEAR, to.1), to),
                (None, None) => {
                    let y = if slur.above { -1000 } else { 5000 };
                    ((left + tie::CLEAR, y), (right - tie::CLEAR, y))
                }
            };
            let mark = tie::slur(from, to, slur.above, &inks);
            self.put(mark);
        }
    }
}

/// Away from the stems, above where they go both ways.
fn bow_above(one: &PlacedNote<'_>, next: Option<&PlacedNote<'_>>) -> bool {
    let above = one.heads_above();
    above || next.is_some_and(PlacedNote::heads_above)
}

/// A quarter space beside the ink at a height, at its right or its left.
fn beside(inks: &[Ink], y: Sp, right: bool) -> Option<Sp> {
    let near = inks
        .iter()
        .filter(|ink| ink.top < y + 250 && ink.bottom > y - 250);
    if right {
        near.map(|ink| ink.right + 200).max()
    } else {
        near.map(|ink| ink.left - 200).min()
    }
}
