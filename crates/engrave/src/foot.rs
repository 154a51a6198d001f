//! What stands at the foot of a page: what it belongs to, and its number.

use crate::text::shorten;
use crate::{Anchor, Hundredths, Line, Page, Style};

/// How much of a page the foot takes, from the paper's lower edge.
pub const FOOT: Hundredths = 1_700;

/// A line at the foot of pages that belong together.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Foot {
    title: String,
    rest: String,
}

impl Foot {
    /// From a title, which is cut short where the line is too long, and what
    /// follows it: the instrument, the edition. What is empty is left out.
    pub fn new(title: &str, rest: &[&str]) -> Foot {
        let rest = rest.iter().filter(|text| !text.trim().is_empty());
        Foot {
            title: title.to_owned(),
            rest: rest.map(|text| format!(" · {text}")).collect(),
        }
    }

    /// Under the pages of one sheet: the line at the left and, of several,
    /// `page 2 of 3` at the right.
    pub fn of_sheet(&self, pages: &mut [Page]) {
        let count = pages.len();
        for (place, page) in pages.iter_mut().enumerate() {
            let number = if count > 1 {
                format!("page {} of {count}", place + 1)
            } else {
                String::new()
            };
            self.write(page, &number, Style::Roman, Anchor::End);
        }
    }

    /// Under a page of a book: its number at the outer edge, left on even
    /// pages, and the line at the inner one.
    pub fn of_book(&self, page: &mut Page, number: usize) {
        let outer = if number.is_multiple_of(2) {
            Anchor::Start
        } else {
            Anchor::End
        };
        self.write(page, &number.to_string(), Style::Bold, outer);
    }

    /// `side` is where the number stands.
    fn write(&self, page: &mut Page, number: &str, style: Style, side: Anchor) {
        let (left, right) = (MARGIN, page.paper.width() - MARGIN);
        let y = page.paper.height() - BASELINE;
        let (inner, other, outer) = match side {
            Anchor::Start => (right, Anchor::End, left),
            _ => (left, Anchor::Start, right),
        };
        let number = Line::new().text(style, number).size(SIZE);
        let room = right - left - number.width() - GAP;
        let line = self.line(room);
        number.at(outer, y).anchor(side).svg(&mut page.body);
        let line = Line::new().roman(&line).size(SIZE);
        line.at(inner, y).anchor(other).svg(&mut page.body);
    }

    fn line(&self, room: Hundredths) -> String {
        let rest = shorten(&self.rest, Style::Roman, SIZE, room / 2);
        let left = room - crate::width(&rest, Style::Roman, SIZE);
        format!("{}{rest}", shorten(&self.title, Style::Roman, SIZE, left))
    }
}

const MARGIN: Hundredths = 1_500;
/// Over the paper's lower edge, clear of what printers leave out.
const BASELINE: Hundredths = 1_000;
const SIZE: Hundredths = 310;
const GAP: Hundredths = 800;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Paper, width};

    fn blank() -> Page {
        Page {
            paper: Paper::A4,
            title: String::new(),
            body: String::new(),
        }
    }

    fn says(body: &str, expected: &[&str]) {
        let texts: Vec<&str> = body
            .lines()
            .map(|line| {
                let text = line
                    .trim_end_matches("</tspan></text>")
                    .trim_end_matches("</text>");
                text.rsplit_once('>').unwrap().1
            })
            .collect();
        assert_eq!(texts, expected, "{body}");
    }

    #[test]
    fn under_sheets() {
        let foot = Foot::new("Lantern Stairs", &["Trombone", "", "large print"]);
        let mut pages = [blank()];
        foot.of_sheet(&mut pages);
        says(&pages[0].body, &["Lantern Stairs · Trombone · large print"]);
        let mut pages = [blank(), blank()];
        foot.of_sheet(&mut pages);
        says(
            &pages[1].body,
            &["page 2 of 2", "Lantern Stairs · Trombone · large print"],
        );
    }

    #[test]
    fn numbers_stand_outside() {
        let foot = Foot::new("Lantern Stairs", &[]);
        let check = |number: usize, expected: &str| {
            let mut page = blank();
            foot.of_book(&mut page, number);
            assert!(page.body.starts_with(expected), "{}", page.body);
            says(&page.body, &[&number.to_string(), "Lantern Stairs"]);
        };
        check(12, "<text x=\"1500\" ");
        check(13, "<text x=\"19500\" ");
    }

    #[test]
    fn long_titles_leave_room() {
        let foot = Foot::new(
            &"Seventeen Stairs ".repeat(30),
            &["Trombone", &"so on ".repeat(60)],
        );
        let line = foot.line(10_000);
        assert!(
            line.contains("… · Trombone · so on") && line.ends_with('…'),
            "{line}"
        );
        assert!(width(&line, Style::Roman, SIZE) <= 10_000);
    }
}
