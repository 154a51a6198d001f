//! A book's list of what is where.

use crate::mark::{Frame, Mark, Role, Shape, Tag};
use crate::place::Micrometres;
use crate::text::wrap_short;
use crate::{Anchor, Line, Link, Page, Paper, Style};

/// A line of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) rank: Rank,
    pub(crate) name: String,
    /// The page it leads to, of those that follow the list, the first being 0.
    pub(crate) page: usize,
    /// Instead of a name, keys side by side, each with its page.
    pub(crate) keys: Vec<(String, usize)>,
}

impl Entry {
    pub(crate) fn new(rank: Rank, name: impl Into<String>, page: usize) -> Entry {
        Entry {
            rank,
            name: name.into(),
            page,
            keys: Vec::new(),
        }
    }
}

/// What a line of the list is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Rank {
    /// A part of the book.
    Part,
    /// A lesson; in a book of one lesson a key.
    Chapter,
    /// A lesson's key; in a book of one lesson an exercise.
    Section,
    /// An exercise under a lesson's key.
    Exercise,
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
        let mut page = Page::new(paper, HEADING);
        if sheet == 0 {
            let heading = Line::new().bold(HEADING).size(7_200);
            let mut frame = Frame::new(Tag::Heading(HEADING.to_owned()));
            let mark = Mark::text(Role::Text, heading.at(MARGIN, TOP));
            frame.marks.push(mark);
            page.put(frame, 0, 0);
        }
        let mut y = start(sheet);
        for (place, row) in rows[range.clone()].iter().enumerate() {
            // What stands over a row is for between rows.
            y += if place == 0 { 0 } else { row.above };
            page.put(row.frame(y, paper, first), 0, 0);
            links.extend(row.links(y, paper).map(|(area, page, title)| Link {
                on: before + sheet,
                area,
                to: first + page,
                title,
            }));
            y += row.height();
        }
        pages.push(page);
    }
    (pages, links)
}

/// An entry, set.
struct Row {
    lines: Vec<String>,
    style: Style,
    size: Micrometres,
    indent: Micrometres,
    /// Room over it.
    above: Micrometres,
    /// Whether dots lead to its number.
    leader: bool,
    /// Whether the next row belongs to it.
    heads: bool,
    page: usize,
    /// Instead of all that, keys side by side.
    keys: Vec<(String, usize)>,
}

impl Row {
    fn pitch(&self) -> Micrometres {
        self.size * 14 / 10
    }

    fn height(&self) -> Micrometres {
        self.pitch() * self.lines.len() as Micrometres
    }

    /// The room of each thing that it leads to, its page, and what it is.
    fn links(
        &self,
        y: Micrometres,
        paper: Paper,
    ) -> impl Iterator<Item = ([Micrometres; 4], usize, String)> {
        let (left, top) = (MARGIN + self.indent, y - self.size);
        let whole = [left, top, paper.width() - MARGIN - left, self.height()];
        let whole = self
            .keys
            .is_empty()
            .then(|| (whole, self.page, self.lines.join(" ")));
        let keys = self.places(y, paper).map(move |(x, y, (name, page))| {
            let area = [x, y - self.size, KEY - DOT, self.pitch()];
            (area, *page, name.clone())
        });
        whole.into_iter().chain(keys)
    }

    /// Where each key stands.
    fn places(
        &self,
        y: Micrometres,
        paper: Paper,
    ) -> impl Iterator<Item = (Micrometres, Micrometres, &(String, usize))> {
        let left = MARGIN + self.indent;
        let columns = self.columns(paper);
        self.keys.iter().enumerate().map(move |(place, key)| {
            let (line, column) = (place / columns, place % columns);
            let x = left + column as Micrometres * KEY;
            (x, y + line as Micrometres * self.pitch(), key)
        })
    }

    fn columns(&self, paper: Paper) -> usize {
        columns(paper, self.indent)
    }

    /// `y` is its first baseline, `first` the page that its page counts from.
    fn frame(&self, y: Micrometres, paper: Paper, first: usize) -> Frame {
        let mut frame = Frame::new(Tag::Paragraph);
        if !self.keys.is_empty() {
            for (x, y, (name, page)) in self.places(y, paper) {
                let name = Line::new().roman(name).size(self.size).at(x, y);
                let room = x + (name.width() + 1_200).max(KEY_NAME);
                let number = Line::new().italic(&(first + page + 1).to_string());
                let number = number.size(self.size * 85 / 100).at(room, y);
                for line in [name, number] {
                    frame.marks.push(Mark::text(Role::Text, line));
                }
            }
            return frame;
        }
        let mut set = |line: Line| frame.marks.push(Mark::text(Role::Text, line));
        let x = MARGIN + self.indent;
        let right = paper.width() - MARGIN;
        let mut last = (x, y);
        for (line, text) in (0..).zip(&self.lines) {
            let y = y + line * self.pitch();
            let line = Line::new().text(self.style, text).size(self.size).at(x, y);
            last = (x + line.width(), y);
            set(line);
        }
        let (end, y) = last;
        let number = (first + self.page + 1).to_string();
        let number = Line::new().text(self.style, &number).size(self.size);
        let (from, to) = (end + DOT, right - number.width() - DOT / 2);
        set(number.at(right, y).anchor(Anchor::End));
        if self.leader && from + 3 * DOT < to {
            // From the right edge, so that the dots of all rows stand in line.
            let begin = right - (right - to + DOT - 1) / DOT * DOT;
            let from = begin - (begin - from) / DOT * DOT;
            let dots = Shape::Dots {
                from: (from, y),
                to: begin,
                step: DOT,
                thick: 320,
            };
            frame.marks.push(Mark::new(Role::Text, dots));
        }
        frame
    }
}

fn rows(entries: &[Entry], paper: Paper) -> Vec<Row> {
    let mut rows = Vec::with_capacity(entries.len());
    for (place, entry) in entries.iter().enumerate() {
        let (style, size, indent, above) = match entry.rank {
            Rank::Part => (Style::BoldItalic, 4_800, 0, 6_000),
            Rank::Chapter => (Style::Bold, 4_000, 0, 2_800),
            Rank::Section => (Style::Roman, 3_600, 6_000, 0),
            Rank::Exercise => (Style::Roman, 3_300, 12_000, 0),
        };
        let width = paper.width() - 2 * MARGIN - indent - NUMBER;
        let next = entries.get(place + 1);
        let heads = next.is_some_and(|next| next.rank > entry.rank);
        let lines = if entry.keys.is_empty() {
            wrap_short(&entry.name, style, size, width, 3)
        } else {
            vec![String::new(); entry.keys.len().div_ceil(columns(paper, indent))]
        };
        rows.push(Row {
            lines,
            keys: entry.keys.clone(),
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

/// How many keys stand side by side.
fn columns(paper: Paper, indent: Micrometres) -> usize {
    let room = paper.width() - 2 * MARGIN - indent;
    usize::try_from(room / KEY).unwrap_or(1).max(1)
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
fn start(sheet: usize) -> Micrometres {
    if sheet == 0 { TOP + 13_000 } else { TOP }
}

const HEADING: &str = "Contents";
const MARGIN: Micrometres = 25_000;
const TOP: Micrometres = 29_000;
/// Room for the foot.
const BOTTOM: Micrometres = 23_000;
/// Room for the widest number and some dots.
const NUMBER: Micrometres = 16_000;
/// From a key to the one beside it, and to its own page.
const KEY: Micrometres = 12_800;
const KEY_NAME: Micrometres = 5_600;
/// From dot to dot.
const DOT: Micrometres = 1_700;

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(rank: Rank, name: &str, page: usize) -> Entry {
        Entry::new(rank, name, page)
    }

    #[test]
    fn keys_stand_side_by_side() {
        let keys = |count: usize| Entry {
            keys: (0..count).map(|key| (format!("K{key}"), 2 * key)).collect(),
            ..entry(Rank::Section, "", 0)
        };
        let list = [
            entry(Rank::Chapter, "Lantern Stairs", 0),
            keys(13),
            entry(Rank::Chapter, "Ferry", 26),
            keys(1),
        ];
        let (pages, links) = contents(&list, Paper::A4, 2);
        let text = texts(&pages[0]).join(" ");
        assert!(
            text.starts_with("Contents Lantern Stairs 4 K0 4 K1 6 K2 8"),
            "{text}"
        );
        assert!(text.ends_with("K12 28 Ferry 30 K0 4"), "{text}");
        assert_eq!(links.len(), 1 + 13 + 1 + 1);
        assert_eq!((links[1].to, links[13].to), (3, 27));
        let lines: Vec<i32> = links[1..14].iter().map(|link| link.area[1]).collect();
        assert!(lines[0] == lines[11] && lines[11] < lines[12], "{lines:?}");
        for link in &links[1..14] {
            assert!(link.area[0] + link.area[2] <= 185_000, "{link:?}");
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

    fn texts(page: &Page) -> Vec<String> {
        page.seen().filter_map(|seen| seen.text).collect()
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
        let dots = pages[0].seen().filter(|seen| seen.text.is_none());
        assert_eq!(dots.count(), 3);
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
                assert!(x >= 25_000 && x + width <= 185_000, "{link:?}");
                assert!(y >= 20_000 && y + height <= 297_000 - 17_000, "{link:?}");
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
                let last = &texts[texts.len() - 2];
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
        assert!(texts.iter().any(|text| text.ends_with('…')), "{texts:?}");
    }

    #[test]
    fn an_empty_book_has_an_empty_list() {
        let (pages, links) = contents(&[], Paper::A4, 1);
        assert_eq!((pages.len(), links.len()), (1, 0));
    }
}
