//! A system: its staves under each other, bar lines through them, names at
//! their left, and what stands in rows over and under them.

use std::ops::Range;

use score::{Barline, Break, Element, Measure};

use crate::fonts::Style;
use crate::glyph;
use crate::heading::Heading;
use crate::line::{BETWEEN, Plan, THICK, THIN};
use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::{Ink, Sp};
use crate::placed::Staff;
use crate::rows;
use crate::setting::LineSetting;
use crate::spacing::Stretch;
use crate::staff;
use crate::text::{Anchor, Line, wrap};
use crate::voice::{Bar, Voice};

/// A system ready to be put on a page; y is counted from its first staff's top
/// line, places are thousandths of a staff space.
#[derive(Debug, Clone)]
pub(crate) struct System {
    /// Headings, then the music.
    pub(crate) frames: Vec<Frame>,
    /// The highest and the lowest ink.
    pub(crate) top: Sp,
    pub(crate) bottom: Sp,
    /// The heading of the exercise that begins here.
    pub(crate) opens: Option<String>,
    /// Whether a new page begins here.
    pub(crate) page: bool,
    /// Whether it ends in a rest, where a page can be turned.
    pub(crate) rests: bool,
    /// How much smaller than asked for it is, in thousandths, so that its ink
    /// fits a line.
    pub(crate) shrunk: i64,
}

/// How wide a line may be, and where its staves begin.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Width {
    pub(crate) indent: Sp,
    pub(crate) whole: Sp,
}

/// The least between two staves' lines, and between their ink.
const STAVES: Sp = 4500;
const INKS: Sp = 1000;
/// A bracket's left edge: so far out that its hooks end before the clefs.
const HOOK: Sp = -THICK - BETWEEN - 300;
/// A name's size, and the most that names take of a line.
const NAME: Sp = 1900;
const NAMES: Sp = 16_000;
const AFTER_NAME: Sp = 2100;

/// Draws bars as a system, stretched so far or, without a stretch, to fill its
/// line.
pub(crate) fn draw(
    voices: &[Voice<'_>],
    bars: Range<usize>,
    plan: &Plan,
    width: Width,
    stretch: Option<Stretch>,
) -> System {
    let room = width.whole - width.indent;
    let least = plan.spring.least();
    let shrunk = if least > room {
        i64::from(room) * 1000 / i64::from(least.max(1))
    } else {
        1000
    };
    let points = match stretch {
        Some(stretch) => plan.spring.points_at(stretch),
        None => plan.spring.points_in(room.max(least)),
    };
    let setting = LineSetting {
        voices,
        bars: bars.clone(),
        plan,
        points: &points,
    };
    let whole = (i64::from(width.whole) * 1000 / shrunk.max(1)) as Sp - width.indent;
    let mut music = Frame::default();
    let mut tops: Vec<Sp> = Vec::with_capacity(voices.len());
    let (mut top, mut bottom) = (0, 4000);
    let mut headings = Headings::default();
    for number in 0..voices.len() {
        let mut staff = numbered_staff(&setting, number);
        if number == 0 {
            headings = Headings::over(&setting, (-width.indent, whole), &mut staff.inks);
        }
        let reached = staff.inks.iter().fold((0, 4000), |(top, bottom), ink| {
            (ink.top.min(top), ink.bottom.max(bottom))
        });
        let down = match tops.last() {
            None => 0,
            Some(above) => (above + 4000 + STAVES).max(bottom + INKS - reached.0),
        };
        tops.push(down);
        top = top.min(down + reached.0);
        bottom = bottom.max(down + reached.1);
        put_staff(&mut music, staff, down);
    }
    barlines(&mut music, &setting, &tops);
    names(&mut music, voices, bars.start == 0, &tops);
    music.tag = Tag::Figure(spoken(voices, bars.clone()));
    let mut frames = headings.frames;
    frames.push(music);
    for frame in &mut frames {
        for mark in &mut frame.marks {
            mark.shift(width.indent, 0);
        }
    }
    let first = voices.first();
    let bar = |place: usize| first.and_then(|voice| voice.bars.get(place));
    System {
        frames,
        top,
        bottom,
        opens: headings.opens,
        page: bar(bars.start).is_some_and(|bar| bar.measure.begins == Some(Break::Page)),
        rests: bars.end.checked_sub(1).and_then(bar).is_some_and(rests),
        shrunk,
    }
}

/// Whether a bar ends with a rest.
fn rests(bar: &Bar<'_>) -> bool {
    let last = bar.events.last().map(|event| event.element);
    matches!(last, Some(Element::Rest(_)))
}

/// What is said over a system.
#[derive(Debug, Default)]
struct Headings {
    frames: Vec<Frame>,
    /// The first exercise that begins in it.
    opens: Option<String>,
}

impl Headings {
    /// Over the first voice, whose inks they keep clear of, between the system's
    /// edges.
    fn over(setting: &LineSetting<'_>, (left, right): (Sp, Sp), inks: &mut Vec<Ink>) -> Headings {
        let mut headings = Headings::default();
        let Some(voice) = setting.voices.first() else {
            return headings;
        };
        for (place, at) in setting.bars.clone().zip(&setting.plan.bars) {
            let exercise = voice.score.exercise_from(place);
            let heading = Heading::of(voice.bars[place].measure, exercise);
            // What is said over a system's first bar begins with the system.
            let left = if at.start <= 1 {
                left
            } else {
                setting.points[at.start]
            };
            let frames = rows::heading(&heading, left, right, inks);
            headings.frames.extend(frames);
            headings.opens = headings.opens.or(heading.opens);
        }
        headings
    }
}

/// A staff with its rows, the first one with the bar's number.
fn numbered_staff<'a>(setting: &LineSetting<'a>, number: usize) -> Staff<'a> {
    let mut staff = staff::draw(setting, number);
    let first = number == 0;
    if setting.several() && first {
        // A bracket's hook may stand here.
        staff.inks.push(glyph::BRACKET_TOP.ink(HOOK, -250));
    }
    let voice = setting.voices.get(number).filter(|_| first);
    if let Some(text) = voice.and_then(|voice| bar_number(voice, setting.bars.start)) {
        let mark = rows::number(&text, &mut staff.inks);
        staff.marks.push(mark);
    }
    rows_of(&mut staff, setting.right());
    staff
}

/// Puts a staff's marks so far down.
fn put_staff(music: &mut Frame, mut staff: Staff<'_>, down: Sp) {
    let notes = music.notes.len();
    music.notes.append(&mut staff.notes);
    music.marks.extend(staff.marks.into_iter().map(|mark| {
        let mut mark = mark.moved(0, down);
        mark.note = mark.note.map(|note| note + notes);
        mark
    }));
}

/// Chord symbols and words over a staff, labels under it.
fn rows_of(staff: &mut Staff<'_>, right: Sp) {
    let chords = rows::chords(&staff.chords, right, &mut staff.inks);
    let labels = rows::labels(&staff.labels, &mut staff.inks);
    let cues = rows::cues(&staff.cues, right, &mut staff.inks);
    let rows = chords.into_iter().chain(labels).chain(cues);
    staff.marks.extend(rows);
}

/// The number that is printed at a system's beginning: not that of a pickup,
/// nor of a first bar.
fn bar_number(voice: &Voice<'_>, place: usize) -> Option<String> {
    let measure = voice.bars.get(place)?.measure;
    let number = measure.printed_number();
    (!measure.implicit && number > 1).then(|| number.to_string())
}

/// Every bar line, through the staves of a family; what begins several staves
/// goes through all.
fn barlines(music: &mut Frame, setting: &LineSetting<'_>, tops: &[Sp]) {
    let voices = setting.voices;
    let mut put = |x: Sp, wide: Sp, from: Sp, to: Sp| {
        let middle = x + wide / 2;
        music.marks.push(Mark::line(
            Role::Barline,
            (middle, from),
            (middle, to),
            wide,
        ));
    };
    let families = families(voices);
    for family in &families {
        let (Some(from), Some(to)) = (tops.get(family.start), tops.get(family.end - 1)) else {
            continue;
        };
        // Over the outer lines' own thickness.
        let (from, to) = (from - 65, to + 4000 + 65);
        let Some(voice) = voices.first() else {
            continue;
        };
        for (bar, at) in setting.planned(voice) {
            let x = setting.points[at.barline];
            match bar.measure.barline {
                None => put(x, THIN, from, to),
                Some(Barline::Double) => {
                    put(x, THIN, from, to);
                    put(x + THIN + BETWEEN, THIN, from, to);
                }
                Some(Barline::Final) => {
                    put(x, THIN, from, to);
                    put(x + THIN + BETWEEN, THICK, from, to);
                }
            }
        }
    }
    let (Some(first), Some(last)) = (tops.first(), tops.last()) else {
        return;
    };
    if !setting.several() {
        return;
    }
    put(0, THIN, first - 65, last + 4000 + 65);
    for family in families.iter().filter(|family| family.len() > 1) {
        let (from, to) = (tops[family.start] - 250, tops[family.end - 1] + 4250);
        put_bracket(music, HOOK, from, to);
    }
}

fn put_bracket(music: &mut Frame, x: Sp, from: Sp, to: Sp) {
    let middle = x + THICK / 2;
    let marks = &mut music.marks;
    marks.push(Mark::line(
        Role::Bracket,
        (middle, from),
        (middle, to),
        THICK,
    ));
    marks.push(Mark::glyph(Role::Bracket, &glyph::BRACKET_TOP, x, from));
    marks.push(Mark::glyph(Role::Bracket, &glyph::BRACKET_BOTTOM, x, to));
}

/// Parts of one family beside each other, by the standard's sound ids:
/// `wind.reed…` and `wind.flutes…` are woodwinds.
fn families(voices: &[Voice<'_>]) -> Vec<Range<usize>> {
    let family = |voice: &Voice<'_>| {
        let id = voice.score.part.sound_id.clone();
        id.split('.').next().unwrap_or_default().to_owned()
    };
    let mut families: Vec<Range<usize>> = Vec::new();
    for (place, voice) in voices.iter().enumerate() {
        match families.last_mut() {
            Some(last) if family(&voices[last.start]) == family(voice) => last.end = place + 1,
            _ => families.push(place..place + 1),
        }
    }
    families
}

/// The lines of a part's name: whole on the first system, abbreviated after it.
fn name_lines(voice: &Voice<'_>, first: bool) -> Vec<String> {
    let part = &voice.score.part;
    let name = if first {
        &part.name
    } else {
        &part.abbreviation
    };
    wrap(name, Style::Roman, NAME, NAMES)
}

/// How far staves are moved to the right for their names.
pub(crate) fn indent(voices: &[Voice<'_>], first: bool) -> Sp {
    if voices.len() < 2 {
        return 0;
    }
    let lines = voices.iter().flat_map(|voice| name_lines(voice, first));
    let widest = lines.map(|line| Line::new().roman(&line).size(NAME).width());
    widest.max().unwrap_or(0) + AFTER_NAME
}

fn names(music: &mut Frame, voices: &[Voice<'_>], first: bool, tops: &[Sp]) {
    if voices.len() < 2 {
        return;
    }
    for (voice, top) in voices.iter().zip(tops) {
        let lines = name_lines(voice, first);
        let step = NAME * 12 / 10;
        let height = step * (lines.len() as Sp - 1);
        let mut baseline = top + 2000 + NAME / 3 - height / 2;
        for line in lines {
            let line = Line::new().roman(&line).size(NAME);
            let line = line.at(-AFTER_NAME + 300, baseline).anchor(Anchor::End);
            music.marks.push(Mark::text(Role::Name, line));
            baseline += step;
        }
    }
}

/// What a screen reader says of a system.
fn spoken(voices: &[Voice<'_>], bars: Range<usize>) -> String {
    let Some(voice) = voices.first() else {
        return String::new();
    };
    let numbers = voice.bars[bars].iter();
    let numbers = numbers
        .map(|bar| bar.measure)
        .filter(|measure| !measure.implicit)
        .map(Measure::printed_number);
    let (first, last) = (numbers.clone().next(), numbers.clone().next_back());
    match (first, last) {
        (Some(first), Some(last)) if first != last => format!("bars {first} to {last}"),
        (Some(first), _) => format!("bar {first}"),
        (None, _) => "a pickup".to_owned(),
    }
}
