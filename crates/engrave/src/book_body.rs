//! What follows a book's contents, and what the contents say of it.

use crate::binding::Outline;
use crate::contents::{Entry, Rank};
use crate::mark::{Frame, Mark, Role, Tag};
use crate::{Chapter, Key, KeyPlace, Line, Page, Paper};

/// What follows the contents, piece by piece.
#[derive(Debug, Clone)]
pub(crate) enum Leaf {
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

/// What follows the contents.
#[derive(Default)]
pub(crate) struct Body {
    pub entries: Vec<Entry>,
    pub outline: Outline,
    pub leaves: Vec<Leaf>,
    pub pages: usize,
    /// How deep a chapter is.
    depth: usize,
}

impl Body {
    /// Lessons one after another; `title` stands for one without a name.
    pub fn chapters(&mut self, chapters: &[Chapter], answers: bool, title: &str) {
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
    pub fn part(&mut self, name: &str, paper: Paper) {
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
