//! Phrases: a statement, its answer, something denser, an end that rests.
//!
//! A phrase is four bars, or eight where statements take two bars and more; a
//! section or a chorus begins a new one. Its quarters are its parts, and the
//! last statement is always its end.

use std::collections::BTreeSet;

use lesson::Lesson;
use rhythm::{Fraction, Ticks};

use super::lay::Raw;
use super::role::{PhrasePart, Role, StatementKind};
use super::slot::OverLine;

/// How many bars a phrase has: eight where statements take two and more.
pub(crate) fn phrase_bars(line: &OverLine, raw: &[Raw]) -> usize {
    let first = raw.first();
    let cells = first.map_or(&[][..], |(_, _, cells)| cells).iter();
    let shortest = cells.map(|timed| timed.length).min().unwrap_or(0);
    if shortest >= 2 * line.bars.length(0) {
        8
    } else {
        4
    }
}

/// Where the last statements of phrases begin.
pub(crate) fn ends(line: &OverLine, raw: &[Raw], per_bars: usize) -> BTreeSet<Ticks> {
    let starts: Vec<Ticks> = raw.iter().map(|(slot, _, _)| slot.start).collect();
    let phrases = phrases(line, per_bars).into_iter();
    phrases
        .filter_map(|(from, until)| {
            let within = starts.partition_point(|start| *start < until);
            let last = within.checked_sub(1).map(|last| starts[last]);
            last.filter(|last| *last >= from)
        })
        .collect()
}

/// Where phrases begin and end: so many bars, or fewer where a chorus or a
/// section begins.
fn phrases(line: &OverLine, bars: usize) -> Vec<(Ticks, Ticks)> {
    let chorus = line.bars.end() / (line.over.choruses.len() as Ticks).max(1);
    let opens = |at: Ticks| {
        let mut sections = line.bars.sections().iter();
        at % chorus.max(1) == 0 || sections.any(|(begin, _)| *begin == at)
    };
    let mut begins: Vec<Ticks> = Vec::new();
    let mut count = 0;
    for at in line.bars.lines() {
        if count == bars || opens(at) {
            count = 0;
        }
        if count == 0 {
            begins.push(at);
        }
        count += 1;
    }
    let ends = begins.iter().skip(1).copied().chain([line.bars.end()]);
    // A pickup belongs to the first.
    let from = |at: Ticks| if at == 0 { Ticks::MIN } else { at };
    begins.iter().copied().map(from).zip(ends).collect()
}

/// Finds what each statement is in its phrase.
pub(crate) fn give_roles(line: &mut OverLine, lesson: &Lesson, bars: usize) {
    let kinds = kinds(line, lesson);
    let mut roles = vec![Role::default(); line.slots.len()];
    for (from, until) in phrases(line, bars) {
        let place = |at: Ticks| line.slots.partition_point(|slot| slot.start < at);
        let members = place(from)..place(until);
        let starts: Vec<Ticks> = line.slots[members.clone()]
            .iter()
            .map(|slot| slot.start)
            .collect();
        // None where nothing is played in the phrase.
        let densities = |at: usize| {
            let kinds = kinds.get(at).into_iter().flatten();
            kinds.map(|kind| kind.density)
        };
        let sparsest = densities(members.start).min();
        let may_be_denser = |at: usize| densities(at).max() > sparsest;
        let parts = parts(&starts, (from.max(0), until));
        for (at, part) in members.clone().zip(&parts) {
            let role = &mut roles[at];
            role.part = *part;
            role.cost = match part {
                Some(PhrasePart::Denser) if !may_be_denser(at) => 0,
                _ => 2 * u32::from(line.phrasing.weights.phrase),
            };
        }
        let roles = &mut roles[members];
        let answer = roles
            .iter()
            .position(|role| role.part == Some(PhrasePart::Answer));
        let answers = |role: &Role| match role.part {
            Some(PhrasePart::Answer) => true,
            Some(PhrasePart::Denser) => role.cost > 0,
            Some(PhrasePart::Statement | PhrasePart::End) | None => false,
        };
        let last = roles.iter().rposition(answers).unwrap_or(0);
        for (at, role) in roles.iter_mut().enumerate() {
            role.opens = at == 0;
            role.answers = Some(at) == answer;
            role.keeps_words = answer.is_some_and(|answer| at < answer);
            role.keeps_kind = at < last;
        }
    }
    number(line, &kinds, &roles);
    for (slot, role) in line.slots.iter_mut().zip(roles) {
        slot.role = role;
    }
}

/// The part that each statement of a phrase is, by when it begins.
fn parts(starts: &[Ticks], (from, until): (Ticks, Ticks)) -> Vec<Option<PhrasePart>> {
    let length = (until - from).max(1);
    let part = |(place, start): (usize, &Ticks)| match 4 * (start - from).max(0) / length {
        _ if place + 1 == starts.len() => Some(PhrasePart::End),
        _ if place == 0 => Some(PhrasePart::Statement),
        0 => Some(PhrasePart::Statement),
        1 => Some(PhrasePart::Answer),
        2 => Some(PhrasePart::Denser),
        _ => None,
    };
    starts.iter().enumerate().map(part).collect()
}

/// Figure and density of all that may be played, slot by slot.
fn kinds(line: &OverLine, lesson: &Lesson) -> Vec<Vec<StatementKind>> {
    let of_chorus = |chorus: usize| {
        let figures = line.over.choruses[chorus - 1].figures.first();
        figures.map_or(&[][..], |(_, figures)| figures)
    };
    let name = |at: &usize| lesson.figures[*at].name.as_deref();
    let all = (1..=line.over.choruses.len()).flat_map(of_chorus);
    let names: BTreeSet<Option<&str>> = all.map(name).collect();
    let names: Vec<Option<&str>> = names.into_iter().collect();
    let slots = || {
        line.slots.iter().map(|slot| {
            let length = (slot.until - slot.start).max(1);
            let dense = move |notes: usize| Fraction::new(notes as i64, length);
            (
                slot,
                slot.fitted
                    .iter()
                    .map(move |fitted| dense(fitted.notes.len())),
            )
        })
    };
    let densities: BTreeSet<Fraction> = slots().flat_map(|(_, dense)| dense).collect();
    let densities: Vec<Fraction> = densities.into_iter().collect();
    let kinds = slots().map(|(slot, dense)| {
        let figures = of_chorus(line.spans[slot.span].chorus);
        let kind = |(fitted, density): (&super::fitted_figure::FittedFigure, Fraction)| {
            let figure = figures.get(usize::from(fitted.variant)).map(name);
            StatementKind {
                figure: names
                    .iter()
                    .position(|one| Some(*one) == figure)
                    .unwrap_or(0) as u16,
                density: densities.partition_point(|one| *one < density) as u16,
            }
        };
        slot.fitted.iter().zip(dense).map(kind).collect()
    });
    kinds.collect()
}

/// Numbers the kinds, first those that open phrases.
fn number(line: &mut OverLine, kinds: &[Vec<StatementKind>], roles: &[Role]) {
    line.kinds = vec![StatementKind::default()];
    for opens in [true, false] {
        let slots = line.slots.iter_mut().zip(kinds).zip(roles);
        for ((slot, kinds), _) in slots.filter(|(_, role)| role.opens == opens) {
            for (fitted, kind) in slot.fitted.iter_mut().zip(kinds) {
                let known = line.kinds.iter().skip(1).position(|one| one == kind);
                let place = known.map(|place| place + 1).unwrap_or_else(|| {
                    line.kinds.push(*kind);
                    line.kinds.len() - 1
                });
                fitted.kind = place as u16;
            }
        }
    }
}
