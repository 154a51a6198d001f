//! A player's sheets bound as one book: cover, contents, the keys in order,
//! the answers at the back.

use crate::contents::{Entry, Rank, contents};
use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::Micrometres;
use crate::{About, Bookmark, Cover, Foot, Line, Link, Page, Paper, PdfError, pdf};

/// What is bound.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// What the pages of the book's own are on.
    pub paper: Paper,
    /// Its cover.
    pub cover: Cover,
    /// What stands at the foot of each page but the cover.
    pub foot: Foot,
    /// The keys in order.
    pub chapters: Vec<Chapter>,
    /// The same with their answers.
    pub answers: Vec<Chapter>,
}

/// A key's sheets. One without pages is left out.
#[derive(Debug, Clone, Default)]
pub struct Chapter {
    /// The key, as the contents name it.
    pub name: String,
    /// Its exercises.
    pub sections: Vec<Section>,
    /// Its pages in order, room left at their feet.
    pub pages: Vec<Page>,
}

/// An exercise of a chapter.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// What the contents call it.
    pub name: String,
    /// The page it begins on, of its chapter's; past the last, that one.
    pub page: usize,
}

/// A book ready to be printed.
#[derive(Debug, Clone)]
pub struct Bound {
    title: String,
    /// Its pages, numbered from the cover, which is 1.
    pub pages: Vec<Page>,
    /// The keys, and under each its exercises.
    pub bookmarks: Vec<Bookmark>,
    /// From the contents to what they name.
    pub links: Vec<Link>,
}

impl Book {
    /// Binds it.
    pub fn bind(self) -> Bound {
        let mut body = Body::default();
        for chapter in self.chapters {
            body.chapter(chapter, &self.cover.title);
        }
        if self.answers.iter().any(|chapter| !chapter.pages.is_empty()) {
            body.part(ANSWERS, self.paper);
            for chapter in self.answers {
                body.chapter(chapter, &self.cover.title);
            }
        }
        let (list, mut links) = contents(&body.entries, self.paper, COVER);
        let first = COVER + list.len();
        let bookmarks = bookmarks(&body.entries, first);
        let mut pages = vec![self.cover.page(self.paper)];
        pages.extend(list);
        pages.extend(body.pages);
        for (place, page) in pages.iter_mut().enumerate().skip(COVER) {
            self.foot.of_book(page, place + 1);
            // The inner margin, where a book is bound, is the wider one.
            let inner = if place % 2 == 0 { BINDING } else { -BINDING };
            page.shift(inner);
            for link in links.iter_mut().filter(|link| link.on == place) {
                link.area[0] += inner;
            }
        }
        let parts = [self.cover.title, self.cover.instrument, self.cover.player];
        let parts = parts.into_iter().filter(|part| !part.trim().is_empty());
        Bound {
            title: parts.collect::<Vec<_>>().join(" · "),
            pages,
            bookmarks,
            links,
        }
    }
}

impl Bound {
    /// The book as one file.
    ///
    /// # Errors
    /// Pages that can't be read.
    pub fn pdf(&self) -> Result<Vec<u8>, PdfError> {
        let about = About {
            title: &self.title,
            language: "en",
            bookmarks: &self.bookmarks,
            links: &self.links,
        };
        pdf(&self.pages, &about)
    }
}

/// What follows the contents.
#[derive(Default)]
struct Body {
    entries: Vec<Entry>,
    pages: Vec<Page>,
}

impl Body {
    fn chapter(&mut self, mut chapter: Chapter, title: &str) {
        Foot::over_chapter(&mut chapter.pages, title, &chapter.name);
        let Some(last) = chapter.pages.len().checked_sub(1) else {
            return;
        };
        let first = self.pages.len();
        self.entries.push(Entry {
            rank: Rank::Chapter,
            name: chapter.name,
            page: first,
        });
        self.entries
            .extend(chapter.sections.into_iter().map(|section| Entry {
                rank: Rank::Section,
                name: section.name,
                page: first + section.page.min(last),
            }));
        self.pages.extend(chapter.pages);
    }

    /// A page of its own before what nobody should see by chance.
    fn part(&mut self, name: &str, paper: Paper) {
        self.entries.push(Entry {
            rank: Rank::Part,
            name: name.to_owned(),
            page: self.pages.len(),
        });
        let line = Line::new().bold(name).size(12_500);
        let line = line.at(25_000, paper.height() / 3);
        let mut frame = Frame::new(Tag::Title(name.to_owned()));
        frame.marks.push(Mark::text(Role::Text, line));
        let mut page = Page::new(paper, name);
        page.put(frame, 0, 0);
        self.pages.push(page);
    }
}

/// A part holds the chapters after it, a chapter its sections.
fn bookmarks(entries: &[Entry], first: usize) -> Vec<Bookmark> {
    let mut top: Vec<Bookmark> = Vec::new();
    let mut in_part = false;
    for entry in entries {
        let bookmark = Bookmark {
            title: entry.name.clone(),
            page: first + entry.page,
            under: Vec::new(),
        };
        let mut list = &mut top;
        let depth = match entry.rank {
            Rank::Part => 0,
            Rank::Chapter => usize::from(in_part),
            Rank::Section => 1 + usize::from(in_part),
        };
        for _ in 0..depth {
            let Some(last) = list.len().checked_sub(1) else {
                break;
            };
            list = &mut list[last].under;
        }
        list.push(bookmark);
        in_part |= entry.rank == Rank::Part;
    }
    top
}

/// How far a page's middle stands from its paper's, away from the binding.
const BINDING: Micrometres = 2_500;
/// Pages before the contents.
const COVER: usize = 1;
const ANSWERS: &str = "Answers";

#[cfg(test)]
mod tests {
    use super::*;

    fn chapter(name: &str, mark: &str) -> Chapter {
        let page = |number: usize| {
            let line = Line::new().roman(&format!("{mark} {name} {number}"));
            let mut frame = Frame::new(Tag::Paragraph);
            frame
                .marks
                .push(Mark::text(Role::Text, line.at(20_000, 20_000)));
            let mut page = Page::new(Paper::A4, name);
            page.put(frame, 0, 0);
            page
        };
        let section = |name: &str, page: usize| Section {
            name: name.to_owned(),
            page,
        };
        Chapter {
            name: name.to_owned(),
            sections: vec![
                section("Scale", 0),
                section("Figure", 1),
                section("Last", 9),
            ],
            pages: vec![page(1), page(2)],
        }
    }

    fn book() -> Book {
        Book {
            cover: Cover {
                title: "Lantern Stairs".to_owned(),
                instrument: "Alto Saxophone in E♭".to_owned(),
                ..Cover::default()
            },
            foot: Foot::new("Lantern Stairs", &["Alto Saxophone in E♭"]),
            chapters: vec![
                chapter("A♭ major", "sheet"),
                Chapter::default(),
                chapter("E♭ major", "sheet"),
            ],
            answers: vec![chapter("A♭ major", "answer")],
            ..Book::default()
        }
    }

    fn read(file: &[u8]) -> lopdf::Document {
        lopdf::Document::load_mem(file).unwrap()
    }

    /// Cover, contents, two keys of two pages, the part's own page, one key's
    /// answers.
    #[test]
    fn what_is_where() {
        let file = read(&book().bind().pdf().unwrap());
        let check = |page: u32, expected: &str| {
            let text = file.extract_text(&[page]).unwrap();
            let plain = |text: &str| text.split_whitespace().collect::<String>();
            assert!(plain(&text).contains(&plain(expected)), "{page}: {text}");
        };
        assert_eq!(file.get_pages().len(), 9);
        check(1, "Lantern StairsAlto Saxophone in E♭");
        check(
            2,
            "ContentsA♭ major3Scale3Figure4Last4E♭ major5Scale5Figure6Last6",
        );
        check(2, "Answers7A♭ major8Scale8Figure9Last9");
        for (page, text) in [
            (3, "A♭ major 1"),
            (4, "A♭ major 2"),
            (5, "E♭ major 1"),
            (6, "E♭ major 2"),
        ] {
            check(page, &format!("sheet {text}"));
            check(
                page,
                &format!("{page}Lantern Stairs · Alto Saxophone in E♭"),
            );
        }
        check(7, "Answers");
        check(8, "answer A♭ major 1");
        check(9, "answer A♭ major 2Lantern StairsA♭ major9");
    }

    #[test]
    fn bookmarks_hold_exercises_under_keys() {
        let file = read(&book().bind().pdf().unwrap());
        let toc = file.get_toc().unwrap().toc;
        let found: Vec<String> = toc
            .iter()
            .map(|entry| format!("{}{} {}", "-".repeat(entry.level), entry.title, entry.page))
            .collect();
        assert_eq!(
            found,
            [
                "-A♭ major 3",
                "--Scale 3",
                "--Figure 4",
                "--Last 4",
                "-E♭ major 5",
                "--Scale 5",
                "--Figure 6",
                "--Last 6",
                "-Answers 7",
                "--A♭ major 8",
                "---Scale 8",
                "---Figure 9",
                "---Last 9",
            ]
        );
        let contents = file.get_pages()[&2];
        assert_eq!(
            file.get_page_annotations(contents).unwrap().len(),
            found.len()
        );
    }

    #[test]
    fn the_same_bytes_each_time() {
        assert_eq!(book().bind().pdf().unwrap(), book().bind().pdf().unwrap());
    }

    #[test]
    fn a_book_without_answers_has_no_such_part() {
        let without = Book {
            answers: vec![Chapter::default()],
            ..book()
        };
        let bound = without.bind();
        assert_eq!(bound.pages.len(), 6);
        assert!(
            bound
                .bookmarks
                .iter()
                .all(|bookmark| bookmark.title != "Answers")
        );
    }

    #[test]
    fn strange_books_are_bound_too() {
        let title = "Of 17 \u{0} <stairs> & 階段 \u{1F3B7} 𝄪 سلالم ".repeat(10);
        let strange = Book {
            cover: Cover {
                title: title.clone(),
                player: title.clone(),
                ..Cover::default()
            },
            foot: Foot::new(&title, &[&title, &title]),
            chapters: vec![Chapter {
                name: title.clone(),
                ..chapter("C", "sheet")
            }],
            ..Book::default()
        };
        assert_eq!(read(&strange.bind().pdf().unwrap()).get_pages().len(), 4);
        assert_eq!(
            read(&Book::default().bind().pdf().unwrap())
                .get_pages()
                .len(),
            2
        );
    }
}
