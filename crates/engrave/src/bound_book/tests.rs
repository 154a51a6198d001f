//! Books of two lessons and fewer, read back from their files.

use super::*;
use crate::mark::{Frame, Mark, Role, Tag};
use crate::{Cover, Key, Line, Section};

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
