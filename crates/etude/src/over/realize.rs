//! A line over changes on one horn in one key: its passages, its time, and
//! how it came about.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use lesson::{CellTone, Lesson};
use rhythm::{Event, Ticks};
use score::Chords;
use theory::{
    ChordSymbol, Degree, Form, Interval, Ladder, LineTone, Naming, Pitch, PitchName, Range, Rung,
    Signature, Speller, Tone,
};

use super::choice::{Choices, Root, Tessitura};
use super::chord_span::ChordSpan;
use super::connect::{Connection, beside};
use super::line::{ChosenStatement, Hunt};
use super::slot::{OverLine, StatementSlot};
use crate::compose::course::Extent;
use crate::compose::timed_line::{TimedLine, TimedNote};
use crate::place::placement::Placement;
use crate::remark::Remark;
use crate::report::gathering::{Join, Statement};
use crate::spell::passage::{NameKey, Passage, Spellers, spell};

/// A line over changes as it is played.
#[derive(Debug)]
pub(crate) struct Realization<'a> {
    pub passages: Vec<Passage<'a>>,
    pub timed: TimedLine,
    /// Chord symbols by their times.
    pub symbols: Vec<(Ticks, u16)>,
    pub statements: Vec<Statement>,
    pub remarks: Vec<Remark>,
}

/// Where a line over changes is played.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OverContext<'a> {
    pub lesson: &'a Lesson,
    pub ladders: &'a [Ladder],
    pub written: PitchName,
    pub range: Range,
    pub signature: Signature,
    pub exercise: usize,
    pub spellers: &'a Spellers,
    /// Raised by whoever wants no line any more.
    pub stop: &'a AtomicBool,
}

/// Why there is no line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoLine {
    /// Nothing fits the horn over this root.
    OffTheHorn(Pitch),
    /// Someone asked to stop.
    Stopped,
}

/// Chooses a line.
///
/// # Errors
/// Where nothing fits the horn, or someone asked to stop.
pub(crate) fn realize<'a>(
    line: &OverLine,
    context: OverContext<'a>,
    chords: &mut Chords,
) -> Result<Realization<'a>, NoLine> {
    let by = Interval::from_coordinates(context.written.fifths() - line.over.key.fifths(), 0);
    let roots: Vec<Root> = line
        .spans
        .iter()
        .map(|span| Root::of(span, by, context.range, context.signature))
        .collect();
    let tessitura = Tessitura::of(context.range);
    let choices = Choices::of(line, &roots, tessitura);
    let layers = choices.layers();
    if let Some(empty) = layers.iter().position(|layer| layer.is_empty()) {
        return Err(NoLine::OffTheHorn(roots[line.slots[empty].span].pitch));
    }
    let hunt = Hunt {
        line,
        roots: &roots,
        tessitura,
        choices: &choices,
        stop: context.stop,
    };
    let chosen = hunt.chosen().ok_or(NoLine::Stopped)?;
    let notes = notes(line, &roots, tessitura, &chosen.statements);
    let passages = passages(line, context, (&roots, by), &notes, chords);
    let symbols = symbols(line, context, by, chords);
    Ok(Realization {
        passages,
        statements: statements(line, context, &chosen.statements, by),
        timed: timed(line, notes, &symbols),
        symbols,
        remarks: line.remarks.iter().cloned().chain(chosen.remarks).collect(),
    })
}

/// A note of a line, in the passage of a chord's time.
#[derive(Debug, Clone, Copy)]
struct LineNote {
    span: usize,
    event: Event,
    tone: LineTone,
    /// Its statement; the one before where it leads to the next.
    statement: u16,
    /// Its number there, from 1; 0 where it is none of the figure's.
    number: u16,
}

/// The notes of a line in order.
fn notes(
    line: &OverLine,
    roots: &[Root],
    tessitura: Tessitura,
    chosen: &[ChosenStatement],
) -> Vec<LineNote> {
    let mut notes: Vec<LineNote> = Vec::new();
    for ((slot, told), statement) in line.slots.iter().zip(chosen).zip(0u16..) {
        let fitted = &slot.fitted[told.choice.fitted].notes;
        let tones = line_tones(fitted.iter().map(|note| note.tone), told.choice.base);
        let led = match (told.led, fitted.first(), tones.first()) {
            (Some(led), Some(first), Some(tone)) => {
                let pitch = tessitura.pitch(told.choice.first);
                let above = pitch - i32::from(roots[slot.before].pitch.midi());
                lead(line, slot, led, first.onset, (tone.tone.rung(), above))
            }
            _ => Vec::new(),
        };
        let led = led.into_iter().map(|(span, event, tone)| LineNote {
            span,
            event,
            tone,
            statement: statement.saturating_sub(1),
            number: 0,
        });
        let own = fitted.iter().zip(tones).zip(1..);
        let own = own.map(|((note, tone), number)| LineNote {
            span: slot.span,
            event: Event {
                onset: note.onset,
                length: note.length,
            },
            tone,
            statement,
            number,
        });
        for note in led.chain(own) {
            if let Some(before) = notes.last_mut() {
                let time = note.event.onset - before.event.onset;
                before.event.length = before.event.length.min(time);
            }
            notes.push(note);
        }
    }
    notes
}

/// The notes that lead to a first note, a rung of its own chord's scale and so
/// many semitones above the root that sounds before; each in the passage of a
/// chord's time.
fn lead(
    line: &OverLine,
    slot: &StatementSlot,
    led: Connection,
    onset: Ticks,
    (target, above): (Rung, i32),
) -> Vec<(usize, Event, LineTone)> {
    let tones: Vec<Tone> = match led {
        Connection::FromBelow => vec![Tone::Below(target)],
        Connection::FromAbove => vec![Tone::Above(target)],
        Connection::Enclosed => vec![Tone::Above(target), Tone::Below(target)],
        Connection::Steps { notes, up } => {
            let heights = line.spans[slot.before].heights.as_ref();
            let rung = heights.map_or(0, |heights| beside(heights, above, up));
            let back = (0..i32::from(notes)).rev();
            let back = back.map(|back| if up { rung - back } else { rung + back });
            back.map(|rung| Tone::Rung(Rung(rung))).collect()
        }
    };
    let steps = matches!(led, Connection::Steps { .. });
    let span = if steps { slot.before } else { slot.span };
    let count = tones.len() as Ticks;
    let note = |(place, tone): (Ticks, Tone)| {
        let event = Event {
            onset: onset - (count - place) * line.eighth,
            length: line.eighth,
        };
        let form = Form::Rising;
        (span, event, LineTone { tone, form })
    };
    (0..).zip(tones).map(note).collect()
}

/// The chord of a span in the written key.
fn symbol(span: &ChordSpan, by: Interval, signature: Signature) -> ChordSymbol {
    if span.symbol.chord.is_none() {
        // Nothing to transpose.
        return span.symbol.clone();
    }
    span.symbol.transposed(by).printed(signature)
}

/// The degrees of a span's scale.
fn scale_of<'a>(span: &ChordSpan, lesson: &'a Lesson) -> &'a [Degree] {
    span.scale
        .and_then(|at| lesson.scales.get(at))
        .map_or(&[], |known| known.scale.degrees.as_slice())
}

fn passages<'a>(
    line: &OverLine,
    context: OverContext<'a>,
    (roots, by): (&[Root], Interval),
    notes: &[LineNote],
    chords: &mut Chords,
) -> Vec<Passage<'a>> {
    let mut passages = Vec::with_capacity(line.spans.len());
    let mut spellers: Vec<Option<Arc<Speller>>> = vec![None; line.spans.len()];
    let mut notes = notes.iter().peekable();
    for (place, (span, root)) in line.spans.iter().zip(roots).enumerate() {
        let mut tones = Vec::new();
        while let Some(note) = notes.next_if(|note| note.span == place) {
            tones.push(note.tone);
        }
        let chord = symbol(span, by, context.signature);
        let scale = span.scale.unwrap_or_default();
        let ladder = &context.ladders[scale];
        let placed = Placement {
            root: root.pitch,
            roots: vec![root.pitch],
            tones: tones.into(),
            extent: Extent::default(),
            remarks: Vec::new(),
        };
        let speller = spellers[span.named_as].get_or_insert_with(|| {
            let naming = Naming {
                root: root.pitch.name(),
                chord: Some(&chord.chord),
                over: Some(&chord.chord),
                signature: context.signature,
                style: context.lesson.spelling,
            };
            let named = NameKey {
                exercise: context.exercise,
                chord: Some(span.named_as),
                root: naming.root.fifths(),
                signature: context.signature.fifths(),
            };
            context.spellers.get(named, || Speller::new(ladder, naming))
        });
        let spelled = spell(speller, placed.root, &placed.tones);
        passages.push(Passage {
            placed,
            spelled,
            chord: Some(chords.place_of(&chord, scale_of(span, context.lesson))),
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

/// The chord symbols by their times: where a chord begins that isn't the one
/// before, and again where a chorus or a section does.
fn symbols(
    line: &OverLine,
    context: OverContext,
    by: Interval,
    chords: &mut Chords,
) -> Vec<(Ticks, u16)> {
    let mut symbols: Vec<(Ticks, u16)> = Vec::with_capacity(line.spans.len());
    for (place, span) in line.spans.iter().enumerate() {
        let again = place > 0 && {
            let before = &line.spans[place - 1];
            before.symbol == span.symbol && before.chorus == span.chorus
        };
        if !again {
            let symbol = symbol(span, by, context.signature);
            let chord = chords.place_of(&symbol, scale_of(span, context.lesson));
            symbols.push((span.at, chord));
        }
    }
    for (at, _) in line.bars.sections() {
        let after = symbols.partition_point(|(symbol, _)| symbol <= at);
        let Some(before) = after.checked_sub(1) else {
            continue;
        };
        let (since, chord) = symbols[before];
        if since < *at {
            symbols.insert(after, (*at, chord));
        }
    }
    symbols
}

/// The line in time, under symbols at theirs.
fn timed(line: &OverLine, notes: Vec<LineNote>, symbols: &[(Ticks, u16)]) -> TimedLine {
    let first = |place| notes.partition_point(|note: &LineNote| note.span < place);
    let ends = |at: &usize| {
        let next = notes.get(at + 1);
        notes[*at].number > 0 && next.is_none_or(|next| next.number <= 1)
    };
    let slashes = line.slashes.iter();
    TimedLine {
        passages: (0..line.spans.len()).map(first).collect(),
        chances: (0..notes.len()).filter(ends).collect(),
        starts: line.slots.iter().map(|slot| slot.start).collect(),
        chords: symbols.iter().map(|(at, _)| *at).collect(),
        keys: Vec::new(),
        slashes: slashes
            .flat_map(|(from, until)| line.bars.counted_beats(*from, *until))
            .collect(),
        notes: notes
            .into_iter()
            .map(|note| TimedNote {
                event: note.event,
                statement: note.statement,
                number: note.number,
            })
            .collect(),
    }
}

fn statements(
    line: &OverLine,
    context: OverContext,
    chosen: &[ChosenStatement],
    by: Interval,
) -> Vec<Statement> {
    let tessitura = Tessitura::of(context.range);
    let mut said = Vec::with_capacity(chosen.len());
    for (at, (slot, told)) in line.slots.iter().zip(chosen).enumerate() {
        let played = &told.choice;
        let span = &line.spans[slot.span];
        let scale = span.scale.unwrap_or_default();
        let ladder = &context.ladders[scale];
        let before = at.checked_sub(1).map(|before| chosen[before].choice);
        let join = before.map(|before| Join {
            semitones: tessitura.pitch(played.first) - tessitura.pitch(before.last),
            cost: told.join,
            led: told.led,
        });
        said.push(Statement {
            bar: line.bars.number(slot.start) + 1,
            chorus: span.chorus,
            chord: symbol(span, by, context.signature),
            scale: context.lesson.scales[scale].scale.name.to_string(),
            rule: span.rule,
            start: ladder.degree(Rung(played.base), Form::Rising),
            variant: line.variants[span.chorus - 1]
                [usize::from(slot.fitted[played.fitted].variant)]
            .clone(),
            own: played.cost,
            join,
            part: slot.role.part,
            phrase: told.phrase,
            shift: played.shift,
            high_point: told.high_point,
            missing: span.missing.clone(),
            clashes: span.clashes.clone(),
        });
    }
    said
}
