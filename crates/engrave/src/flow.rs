//! Text set downwards, page after page.

use crate::mark::{Frame, Mark, Role, Shape, Tag};
use crate::place::{Ink, Micrometres};
use crate::text::wrap;
use crate::{Line, Page, Paper, Style};

/// Margins of what is set so.
pub(crate) const MARGIN: Micrometres = 25_000;
const TOP: Micrometres = 22_000;
/// Room for the foot.
const BOTTOM: Micrometres = 23_000;

/// Where the next line goes.
#[derive(Debug)]
pub(crate) struct Flow {
    paper: Paper,
    title: String,
    pages: Vec<Page>,
    frame: Frame,
    /// The lower edge of what stands on the last page.
    pub(crate) y: Micrometres,
}

impl Flow {
    /// An empty page; `title` is what a screen reader says of each.
    pub(crate) fn new(paper: Paper, title: &str) -> Flow {
        let mut flow = Flow {
            paper,
            title: title.to_owned(),
            pages: Vec::new(),
            frame: Frame::new(Tag::Paragraph),
            y: TOP,
        };
        flow.turn();
        flow
    }

    fn turn(&mut self) {
        self.end(Tag::Paragraph);
        self.pages.push(Page::new(self.paper, self.title.as_str()));
        self.y = TOP;
    }

    /// The page that is being filled, the first being 0.
    pub(crate) fn page(&self) -> usize {
        self.pages.len().saturating_sub(1)
    }

    /// From margin to margin.
    pub(crate) fn width(&self) -> Micrometres {
        self.paper.width() - 2 * MARGIN
    }

    /// Goes on on a new page where so much has no room on this one.
    pub(crate) fn keep(&mut self, height: Micrometres) {
        if self.y + height > self.paper.height() - BOTTOM && self.y > TOP {
            self.turn();
        }
    }

    pub(crate) fn down(&mut self, by: Micrometres) {
        self.y += by;
    }

    /// Lines of a text, broken where they are too wide.
    pub(crate) fn text(&mut self, text: &str, style: Style, size: Micrometres) {
        for line in wrap(text, style, size, self.width()) {
            self.keep(size * 14 / 10);
            self.y += size * 14 / 10;
            let line = Line::new().text(style, &line).size(size);
            self.line(line.at(MARGIN, self.y - size * 4 / 10));
        }
    }

    /// A line at its place.
    pub(crate) fn line(&mut self, line: Line) {
        if line.width() > 0 {
            self.frame.marks.push(Mark::text(Role::Text, line));
        }
    }

    /// A box to tick or a rule to write on.
    pub(crate) fn shape(&mut self, shape: Shape) {
        self.frame.marks.push(Mark::new(Role::Text, shape));
    }

    /// An empty box, its lower left corner at a point.
    pub(crate) fn tick(&mut self, x: Micrometres, y: Micrometres, side: Micrometres) {
        self.shape(Shape::Frame {
            ink: Ink::new(x, y - side, x + side, y),
            thick: 220,
        });
    }

    /// What was set since the last end is one thing, and this is what it is.
    pub(crate) fn end(&mut self, tag: Tag) {
        let frame = Frame {
            tag,
            ..std::mem::replace(&mut self.frame, Frame::new(Tag::Paragraph))
        };
        if let Some(page) = self.pages.last_mut() {
            page.put(frame, 0, 0);
        }
    }

    /// The pages.
    pub(crate) fn finish(mut self) -> Vec<Page> {
        self.end(Tag::Paragraph);
        self.pages
    }
}
