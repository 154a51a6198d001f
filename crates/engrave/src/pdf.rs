//! Pages as a PDF file: text stays text, every font and every outline is in it
//! once, headings and pictures are tagged, and neither date nor chance goes
//! into it.

mod draw;

use std::collections::BTreeMap;

use krilla::Document;
use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::{Point, Rect, Size};
use krilla::graphic::Graphic;
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::tagging::{Identifier, Node, Tag as Kind, TagGroup, TagTree};

use crate::page::Page;
use crate::place::Micrometres;
use draw::{Draw, points};

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
    pub area: [Micrometres; 4],
    /// The page it leads to.
    pub to: usize,
    /// What a screen reader says.
    pub title: String,
}

/// What a file is made of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PdfInfo<'a> {
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
    /// There is nothing to print.
    #[error("there are no pages")]
    Empty,
    /// A link covers no part of the page.
    #[error("`{0}` covers nothing")]
    Area(String),
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
/// No pages, and bookmarks or links that lead nowhere.
pub fn pdf(pages: &[Page], about: &PdfInfo<'_>) -> Result<Vec<u8>, PdfError> {
    let mut file = PdfFile::new(about, pages.len())?;
    for page in pages {
        file.page(page)?;
    }
    file.finish()
}

/// A PDF file that takes one page after the other, so that not all need be
/// held.
pub struct PdfFile<'a> {
    document: Document,
    tree: TagTree,
    outlines: BTreeMap<u32, Graphic>,
    about: &'a PdfInfo<'a>,
    /// How many pages it has so far, and will have.
    drawn: usize,
    pages: usize,
}

impl std::fmt::Debug for PdfFile<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "PdfFile({} of {} pages)", self.drawn, self.pages)
    }
}

impl<'a> PdfFile<'a> {
    /// A file that will have so many pages.
    ///
    /// # Errors
    /// That there are none.
    pub fn new(about: &'a PdfInfo<'a>, pages: usize) -> Result<PdfFile<'a>, PdfError> {
        if pages == 0 {
            return Err(PdfError::Empty);
        }
        Ok(PdfFile {
            document: Document::new(),
            tree: TagTree::new().with_lang(Some(about.language.to_owned())),
            outlines: BTreeMap::new(),
            about,
            drawn: 0,
            pages,
        })
    }

    /// The next page.
    ///
    /// # Errors
    /// Links on it that lead nowhere or cover nothing.
    pub fn page(&mut self, page: &Page) -> Result<(), PdfError> {
        let size = Size::from_wh(points(page.paper.width()), points(page.paper.height()));
        let size = size.ok_or(PdfError::Empty)?;
        let mut sheet = self.document.start_page_with(PageSettings::new(size));
        let links = self.about.links.iter().filter(|link| link.on == self.drawn);
        let links: Vec<Identifier> = links
            .map(|link| Ok(sheet.add_tagged_annotation(annotation(link, self.pages)?)))
            .collect::<Result<_, PdfError>>()?;
        let mut draw = Draw {
            surface: sheet.surface(),
            outlines: &mut self.outlines,
        };
        for placed in &page.frames {
            if let Some(node) = draw.frame(placed) {
                self.tree.push(node);
            }
        }
        draw.finish();
        sheet.finish();
        for link in links {
            let link = vec![Node::Leaf(link)];
            self.tree.push(TagGroup::with_children(Kind::Link, link));
        }
        self.drawn += 1;
        Ok(())
    }

    /// The file's bytes.
    ///
    /// # Errors
    /// Bookmarks that lead nowhere.
    pub fn finish(mut self) -> Result<Vec<u8>, PdfError> {
        let mut outline = Outline::new();
        for bookmark in self.about.bookmarks {
            outline.push_child(node(bookmark, self.drawn)?);
        }
        self.document.set_outline(outline);
        self.document.set_tag_tree(self.tree);
        self.document.set_metadata(
            Metadata::new()
                .title(self.about.title.to_owned())
                .language(self.about.language.to_owned()),
        );
        self.document.finish().map_err(PdfError::File)
    }
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
    let corner = |x: Micrometres, y: Micrometres| [points(x), points(y)];
    let [[left, top], [right, bottom]] = [
        corner(left, top),
        corner(left.saturating_add(width), top.saturating_add(height)),
    ];
    let area = Rect::from_ltrb(left, top, right, bottom)
        .ok_or_else(|| PdfError::Area(link.title.clone()))?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mark::{Frame, Mark, Role, Tag};
    use crate::page::Paper;
    use crate::text::Line;

    fn page(texts: &[&str]) -> Page {
        let mut page = Page::new(Paper::A4, "Stairs");
        let mut frame = Frame::new(Tag::Paragraph);
        for (line, text) in texts.iter().enumerate() {
            let y = 20_000 + 8_000 * line as i32;
            let line = Line::new().roman(text).bold(text).at(20_000, y);
            frame.marks.push(Mark::text(Role::Text, line));
        }
        page.put(frame, 0, 0);
        page
    }

    fn read(file: &[u8]) -> lopdf::Document {
        lopdf::Document::load_mem(file).unwrap()
    }

    fn about<'a>(bookmarks: &'a [Bookmark], links: &'a [Link]) -> PdfInfo<'a> {
        PdfInfo {
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
            let text = file.extract_text(&[page]).unwrap();
            let plain = |text: &str| text.split_whitespace().collect::<String>();
            assert!(plain(&text).contains(&plain(expected)), "{text}");
        };
        assert_eq!(file.get_pages().len(), 2);
        check(1, "Lantern Stairs");
        check(1, "B♭ dorian, F♯ and ø△");
        check(2, "Waltz & more");
    }

    #[test]
    fn fonts_are_embedded_once_in_part() {
        let pages: Vec<Page> = (0..6).map(|_| page(&["Lantern B♭ 𝄪"])).collect();
        let bytes = pdf(&pages, &about(&[], &[])).unwrap();
        assert!(bytes.len() < 60_000, "{}", bytes.len());
        let file = read(&bytes);
        let dictionaries = || {
            file.objects
                .values()
                .filter_map(|object| object.as_dict().ok())
        };
        let kind = |kind: &'static [u8]| {
            move |found: &&lopdf::Dictionary| {
                found.get(b"Type").and_then(|name| name.as_name()).ok() == Some(kind)
            }
        };
        let mut names: Vec<String> = dictionaries()
            .filter(kind(b"Font"))
            .filter(|font| font.get(b"Subtype").unwrap().as_name().unwrap() == b"Type0")
            .map(|font| {
                String::from_utf8(font.get(b"BaseFont").unwrap().as_name().unwrap().to_vec())
                    .unwrap()
            })
            .map(|name| {
                name.split_once('+')
                    .expect("a part of a font is tagged")
                    .1
                    .to_owned()
            })
            .collect();
        names.sort();
        let expected = [
            "LibertinusSerif-Bold",
            "LibertinusSerif-Regular",
            "TwelvefoldAccidentals-Bold",
            "TwelvefoldAccidentals-Regular",
        ];
        let found: Vec<&str> = names
            .iter()
            .map(|name| name.trim_end_matches("-Identity-H"))
            .collect();
        assert_eq!(found, expected);
        let embedded = dictionaries()
            .filter(kind(b"FontDescriptor"))
            .filter(|font| font.has(b"FontFile3") || font.has(b"FontFile2"))
            .count();
        assert_eq!(embedded, expected.len());
    }

    #[test]
    fn nothing_of_the_time() {
        let pages = [page(&["one"]), page(&["two"])];
        let bytes = pdf(&pages, &about(&[], &[])).unwrap();
        assert_eq!(bytes, pdf(&pages, &about(&[], &[])).unwrap());
        for word in ["CreationDate", "ModDate", "CreateDate", "ModifyDate"] {
            let found = bytes
                .windows(word.len())
                .any(|bytes| bytes == word.as_bytes());
            assert!(!found, "{word}");
        }
        let file = read(&bytes);
        let catalog = file.catalog().unwrap();
        assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
        let info = file.trailer.get(b"Info").unwrap().as_reference().unwrap();
        let info = file.get_dictionary(info).unwrap();
        assert_eq!(info.get(b"Title").unwrap().as_str().unwrap(), b"Stairs");
        assert_eq!(info.len(), 1);
    }

    fn bookmark(title: &str, page: usize, under: Vec<Bookmark>) -> Bookmark {
        Bookmark {
            title: title.to_owned(),
            page,
            under,
        }
    }

    fn link(on: usize, to: usize) -> Link {
        Link {
            on,
            area: [10_000, 10_000, 50_000, 6_000],
            to,
            title: "there".to_owned(),
        }
    }

    #[test]
    fn bookmarks_and_links() {
        let pages = [page(&["one"]), page(&["two"]), page(&["three"])];
        let bookmarks = [
            bookmark(
                "C",
                1,
                vec![bookmark("Scale", 1, vec![]), bookmark("Figure", 2, vec![])],
            ),
            bookmark("F♯", 2, vec![]),
        ];
        let file = read(&pdf(&pages, &about(&bookmarks, &[link(0, 2)])).unwrap());
        let toc = file.get_toc().unwrap().toc;
        let found: Vec<(usize, &str, usize)> = toc
            .iter()
            .map(|entry| (entry.level, entry.title.as_str(), entry.page))
            .collect();
        assert_eq!(
            found,
            [(1, "C", 2), (2, "Scale", 2), (2, "Figure", 3), (1, "F♯", 3)]
        );
        let first = file.get_pages()[&1];
        let annotations = file.get_page_annotations(first).unwrap();
        assert_eq!(annotations.len(), 1);
    }

    #[test]
    fn what_leads_nowhere_is_refused() {
        let pages = [page(&["one"])];
        let check = |pages: &[Page], bookmarks: &[Bookmark], links: &[Link], expected: &str| {
            let fault = pdf(pages, &about(bookmarks, links)).unwrap_err();
            assert_eq!(fault.to_string(), expected);
        };
        check(&[], &[], &[], "there are no pages");
        let nested = [bookmark("C", 0, vec![bookmark("Scale", 1, vec![])])];
        check(
            &pages,
            &nested,
            &[],
            "`Scale` leads to page 2, and there are 1",
        );
        check(
            &pages,
            &[],
            &[link(0, 7)],
            "`there` leads to page 8, and there are 1",
        );
    }
}
