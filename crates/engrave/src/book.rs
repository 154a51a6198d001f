//! A player's sheets bound as one book: cover, foreword, contents, lessons and
//! their keys in order, the answers at the back.

use crate::contents::{Entry, Rank, contents};
use crate::foreword::foreword;
use crate::mark::{Frame, Mark, Role, Tag};
use crate::place::Micrometres;
use crate::{About, Bookmark, Cover, Foot, Line, Link, Page, Paper, PdfError, PdfFile};

/// What is bound. Pages are drawn when their turn comes; until then only how
/// many there are is known.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// What the pages of the book's own are on.
    pub paper: Paper,
    /// Its cover.
    pub cover: Cover,
    /// The teacher's own paragraphs before the contents.
    pub foreword: Vec<String>,
    /// Who signs them.
    pub author: String,
    /// What stands at the foot of each page but the cover.
    pub foot: Foot,
    /// The lessons in order.
    pub chapters: Vec<Chapter>,
    /// The same with their answers.
    pub answers: Vec<Chapter>,
}

/// A lesson. One without a name is all there is to the book: its keys stand for
/// chapters.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Chapter {
    /// Its title.
    pub name: String,
    /// Whether all its keys have the same exercises, so that the contents name
    /// the keys alone, side by side.
    pub alike: bool,
    /// Its keys in order.
    pub keys: Vec<Key>,
}

/// A key's sheets. One without pages is left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Key {
    /// As the contents name it.
    pub name: String,
    /// The same where there is little room: `A♭`.
    pub short: String,
    /// Its exercises.
    pub sections: Vec<Section>,
    /// How many pages it has.
    pub pages: usize,
}

/// An exercise of a key.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// What the contents call it.
    pub name: String,
    /// The page it begins on, of its key's; past the last, that one.
    pub page: usize,
}

/// Which key's pages are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeyPlace {
    /// Whether the answers are.
    pub answers: bool,
    /// The place of its lesson among the book's chapters, or its answers.
    pub chapter: usize,
    /// Its place among the lesson's keys.
    pub key: usize,
}

/// A book whose every page has its number.
#[derive(Debug, Clone)]
pub struct Bound {
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

/// What follows the contents, piece by piece.
#[derive(Debug, Clone)]
enum Leaf {
    /// A page of the book's own.
    Page(Page),
    /// A key's pages.
    Key {
        place: KeyPlace,
        pages: usize,
        /// What is said over them.
        title: String,
        name: String,
    },
}

impl Book {
    /// Binds it.
    pub fn bind(self) -> Bound {
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
        Bound {
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

impl Bound {
    /// The book as one file; `draw` gives a key's pages when their turn comes,
    /// room left at their feet.
    ///
    /// # Errors
    /// What `draw` gives, and pages that can't be put together.
    pub fn pdf<E: From<PdfError>>(
        &self,
        mut draw: impl FnMut(KeyPlace) -> Result<Vec<Page>, E>,
    ) -> Result<Vec<u8>, E> {
        let about = About {
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

/// The inner margin, where a book is bound, is the wider one.
pub(crate) fn binding(place: usize) -> Micrometres {
    if place.is_multiple_of(2) {
        BINDING
    } else {
        -BINDING
    }
}

/// What follows the contents.
#[derive(Default)]
struct Body {
    entries: Vec<Entry>,
    /// What readers list beside the pages: how deep, what, on which page.
    outline: Vec<(usize, String, usize)>,
    leaves: Vec<Leaf>,
    pages: usize,
    /// How deep a chapter is.
    depth: usize,
}

impl Body {
    fn chapters(&mut self, chapters: &[Chapter], answers: bool, title: &str) {
        for (place, chapter) in chapters.iter().enumerate() {
            let keys = chapter.keys.iter().enumerate();
            let keys: Vec<(KeyPlace, &Key)> = keys
                .filter(|(_, key)| key.pages > 0)
                .map(|(key, known)| {
                    let place = KeyPlace {
                        answers,
                        chapter: place,
                        key,
                    };
                    (place, known)
                })
                .collect();
            if !keys.is_empty() {
                self.chapter(chapter, &keys, title);
            }
        }
    }

    fn chapter(&mut self, chapter: &Chapter, keys: &[(KeyPlace, &Key)], title: &str) {
        let first = self.pages;
        let named = !chapter.name.is_empty();
        let title = if named { chapter.name.as_str() } else { title };
        let mut depth = self.depth;
        if named {
            self.entries.push(Entry::new(Rank::Chapter, title, first));
            self.outline.push((depth, title.to_owned(), first));
            depth += 1;
        }
        let brief = named && chapter.alike;
        let mut row = Vec::new();
        for (place, key) in keys {
            let begins = self.pages;
            let (rank, under) = match named {
                true => (Rank::Section, Rank::Exercise),
                false => (Rank::Chapter, Rank::Section),
            };
            self.outline.push((depth, key.name.clone(), begins));
            if brief {
                row.push((key.short.clone(), begins));
            } else {
                self.entries
                    .push(Entry::new(rank, key.name.as_str(), begins));
            }
            for section in &key.sections {
                let page = begins + section.page.min(key.pages - 1);
                self.outline.push((depth + 1, section.name.clone(), page));
                if !brief {
                    self.entries
                        .push(Entry::new(under, section.name.as_str(), page));
                }
            }
            self.leaves.push(Leaf::Key {
                place: *place,
                pages: key.pages,
                title: title.to_owned(),
                name: key.name.clone(),
            });
            self.pages += key.pages;
        }
        if brief {
            self.entries.push(Entry {
                keys: row,
                ..Entry::new(Rank::Section, "", first)
            });
        }
    }

    /// A page of its own before what nobody should see by chance.
    fn part(&mut self, name: &str, paper: Paper) {
        self.entries.push(Entry::new(Rank::Part, name, self.pages));
        self.outline.push((0, name.to_owned(), self.pages));
        self.depth = 1;
        let line = Line::new().bold(name).size(12_500);
        let line = line.at(25_000, paper.height() / 3);
        let mut frame = Frame::new(Tag::Title(name.to_owned()));
        frame.marks.push(Mark::text(Role::Text, line));
        let mut page = Page::new(paper, name);
        page.put(frame, 0, 0);
        self.leaves.push(Leaf::Page(page));
        self.pages += 1;
    }
}

/// Each under the last one before it that is less deep.
pub(crate) fn bookmarks(outline: &[(usize, String, usize)], first: usize) -> Vec<Bookmark> {
    let mut top: Vec<Bookmark> = Vec::new();
    for (depth, title, page) in outline {
        let mut list = &mut top;
        for _ in 0..*depth {
            let Some(last) = list.len().checked_sub(1) else {
                break;
            };
            list = &mut list[last].under;
        }
        list.push(Bookmark {
            title: title.clone(),
            page: first + page,
            under: Vec::new(),
        });
    }
    top
}

/// How far a page's middle stands from its paper's, away from the binding.
const BINDING: Micrometres = 2_500;
/// Pages before the foreword.
const COVER: usize = 1;
const ANSWERS: &str = "Answers";

#[cfg(test)]
mod tests {
    use super::*;

    fn key(name: &str) -> Key {
        let section = |name: &str, page: usize| Section {
            name: name.to_owned(),
            page,
        };
        Key {
            name: name.to_owned(),
            short: name.chars().take_while(|letter| *letter != ' ').collect(),
            sections: vec![
                section("Scale", 0),
                section("Figure", 1),
                section("Last", 9),
            ],
            pages: 2,
        }
    }

    fn chapter(name: &str, alike: bool, keys: &[&str]) -> Chapter {
        Chapter {
            name: name.to_owned(),
            alike,
            keys: keys.iter().map(|name| key(name)).collect(),
        }
    }

    /// Its file, each page saying what it is.
    fn file(book: &Book) -> Vec<u8> {
        let drawn = |place: KeyPlace| {
            let (mark, chapters) = match place.answers {
                true => ("answer", &book.answers),
                false => ("sheet", &book.chapters),
            };
            let name = &chapters[place.chapter].keys[place.key].name;
            let page = |number: usize| {
                let line = Line::new().roman(&format!("{mark} {name} {number}"));
                let mut frame = Frame::new(Tag::Paragraph);
                let line = line.at(20_000, 20_000);
                frame.marks.push(Mark::text(Role::Text, line));
                let mut page = Page::new(Paper::A4, name.as_str());
                page.put(frame, 0, 0);
                page
            };
            Ok::<_, PdfError>(vec![page(1), page(2)])
        };
        book.clone().bind().pdf(drawn).unwrap()
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
                chapter("", false, &["A♭ major", "E♭ major"]),
                Chapter::default(),
            ],
            answers: vec![chapter("", false, &["A♭ major"])],
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
        let file = read(&file(&book()));
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
        let file = read(&file(&book()));
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
        assert_eq!(file(&book()), file(&book()));
    }

    #[test]
    fn a_book_without_answers_has_no_such_part() {
        let without = Book {
            answers: vec![Chapter::default()],
            ..book()
        };
        let bound = without.bind();
        assert_eq!(bound.pages, 6);
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
            foreword: vec![title.clone()],
            author: title.clone(),
            chapters: vec![chapter(&title, true, &[&title])],
            ..Book::default()
        };
        assert_eq!(read(&file(&strange)).get_pages().len(), 5);
        assert_eq!(read(&file(&Book::default())).get_pages().len(), 2);
    }

    /// Cover, foreword, contents, two lessons of two keys, the part's page,
    /// answers.
    #[test]
    fn a_book_of_several_lessons() {
        let book = Book {
            foreword: vec!["Take your time.".to_owned()],
            author: "N. N.".to_owned(),
            chapters: vec![
                chapter("Ferry", true, &["A♭ major", "E♭ major"]),
                chapter("Bridge", false, &["C major"]),
            ],
            answers: vec![Chapter::default(), chapter("Bridge", false, &["C major"])],
            ..book()
        };
        let file = read(&file(&book));
        assert_eq!(file.get_pages().len(), 3 + 6 + 1 + 2);
        let check = |page: u32, expected: &str| {
            let text = file.extract_text(&[page]).unwrap();
            let plain = |text: &str| text.split_whitespace().collect::<String>();
            assert!(plain(&text).contains(&plain(expected)), "{page}: {text}");
        };
        check(2, "Foreword Take your time. N. N.");
        check(
            3,
            "Contents Ferry 4 A♭ 4 E♭ 6 Bridge 8 C major 8 Scale 8 Figure 9 Last 9",
        );
        check(3, "Answers 10 Bridge 11 C major 11");
        check(6, "sheet E♭ major 1");
        check(7, "Ferry E♭ major 7");
        check(8, "sheet C major 1");
        check(11, "answer C major 1");
        let toc = file.get_toc().unwrap().toc;
        let found: Vec<(usize, &str, usize)> = toc
            .iter()
            .map(|entry| (entry.level, entry.title.as_str(), entry.page))
            .filter(|(_, title, _)| !["Scale", "Figure", "Last"].contains(title))
            .collect();
        let expected = [
            (1, "Ferry", 4),
            (2, "A♭ major", 4),
            (2, "E♭ major", 6),
            (1, "Bridge", 8),
            (2, "C major", 8),
            (1, "Answers", 10),
            (2, "Bridge", 11),
            (3, "C major", 11),
        ];
        assert_eq!(found, expected);
    }
}
