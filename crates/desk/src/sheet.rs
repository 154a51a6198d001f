//! A sheet's pages as pictures for the page.

use std::fmt::Write;

use score::{Element, Score};

/// One page, and how many there are.
pub(crate) struct Drawn {
    pub svg: String,
    pub pages: usize,
}

/// The first page.
pub(crate) fn first(score: &Score, _name: &str) -> Drawn {
    Drawn {
        svg: plain(score),
        pages: 1,
    }
}

/// The pages after the first.
pub(crate) fn rest(_score: &Score, _name: &str) -> Vec<String> {
    Vec::new()
}

/// Until the engraver is here.
fn plain(score: &Score) -> String {
    let mut svg = String::from(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 2100 2970\" role=\"img\"><rect width=\"2100\" height=\"2970\" fill=\"#fff\"/>",
    );
    let (mut x, mut y) = (150, 300);
    for measure in &score.part.measures {
        let mut at = 0;
        for element in &measure.elements {
            let written = element.written();
            let quarters = |ticks: u32| {
                rhythm::Fraction::new(i64::from(ticks), i64::from(score.divisions)).to_string()
            };
            let class = if matches!(element, Element::Note(_)) {
                "note"
            } else {
                "silence"
            };
            let height = match element {
                Element::Note(note) => y - 10 * i32::from(note.pitch.steps() - 30),
                _ => y,
            };
            let _ = write!(
                svg,
                "<g class=\"{class}\" data-exercise=\"0\" data-bar=\"{}\" data-onset=\"{}\" data-length=\"{}\"><ellipse class=\"notehead\" cx=\"{x}\" cy=\"{height}\" rx=\"13\" ry=\"9\"/></g>",
                measure.number,
                quarters(at),
                quarters(written.length),
            );
            at += written.length;
            x += 40;
        }
        x += 20;
        if x > 1800 {
            x = 150;
            y += 200;
        }
    }
    svg.push_str("</svg>");
    svg
}
