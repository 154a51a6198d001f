//! The cover of a book.

use crate::range_chart::RangeChart;
use crate::text::wrap_short;
use crate::{Hundredths, Line, Page, Paper, Style};

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
        let mut column = Column {
            y: CLASS,
            width: paper.width() - 2 * MARGIN,
            body: String::new(),
        };
        column.lines(&self.class, Style::Italic, 420, 1);
        column.y = TITLE;
        column.title(&self.title);
        column.y += 350;
        column.lines(&self.subtitle, Style::Italic, 540, 3);
        column.rule();
        column.lines(&self.instrument, Style::Bold, 660, 2);
        column.y += 150;
        column.lines(&self.player, Style::Roman, 480, 2);
        for line in self.about.iter().take(4) {
            column.lines(line, Style::Italic, 400, 1);
        }
        if let Some(range) = &self.range {
            let y = (column.y + 600).max(paper.height() * 3 / 5);
            let width = column.width.min(CHART);
            range.svg(MARGIN, y, width, &mut column.body);
        }
        column.width = column.width.min(CARE_WIDTH);
        let care = wrap_short(&self.care, Style::Italic, CARE, column.width, 4);
        let height = CARE * 13 / 10 * (care.len() as Hundredths - 1).max(0);
        column.y = paper.height() - LAST - height - CARE * 13 / 10;
        column.lines(&self.care, Style::Italic, CARE, 4);
        Page {
            paper,
            title: format!("Cover: {}", self.title),
            body: column.body,
        }
    }
}

/// Text set downwards from the margin.
struct Column {
    /// The last baseline.
    y: Hundredths,
    width: Hundredths,
    body: String,
}

impl Column {
    fn lines(&mut self, text: &str, style: Style, size: Hundredths, most: usize) {
        for line in wrap_short(text, style, size, self.width, most) {
            self.y += size * 13 / 10;
            let line = Line::new().text(style, &line).size(size);
            line.at(MARGIN, self.y).svg(&mut self.body);
        }
    }

    /// The longer a title, the smaller it is set.
    fn title(&mut self, title: &str) {
        let [largest, .., smallest] = TITLES;
        let fits = |&(size, most): &(Hundredths, usize)| {
            let lines = wrap_short(title, Style::Bold, size, self.width, most + 1);
            let whole = |word: &str| crate::width(word, Style::Bold, size) <= self.width;
            lines.len() <= most && title.split_whitespace().all(whole)
        };
        let (size, most) = TITLES.into_iter().find(fits).unwrap_or(smallest);
        // All titles begin at one height.
        self.y += largest.0 - size * 13 / 10;
        self.lines(title, Style::Bold, size, most);
    }

    fn rule(&mut self) {
        self.y += 900;
        let (left, right, y) = (MARGIN, MARGIN + 3_000, self.y);
        self.body.push_str(&format!(
            "<path d=\"M{left} {y}H{right}\" stroke=\"#000\" stroke-width=\"50\"/>\n"
        ));
        self.y += 500;
    }
}

const MARGIN: Hundredths = 2_500;
const CLASS: Hundredths = 3_200;
const TITLE: Hundredths = 5_600;
/// Sizes of the title, and how many lines of it there may be.
const TITLES: [(Hundredths, usize); 3] = [(1_250, 2), (900, 4), (620, 6)];
/// The widest that a range chart is drawn.
const CHART: Hundredths = 12_000;
const CARE: Hundredths = 360;
/// Short enough to be read at a glance.
const CARE_WIDTH: Hundredths = 12_000;
/// The last baseline over the paper's lower edge.
const LAST: Hundredths = 2_000;

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use resvg::usvg::Node;
    use theory::{Instrument, Level};

    use super::*;
    use crate::drawing;

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
            }),
            care: "Rest as long as you play.".to_owned(),
        }
    }

    /// Top and bottom of everything drawn, from the top.
    fn areas(page: &Page) -> Vec<[i32; 4]> {
        let tree = drawing::tree(page).unwrap();
        let mut areas = Vec::new();
        // The first is the page's white ground.
        for node in &tree.root().children()[1..] {
            let area = match node {
                Node::Group(group) => group.abs_stroke_bounding_box(),
                other => other.abs_stroke_bounding_box(),
            };
            let edges = [area.left(), area.top(), area.right(), area.bottom()];
            areas.push(edges.map(|edge| (edge * 2_540.0 / 96.0).round() as i32));
        }
        areas
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
                    assert!(*left >= 2_000 && *right <= paper.width() - 2_000, "{text}");
                    assert!(*top >= 2_000 && *bottom <= paper.height() - 1_500, "{text}");
                }
                // Lines of text may touch, with the room fonts keep for marks.
                for pair in areas.windows(2) {
                    assert!(pair[1][1] >= pair[0][3] - 250, "{text} {pair:?}");
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
        let body = cover.page(Paper::A4).body;
        assert_eq!(body.matches("<text").count(), 2, "{body}");
    }

    #[test]
    fn long_titles_are_smaller() {
        let check = |title: &str, size: &str, lines: usize| {
            let cover = Cover {
                title: title.to_owned(),
                ..Cover::default()
            };
            let body = cover.page(Paper::A4).body;
            assert_eq!(body.matches(size).count(), lines, "{body}");
        };
        check("Lantern Stairs", "font-size=\"1250\"", 1);
        check(
            "Lantern Stairs of the old ferry landing",
            "font-size=\"1250\"",
            2,
        );
        check(&"Lantern Stairs ".repeat(6), "font-size=\"900\"", 3);
        check(&"Lantern Stairs ".repeat(60), "font-size=\"620\"", 6);
        check(&"stairs".repeat(10), "font-size=\"620\"", 1);
        check(&"stairs".repeat(20), "font-size=\"620\"", 2);
    }
}
