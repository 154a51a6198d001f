//! A line of bars as points and the gaps between them: what begins it, the
//! columns of notes that begin together, bar lines, and what warns of the next
//! line at its end.

use std::ops::Range;

use rhythm::Fraction;
use score::{Barline, Element};

use crate::event::Event;
use crate::place::{Ink, Sp};
use crate::rows;
use crate::signature::{self, Signs};
use crate::spacing::{Gap, Need, Spring, ideal};
use crate::tie;
use crate::voice::{Bar, Voice};

/// Line widths (SMuFL 1.4, `engravingDefaults`).
pub(crate) const THIN: Sp = 160;
pub(crate) const THICK: Sp = 500;
pub(crate) const BETWEEN: Sp = 400;

/// From the staff's left end to its clef, and between the signs that follow.
const FIRST: Sp = 700;
const SIGNS: Sp = 900;
/// From the signs at a line's beginning to the first head, and from a bar line.
const AFTER_SIGNS: Sp = 1700;
const AFTER_BARLINE: Sp = 1300;
/// From a bar line to ink after it, and from ink to a bar line.
const INK_AFTER: Sp = 400;
const INK_BEFORE: Sp = 1000;
/// The least inner length of a tie.
const TIE: Sp = 1100;
/// What a quarter of a bar that students fill gets.
const BLANK: Sp = 3800;

/// A line ready to be stretched.
#[derive(Debug, Clone)]
pub(crate) struct Plan {
    pub(crate) spring: Spring,
    pub(crate) bars: Vec<BarPoints>,
    /// The point at which the staff's last bar line ends.
    pub(crate) end: usize,
    /// What stands at the line's beginning, of each voice.
    pub(crate) opening: Vec<Signs>,
    /// What warns of the next line, of each voice.
    pub(crate) warning: Vec<Signs>,
}

/// The points of a bar.
#[derive(Debug, Clone)]
pub(crate) struct BarPoints {
    /// Where it begins, after the bar line before.
    pub(crate) start: usize,
    /// A changed signature and meter, of each voice.
    pub(crate) signs: Vec<Signs>,
    /// The point of each event, of each voice.
    pub(crate) events: Vec<Vec<usize>>,
    /// The left edge of the bar line that ends it.
    pub(crate) barline: usize,
}

/// Plans the bars of a range as one line; voices have as many bars each.
pub(crate) fn plan(voices: &[Voice<'_>], bars: Range<usize>) -> Plan {
    let mut builder = Builder::default();
    let opening = opening(voices, bars.start);
    let wide = |signs: &[Signs]| signs.iter().map(|signs| signs.width).max().unwrap_or(0);
    builder.gap(Gap::rigid(wide(&opening)));
    let mut points = Vec::with_capacity(bars.len());
    for place in bars.clone() {
        points.push(builder.bar(voices, place, place == bars.start));
    }
    let end = builder.gaps.len();
    let warning = warning(voices, bars.end);
    if wide(&warning) > 0 {
        builder.gap(Gap::rigid(wide(&warning) + 500));
    }
    builder.texts(voices, bars, &points);
    Plan {
        spring: Spring::new(builder.gaps, builder.needs),
        bars: points,
        end,
        opening,
        warning,
    }
}

/// Clef and signature, and the meter where it is new.
fn opening(voices: &[Voice<'_>], place: usize) -> Vec<Signs> {
    let kinds = voices.iter().map(|voice| {
        let clef = signature::clef(voice.clef);
        let Some(bar) = voice.bars.get(place) else {
            return [clef, Signs::default(), Signs::default()];
        };
        let meter = bar.meter.filter(|_| bar.new_meter);
        [
            clef,
            signature::signature(bar.signature, None, voice.clef),
            meter.map(signature::meter).unwrap_or_default(),
        ]
    });
    beside(kinds.collect(), FIRST)
}

/// A changed signature and meter inside of a line.
fn change(voices: &[Voice<'_>], place: usize, before: Sp) -> Vec<Signs> {
    let kinds = voices.iter().map(|voice| {
        let Some(bar) = voice.bars.get(place) else {
            return [Signs::default(), Signs::default(), Signs::default()];
        };
        let key = bar.cancelled.map_or_else(Signs::default, |before| {
            signature::signature(bar.signature, Some(before), voice.clef)
        });
        let meter = bar.meter.filter(|_| bar.new_meter);
        [
            key,
            meter.map(signature::meter).unwrap_or_default(),
            Signs::default(),
        ]
    });
    beside(kinds.collect(), before)
}

/// At the end of a line, before the bar that begins the next; nothing at the
/// end of all.
fn warning(voices: &[Voice<'_>], next: usize) -> Vec<Signs> {
    let same = voices.iter().all(|voice| {
        let Some(bar) = voice.bars.get(next) else {
            return true;
        };
        let before = next.checked_sub(1).and_then(|last| voice.bars.get(last));
        let meter = before.and_then(|before| before.meter);
        bar.cancelled.is_none() && (!bar.new_meter || bar.meter == meter)
    });
    if same {
        return vec![Signs::default(); voices.len()];
    }
    change(voices, next, 600)
}

/// Signs of a kind under each other in all voices, kind after kind.
fn beside(kinds: Vec<[Signs; 3]>, before: Sp) -> Vec<Signs> {
    let mut voices = vec![Signs::default(); kinds.len()];
    let mut x = 0;
    for kind in 0..3 {
        let width = kinds.iter().map(|signs| signs[kind].width).max();
        let width = width.unwrap_or(0);
        if width == 0 {
            continue;
        }
        let from = x + if x == 0 { before } else { SIGNS };
        for (voice, signs) in voices.iter_mut().zip(&kinds) {
            let marks = signs[kind].marks.iter().cloned();
            voice.marks.extend(marks.map(|mark| mark.moved(from, 0)));
        }
        x = from + width;
    }
    for voice in &mut voices {
        voice.width = x;
    }
    voices
}

/// How wide a bar line is.
pub(crate) fn barline_width(barline: Option<Barline>) -> Sp {
    match barline {
        None => THIN,
        Some(Barline::Double) => THIN + BETWEEN + THIN,
        Some(Barline::Final) => THIN + BETWEEN + THICK,
    }
}

#[derive(Default)]
struct Builder {
    gaps: Vec<Gap>,
    needs: Vec<Need>,
}

impl Builder {
    /// Adds a gap; gives the point after it.
    fn gap(&mut self, gap: Gap) -> usize {
        self.gaps.push(gap);
        self.gaps.len()
    }

    fn need(&mut self, from: usize, to: usize, least: Sp) {
        if from < to && least > 0 {
            self.needs.push(Need { from, to, least });
        }
    }

    fn bar(&mut self, voices: &[Voice<'_>], place: usize, first: bool) -> BarPoints {
        let start = self.gaps.len();
        let own: Vec<&Bar<'_>> = voices
            .iter()
            .filter_map(|voice| voice.bars.get(place))
            .collect();
        let changes = own
            .iter()
            .any(|bar| bar.cancelled.is_some() || bar.new_meter);
        let signs = if first || !changes {
            vec![Signs::default(); voices.len()]
        } else {
            change(voices, place, 700)
        };
        let changed = signs.iter().map(|signs| signs.width).max().unwrap_or(0);
        if changed > 0 {
            self.gap(Gap::rigid(changed));
        }
        let firsts = own.iter().filter_map(|bar| bar.events.first());
        let left = firsts.map(|event| event.reach().0).min().unwrap_or(0);
        let lead = if first || changed > 0 {
            AFTER_SIGNS.max(INK_AFTER + 200 - left)
        } else {
            AFTER_BARLINE.max(INK_AFTER - left)
        };
        self.gap(Gap::rigid(lead));
        let columns = Columns::of(voices, &own);
        let from = self.gaps.len();
        for (column, (_, gap)) in columns.list.iter().enumerate() {
            let alike = Some(columns.length(column));
            let gap = Gap {
                natural: *gap,
                least: 0,
                rigid: false,
                alike,
            };
            self.gap(gap);
        }
        let barline = self.gaps.len();
        let ending = own.first().and_then(|bar| bar.measure.barline);
        self.gap(Gap::rigid(barline_width(ending)));
        let events: Vec<Vec<usize>> = columns
            .events
            .iter()
            .map(|events| events.iter().map(|column| from + column).collect())
            .collect();
        for (bar, points) in own.iter().zip(&events) {
            self.inks(bar, points, barline);
        }
        BarPoints {
            start,
            signs,
            events,
            barline,
        }
    }

    /// What one voice's ink needs inside of a bar.
    fn inks(&mut self, bar: &Bar<'_>, points: &[usize], barline: usize) {
        for (place, (event, &point)) in bar.events.iter().zip(points).enumerate() {
            match (bar.events.get(place + 1), points.get(place + 1)) {
                (Some(next), Some(&after)) => self.need(point, after, apart(event, next)),
                _ if event.is_bar_rest() => {
                    self.need(point, barline, 2 * event.width + INK_BEFORE);
                }
                _ => self.need(point, barline, event.reach().1 + INK_BEFORE),
            }
        }
    }

    /// What chord symbols and labels need: each stands clear of the next one in
    /// its row, and of the line's end.
    fn texts(&mut self, voices: &[Voice<'_>], bars: Range<usize>, points: &[BarPoints]) {
        let end = self.gaps.len();
        for (number, voice) in voices.iter().enumerate() {
            let mut chord: Option<(usize, Sp)> = None;
            let mut labels: [Option<(usize, Sp)>; 4] = [None; 4];
            for (bar, points) in voice.bars[bars.clone()].iter().zip(points) {
                for (event, &point) in bar.events.iter().zip(&points.events[number]) {
                    let symbol = event.element.written().chord;
                    let symbol = symbol.and_then(|at| voice.score.chords.symbol(at));
                    if let Some(symbol) = symbol {
                        if let Some((from, width)) = chord {
                            self.need(from, point, width + rows::CHORD_GAP);
                        }
                        chord = Some((point, rows::chord_width(symbol)));
                    }
                    let Some(note) = event.note() else { continue };
                    for (row, label) in note.lyrics.iter().enumerate() {
                        let Some(label) = label else { continue };
                        let width = rows::label_width(label);
                        let (before, after) = (width - event.width, width + event.width);
                        if let Some((from, reach)) = labels[row] {
                            self.need(from, point, reach + before / 2 + rows::LABEL_GAP);
                        }
                        labels[row] = Some((point, after / 2));
                    }
                }
            }
            let last = labels.into_iter().chain([chord]);
            for (from, reach) in last.flatten() {
                self.need(from, end, reach);
            }
        }
    }
}

/// How far two notes of a voice must be apart.
fn apart(one: &Event<'_>, next: &Event<'_>) -> Sp {
    let mut least = one.width + tie::CLEAR;
    for ink in &one.inks {
        for other in &next.inks {
            if near(ink, other) {
                least = least.max(ink.right - other.left + tie::CLEAR);
            }
        }
    }
    let tied = matches!(next.element, Element::Note(note) if note.tied_from);
    if tied {
        let (_, right) = one.reach();
        let (left, _) = next.reach();
        least = least.max(right - left + TIE + 2 * tie::CLEAR);
    }
    least
}

/// Whether two inks are at one height, as good as.
fn near(one: &Ink, other: &Ink) -> bool {
    one.top - 150 < other.bottom && other.top - 150 < one.bottom
}

/// The columns of a bar: what begins together in all voices stands in one.
struct Columns {
    /// Where each begins, and its natural width.
    list: Vec<(Fraction, Sp)>,
    /// The column of each event, of each voice.
    events: Vec<Vec<usize>>,
    lengths: Vec<u32>,
}

impl Columns {
    fn of(voices: &[Voice<'_>], bars: &[&Bar<'_>]) -> Columns {
        if let ([voice], [bar]) = (voices, bars) {
            return Columns::of_one(voice, bar);
        }
        let quarters = |voice: &Voice<'_>, ticks: u32| {
            Fraction::new(i64::from(ticks), i64::from(voice.score.divisions.max(1)))
        };
        let mut onsets: Vec<Fraction> = Vec::new();
        let mut end = Fraction::ZERO;
        for (voice, bar) in voices.iter().zip(bars) {
            end = end.max(quarters(voice, bar.length));
            onsets.extend(bar.events.iter().map(|event| quarters(voice, event.onset)));
        }
        onsets.sort_unstable();
        onsets.dedup();
        let mut columns = Columns {
            list: Vec::with_capacity(onsets.len()),
            events: Vec::with_capacity(voices.len()),
            lengths: Vec::with_capacity(onsets.len()),
        };
        for (place, &onset) in onsets.iter().enumerate() {
            let next = onsets.get(place + 1).copied().unwrap_or(end);
            let (mut width, mut length) = (0, 0);
            for (voice, bar) in voices.iter().zip(bars) {
                let sounding = bar.events.iter().rev();
                let mut sounding = sounding.filter(|event| quarters(voice, event.onset) <= onset);
                let Some(event) = sounding.next() else {
                    continue;
                };
                let whole = quarters(voice, event.length());
                if whole == Fraction::ZERO {
                    continue;
                }
                // The part of the event's width that passes until the next
                // column begins.
                let part = (next - onset) / whole;
                let own = natural(event, voice.score.divisions);
                let own = Fraction::new(i64::from(own), 1) * part;
                let own = (*own.numer() / (*own.denom()).max(1)) as Sp;
                if own > width {
                    width = own;
                    let units = (next - onset) * 960;
                    length = (*units.numer() / (*units.denom()).max(1)) as u32;
                }
            }
            columns.list.push((onset, width));
            columns.lengths.push(length);
        }
        for (voice, bar) in voices.iter().zip(bars) {
            let places = bar.events.iter().map(|event| {
                let onset = quarters(voice, event.onset);
                onsets.partition_point(|other| *other < onset)
            });
            columns.events.push(places.collect());
        }
        columns
    }

    fn of_one(voice: &Voice<'_>, bar: &Bar<'_>) -> Columns {
        let divisions = voice.score.divisions;
        let widths = bar.events.iter().map(|event| natural(event, divisions));
        Columns {
            list: widths.map(|width| (Fraction::ZERO, width)).collect(),
            events: vec![(0..bar.events.len()).collect()],
            lengths: bar.events.iter().map(Event::length).collect(),
        }
    }

    fn length(&self, column: usize) -> u32 {
        self.lengths.get(column).copied().unwrap_or(0)
    }
}

fn natural(event: &Event<'_>, divisions: u32) -> Sp {
    let length = event.length();
    if event.is_hidden() {
        let quarters = i64::from(length) * i64::from(BLANK) / i64::from(divisions.max(1));
        return i32::try_from(quarters).unwrap_or(i32::MAX / 1024);
    }
    ideal(length, divisions)
}
