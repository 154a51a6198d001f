//! A page: its paper and what is drawn on it.

use std::fmt::{self, Write};

/// Hundredths of a millimetre, in which all is measured, from the top left
/// corner of the page.
pub type Hundredths = i32;

/// A size of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ by 11 inches (ANSI/ASME Y14.1).
    Letter,
}

impl Paper {
    /// Its width.
    pub fn width(self) -> Hundredths {
        match self {
            Paper::A4 => 21_000,
            Paper::Letter => 21_590,
        }
    }

    /// Its height.
    pub fn height(self) -> Hundredths {
        match self {
            Paper::A4 => 29_700,
            Paper::Letter => 27_940,
        }
    }
}

/// A drawn page.
#[derive(Debug, Clone)]
pub struct Page {
    /// What it is drawn on.
    pub paper: Paper,
    /// What a screen reader says of it.
    pub title: String,
    /// What stands on it: SVG elements, in [`Hundredths`], which name nothing
    /// outside of the page.
    pub body: String,
}

impl Page {
    /// The page as an SVG document of its own. Text is text in it.
    pub fn svg(&self) -> String {
        let mut svg = String::with_capacity(self.body.len() + 512);
        // Writing to a string can't fail.
        let _ = self.write(&mut svg);
        svg
    }

    fn write(&self, svg: &mut String) -> fmt::Result {
        let (width, height) = (self.paper.width(), self.paper.height());
        let title = crate::escape(&self.title);
        writeln!(
            svg,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
             role=\"img\" aria-labelledby=\"title\" width=\"{}.{:02}mm\" height=\"{}.{:02}mm\" \
             viewBox=\"0 0 {width} {height}\">",
            width / 100,
            width % 100,
            height / 100,
            height % 100,
        )?;
        writeln!(svg, "<title id=\"title\">{title}</title>")?;
        writeln!(
            svg,
            "<rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>"
        )?;
        svg.push_str(&self.body);
        svg.push_str("\n</svg>\n");
        Ok(())
    }
}
