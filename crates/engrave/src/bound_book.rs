//! A book bound: its pages in order, drawn when their turn comes.

use crate::binding::{binding, bookmarks};
use crate::book_body::{Body, Leaf};
use crate::contents::contents;
use crate::foreword::foreword;
use crate::{
    Book, Bookmark, Chapter, Foot, KeyPlace, Link, Page, Paper, PdfError, PdfFile, PdfInfo,
};

/// A book whose every page has its number.
#[derive(Debug, Clone)]
pub struct BoundBook {
    title: String,
    foot: Foot,
    /// Cover, foreword and contents.
    front: Vec<Page>,
    leaves: Vec<Leaf>,
    /// How many pages it has.
    pub pages: usize,
    /// The lessons, under each its keys, under each its exercises.
    pub bookmarks: Vec<Bookmark>,
    /// From the contents to what they name.
    pub links: Vec<Link>,
}

impl Book {
    /// Binds it.
    pub fn bind(self) -> BoundBook {
        let mut body = Body::default();
        body.chapters(&self.chapters, false, &self.cover.title);
        let asks = |chapter: &Chapter| chapter.keys.iter().any(|key| key.pages > 0);
        if self.answers.iter().any(asks) {
            body.part(ANSWERS, self.paper);
            body.chapters(&self.answers, true, &self.cover.title);
        }
        let mut front = vec![self.cover.page(self.paper)];
        front.extend(foreword(&self.foreword, &self.author, self.paper));
        let (list, mut links) = contents(&body.entries, self.paper, front.len());
        front.extend(list);
        let bookmarks = bookmarks(&body.outline, front.len());
        for (place, page) in front.iter_mut().enumerate().skip(COVER) {
            self.foot.of_book(page, place + 1);
            page.shift(binding(place));
            for link in links.iter_mut().filter(|link| link.on == place) {
                link.area[0] += binding(place);
            }
        }
        let parts = [self.cover.title, self.cover.instrument, self.cover.player];
        let parts = parts.into_iter().filter(|part| !part.trim().is_empty());
        BoundBook {
            title: parts.collect::<Vec<_>>().join(" · "),
            foot: self.foot,
            pages: front.len() + body.pages,
            front,
            leaves: body.leaves,
            bookmarks,
            links,
        }
    }
}

impl BoundBook {
    /// The book as one file; `draw` gives a key's pages when their turn comes,
    /// room left at their feet.
    ///
    /// # Errors
    /// What `draw` gives, and pages that can't be put together.
    pub fn pdf<E: From<PdfError>>(
        &self,
        mut draw: impl FnMut(KeyPlace) -> Result<Vec<Page>, E>,
    ) -> Result<Vec<u8>, E> {
        let about = PdfInfo {
            title: &self.title,
            language: "en",
            bookmarks: &self.bookmarks,
            links: &self.links,
        };
        let mut file = PdfFile::new(&about, self.pages)?;
        for page in &self.front {
            file.page(page)?;
        }
        let mut place = self.front.len();
        let mut put = |mut page: Page| {
            self.foot.of_book(&mut page, place + 1);
            page.shift(binding(place));
            place += 1;
            file.page(&page)
        };
        for leaf in &self.leaves {
            match leaf {
                Leaf::Page(page) => put(page.clone())?,
                Leaf::Key {
                    place,
                    pages,
                    title,
                    name,
                } => {
                    let mut drawn = draw(*place)?;
                    Foot::over_chapter(&mut drawn, title, name);
                    let paper = drawn.first().map_or(Paper::default(), |page| page.paper);
                    // As many as were counted, whatever is drawn.
                    drawn.resize_with(*pages, || Page::new(paper, name.as_str()));
                    drawn.into_iter().try_for_each(&mut put)?;
                }
            }
        }
        Ok(file.finish()?)
    }
}

/// Pages before the foreword.
const COVER: usize = 1;
const ANSWERS: &str = "Answers";

#[cfg(test)]
mod tests;
