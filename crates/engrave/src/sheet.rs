//! A score as pages.

use std::collections::BTreeSet;
use std::fmt::Write;

use score::Score;

use crate::copy::for_engraver;
use crate::drawn::{self, DrawnSystem};
use crate::engraver::STAFF;
use crate::glyph::Glyph;
use crate::head::head;
use crate::set::{SetSystem, set};
use crate::stack::{Room, Stack, stack};
use crate::{EngraveError, Engravers, Hundredths, Page, Paper, missing};

/// A sheet's pages.
#[derive(Debug, Clone)]
pub struct DrawnSheet {
    /// In order, nothing at their feet yet.
    pub pages: Vec<Page>,
    /// The exercises, and the page, from 0, on which each begins.
    pub exercises: Vec<(String, usize)>,
    /// Characters of its texts that no font has.
    pub missing: Vec<char>,
}

/// Margins: at both sides, over and under; in the latter is room for a foot.
pub(crate) const SIDE: Hundredths = 1500;
pub(crate) const OVER: Hundredths = 1400;
pub(crate) const UNDER: Hundredths = 1900;

/// The least between two systems, in hundredths of the staff's height.
const GAP: i32 = 62;

impl Engravers {
    /// Draws a score on paper of a size; its staves are as high as its page
    /// says.
    ///
    /// # Errors
    /// When the engraving library can't be had, or draws something else than
    /// the score.
    pub fn sheet(&self, score: &Score, paper: Paper) -> Result<DrawnSheet, EngraveError> {
        let staff = Hundredths::from(score.page.staff_height) * 10;
        let width = paper.width() - 2 * SIDE;
        let units = i64::from(width) * i64::from(STAFF) / i64::from(staff.max(1));
        let units = i32::try_from(units).unwrap_or(i32::MAX);
        let mut drawn: Vec<DrawnSystem> = Vec::new();
        for svg in self.draw(&for_engraver(score), units)? {
            drawn.extend(drawn::systems(&svg)?);
        }
        let systems = set(score, &drawn, staff, width)?;
        let mut first = String::new();
        let under_head = head(score, width, &mut first);
        let height = paper.height() - OVER - UNDER;
        let room = Room {
            first: height - under_head,
            later: height,
            gap: staff * GAP / 100,
        };
        let mut sheet = DrawnSheet {
            pages: Vec::new(),
            exercises: Vec::new(),
            missing: missing(&words(score)),
        };
        let stacks = stack(&systems, room);
        for (number, page) in stacks.iter().enumerate() {
            let top = if number == 0 { under_head } else { 0 };
            let own = &systems[page.systems.0..page.systems.1];
            let opens = own.iter().filter_map(|system| system.opens.clone());
            sheet.exercises.extend(opens.map(|name| (name, number)));
            let title = match stacks.len() {
                1 => spoken(score),
                pages => format!("{}, page {} of {pages}", spoken(score), number + 1),
            };
            sheet.pages.push(Page {
                paper,
                title,
                body: body(own, *page, if number == 0 { &first } else { "" }, top),
            });
        }
        Ok(sheet)
    }
}

/// A page's systems under its head.
fn body(systems: &[SetSystem], page: Stack, head: &str, top: Hundredths) -> String {
    let glyphs: BTreeSet<char> = systems
        .iter()
        .flat_map(|system| system.glyphs.iter().copied())
        .collect();
    let music: usize = systems.iter().map(|system| system.svg.len()).sum();
    let mut svg = String::with_capacity(music + head.len() + 4096);
    svg.push_str("<defs>\n");
    // Writing to a string can't fail.
    for place in glyphs {
        if let Some(glyph) = Glyph::at(place) {
            let (code, path) = (u32::from(place), glyph.path);
            let _ = writeln!(
                svg,
                "<path id=\"{code:04X}\" transform=\"scale(1,-1)\" d=\"{path}\"/>"
            );
        }
    }
    let _ = writeln!(
        svg,
        "</defs>\n<g transform=\"translate({SIDE} {OVER})\">\n{head}"
    );
    let mut down = top;
    for system in systems {
        let _ = writeln!(
            svg,
            "<g class=\"system\" transform=\"translate(0 {down})\">\n{}</g>",
            system.svg
        );
        down += system.height + page.gap;
    }
    svg.push_str("</g>\n");
    svg
}

/// What a screen reader says of a sheet.
fn spoken(score: &Score) -> String {
    format!("{}, {}", score.title, score.part.name)
}

/// Every text that isn't of our own making.
fn words(score: &Score) -> String {
    let mut words = score.title.clone();
    words.extend(score.subtitle.as_deref());
    words.push_str(&score.part.name);
    words.extend(score.head.iter().map(|line| line.text.as_str()));
    for direction in score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.directions)
    {
        match direction {
            score::Direction::Words(text) | score::Direction::Heading(text) => {
                words.push_str(text);
            }
            score::Direction::Section(name) => words.push_str(name),
            _ => {}
        }
    }
    words
}
