//! What stands at a page's head and foot: what it belongs to, and its number.

use score::{About, Score};

use crate::fonts::Style;
use crate::mark::{Frame, Mark, Role, Tag};
use crate::page::Page;
use crate::place::Micrometres;
use crate::sheet::{OVER, SIDE};
use crate::text::{Anchor, Line, shorten, width};

/// Lines at the heads and feet of pages that belong together.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Foot {
    title: String,
    rest: String,
    /// What the sheet's key is called.
    key: String,
    /// On what terms it may be used; under the first page.
    rights: String,
}

impl Foot {
    /// From a title, which is cut short where the line is too long, and what
    /// follows it: the instrument, the edition. What is empty is left out.
    pub fn new(title: &str, rest: &[&str]) -> Foot {
        let rest = rest.iter().filter(|text| !text.trim().is_empty());
        Foot {
            title: title.to_owned(),
            rest: rest.map(|text| format!(" · {text}")).collect(),
            ..Foot::default()
        }
    }

    /// That of a score: its title, instrument (or what stands for it) and, by
    /// itself, edition.
    pub fn of(score: &Score, name: &str, in_book: bool) -> Foot {
        let line = |about: About| {
            let found = score.head.iter().find(|line| line.about == about);
            found.map_or("", |line| line.text.as_str())
        };
        let edition = if in_book { "" } else { line(About::Edition) };
        let said = score.imprint.footer.as_deref().unwrap_or_default();
        Foot {
            key: line(About::Key).to_owned(),
            rights: score.imprint.rights.clone().unwrap_or_default(),
            ..Foot::new(&score.title, &[name, edition, said])
        }
    }

    /// The pages of one sheet: the line under each, and, of several, `page 1
    /// of 3`; from the second on that is in a running head, with the sheet's
    /// key.
    pub fn of_sheet(&self, pages: &mut [Page]) {
        let count = pages.len();
        for (place, page) in pages.iter_mut().enumerate() {
            let number = if count > 1 {
                format!("page {} of {count}", place + 1)
            } else {
                String::new()
            };
            if place == 0 {
                self.terms(page);
            }
            if place > 0 {
                self.running(page, &number);
                self.write(page, "", Style::Roman, Anchor::End);
            } else {
                self.write(page, &number, Style::Roman, Anchor::End);
            }
        }
    }

    /// A page of a book: its number at the outer edge, left on even pages, and
    /// the line at the inner one.
    pub fn of_book(&self, page: &mut Page, number: usize) {
        let outer = if number.is_multiple_of(2) {
            Anchor::Start
        } else {
            Anchor::End
        };
        self.write(page, &number.to_string(), Style::Bold, outer);
    }

    /// Over the pages of a chapter after its first: what it is.
    pub(crate) fn over_chapter(pages: &mut [Page], title: &str, key: &str) {
        let head = Foot {
            key: key.to_owned(),
            ..Foot::new(title, &[])
        };
        for page in pages.iter_mut().skip(1) {
            head.running(page, "");
        }
    }

    /// The line over a page, a rule under it.
    fn running(&self, page: &mut Page, number: &str) {
        let (left, right) = (SIDE, page.paper.width() - SIDE);
        let y = OVER - RUNNING;
        let mut frame = Frame::new(Tag::Artifact);
        let key = [self.key.as_str(), number];
        let key: Vec<&str> = key.into_iter().filter(|text| !text.is_empty()).collect();
        let key = Line::new().roman(&key.join(" · ")).size(SIZE);
        let room = right - left - key.width() - GAP;
        let line = Line::new().italic(&self.line(room)).size(SIZE);
        for line in [line.at(left, y), key.at(right, y).anchor(Anchor::End)] {
            if line.width() > 0 {
                frame.marks.push(Mark::text(Role::Text, line));
            }
        }
        page.put(frame, 0, 0);
    }

    /// The terms, over the line at the foot.
    fn terms(&self, page: &mut Page) {
        let room = page.paper.width() - 2 * SIDE;
        let text = shorten(&self.rights, Style::Roman, SIZE, room);
        let y = page.paper.height() - BASELINE - SIZE * 14 / 10;
        let line = Line::new().roman(&text).size(SIZE).at(SIDE, y);
        let mut frame = Frame::new(Tag::Paragraph);
        if line.width() > 0 {
            frame.marks.push(Mark::text(Role::Text, line));
        }
        page.put(frame, 0, 0);
    }

    /// `side` is where the number stands.
    fn write(&self, page: &mut Page, number: &str, style: Style, side: Anchor) {
        let (left, right) = (SIDE, page.paper.width() - SIDE);
        let y = page.paper.height() - BASELINE;
        let (inner, other, outer) = match side {
            Anchor::Start => (right, Anchor::End, left),
            _ => (left, Anchor::Start, right),
        };
        let number = Line::new().text(style, number).size(SIZE);
        let room = right - left - number.width() - GAP;
        let line = Line::new().roman(&self.line(room)).size(SIZE);
        let mut frame = Frame::new(Tag::Artifact);
        for line in [
            number.at(outer, y).anchor(side),
            line.at(inner, y).anchor(other),
        ] {
            if line.width() > 0 {
                frame.marks.push(Mark::text(Role::Text, line));
            }
        }
        page.put(frame, 0, 0);
    }

    fn line(&self, room: Micrometres) -> String {
        let rest = shorten(&self.rest, Style::Roman, SIZE, room / 2);
        let left = room - width(&rest, Style::Roman, SIZE);
        format!("{}{rest}", shorten(&self.title, Style::Roman, SIZE, left))
    }
}

/// Over the paper's lower edge, clear of what printers leave out.
const BASELINE: Micrometres = 10_000;
/// Over the music's upper edge.
const RUNNING: Micrometres = 1_000;
const SIZE: Micrometres = 3_100;
const GAP: Micrometres = 8_000;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::Paper;

    fn blank() -> Page {
        Page::new(Paper::A4, "")
    }

    fn texts(page: &Page) -> Vec<String> {
        page.seen().filter_map(|seen| seen.text).collect()
    }

    #[test]
    fn under_sheets() {
        let mut foot = Foot::new("Lantern Stairs", &["Trombone", "", "large print"]);
        foot.key = "Concert C".to_owned();
        let mut pages = [blank()];
        foot.of_sheet(&mut pages);
        assert_eq!(
            texts(&pages[0]),
            ["Lantern Stairs · Trombone · large print"]
        );
        let mut pages = [blank(), blank()];
        foot.of_sheet(&mut pages);
        assert_eq!(
            texts(&pages[1]),
            [
                "Lantern Stairs · Trombone · large print",
                "Concert C · page 2 of 2",
                "Lantern Stairs · Trombone · large print",
            ]
        );
    }

    #[test]
    fn numbers_stand_outside() {
        let foot = Foot::new("Lantern Stairs", &[]);
        let check = |number: usize, left: Micrometres| {
            let mut page = blank();
            foot.of_book(&mut page, number);
            assert_eq!(
                texts(&page),
                [number.to_string().as_str(), "Lantern Stairs"]
            );
            let first = page.seen().next().unwrap();
            assert!((first.ink.left - left).abs() < 5_000, "{first:?}");
        };
        check(12, SIDE);
        check(13, 210_000 - SIDE);
    }

    #[test]
    fn long_titles_leave_room() {
        let foot = Foot::new(
            &"Seventeen Stairs ".repeat(30),
            &["Trombone", &"so on ".repeat(60)],
        );
        let line = foot.line(100_000);
        assert!(
            line.contains("… · Trombone · so on") && line.ends_with('…'),
            "{line}"
        );
        assert!(width(&line, Style::Roman, SIZE) <= 100_000);
    }
}
