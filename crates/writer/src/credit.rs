//! The page's head as credits: title, subtitle, and the lines at its left and
//! right.
//!
//! Lines go left, right, left, right; one too long for half the page has a row
//! to itself, in the middle.

use std::borrow::Cow;

use score::{Imprint, Page, Score};

use crate::page;
use crate::sink::Sink;

/// The head laid out.
pub(crate) struct Credits<'a> {
    credits: Vec<Credit<'a>>,
    height: u32,
}

/// One text, its place counted in tenths of a millimetre.
struct Credit<'a> {
    text: Cow<'a, str>,
    style: &'static Style,
    side: Side,
    place: Place,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    /// From the top margin down to the text's top.
    Down(u32),
    /// From the paper's lower edge up to the text's foot.
    Up(u32),
}

struct Style {
    /// The standard's `credit-type`.
    kind: Option<&'static str>,
    points: u32,
    /// The standard's `font-weight`.
    weight: &'static str,
    /// From its top to the next row's.
    height: u32,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Centre,
    Right,
}

static TITLE: Style = Style {
    kind: Some("title"),
    points: 20,
    weight: "bold",
    height: 95,
};
static SUBTITLE: Style = Style {
    kind: Some("subtitle"),
    points: 12,
    weight: "normal",
    height: 65,
};
static LINE: Style = Style {
    kind: None,
    points: 10,
    weight: "normal",
    height: 50,
};

static COMPOSER: Style = Style {
    kind: Some("composer"),
    ..LINE
};
static RIGHTS: Style = Style {
    kind: Some("rights"),
    points: 8,
    weight: "normal",
    height: 40,
};
static FOOTER: Style = Style {
    kind: None,
    ..RIGHTS
};

/// From the head to the first staff: room for a rehearsal letter, words, a
/// tempo and chord symbols.
const ABOVE_FIRST_STAFF: u32 = 200;

impl<'a> Credits<'a> {
    /// The score's head on its page.
    pub(crate) fn of(score: &'a Score) -> Credits<'a> {
        let mut laid = Credits {
            credits: Vec::with_capacity(2 + score.head.len()),
            height: 0,
        };
        laid.place(&TITLE, Side::Centre, &score.title);
        laid.height += TITLE.height;
        if let Some(subtitle) = &score.subtitle {
            laid.place(&SUBTITLE, Side::Centre, subtitle);
            laid.height += SUBTITLE.height;
        }
        let Imprint {
            author,
            rights,
            footer,
            text,
        } = &score.imprint;
        if let Some(author) = author {
            laid.place(&COMPOSER, Side::Right, author);
            laid.height += COMPOSER.height;
        }
        for line in text
            .iter()
            .flat_map(|paragraph| wrapped(paragraph, score.page))
        {
            laid.place(&LINE, Side::Left, line);
            laid.height += LINE.height;
        }
        let mut up = page::margin(score.page) / 3;
        for (style, line) in [(&RIGHTS, rights), (&FOOTER, footer)] {
            if let Some(line) = line {
                laid.credits.push(Credit {
                    text: Cow::Borrowed(line),
                    style,
                    side: Side::Centre,
                    place: Place::Up(up),
                });
                up += style.height;
            }
        }
        let mut lines = score.head.iter().map(|line| line.text.as_str()).peekable();
        while let Some(line) = lines.next() {
            let fits = |line: &&str| fits_half(line, score.page);
            let beside = if fits(&line) {
                lines.next_if(fits)
            } else {
                None
            };
            let side = if fits(&line) {
                Side::Left
            } else {
                Side::Centre
            };
            laid.place(&LINE, side, line);
            if let Some(beside) = beside {
                laid.place(&LINE, Side::Right, beside);
            }
            laid.height += LINE.height;
        }
        laid
    }

    /// From the top margin to the first staff, in tenths of a millimetre.
    pub(crate) fn first_staff(&self) -> u32 {
        self.height + ABOVE_FIRST_STAFF
    }

    /// Every credit, as it is placed on the page.
    pub(crate) fn write(&self, sink: &mut Sink<'_>, page: Page) {
        let margin = page::margin(page);
        let (width, height) = (u32::from(page.width), u32::from(page.height));
        for Credit {
            text,
            style,
            side,
            place,
        } in &self.credits
        {
            sink.put("  <credit page=\"1\">\n");
            if let Some(kind) = style.kind {
                sink.put("    <credit-type>");
                sink.put(kind);
                sink.put("</credit-type>\n");
            }
            let (across, justify) = match side {
                Side::Left => (margin, "left"),
                Side::Centre => (width / 2, "center"),
                Side::Right => (width - margin, "right"),
            };
            sink.put("    <credit-words default-x=\"");
            page::length(sink, page, across);
            sink.put("\" default-y=\"");
            let (from_below, valign) = match *place {
                Place::Down(down) => (height.saturating_sub(margin + down), "top"),
                Place::Up(up) => (up, "bottom"),
            };
            page::length(sink, page, from_below);
            sink.put("\" font-size=\"");
            sink.number(style.points);
            sink.put("\" font-weight=\"");
            sink.put(style.weight);
            sink.put("\" justify=\"");
            sink.put(justify);
            sink.put("\" halign=\"");
            sink.put(justify);
            sink.put("\" valign=\"");
            sink.put(valign);
            sink.put("\">");
            sink.text(text);
            sink.put("</credit-words>\n  </credit>\n");
        }
    }

    fn place(&mut self, style: &'static Style, side: Side, text: impl Into<Cow<'a, str>>) {
        self.credits.push(Credit {
            text: text.into(),
            style,
            side,
            place: Place::Down(self.height),
        });
    }
}

/// The mean width of a letter: half its size, which is 10 points of 3.53
/// tenths of a millimetre.
const LETTER: usize = 18;

/// A paragraph in lines as wide as the page lets them be.
pub(crate) fn wrapped(paragraph: &str, page: Page) -> Vec<String> {
    let width = u32::from(page.width).saturating_sub(2 * page::margin(page)) as usize;
    let most = (width / LETTER).max(1);
    let mut lines: Vec<String> = Vec::new();
    for word in paragraph.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Whether a line leaves the other half of the page free.
fn fits_half(line: &str, page: Page) -> bool {
    let half = (u32::from(page.width) / 2).saturating_sub(page::margin(page)) as usize;
    line.chars().count() * LETTER <= half
}

#[cfg(test)]
mod tests {
    use score::{About, HeadLine};

    use super::*;
    use crate::tests::sheets;

    #[test]
    fn lines_go_left_and_right() {
        let check = |lines: &[&str], expected: &[(Side, u32)]| {
            let mut score = sheets::bare();
            score.head = lines
                .iter()
                .map(|line| HeadLine::new(About::Player, *line))
                .collect();
            let credits = Credits::of(&score);
            let placed: Vec<_> = credits.credits[1..]
                .iter()
                .map(|credit| match credit.place {
                    Place::Down(down) => (credit.side, down),
                    Place::Up(up) => (credit.side, 10_000 + up),
                })
                .collect();
            assert_eq!(placed, expected, "{lines:?}");
            assert!(
                expected
                    .last()
                    .is_none_or(|(_, down)| credits.first_staff() > down + LINE.height)
            );
        };
        let long = "start, step up, step up, up 3 steps, rest, repeat, skip down, step up";
        check(&[], &[]);
        check(&["Tuesday reeds"], &[(Side::Left, 95)]);
        check(
            &["a", "b", "c"],
            &[(Side::Left, 95), (Side::Right, 95), (Side::Left, 145)],
        );
        check(
            &["a", long, "b"],
            &[(Side::Left, 95), (Side::Centre, 145), (Side::Left, 195)],
        );
        check(
            &[long, "a", "b"],
            &[(Side::Centre, 95), (Side::Left, 145), (Side::Right, 145)],
        );
    }
}
