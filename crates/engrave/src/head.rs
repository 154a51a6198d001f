//! The head of a sheet's first page: what it is at the left, for whom and in
//! which key at the right, the figure's moves under a rule.

use score::{About, Score};

use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::Micrometres;
use crate::{Anchor, Line, Style, wrap};

const TITLE: Micrometres = 7_600;
const LONG_TITLE: Micrometres = 5_400;
const SUBTITLE: Micrometres = 4_200;
const INSTRUMENT: Micrometres = 4_300;
const SMALL: Micrometres = 3_500;

/// Between the two columns.
const GUTTER: Micrometres = 7_000;

/// From the head to the first system.
const AFTER: Micrometres = 6_500;

/// A score's head as frames, its top left corner at 0, 0, and its height;
/// `name` is that of the instrument.
pub(crate) fn head(score: &Score, name: &str, width: Micrometres) -> (Vec<Frame>, Micrometres) {
    let about = |wanted: &[About]| -> Vec<&str> {
        let lines = score
            .head
            .iter()
            .filter(|line| wanted.contains(&line.about));
        lines.map(|line| line.text.as_str()).collect()
    };
    let mut right = Column::new(width, Anchor::End, width * 38 / 100);
    right.text(name, Style::Bold, INSTRUMENT);
    right.texts(&about(&[About::Key]), Style::Roman, SMALL + 400);
    right.texts(&about(&[About::Sheet]), Style::Bold, SMALL);
    right.texts(&about(&[About::Player, About::Keys]), Style::Roman, SMALL);
    let author: Vec<&str> = score.imprint.author.as_deref().into_iter().collect();
    right.texts(&author, Style::Italic, SMALL);

    let mut left = Column::new(0, Anchor::Start, width - right.reach - GUTTER);
    let long = wrap(&score.title, Style::Bold, TITLE, left.width).len() > 1;
    let size = if long { LONG_TITLE } else { TITLE };
    left.text(&score.title, Style::Bold, size);
    let title = std::mem::take(&mut left.frame);
    if let Some(subtitle) = &score.subtitle {
        left.down += SUBTITLE * 15 / 100;
        left.text(subtitle, Style::Italic, SUBTITLE);
    }
    let mut down = left.down.max(right.down) + 2_200;
    let mut rule = Frame::new(Tag::Artifact);
    rule.marks
        .push(Mark::line(Role::Text, (0, down), (width, down), 200));
    down += 1_300;
    let mut under = Column::new(0, Anchor::Start, width);
    under.down = down;
    for paragraph in &score.imprint.text {
        under.text(paragraph, Style::Roman, SMALL);
        under.down += SMALL / 3;
    }
    under.texts(&about(&[About::Figure]), Style::Italic, SMALL);
    under.texts(&about(&[About::Care]), Style::Roman, SMALL - 300);
    let height = under.down + AFTER;
    let title = Frame {
        tag: Tag::Title(score.title.clone()),
        ..title
    };
    (
        vec![title, left.frame, right.frame, rule, under.frame],
        height,
    )
}

/// Lines of text under each other.
struct Column {
    x: Micrometres,
    anchor: Anchor,
    width: Micrometres,
    /// Where the next line's top is.
    down: Micrometres,
    /// The widest line.
    reach: Micrometres,
    frame: Frame,
}

impl Column {
    fn new(x: Micrometres, anchor: Anchor, width: Micrometres) -> Column {
        Column {
            x,
            anchor,
            width,
            down: 0,
            reach: 0,
            frame: Frame::new(Tag::Paragraph),
        }
    }

    fn texts(&mut self, texts: &[&str], style: Style, size: Micrometres) {
        for text in texts {
            self.text(text, style, size);
        }
    }

    fn text(&mut self, text: &str, style: Style, size: Micrometres) {
        for text in wrap(text, style, size, self.width) {
            let line = Line::new().text(style, &text).size(size);
            self.reach = self.reach.max(line.width());
            let line = line.at(self.x, self.down + size * 78 / 100);
            let mark = Mark::text(Role::Text, line.anchor(self.anchor));
            self.frame.marks.push(mark);
            self.down += size * 128 / 100;
        }
    }
}
