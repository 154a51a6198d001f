//! A book's foreword: the teacher's own paragraphs.

use crate::flow::{Flow, MARGIN};
use crate::mark::Tag;
use crate::{Anchor, Line, Page, Paper, Style};

const HEADING: &str = "Foreword";
const SIZE: i32 = 4_200;

/// Its pages; none without a word. `author` signs it.
pub(crate) fn foreword(paragraphs: &[String], author: &str, paper: Paper) -> Vec<Page> {
    if paragraphs.iter().all(|text| text.trim().is_empty()) {
        return Vec::new();
    }
    let mut flow = Flow::new(paper, HEADING);
    flow.text(HEADING, Style::Bold, 7_200);
    flow.end(Tag::Heading(HEADING.to_owned()));
    flow.down(SIZE);
    for paragraph in paragraphs {
        flow.text(paragraph, Style::Roman, SIZE);
        flow.end(Tag::Paragraph);
        flow.down(SIZE * 6 / 10);
    }
    if !author.trim().is_empty() {
        flow.keep(2 * SIZE);
        flow.down(2 * SIZE);
        let line = Line::new().italic(author).size(SIZE);
        let right = paper.width() - MARGIN;
        let line = line.at(right, flow.y).anchor(Anchor::End);
        flow.line(line);
    }
    flow.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_many_pages_as_it_takes() {
        let long =
            "Seventeen stairs go down to the ferry, and every one of them sounds. ".repeat(9);
        let check = |paragraphs: &[String], pages: usize| {
            let found = foreword(paragraphs, "N. N.", Paper::A4);
            assert_eq!(found.len(), pages);
            for page in &found {
                for seen in page.seen() {
                    assert!(seen.ink.bottom <= 297_000 - 20_000, "{seen:?}");
                    assert!(seen.ink.right <= 210_000 - 24_000, "{seen:?}");
                }
            }
        };
        check(&[], 0);
        check(&["  ".to_owned()], 0);
        check(&["Play slowly.".to_owned()], 1);
        check(&vec![long; 12], 3);
    }
}
