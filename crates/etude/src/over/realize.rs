//! A line over changes on one horn in one key: its passages, its time, and
//! how it came about.

use std::sync::Arc;

use lesson::{CellTone, Lesson};
use rhythm::{Event, Ticks};
use theory::{
    ChordSymbol, Degree, Form, Interval, Ladder, LineTone, Naming, Pitch, PitchName, Range, Rung,
    Signature, Speller, Tone,
};

use super::bars::Bars;
use super::choice::{Choices, Comfort, Root, joins, noise};
use super::search::{Choice, Graph, Joins, Limits};
use super::slot::OverLine;
use super::span::Span;
use crate::compose::Extent;
use crate::place::Placed;
use crate::remark::Remark;
use crate::report::{Join, Statement};
use crate::spell::{Chords, NameKey, Passage, Spellers, spell};
use crate::timing::{self, Laid};

/// A line over changes as it is played.
#[derive(Debug)]
pub(crate) struct Realized<'a> {
    pub passages: Vec<Passage<'a>>,
    pub laid: Laid,
    pub statements: Vec<Statement>,
    pub remarks: Vec<Remark>,
}

/// Where a line over changes is played.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hall<'a> {
    pub lesson: &'a Lesson,
    pub ladders: &'a [Ladder],
    pub written: PitchName,
    pub range: Range,
    pub signature: Signature,
    pub exercise: usize,
    pub spellers: &'a Spellers,
}

/// Chooses a line.
///
/// # Errors
/// The root over which nothing fits the horn.
pub(crate) fn realize<'a>(
    line: &OverLine,
    hall: Hall<'a>,
    chords: &mut Chords,
) -> Result<Realized<'a>, Pitch> {
    let by = Interval::from_coordinates(hall.written.fifths() - line.over.key.fifths(), 0);
    let roots: Vec<Root> = line
        .spans
        .iter()
        .map(|span| Root::of(span, by, hall.range, hall.signature))
        .collect();
    let comfort = Comfort::of(hall.range);
    let choices = Choices::of(line, &roots, comfort);
    let layers = choices.layers();
    if let Some(empty) = layers.iter().position(|layer| layer.is_empty()) {
        return Err(roots[line.slots[empty].span].pitch);
    }
    let joins = joins(line, comfort);
    let (path, remark) = path(line, &layers, &joins, comfort);
    let chosen: Vec<Choice> = path
        .iter()
        .zip(&layers)
        .map(|(choice, layer)| layer[*choice])
        .collect();
    Ok(Realized {
        passages: passages(line, hall, &roots, &chosen, by, chords),
        statements: statements(line, hall, &chosen, &joins, by),
        laid: laid(line, hall, &chosen, by, chords),
        remarks: line.remarks.iter().cloned().chain(remark).collect(),
    })
}

fn path(
    line: &OverLine,
    layers: &[&[Choice]],
    joins: &Joins,
    comfort: Comfort,
) -> (Vec<usize>, Option<Remark>) {
    let in_a_row = line.over.in_a_row;
    let limited = Limits {
        variants: line.varies().then_some(in_a_row),
        degrees: (!line.guides && line.over.begins.is_empty()).then_some(in_a_row),
    };
    let free = Limits {
        variants: None,
        degrees: None,
    };
    let find = |limits| {
        let graph = Graph {
            layers,
            joins,
            limits,
            tie: |at, choice: &Choice| {
                let noise = noise(line.over.seed, at, choice.fitted, choice.base);
                if line.guides {
                    comfort.among_equals(choice.last, noise)
                } else {
                    u64::from(noise)
                }
            },
        };
        graph.cheapest()
    };
    match find(limited) {
        Some(path) => (path, None),
        None => (
            find(free).unwrap_or_default(),
            Some(Remark::InARow { limit: in_a_row }),
        ),
    }
}

/// The chord of a span in the written key.
fn symbol(span: &Span, by: Interval, signature: Signature) -> ChordSymbol {
    if span.symbol.chord.is_none() {
        // Nothing to transpose.
        return span.symbol.clone();
    }
    span.symbol.transposed(by).printed(signature)
}

/// The degrees of a span's scale.
fn scale_of<'a>(span: &Span, lesson: &'a Lesson) -> &'a [Degree] {
    span.scale
        .and_then(|at| lesson.scales.get(at))
        .map_or(&[], |known| known.scale.degrees.as_slice())
}

fn passages<'a>(
    line: &OverLine,
    hall: Hall<'a>,
    roots: &[Root],
    chosen: &[Choice],
    by: Interval,
    chords: &mut Chords,
) -> Vec<Passage<'a>> {
    let mut passages = Vec::with_capacity(line.spans.len());
    let mut spellers: Vec<Option<Arc<Speller>>> = vec![None; line.spans.len()];
    let mut slots = line.slots.iter().zip(chosen).peekable();
    for (place, (span, root)) in line.spans.iter().zip(roots).enumerate() {
        let mut tones = Vec::new();
        while let Some((slot, played)) = slots.next_if(|(slot, _)| slot.span == place) {
            tones.extend(line_tones(
                slot.fitted[played.fitted]
                    .notes
                    .iter()
                    .map(|note| note.tone),
                played.base,
            ));
        }
        let chord = symbol(span, by, hall.signature);
        let scale = span.scale.unwrap_or_default();
        let ladder = &hall.ladders[scale];
        let placed = Placed {
            root: root.pitch,
            roots: vec![root.pitch],
            tones: tones.into(),
            extent: Extent::default(),
            jumps: 0,
            remarks: Vec::new(),
        };
        let speller = spellers[span.named_as].get_or_insert_with(|| {
            let naming = Naming {
                root: root.pitch.name(),
                chord: Some(&chord.chord),
                over: Some(&chord.chord),
                signature: hall.signature,
                style: hall.lesson.spelling,
            };
            let named = NameKey {
                exercise: hall.exercise,
                chord: Some(span.named_as),
                root: naming.root.fifths(),
                signature: hall.signature.fifths(),
            };
            hall.spellers.get(named, || Speller::new(ladder, naming))
        });
        let spelled = spell(speller, placed.root, &placed.tones);
        passages.push(Passage {
            placed,
            spelled,
            chord: Some(chords.place_of(&chord, scale_of(span, hall.lesson))),
            ladder,
        });
    }
    passages
}

/// The tones of a statement, ornaments knowing what they lead to.
fn line_tones(cell: impl DoubleEndedIterator<Item = CellTone>, base: i32) -> Vec<LineTone> {
    let mut target = Rung(base);
    let mut tones: Vec<LineTone> = cell
        .rev()
        .map(|tone| {
            let tone = match tone {
                CellTone::Rung(rung) => {
                    target = Rung(base + rung);
                    Tone::Rung(target)
                }
                CellTone::Above => Tone::Above(target),
                CellTone::Below => Tone::Below(target),
            };
            LineTone {
                tone,
                form: Form::Rising,
            }
        })
        .collect();
    tones.reverse();
    tones
}

fn laid(line: &OverLine, hall: Hall, chosen: &[Choice], by: Interval, chords: &mut Chords) -> Laid {
    let mut laid = Laid::default();
    let mut slots = line.slots.iter().zip(chosen).zip(0u16..).peekable();
    for (place, span) in line.spans.iter().enumerate() {
        laid.passages.push(laid.notes.len());
        let again = place > 0 && {
            let before = &line.spans[place - 1];
            before.symbol == span.symbol && before.chorus == span.chorus
        };
        if !again {
            let symbol = symbol(span, by, hall.signature);
            let chord = chords.place_of(&symbol, scale_of(span, hall.lesson));
            laid.symbols.push((span.at, chord));
        }
        while let Some(((slot, played), number)) =
            slots.next_if(|((slot, _), _)| slot.span == place)
        {
            laid.starts.push(slot.start);
            for (note, at) in slot.fitted[played.fitted].notes.iter().zip(1..) {
                let event = Event {
                    onset: note.onset,
                    length: note.length,
                };
                laid.notes.push((event, number, at));
            }
            laid.chances.push(laid.notes.len().saturating_sub(1));
        }
    }
    name_sections(&mut laid, line);
    laid.slashes.clone_from(&line.slashes);
    laid.silences = silences(&laid, &line.bars);
    laid
}

/// The chord stands again where a section begins.
fn name_sections(laid: &mut Laid, line: &OverLine) {
    for (at, _) in line.bars.sections() {
        let after = laid.symbols.partition_point(|(symbol, _)| symbol <= at);
        let Some(before) = after.checked_sub(1) else {
            continue;
        };
        let (since, chord) = laid.symbols[before];
        if since < *at {
            laid.symbols.insert(after, (*at, chord));
        }
    }
}

/// Silent beats that a chord needs to stand over; slashes are beats by
/// themselves.
fn silences(laid: &Laid, bars: &Bars) -> Vec<Event> {
    let slashed = |at: Ticks| {
        laid.slashes
            .iter()
            .any(|(from, until)| (*from..*until).contains(&at))
    };
    let notes: Vec<Event> = laid.notes.iter().map(|(event, _, _)| *event).collect();
    let chords: Vec<Ticks> = laid.symbols.iter().map(|(at, _)| *at).collect();
    timing::silences(
        &notes,
        &chords,
        bars.end(),
        |at| bars.is_line(at) || slashed(at),
        |at| bars.next_beat(at),
    )
}

fn statements(
    line: &OverLine,
    hall: Hall,
    chosen: &[Choice],
    joins: &Joins,
    by: Interval,
) -> Vec<Statement> {
    let mut said = Vec::with_capacity(chosen.len());
    for (at, (slot, played)) in line.slots.iter().zip(chosen).enumerate() {
        let span = &line.spans[slot.span];
        let scale = span.scale.unwrap_or_default();
        let ladder = &hall.ladders[scale];
        let before = at.checked_sub(1).map(|before| chosen[before]);
        let join = before.map(|before| Join {
            semitones: played.first as i32 - before.last as i32,
            cost: joins.cost(&before, played),
        });
        said.push(Statement {
            bar: line.bars.number(slot.start) + 1,
            chorus: span.chorus,
            chord: symbol(span, by, hall.signature),
            scale: hall.lesson.scales[scale].scale.name.to_string(),
            rule: span.rule,
            start: ladder.degree(Rung(played.base), Form::Rising),
            variant: line.variants[span.chorus - 1]
                [usize::from(slot.fitted[played.fitted].variant)]
            .clone(),
            own: played.cost,
            join,
            missing: span.missing.clone(),
            clashes: span.clashes.clone(),
        });
    }
    said
}
