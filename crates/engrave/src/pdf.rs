//! Pages as a PDF file: text stays text, every font is embedded once with
//! nothing but the characters used, and neither date nor chance goes into it.

use krilla::Document;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::{Point, Rect, Size};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla_svg::{SurfaceExt, SvgSettings};
use resvg::usvg;

use crate::{Hundredths, Page, drawing};

/// A place in the file that a reader finds in the list beside the pages.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bookmark {
    /// What the list says.
    pub title: String,
    /// Its page, the first being 0.
    pub page: usize,
    /// The bookmarks under it.
    pub under: Vec<Bookmark>,
}

/// Part of a page that leads to another when it is touched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// The page it is on, the first being 0.
    pub on: usize,
    /// Left, top, width and height.
    pub area: [Hundredths; 4],
    /// The page it leads to.
    pub to: usize,
    /// What a screen reader says.
    pub title: String,
}

/// What a file is made of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct About<'a> {
    /// What the reader's window is called.
    pub title: &'a str,
    /// Of the text, as BCP 47 says it: `en`.
    pub language: &'a str,
    /// The list beside the pages.
    pub bookmarks: &'a [Bookmark],
    /// Touched places.
    pub links: &'a [Link],
}

/// Why there is no file.
#[derive(Debug, thiserror::Error)]
pub enum PdfError {
    /// A page's SVG isn't well formed.
    #[error("page {page} can't be read: {why}")]
    Page {
        /// The first being 1.
        page: usize,
        /// What is wrong with it.
        why: usvg::Error,
    },
    /// There is nothing to print.
    #[error("there are no pages")]
    Empty,
    /// A bookmark or link leads nowhere.
    #[error("`{title}` leads to page {page}, and there are {pages}")]
    Nowhere {
        /// What it is called.
        title: String,
        /// Where it leads, the first being 1.
        page: usize,
        /// How many there are.
        pages: usize,
    },
    /// The file can't be put together.
    #[error("the pages can't be put together: {0}")]
    File(KrillaError),
}

/// The pages as a PDF file.
///
/// # Errors
/// No pages, pages that can't be read, and bookmarks or links that lead
/// nowhere.
pub fn pdf(pages: &[Page], about: &About<'_>) -> Result<Vec<u8>, PdfError> {
    if pages.is_empty() {
        return Err(PdfError::Empty);
    }
    let mut document = Document::new();
    for (place, page) in pages.iter().enumerate() {
        let tree = drawing::tree(page).map_err(|why| PdfError::Page {
            page: place + 1,
            why,
        })?;
        let size = size(page)?;
        let mut sheet = document.start_page_with(PageSettings::new(size));
        for link in about.links.iter().filter(|link| link.on == place) {
            sheet.add_annotation(annotation(link, pages.len())?);
        }
        let mut surface = sheet.surface();
        surface.draw_svg(&tree, size, SvgSettings::default());
        surface.finish();
        sheet.finish();
    }
    let mut outline = Outline::new();
    for bookmark in about.bookmarks {
        outline.push_child(node(bookmark, pages.len())?);
    }
    document.set_outline(outline);
    document.set_metadata(
        Metadata::new()
            .title(about.title.to_owned())
            .language(about.language.to_owned()),
    );
    document.finish().map_err(PdfError::File)
}

fn size(page: &Page) -> Result<Size, PdfError> {
    let paper = page.paper;
    Size::from_wh(points(paper.width()), points(paper.height())).ok_or(PdfError::Empty)
}

fn node(bookmark: &Bookmark, pages: usize) -> Result<OutlineNode, PdfError> {
    let destination = destination(bookmark.page, &bookmark.title, pages)?;
    let mut node = OutlineNode::new(bookmark.title.clone(), destination);
    for under in &bookmark.under {
        node.push_child(self::node(under, pages)?);
    }
    Ok(node)
}

fn annotation(link: &Link, pages: usize) -> Result<Annotation, PdfError> {
    let [left, top, width, height] = link.area;
    let destination = destination(link.to, &link.title, pages)?;
    let corner = |x: Hundredths, y: Hundredths| [points(x), points(y)];
    let [[left, top], [right, bottom]] = [
        corner(left, top),
        corner(left.saturating_add(width), top.saturating_add(height)),
    ];
    let area = Rect::from_ltrb(left, top, right, bottom).ok_or(PdfError::Empty)?;
    let target = Target::Destination(destination.into());
    Ok(Annotation::new_link(
        LinkAnnotation::new(area, target),
        Some(link.title.clone()),
    ))
}

fn destination(page: usize, title: &str, pages: usize) -> Result<XyzDestination, PdfError> {
    if page >= pages {
        return Err(PdfError::Nowhere {
            title: title.to_owned(),
            page: page + 1,
            pages,
        });
    }
    Ok(XyzDestination::new(page, Point::from_xy(0.0, 0.0)))
}

/// In points, 72 to the inch, which the file counts in.
#[allow(clippy::float_arithmetic)]
fn points(length: Hundredths) -> f32 {
    length as f32 * 72.0 / 2540.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Line, Paper};

    fn page(texts: &[&str]) -> Page {
        let mut body = String::new();
        for (line, text) in texts.iter().enumerate() {
            let y = 2_000 + 800 * line as i32;
            Line::new()
                .roman(text)
                .bold(text)
                .at(2_000, y)
                .svg(&mut body);
        }
        Page {
            paper: Paper::A4,
            title: "Stairs".to_owned(),
            body,
        }
    }

    fn read(file: &[u8]) -> lopdf::Document {
        lopdf::Document::load_mem(file).unwrap()
    }

    fn about<'a>(bookmarks: &'a [Bookmark], links: &'a [Link]) -> About<'a> {
        About {
            title: "Stairs",
            language: "en",
            bookmarks,
            links,
        }
    }

    #[test]
    fn text_stays_text() {
        let pages = [
            page(&["Lantern Stairs", "B♭ dorian, F♯ and ø△"]),
            page(&["Waltz & more"]),
        ];
        let file = read(&pdf(&pages, &about(&[], &[])).unwrap());
        let check = |page: u32, expected: &str| {
            let text = file.extract_text(&[page]).unwrap().replace('\n', "");
            assert!(text.contains(expected), "{text}");
        };
        assert_eq!(file.get_pages().len(), 2);
        check(1, "Lantern Stairs");
        check(1, "B♭ dorian, F♯ and ø△");
        check(2, "Waltz & more");
    }
}
