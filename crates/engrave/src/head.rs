//! The head of a sheet's first page: what it is at the left, for whom and in
//! which key at the right, the figure's moves under a rule.

use std::fmt::Write;

use score::{About, Score};

use crate::{Anchor, Hundredths, Line, Style, wrap};

const TITLE: Hundredths = 760;
const LONG_TITLE: Hundredths = 540;
const SUBTITLE: Hundredths = 420;
const INSTRUMENT: Hundredths = 430;
const SMALL: Hundredths = 350;

/// Between the two columns.
const GUTTER: Hundredths = 700;

/// From the head to the first system.
const AFTER: Hundredths = 650;

/// Draws a score's head, its top left corner at 0, 0; gives its height.
pub(crate) fn head(score: &Score, width: Hundredths, svg: &mut String) -> Hundredths {
    let about = |wanted: &[About]| -> Vec<&str> {
        let lines = score
            .head
            .iter()
            .filter(|line| wanted.contains(&line.about));
        lines.map(|line| line.text.as_str()).collect()
    };
    let mut right = Column::new(width, Anchor::End, width * 38 / 100);
    right.text(&score.part.name, Style::Bold, INSTRUMENT);
    right.texts(&about(&[About::Key]), Style::Roman, SMALL + 40);
    right.texts(&about(&[About::Sheet]), Style::Bold, SMALL);
    right.texts(&about(&[About::Player, About::Keys]), Style::Roman, SMALL);

    let mut left = Column::new(0, Anchor::Start, width - right.reach - GUTTER);
    let long = wrap(&score.title, Style::Bold, TITLE, left.width).len() > 1;
    let size = if long { LONG_TITLE } else { TITLE };
    left.text(&score.title, Style::Bold, size);
    if let Some(subtitle) = &score.subtitle {
        left.down += SUBTITLE * 15 / 100;
        left.text(subtitle, Style::Italic, SUBTITLE);
    }
    let mut down = left.down.max(right.down) + 220;
    for column in [&left, &right] {
        svg.push_str(&column.svg);
    }
    // Writing to a string can't fail.
    let _ = writeln!(
        svg,
        "<path d=\"M0 {down} H{width}\" stroke=\"#000\" stroke-width=\"20\"/>"
    );
    down += 130;
    let mut under = Column::new(0, Anchor::Start, width);
    under.down = down;
    under.texts(&about(&[About::Figure]), Style::Italic, SMALL);
    under.texts(&about(&[About::Care]), Style::Roman, SMALL - 30);
    svg.push_str(&under.svg);
    under.down + AFTER
}

/// Lines of text under each other.
struct Column {
    x: Hundredths,
    anchor: Anchor,
    width: Hundredths,
    /// Where the next line's top is.
    down: Hundredths,
    /// The widest line.
    reach: Hundredths,
    svg: String,
}

impl Column {
    fn new(x: Hundredths, anchor: Anchor, width: Hundredths) -> Column {
        Column {
            x,
            anchor,
            width,
            down: 0,
            reach: 0,
            svg: String::new(),
        }
    }

    fn texts(&mut self, texts: &[&str], style: Style, size: Hundredths) {
        for text in texts {
            self.text(text, style, size);
        }
    }

    fn text(&mut self, text: &str, style: Style, size: Hundredths) {
        for text in wrap(text, style, size, self.width) {
            let line = Line::new().text(style, &text).size(size);
            self.reach = self.reach.max(line.width());
            line.at(self.x, self.down + size * 78 / 100)
                .anchor(self.anchor)
                .svg(&mut self.svg);
            self.down += size * 128 / 100;
        }
    }
}
