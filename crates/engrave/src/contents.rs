//! A book's list of what is where.

use crate::text::wrap_short;
use crate::{Anchor, Hundredths, Line, Link, Page, Paper, Style};

/// A line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) rank: Rank,
    pub(crate) name: String,
    /// The page it leads to, of those that follow the list, the first being 0.
    pub(crate) page: usize,
}

/// What a line of the list is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rank {
    /// A part of the book.
    Part,
    /// A key.
    Chapter,
    /// An exercise.
    Section,
}

/// The list as pages, and the links on them. `before` is how many pages stand
/// before it in the book, in which the links count.
pub(crate) fn contents(entries: &[Entry], paper: Paper, before: usize) -> (Vec<Page>, Vec<Link>) {
    let rows = rows(entries, paper);
    let sheets = sheets(&rows, paper);
    let first = before + sheets.len();
    let mut pages = Vec::new();
    let mut links = Vec::new();
    for (sheet, range) in sheets.iter().enumerate() {
        let mut body = String::new();
        if sheet == 0 {
            let heading = Line::new().bold(HEADING).size(720);
            heading.at(MARGIN, TOP).svg(&mut body);
        }
        let mut y = start(sheet);
        for (place, row) in rows[range.clone()].iter().enumerate() {
            // What stands over a row is for between rows.
            y += if place == 0 { 0 } else { row.above };
            row.svg(y, paper, first, &mut body);
            links.push(Link {
                on: before + sheet,
                area: [
                    MARGIN + row.indent,
                    y - row.size,
                    paper.width() - 2 * MARGIN - row.indent,
                    row.height(),
                ],
                to: first + row.page,
                title: row.lines.join(" "),
            });
            y += row.height();
        }
        pages.push(Page {
            paper,
            title: HEADING.to_owned(),
            body,
        });
    }
    (pages, links)
}

/// An entry, set.
struct Row {
    lines: Vec<String>,
    style: Style,
    size: Hundredths,
    indent: Hundredths,
    /// Room over it.
    above: Hundredths,
    /// Whether dots lead to its number.
    leader: bool,
    /// Whether the next row belongs to it.
    heads: bool,
    page: usize,
}

impl Row {
    fn pitch(&self) -> Hundredths {
        self.size * 14 / 10
    }

    fn height(&self) -> Hundredths {
        self.pitch() * self.lines.len() as Hundredths
    }

    /// `y` is its first baseline, `first` the page that its page counts from.
    fn svg(&self, y: Hundredths, paper: Paper, first: usize, body: &mut String) {
        let x = MARGIN + self.indent;
        let right = paper.width() - MARGIN;
        let mut last = (x, y);
        for (line, text) in (0..).zip(&self.lines) {
            let y = y + line * self.pitch();
            let line = Line::new().text(self.style, text).size(self.size).at(x, y);
            last = (x + line.width(), y);
            line.svg(body);
        }
        let (end, y) = last;
        let number = (first + self.page + 1).to_string();
        let number = Line::new().text(self.style, &number).size(self.size);
        let (from, to) = (end + DOT, right - number.width() - DOT / 2);
        if self.leader && from + 3 * DOT < to {
            // From the right edge, so that the dots of all rows stand in line.
            let begin = right - (right - to + DOT - 1) / DOT * DOT;
            body.push_str(&format!(
                "<path d=\"M{begin} {y}H{from}\" stroke=\"#000\" stroke-width=\"32\" \
                 stroke-linecap=\"round\" stroke-dasharray=\"0 {DOT}\"/>\n"
            ));
        }
        number.at(right, y).anchor(Anchor::End).svg(body);
    }
}

fn rows(entries: &[Entry], paper: Paper) -> Vec<Row> {
    let mut rows = Vec::with_capacity(entries.len());
    for (place, entry) in entries.iter().enumerate() {
        let (style, size, indent, above) = match entry.rank {
            Rank::Part => (Style::BoldItalic, 480, 0, 600),
            Rank::Chapter => (Style::Bold, 400, 0, 280),
            Rank::Section => (Style::Roman, 360, 600, 0),
        };
        let width = paper.width() - 2 * MARGIN - indent - NUMBER;
        let next = entries.get(place + 1);
        let heads = entry.rank != Rank::Section
            && next.is_some_and(|next| next.rank as u8 > entry.rank as u8);
        rows.push(Row {
            lines: wrap_short(&entry.name, style, size, width, 3),
            style,
            size,
            indent,
            above,
            leader: !heads,
            heads,
            page: entry.page,
        });
    }
    rows
}

/// Which rows each page has. A row that heads others doesn't end a page.
fn sheets(rows: &[Row], paper: Paper) -> Vec<std::ops::Range<usize>> {
    let bottom = paper.height() - BOTTOM;
    let mut sheets = Vec::new();
    let mut from = 0;
    while from < rows.len() || sheets.is_empty() {
        let mut y = start(sheets.len());
        let mut to = from;
        while let Some(row) = rows.get(to) {
            let above = if to == from { 0 } else { row.above };
            if y + above + row.height() > bottom && to > from {
                break;
            }
            y += above + row.height();
            to += 1;
        }
        let heads = |row: &Row| row.heads;
        while to < rows.len() && to > from + 1 && heads(&rows[to - 1]) {
            to -= 1;
        }
        sheets.push(from..to);
        from = to;
    }
    sheets
}

/// The first baseline of a page of the list.
fn start(sheet: usize) -> Hundredths {
    if sheet == 0 { TOP + 1_300 } else { TOP }
}

const HEADING: &str = "Contents";
const MARGIN: Hundredths = 2_500;
const TOP: Hundredths = 2_900;
/// Room for the foot.
const BOTTOM: Hundredths = 2_300;
/// Room for the widest number and some dots.
const NUMBER: Hundredths = 1_600;
/// From dot to dot.
const DOT: Hundredths = 170;

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(rank: Rank, name: &str, page: usize) -> Entry {
        Entry {
            rank,
            name: name.to_owned(),
            page,
        }
    }

    /// So many keys of so many exercises.
    fn entries(chapters: usize, sections: usize) -> Vec<Entry> {
        let chapter = |chapter: usize| {
            let head = entry(Rank::Chapter, &format!("key {chapter}"), chapter);
            let sections = (0..sections)
                .map(move |section| entry(Rank::Section, &format!("exercise {section}"), chapter));
            std::iter::once(head).chain(sections)
        };
        (0..chapters).flat_map(chapter).collect()
    }

    fn texts(page: &Page) -> Vec<&str> {
        page.body
            .lines()
            .filter(|line| line.starts_with("<text"))
            .map(|line| {
                let line = line
                    .trim_end_matches("</text>")
                    .trim_end_matches("</tspan>");
                line.rsplit_once('>').unwrap().1
            })
            .collect()
    }

    #[test]
    fn numbers_count_the_pages_before() {
        let list = [
            entry(Rank::Chapter, "C", 0),
            entry(Rank::Section, "Scale", 0),
            entry(Rank::Section, "Figure", 1),
            entry(Rank::Part, "Answers", 2),
            entry(Rank::Chapter, "C", 3),
        ];
        let (pages, links) = contents(&list, Paper::A4, 1);
        assert_eq!(pages.len(), 1);
        let expected = "Contents C 3 Scale 3 Figure 4 Answers 5 C 6";
        assert_eq!(texts(&pages[0]).join(" "), expected);
        let to: Vec<(usize, usize)> = links.iter().map(|link| (link.on, link.to)).collect();
        assert_eq!(to, [(1, 2), (1, 2), (1, 3), (1, 4), (1, 5)]);
        // Only what heads nothing has its dots.
        assert_eq!(pages[0].body.matches("dasharray").count(), 3);
    }

    #[test]
    fn a_long_list_takes_more_pages() {
        let check = |chapters: usize, sections: usize, pages: usize| {
            let list = entries(chapters, sections);
            let (found, links) = contents(&list, Paper::A4, 1);
            assert_eq!(found.len(), pages, "{chapters} {sections}");
            assert_eq!(links.len(), list.len());
            for link in &links {
                let [x, y, width, height] = link.area;
                assert!(x >= 2_500 && x + width <= 18_500, "{link:?}");
                assert!(y >= 2_000 && y + height <= 29_700 - 1_700, "{link:?}");
            }
            // A list of two pages is followed by the first key on page 4.
            assert_eq!(links[0].to, 1 + pages);
        };
        check(1, 0, 1);
        check(12, 1, 1);
        check(12, 6, 2);
        check(60, 30, 40);
    }

    #[test]
    fn no_key_ends_a_page() {
        for sections in 1..12 {
            let (pages, _) = contents(&entries(40, sections), Paper::Letter, 1);
            for page in &pages {
                let texts = texts(page);
                let last = texts[texts.len() - 2];
                assert!(last.starts_with("exercise"), "{sections} {last}");
            }
        }
    }

    #[test]
    fn long_names_take_three_lines_at_most() {
        let name = "of the seventeen stairs down to the ferry ".repeat(20);
        let list = [entry(Rank::Chapter, "C", 0), entry(Rank::Section, &name, 0)];
        let (pages, _) = contents(&list, Paper::A4, 1);
        let texts = texts(&pages[0]);
        assert_eq!(texts.len(), 1 + 2 + 3 + 1);
        assert!(texts[5].ends_with('…'), "{texts:?}");
    }

    #[test]
    fn an_empty_book_has_an_empty_list() {
        let (pages, links) = contents(&[], Paper::A4, 1);
        assert_eq!((pages.len(), links.len()), (1, 0));
    }
}
