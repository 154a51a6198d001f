//! A packet bound: so often as copies are wanted, each on an even number of
//! pages.

use crate::binding::{Outline, binding, bookmarks};
use crate::packet_opening::opening;
use crate::{Bookmark, Foot, Link, Packet, Page, PdfError, PdfFile, PdfInfo};

/// A packet whose every page has its number.
#[derive(Debug, Clone)]
pub struct BoundPacket {
    title: String,
    copies: usize,
    /// Of one copy: an even number.
    pages: Vec<Page>,
    /// By a copy's pages.
    outline: Outline,
    links: Vec<Link>,
}

impl Packet {
    /// Binds it.
    pub fn bind(mut self) -> BoundPacket {
        // How many pages come first can't depend on the numbers on them.
        let before = opening(&self, 0).0.len();
        let (mut pages, mut links) = opening(&self, before);
        let mut outline = Vec::new();
        for task in &mut self.tasks {
            outline.push((0, task.name.clone(), pages.len()));
            for key in &mut task.keys {
                outline.push((1, key.name.clone(), pages.len()));
                Foot::over_chapter(&mut key.pages, &task.name, &key.name);
                pages.append(&mut key.pages);
            }
        }
        for (place, page) in pages.iter_mut().enumerate() {
            self.foot.of_book(page, place + 1);
            page.shift(binding(place));
            for link in links.iter_mut().filter(|link| link.on == place) {
                link.area[0] += binding(place);
            }
        }
        if pages.len() % 2 == 1 {
            pages.push(Page::new(self.paper, "left empty"));
        }
        let parts = [self.course, self.title, self.instrument, self.player];
        let parts = parts.into_iter().filter(|part| !part.trim().is_empty());
        BoundPacket {
            title: parts.collect::<Vec<_>>().join(" · "),
            copies: usize::from(self.copies.max(1)),
            pages,
            outline,
            links,
        }
    }
}

impl BoundPacket {
    /// All copies as one file. `go_on` is asked before each page.
    ///
    /// # Errors
    /// What `go_on` gives, and pages that can't be put together.
    pub fn pdf<E: From<PdfError>>(
        &self,
        mut go_on: impl FnMut() -> Result<(), E>,
    ) -> Result<Vec<u8>, E> {
        let (bookmarks, links) = (self.bookmarks(), self.links());
        let about = PdfInfo {
            title: &self.title,
            language: "en",
            bookmarks: &bookmarks,
            links: &links,
        };
        let mut file = PdfFile::new(&about, self.copies * self.pages.len())?;
        for _ in 0..self.copies {
            for page in &self.pages {
                go_on()?;
                file.page(page)?;
            }
        }
        Ok(file.finish()?)
    }

    /// Of several copies each one's stand under its number.
    fn bookmarks(&self) -> Vec<Bookmark> {
        if self.copies == 1 {
            return bookmarks(&self.outline, 0);
        }
        let copies = (0..self.copies).map(|copy| {
            let first = copy * self.pages.len();
            Bookmark {
                title: format!("Copy {}", copy + 1),
                page: first,
                under: bookmarks(&self.outline, first),
            }
        });
        copies.collect()
    }

    fn links(&self) -> Vec<Link> {
        let copies = (0..self.copies).flat_map(|copy| {
            let first = copy * self.pages.len();
            self.links.iter().map(move |link| Link {
                on: first + link.on,
                to: first + link.to,
                ..link.clone()
            })
        });
        copies.collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mark::{Frame, Mark, Role, Tag};
    use crate::{Line, Paper, Task, TaskKey};

    fn task(name: &str, again: bool, tempos: &[u16], keys: &[&str]) -> Task {
        let page = |text: String| {
            let mut frame = Frame::new(Tag::Paragraph);
            let line = Line::new().roman(&text).at(20_000, 40_000);
            frame.marks.push(Mark::text(Role::Text, line));
            let mut page = Page::new(Paper::A4, text);
            page.put(frame, 0, 0);
            page
        };
        Task {
            name: name.to_owned(),
            again,
            tempos: tempos.to_vec(),
            keys: keys
                .iter()
                .map(|key| TaskKey {
                    name: format!("Written {key}"),
                    short: (*key).to_owned(),
                    pages: vec![
                        page(format!("{name} {key} one")),
                        page(format!("{name} {key} two")),
                    ],
                })
                .collect(),
        }
    }

    fn packet() -> Packet {
        Packet {
            course: "By the river".to_owned(),
            title: "Week 3 · Over the bridge".to_owned(),
            instrument: "Alto Saxophone in E♭".to_owned(),
            player: "Noor".to_owned(),
            text: vec!["Slowly first.".to_owned()],
            care: "Rest as long as you play.".to_owned(),
            foot: Foot::new("By the river", &["Alto Saxophone in E♭"]),
            tasks: vec![
                task("Ferry", false, &[72, 80, 88], &["A♭", "E♭"]),
                task("Bridge", true, &[], &["C"]),
            ],
            copies: 1,
            ..Packet::default()
        }
    }

    fn read(packet: Packet) -> lopdf::Document {
        let file = packet.bind().pdf(|| Ok::<_, PdfError>(())).unwrap();
        lopdf::Document::load_mem(&file).unwrap()
    }

    fn text(file: &lopdf::Document, page: u32) -> String {
        let text = file.extract_text(&[page]).unwrap();
        text.split_whitespace().collect()
    }

    /// The first page, six of sheets, an empty one.
    #[test]
    fn a_copy_has_an_even_number_of_pages() {
        let file = read(packet());
        assert_eq!(file.get_pages().len(), 8);
        let first = text(&file, 1);
        for words in [
            "Bytheriver",
            "Week3·Overthebridge",
            "Noor",
            "Slowlyfirst.",
            "A♭2",
            "E♭4",
            "C6",
            "Again",
            "728088",
            "Heardon",
            "Restaslongasyouplay.",
        ] {
            assert!(first.contains(words), "{words}: {first}");
        }
        assert!(text(&file, 2).contains("FerryA♭one"));
        assert!(text(&file, 4).contains("FerryE♭one"));
        assert!(text(&file, 6).contains("BridgeCone"));
        assert_eq!(text(&file, 8), "");
    }

    #[test]
    fn every_copy_is_the_same_and_begins_on_the_right() {
        let file = read(Packet {
            copies: 3,
            ..packet()
        });
        assert_eq!(file.get_pages().len(), 3 * 8);
        for page in 1..=8 {
            assert_eq!(text(&file, page), text(&file, page + 8));
            assert_eq!(text(&file, page), text(&file, page + 16));
        }
        let toc = file.get_toc().unwrap().toc;
        let found: Vec<(usize, &str, usize)> = toc
            .iter()
            .map(|entry| (entry.level, entry.title.as_str(), entry.page))
            .skip(6)
            .take(3)
            .collect();
        let expected = [(1, "Copy 2", 9), (2, "Ferry", 10), (3, "Written A♭", 10)];
        assert_eq!(found, expected);
    }

    /// However much there is to do, nothing leaves the page or meets the foot.
    #[test]
    fn long_weeks_take_more_pages() {
        let keys: Vec<String> = (0..12).map(|key| format!("K{key}")).collect();
        let keys: Vec<&str> = keys.iter().map(String::as_str).collect();
        let long = "Of the seventeen stairs that go down to the ferry ".repeat(4);
        let tempos: Vec<u16> = (0..30).map(|step| 60 + 4 * step).collect();
        for tempos in [&[][..], &[96], &tempos] {
            let full = Packet {
                title: long.clone(),
                course: long.clone(),
                player: long.clone(),
                text: vec![long.repeat(5); 6],
                tasks: (0..8).map(|_| task(&long, false, tempos, &keys)).collect(),
                ..packet()
            };
            let bound = full.bind();
            assert_eq!(bound.pages.len() % 2, 0);
            let opening = bound.pages.len() - 8 * 12 * 2;
            assert!(opening < 30, "{opening}");
            for page in &bound.pages[..opening] {
                for seen in page.seen() {
                    let ink = seen.ink;
                    let inside =
                        ink.left >= 12_500 && ink.right <= 197_500 && ink.bottom <= 291_000;
                    assert!(inside, "{seen:?}");
                }
            }
        }
    }
}
