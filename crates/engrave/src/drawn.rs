//! What the engraving library drew, taken apart: systems, their bars, and
//! where each note stands. Texts are left behind; we set them ourselves.
//!
//! The library's own units, y downwards, as they stand in its SVG.

use std::collections::BTreeSet;
use std::fmt::Write;

use resvg::usvg::roxmltree::{Document, Node};

use crate::EngraveError;
use crate::glyph::{EM, Glyph};
use crate::ink::Ink;

/// One system.
#[derive(Debug, Clone, Default)]
pub(crate) struct DrawnSystem {
    /// Its bars, in order.
    pub(crate) bars: Vec<DrawnBar>,
    /// Everything but texts, as SVG elements; glyphs by their code, `#E0A4`.
    pub(crate) svg: String,
    /// The codes of the glyphs in it.
    pub(crate) glyphs: BTreeSet<char>,
    /// Where its ink is, staff lines left out.
    pub(crate) inks: Vec<Ink>,
    /// The bar number at its beginning.
    pub(crate) number: Option<String>,
    /// Its staff, from the top line to the bottom one, all bars.
    pub(crate) staff: Option<Ink>,
}

/// A bar of a system.
#[derive(Debug, Clone, Default)]
pub(crate) struct DrawnBar {
    /// Its left and right edge.
    pub(crate) edges: (i32, i32),
    /// Middles of its noteheads, slashes too, in order.
    pub(crate) notes: Vec<i32>,
    /// Where its chord symbols begin, in order.
    pub(crate) chords: Vec<i32>,
}

/// Takes a drawing apart.
///
/// # Errors
/// When it is none, or has something in it that isn't known here.
pub(crate) fn systems(svg: &str) -> Result<Vec<DrawnSystem>, EngraveError> {
    let document = Document::parse(svg).map_err(|error| EngraveError::Drawn(error.to_string()))?;
    let systems = document
        .descendants()
        .filter(|node| class(node) == "system");
    systems.map(system).collect()
}

fn system(node: Node<'_, '_>) -> Result<DrawnSystem, EngraveError> {
    let mut system = DrawnSystem::default();
    for child in node.children().filter(Node::is_element) {
        let mut bar = DrawnBar::default();
        if class(&child) != "measure" {
            // Ties and slurs that come from the system before.
            system.take(child, &mut bar)?;
            continue;
        }
        let staff = staff(child).ok_or_else(|| EngraveError::Drawn("a bar without a staff".into()))?;
        bar.edges = (staff.left, staff.right);
        system.staff = Some(system.staff.map_or(staff, |whole| whole.with(staff)));
        for part in child.children().filter(Node::is_element) {
            system.take(part, &mut bar)?;
        }
        bar.chords.sort_unstable();
        system.bars.push(bar);
    }
    Ok(system)
}

/// The lines of a bar's staff.
fn staff(measure: Node<'_, '_>) -> Option<Ink> {
    let staff = measure.children().find(|child| class(child) == "staff")?;
    let lines = staff.children().filter(|child| child.has_tag_name("path"));
    lines
        .filter_map(|line| Ink::around(points(line.attribute("d")?)))
        .reduce(Ink::with)
}

impl DrawnSystem {
    fn take(&mut self, node: Node<'_, '_>, bar: &mut DrawnBar) -> Result<(), EngraveError> {
        match node.tag_name().name() {
            "g" => self.group(node, bar),
            "use" => self.glyph(node),
            "path" | "polygon" | "polyline" | "rect" | "ellipse" => {
                self.shape(node);
                Ok(())
            }
            "text" | "title" | "desc" => Ok(()),
            other => Err(EngraveError::Drawn(format!("an element {other}"))),
        }
    }

    fn group(&mut self, node: Node<'_, '_>, bar: &mut DrawnBar) -> Result<(), EngraveError> {
        let class = class(&node);
        let main = class.split(' ').next().unwrap_or_default();
        match main {
            "harm" => {
                let x = node.descendants().find_map(|text| whole(&text, "x"));
                bar.chords.extend(x);
                return Ok(());
            }
            "mNum" => {
                let number: String = node.descendants().filter(Node::is_text).filter_map(|text| text.text()).collect();
                self.number = Some(number.trim().to_owned());
                return Ok(());
            }
            "verse" | "label" | "labelAbbr" => return Ok(()),
            _ => (),
        }
        if class.ends_with("placeholder") || !node.has_children() {
            return Ok(());
        }
        let named = matches!(main, "note" | "notehead" | "rest" | "accid" | "dynam");
        let before = self.inks.len();
        if named {
            let _ = write!(self.svg, "<g class=\"{main}\">");
        }
        for child in node.children().filter(Node::is_element) {
            self.take(child, bar)?;
        }
        if named {
            self.svg.push_str("</g>\n");
        }
        if main == "notehead" {
            let head = self.inks[before..].iter().copied().reduce(Ink::with);
            bar.notes.extend(head.map(|head| i32::midpoint(head.left, head.right)));
        }
        Ok(())
    }

    /// A sign of the music font, in its place.
    fn glyph(&mut self, node: Node<'_, '_>) -> Result<(), EngraveError> {
        let unknown = || EngraveError::Drawn(format!("a sign that isn't known here: {node:?}"));
        let name = node.attribute("href").ok_or_else(unknown)?;
        let code = name.trim_start_matches('#').split('-').next();
        let code = code.and_then(|code| u32::from_str_radix(code, 16).ok());
        let place = code.and_then(char::from_u32).ok_or_else(unknown)?;
        let glyph = Glyph::at(place).ok_or_else(unknown)?;
        let transform = node.attribute("transform").ok_or_else(unknown)?;
        let [x, y, across, down] = placed(transform).ok_or_else(unknown)?;
        let [left, low, width, height] = glyph.bounds;
        self.glyphs.insert(place);
        self.inks.extend(Ink::around([
            (x + left * across / THOUSAND, y - low * down / THOUSAND),
            (
                x + (left + width) * across / THOUSAND,
                y - (low + height) * down / THOUSAND,
            ),
        ]));
        let code = u32::from(place);
        let _ = writeln!(self.svg, "<use xlink:href=\"#{code:04X}\" transform=\"{transform}\"/>");
        Ok(())
    }

    /// Lines, beams, curves. Paths have a line around them, filled areas none.
    fn shape(&mut self, node: Node<'_, '_>) {
        let points = match node.tag_name().name() {
            "rect" => {
                let value = |name: &str| whole(&node, name).unwrap_or(0);
                let (x, y) = (value("x"), value("y"));
                vec![(x, y), (x + value("width"), y + value("height"))]
            }
            "ellipse" => {
                let value = |name: &str| whole(&node, name).unwrap_or(0);
                let (x, y, rx, ry) = (value("cx"), value("cy"), value("rx"), value("ry"));
                vec![(x - rx, y - ry), (x + rx, y + ry)]
            }
            _ => {
                let data = node.attribute("d").or_else(|| node.attribute("points"));
                points(data.unwrap_or_default()).collect()
            }
        };
        let thick = whole(&node, "stroke-width");
        let is_staff = node.parent().is_some_and(|parent| class(&parent) == "staff");
        if !is_staff {
            let ink = Ink::around(points).map(|ink| ink.grown(thick.unwrap_or(0) / 2));
            self.inks.extend(ink);
        }
        let _ = write!(self.svg, "<{}", node.tag_name().name());
        for attribute in node.attributes().filter(|one| !matches!(one.name(), "id" | "class")) {
            let value = crate::escape(attribute.value());
            let _ = write!(self.svg, " {}=\"{value}\"", attribute.name());
        }
        if thick.is_some() && node.attribute("stroke").is_none() {
            self.svg.push_str(" stroke=\"#000\"");
        }
        self.svg.push_str("/>\n");
    }
}

/// Scales are read in thousandths, as the font's em has.
const THOUSAND: i32 = EM;

fn class<'a>(node: &Node<'a, '_>) -> &'a str {
    node.attribute("class").unwrap_or_default()
}

/// A coordinate to the unit.
fn whole(node: &Node<'_, '_>, name: &str) -> Option<i32> {
    node.attribute(name).and_then(rounded)
}

fn rounded(number: &str) -> Option<i32> {
    let whole = number.split('.').next().unwrap_or(number);
    whole.parse().ok()
}

/// `translate(x, y) scale(a, b)`: the place, and the scale in thousandths.
fn placed(transform: &str) -> Option<[i32; 4]> {
    let mut numbers = numbers(transform);
    let (x, y) = (rounded(numbers.next()?)?, rounded(numbers.next()?)?);
    let across = thousandths(numbers.next().unwrap_or("1"))?;
    let down = numbers.next().map_or(Some(across), thousandths)?;
    Some([x, y, across, down])
}

fn thousandths(number: &str) -> Option<i32> {
    let (whole, rest) = number.split_once('.').unwrap_or((number, ""));
    let rest: String = rest.chars().chain("000".chars()).take(3).collect();
    Some(whole.parse::<i32>().ok()?.checked_mul(1000)? + rest.parse::<i32>().ok()?)
}

/// The points of a path or a polygon; of curves their handles, between which
/// they lie. All paths are in absolute coordinates.
fn points(data: &str) -> impl Iterator<Item = (i32, i32)> {
    let mut numbers = numbers(data);
    std::iter::from_fn(move || Some((rounded(numbers.next()?)?, rounded(numbers.next()?)?)))
}

fn numbers(text: &str) -> impl Iterator<Item = &str> {
    text.split(|char: char| !(char.is_ascii_digit() || char == '.' || char == '-'))
        .filter(|number| !number.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    const DRAWING: &str = r##"<svg xmlns="http://www.w3.org/2000/svg"><svg class="definition-scale">
<g class="system"><g class="sb"/><g class="measure" id="a">
<g class="mNum autogenerated"><text y="1"><tspan>5</tspan></text></g>
<g class="staff"><path d="M0 100 L900 100" stroke-width="13"/><path d="M0 820 L900 820" stroke-width="13"/>
<g class="layer"><g class="note"><g class="notehead"><use href="#E0A4-x1" transform="translate(200, 500) scale(0.5, 0.5)"/></g>
<g class="stem"><path d="M210 490 L210 90" stroke-width="18"/></g><g class="verse"><g class="syl"><text x="1">7</text></g></g></g></g></g>
<g class="harm"><text x="190" y="20"><tspan>A7</tspan></text></g></g></g></svg></svg>"##;

    #[test]
    fn a_drawing_is_taken_apart() {
        let systems = systems(DRAWING).unwrap();
        let [system] = systems.as_slice() else {
            panic!("{systems:?}")
        };
        assert_eq!(system.number.as_deref(), Some("5"));
        assert_eq!(
            system.staff,
            Ink::around([(0, 100), (900, 820)])
        );
        assert_eq!(system.bars[0].notes, [278]);
        assert_eq!(system.bars[0].chords, [190]);
        assert_eq!(system.bars[0].edges, (0, 900));
        // The stem's line is 18 thick.
        assert_eq!(system.inks[1], Ink::around([(201, 81), (219, 499)]).unwrap());
        assert!(!system.svg.contains("text") && system.svg.contains("#E0A4\""));
    }

    #[test]
    fn what_is_no_drawing() {
        let check = |svg: &str| assert!(systems(svg).is_err(), "{svg}");
        check("<svg");
        check("<svg><g class=\"system\"><g class=\"measure\"/></g></svg>");
        check(&DRAWING.replace("E0A4-x1", "F8FF-x1"));
        check(&DRAWING.replace("<path", "<image").replace("path>", "image>"));
    }

    #[test]
    fn numbers_are_read() {
        assert_eq!(placed("translate(1087, -3845) scale(0.72, 0.5)"), Some([1087, -3845, 720, 500]));
        assert_eq!(placed("translate(1, 2)"), Some([1, 2, 1000, 1000]));
        assert_eq!(placed("nothing"), None);
        let read: Vec<_> = points("M0 4115 L10380 4115.5 C1,2 -3,4").collect();
        assert_eq!(read, [(0, 4115), (10380, 4115), (1, 2), (-3, 4)]);
    }
}
