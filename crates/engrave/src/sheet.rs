//! A score as pages.

use score::{Direction, Score};

use crate::breaks;
use crate::head::head;
use crate::mark::Frame;
use crate::page::{Page, Paper};
use crate::place::{Micrometres, Sp};
use crate::stack::{Block, Room, stack};
use crate::system::System;
use crate::text::missing;
use crate::voice::Voice;

/// A sheet's pages.
#[derive(Debug, Clone)]
pub struct DrawnSheet {
    /// In order, nothing at their heads and feet yet.
    pub pages: Vec<Page>,
    /// The exercises, and the page, from 0, on which each begins.
    pub exercises: Vec<(String, usize)>,
    /// Characters of its texts that no font has.
    pub missing: Vec<char>,
}

/// Margins: at both sides, over and under; in the latter two is room for a
/// running head and a foot.
pub(crate) const SIDE: Micrometres = 15_000;
pub(crate) const OVER: Micrometres = 14_000;
pub(crate) const UNDER: Micrometres = 19_000;
/// More over the pages after the first, for their running head.
const RUNNING: Micrometres = 4_000;

/// The least between two systems, in thousandths of a staff space.
const GAP: Sp = 2500;
/// Of a score for everyone, staves are so many hundredths as high.
const TOGETHER: i64 = 72;

/// Draws a score on paper of a size; its staves are as high as its page says.
pub fn sheet(score: &Score, paper: Paper) -> DrawnSheet {
    drawn(std::slice::from_ref(score), &score.part.name, paper)
}

/// Draws the parts of a score for everyone under each other; `name` is what
/// stands where a sheet names its instrument. All have as many measures.
pub fn room(parts: &[Score], name: &str, paper: Paper) -> DrawnSheet {
    drawn(parts, name, paper)
}

fn drawn(parts: &[Score], name: &str, paper: Paper) -> DrawnSheet {
    let Some(score) = parts.first() else {
        return DrawnSheet {
            pages: Vec::new(),
            exercises: Vec::new(),
            missing: Vec::new(),
        };
    };
    let voices: Vec<Voice<'_>> = parts.iter().map(Voice::of).collect();
    let width = paper.width() - 2 * SIDE;
    let height = paper.height() - OVER - UNDER;
    let (heads, under_head) = head(score, name, width);
    let (systems, space) = fitting(&voices, width, height - under_head.min(height / 2));
    let blocks: Vec<Block> = systems
        .iter()
        .map(|system| Block {
            height: on_page(system, system.bottom - system.top, space),
            opens: system.opens.is_some(),
            page: system.page,
            rests: system.rests,
        })
        .collect();
    let stacks = stack(
        &blocks,
        Room {
            first: height - under_head,
            later: height - RUNNING,
            gap: (i64::from(space) * i64::from(GAP) / 1000) as Micrometres,
        },
    );
    let mut sheet = DrawnSheet {
        pages: Vec::with_capacity(stacks.len()),
        exercises: Vec::new(),
        missing: missing(&words(parts)),
    };
    let spoken = format!("{}, {name}", score.title);
    let mut heads: Vec<Frame> = heads;
    let mut systems = systems.into_iter();
    for (number, stack) in stacks.iter().enumerate() {
        let title = match stacks.len() {
            1 => spoken.clone(),
            pages => format!("{spoken}, page {} of {pages}", number + 1),
        };
        let mut page = Page::new(paper, title);
        for frame in heads.drain(..) {
            page.put(frame, SIDE, OVER);
        }
        let mut down = OVER + if number == 0 { under_head } else { RUNNING };
        for system in systems.by_ref().take(stack.systems.1 - stack.systems.0) {
            let top = down - on_page(&system, system.top, space);
            down += on_page(&system, system.bottom - system.top, space) + stack.gap;
            let thousand = (i64::from(space) * system.shrunk / 1000) as Micrometres;
            sheet
                .exercises
                .extend(system.opens.map(|name| (name, number)));
            for frame in system.frames {
                page.place(frame, SIDE, top, thousand);
            }
        }
        sheet.pages.push(page);
    }
    sheet
}

/// The systems, and their staff space: as high as the score says, or as lets
/// the highest of them go on a page with so much room.
fn fitting(
    voices: &[Voice<'_>],
    width: Micrometres,
    room: Micrometres,
) -> (Vec<System>, Micrometres) {
    let staff = voices
        .first()
        .map_or(0, |voice| voice.score.page.staff_height);
    let mut space = Micrometres::from(staff).max(10) * 100 / 4;
    if voices.len() > 1 {
        space = (i64::from(space) * TOGETHER / 100) as Micrometres;
    }
    let systems = laid(voices, width, space);
    let heights = systems.iter().map(|system| system.bottom - system.top);
    let needed = i64::from(heights.max().unwrap_or(0)) * i64::from(space) / 1000;
    if needed <= i64::from(room) {
        return (systems, space);
    }
    space = (i64::from(space) * i64::from(room) / needed.max(1)) as Micrometres;
    (laid(voices, width, space), space)
}

/// A length in a system on a page whose staff space is so high.
fn on_page(system: &System, length: Sp, space: Micrometres) -> Micrometres {
    (i64::from(length) * i64::from(space) * system.shrunk / 1_000_000) as Micrometres
}

fn laid(voices: &[Voice<'_>], width: Micrometres, space: Micrometres) -> Vec<System> {
    let whole = i64::from(width) * 1000 / i64::from(space.max(1));
    breaks::systems(voices, whole as Sp)
}

/// Every text that isn't of our own making.
fn words(parts: &[Score]) -> String {
    let mut words = String::new();
    for score in parts {
        words.push_str(&score.title);
        words.extend(score.subtitle.as_deref());
        words.push_str(&score.part.name);
        words.extend(score.head.iter().map(|line| line.text.as_str()));
        let imprint = &score.imprint;
        let own = [&imprint.author, &imprint.rights, &imprint.footer];
        words.extend(own.into_iter().flatten().map(String::as_str));
        words.extend(imprint.text.iter().map(String::as_str));
        let measures = score.part.measures.iter();
        let cues = measures.clone().flat_map(|measure| &measure.cues);
        words.extend(cues.map(|cue| cue.words.as_str()));
        for direction in measures.flat_map(|measure| &measure.directions) {
            match direction {
                Direction::Words(text) | Direction::Heading(text) => words.push_str(text),
                Direction::Section(text) | Direction::Rehearsal(text) | Direction::Text(text) => {
                    words.push_str(text);
                }
                Direction::Tempos(_)
                | Direction::Tempo(_)
                | Direction::Dynamic(_)
                | Direction::Swing
                | Direction::Straight => (),
            }
        }
    }
    words
}
