//! A page: its paper and the frames that stand on it.

use score::Score;

use crate::mark::{Frame, Mark, NotePlace, Role, Shape};
use crate::place::{Ink, Micrometres};

/// A size of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ by 11 inches (ANSI/ASME Y14.1).
    Letter,
}

impl Paper {
    /// The paper that a score is set for.
    pub fn of(score: &Score) -> Paper {
        // Tenths of a millimetre: Letter is the wider and the lower.
        if score.page.width > score.page.height * 3 / 4 {
            Paper::Letter
        } else {
            Paper::A4
        }
    }

    /// Its width.
    pub fn width(self) -> Micrometres {
        match self {
            Paper::A4 => 210_000,
            Paper::Letter => 215_900,
        }
    }

    /// Its height.
    pub fn height(self) -> Micrometres {
        match self {
            Paper::A4 => 297_000,
            Paper::Letter => 279_400,
        }
    }
}

/// A frame at its place on a page.
#[derive(Debug, Clone)]
pub struct PlacedFrame {
    /// Where the frame's left top corner is.
    pub x: Micrometres,
    /// The same, downwards.
    pub y: Micrometres,
    /// How long a thousand of the frame's units are; a staff space of a
    /// system's.
    pub thousand: Micrometres,
    /// What stands there.
    pub frame: Frame,
}

impl PlacedFrame {
    /// A frame's length on paper.
    pub(crate) fn scaled(&self, length: i32) -> Micrometres {
        (i64::from(length) * i64::from(self.thousand) / 1000) as Micrometres
    }

    /// Ink of the frame on the page.
    pub fn on_page(&self, ink: Ink) -> Ink {
        Ink {
            left: self.x + self.scaled(ink.left),
            top: self.y + self.scaled(ink.top),
            right: self.x + self.scaled(ink.right),
            bottom: self.y + self.scaled(ink.bottom),
        }
    }
}

/// Something on a page, for whoever measures it.
#[derive(Debug, Clone)]
pub struct MarkOnPage<'a> {
    /// What it is for.
    pub role: Role,
    /// Where it is on the page.
    pub ink: Ink,
    /// What it says, if it is text.
    pub text: Option<String>,
    /// The note it belongs to.
    pub note: Option<&'a NotePlace>,
    /// The frame it is in, by its place on the page.
    pub frame: usize,
}

/// A drawn page.
#[derive(Debug, Clone)]
pub struct Page {
    /// What it is drawn on.
    pub paper: Paper,
    /// What a screen reader says of it.
    pub title: String,
    /// In the order they are read.
    pub frames: Vec<PlacedFrame>,
}

impl Page {
    /// A blank page.
    pub fn new(paper: Paper, title: impl Into<String>) -> Page {
        Page {
            paper,
            title: title.into(),
            frames: Vec::new(),
        }
    }

    /// Puts a frame on it whose unit is a micrometre.
    pub(crate) fn put(&mut self, frame: Frame, x: Micrometres, y: Micrometres) {
        if !frame.marks.is_empty() {
            self.place(frame, x, y, 1000);
        }
    }

    /// Puts a frame on it of which a thousand units are so long.
    pub(crate) fn place(&mut self, frame: Frame, x: Micrometres, y: Micrometres, thousand: i32) {
        self.frames.push(PlacedFrame {
            x,
            y,
            thousand,
            frame,
        });
    }

    /// Everything on it.
    pub fn seen(&self) -> impl Iterator<Item = MarkOnPage<'_>> {
        self.frames.iter().enumerate().flat_map(|(frame, placed)| {
            placed
                .frame
                .marks
                .iter()
                .map(move |mark: &Mark| MarkOnPage {
                    role: mark.role,
                    ink: placed.on_page(mark.ink()),
                    text: match &mark.shape {
                        Shape::Text(line) => Some(line.said()),
                        _ => None,
                    },
                    note: mark.note.and_then(|note| placed.frame.notes.get(note)),
                    frame,
                })
        })
    }

    /// Moves everything to the right.
    pub(crate) fn shift(&mut self, by: Micrometres) {
        for placed in &mut self.frames {
            placed.x += by;
        }
    }
}
