//! The cover of a book.

use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::Micrometres;
use crate::range_chart::RangeChart;
use crate::text::{wrap_evenly, wrap_short};
use crate::{Line, Page, Paper, Style};

/// What a book's cover says. What is empty is left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Cover {
    /// The lesson's title.
    pub title: String,
    /// The line under it.
    pub subtitle: String,
    /// The class it is for.
    pub class: String,
    /// `Alto Saxophone in E♭`.
    pub instrument: String,
    /// Whose book it is.
    pub player: String,
    /// Level, edition and whatever else there is to say, a line each.
    pub about: Vec<String>,
    /// How far the horn reaches.
    pub range: Option<RangeChart>,
    /// The caution about long practice, where it was asked for.
    pub care: String,
}

impl Cover {
    /// The cover as a page.
    pub fn page(&self, paper: Paper) -> Page {
        let mut page = Page::new(paper, format!("Cover: {}", self.title));
        let mut column = Column {
            y: CLASS,
            width: paper.width() - 2 * MARGIN,
            frame: Frame::new(Tag::Paragraph),
        };
        column.lines(&self.class, Style::Italic, 4_200, 1);
        page.put(column.take(), 0, 0);
        column.y = TITLE;
        column.title(&self.title);
        let title = Frame {
            tag: Tag::Title(self.title.clone()),
            ..column.take()
        };
        page.put(title, 0, 0);
        column.y += 3_500;
        column.lines(&self.subtitle, Style::Italic, 5_400, 3);
        page.put(column.take(), 0, 0);
        page.put(column.rule(), 0, 0);
        column.lines(&self.instrument, Style::Bold, 6_600, 2);
        column.y += 1_500;
        column.lines(&self.player, Style::Roman, 4_800, 2);
        for line in self.about.iter().take(4) {
            column.lines(line, Style::Italic, 4_000, 1);
        }
        page.put(column.take(), 0, 0);
        if let Some(range) = &self.range {
            let y = (column.y + 6_000).max(paper.height() * 3 / 5);
            let width = column.width.min(CHART);
            range.put(&mut page, MARGIN, y, width);
        }
        column.width = column.width.min(CARE_WIDTH);
        let mut care = wrap_evenly(&self.care, Style::Italic, CARE, column.width);
        care.truncate(4);
        let height = CARE * 13 / 10 * (care.len() as Micrometres - 1).max(0);
        column.y = paper.height() - LAST - height - CARE * 13 / 10;
        for line in care {
            column.lines(&line, Style::Italic, CARE, 1);
        }
        page.put(column.take(), 0, 0);
        page
    }
}

/// Text set downwards from the margin.
struct Column {
    /// The last baseline.
    y: Micrometres,
    width: Micrometres,
    frame: Frame,
}

impl Column {
    fn lines(&mut self, text: &str, style: Style, size: Micrometres, most: usize) {
        for line in wrap_short(text, style, size, self.width, most) {
            self.y += size * 13 / 10;
            let line = Line::new().text(style, &line).size(size);
            let mark = Mark::text(Role::Text, line.at(MARGIN, self.y));
            self.frame.marks.push(mark);
        }
    }

    /// The longer a title, the smaller it is set.
    fn title(&mut self, title: &str) {
        let [largest, .., smallest] = TITLES;
        let fits = |&(size, most): &(Micrometres, usize)| {
            let lines = wrap_short(title, Style::Bold, size, self.width, most + 1);
            let whole = |word: &str| crate::width(word, Style::Bold, size) <= self.width;
            lines.len() <= most && title.split_whitespace().all(whole)
        };
        let (size, most) = TITLES.into_iter().find(fits).unwrap_or(smallest);
        // All titles begin at one height.
        self.y += largest.0 - size * 13 / 10;
        self.lines(title, Style::Bold, size, most);
    }

    fn rule(&mut self) -> Frame {
        self.y += 9_000;
        let (from, to) = ((MARGIN, self.y), (MARGIN + 30_000, self.y));
        self.y += 5_000;
        let mut frame = Frame::new(Tag::Artifact);
        frame.marks.push(Mark::line(Role::Text, from, to, 500));
        frame
    }

    fn take(&mut self) -> Frame {
        std::mem::replace(&mut self.frame, Frame::new(Tag::Paragraph))
    }
}

const MARGIN: Micrometres = 25_000;
const CLASS: Micrometres = 32_000;
const TITLE: Micrometres = 56_000;
/// Sizes of the title, and how many lines of it there may be.
const TITLES: [(Micrometres, usize); 3] = [(12_500, 2), (9_000, 4), (6_200, 6)];
/// The widest that a range chart is drawn.
const CHART: Micrometres = 120_000;
const CARE: Micrometres = 3_600;
/// Short enough to be read at a glance.
const CARE_WIDTH: Micrometres = 120_000;
/// The last baseline over the paper's lower edge.
const LAST: Micrometres = 20_000;

#[cfg(test)]
mod tests {
    use theory::{Instrument, Level};

    use super::*;

    fn cover() -> Cover {
        let violin = Instrument::named("violin").unwrap();
        Cover {
            title: "Lantern Stairs".to_owned(),
            subtitle: "Dorian, in steps and skips".to_owned(),
            class: "Thursday reeds".to_owned(),
            instrument: violin.name.to_string(),
            player: "Noor".to_owned(),
            about: vec!["advanced level".to_owned(), "reading edition".to_owned()],
            range: Some(RangeChart {
                clef: violin.clef,
                level: Level::Advanced,
                range: violin.range(Level::Advanced),
                lesson: Some(violin.range(Level::Beginner)),
                several: false,
            }),
            care: "Rest as long as you play.".to_owned(),
        }
    }

    /// Left, top, right and bottom of each line of text, and of the chart.
    fn areas(page: &Page) -> Vec<[i32; 4]> {
        let mut areas: Vec<(usize, [i32; 4])> = Vec::new();
        for seen in page.seen() {
            let ink = seen.ink;
            let own = [ink.left, ink.top, ink.right, ink.bottom];
            let chart = matches!(page.frames[seen.frame].frame.tag, Tag::Figure(_));
            match areas.last_mut() {
                Some((frame, area)) if *frame == seen.frame && chart => {
                    let [left, top, right, bottom] = *area;
                    *area = [
                        left.min(own[0]),
                        top.min(own[1]),
                        right.max(own[2]),
                        bottom.max(own[3]),
                    ];
                }
                _ => areas.push((seen.frame, own)),
            }
        }
        areas.into_iter().map(|(_, area)| area).collect()
    }

    #[test]
    fn nothing_meets_whatever_is_said() {
        let long = "Of the seventeen stairs that go down to the ferry B♭ 中文 ".repeat(6);
        let word = "stairs".repeat(50);
        for text in ["Lantern Stairs", &long, &word, "A", "階段", "سلالم المنارة"] {
            for paper in [Paper::A4, Paper::Letter] {
                let cover = Cover {
                    title: text.to_owned(),
                    subtitle: text.to_owned(),
                    class: text.to_owned(),
                    instrument: text.to_owned(),
                    player: text.to_owned(),
                    about: vec![text.to_owned(); 5],
                    care: text.to_owned(),
                    ..cover()
                };
                let areas = areas(&cover.page(paper));
                for [left, top, right, bottom] in &areas {
                    assert!(
                        *left >= 20_000 && *right <= paper.width() - 20_000,
                        "{text}"
                    );
                    assert!(
                        *top >= 20_000 && *bottom <= paper.height() - 15_000,
                        "{text}"
                    );
                }
                // Lines of text may touch, with the room fonts keep for marks.
                for pair in areas.windows(2) {
                    assert!(pair[1][1] >= pair[0][3] - 2_500, "{text} {pair:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_empty_is_left_out() {
        let cover = Cover {
            title: "Lantern Stairs".to_owned(),
            instrument: "Trombone".to_owned(),
            ..Cover::default()
        };
        let page = cover.page(Paper::A4);
        assert_eq!(page.seen().filter(|seen| seen.text.is_some()).count(), 2);
    }

    #[test]
    fn long_titles_are_smaller() {
        let check = |title: &str, size: i32, lines: usize| {
            let cover = Cover {
                title: title.to_owned(),
                ..Cover::default()
            };
            let page = cover.page(Paper::A4);
            let high = page.seen().filter(|seen| seen.text.is_some());
            let sizes: Vec<i32> = high.map(|seen| seen.ink.bottom - seen.ink.top).collect();
            assert_eq!(sizes, vec![size; lines]);
        };
        check("Lantern Stairs", 12_500, 1);
        check("Lantern Stairs of the old ferry landing", 12_500, 2);
        check(&"Lantern Stairs ".repeat(6), 9_000, 3);
        check(&"Lantern Stairs ".repeat(60), 6_200, 6);
        check(&"stairs".repeat(10), 6_200, 1);
        check(&"stairs".repeat(20), 6_200, 2);
    }
}
