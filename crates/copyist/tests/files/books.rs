//! A course's books, packets and practice pages.

use std::fs;

use copyist::{Format, Source};
use lopdf::Document;
use theory::Pitch;

use crate::support::{Folder, course, options, read, write};

fn plain(text: &str) -> String {
    text.split_whitespace().collect()
}

fn text(file: &Document, page: usize) -> String {
    plain(&file.extract_text(&[page as u32]).unwrap())
}

/// Of a book: what it lists beside the pages, each with its page.
fn listed(file: &Document) -> Vec<(usize, String, usize)> {
    let toc = file.get_toc().unwrap().toc;
    toc.into_iter()
        .map(|entry| (entry.level, entry.title, entry.page))
        .collect()
}

/// The numbers in a book's contents are those of the pages where a lesson and
/// its keys begin; nothing is missing.
#[test]
fn contents_lead_to_the_right_pages() {
    let folder = Folder::new();
    write(read(&folder.course()), options(&folder, &[Format::Pdf]));
    for (player, horn) in [("noor", "AltoSaxophone"), ("trombone", "Trombone")] {
        let bytes = fs::read(folder.path(&format!("out/term/{player}/book.pdf"))).unwrap();
        let file = Document::load_mem(&bytes).unwrap();
        assert!(text(&file, 1).contains("BytheRiver"), "{}", text(&file, 1));
        assert!(text(&file, 2).contains("Takeyourtime."));
        let contents = text(&file, 3);
        let listed = listed(&file);
        let lessons = listed.iter().filter(|(level, ..)| *level == 1);
        let names: Vec<&str> = lessons.clone().map(|(_, name, _)| name.as_str()).collect();
        assert_eq!(names, ["Ferry", "Bridge"]);
        for (_, lesson, page) in lessons {
            assert!(contents.contains(&format!("{lesson}{page}")), "{contents}");
        }
        let mut lesson = "";
        let mut keys = 0;
        for (level, name, page) in &listed {
            match level {
                1 => lesson = name,
                2 => {
                    keys += 1;
                    let words = name.strip_prefix("Written ").unwrap();
                    let key = words.split_whitespace().next().unwrap();
                    assert!(
                        contents.contains(&format!("{key}{page}")),
                        "{name}: {contents}"
                    );
                    let begun = text(&file, *page);
                    for words in [lesson, name, horn] {
                        assert!(begun.contains(&plain(words)), "{words} {page}: {begun}");
                    }
                }
                _ => (),
            }
            // Numbers at the feet.
            assert!(text(&file, *page).contains(&page.to_string()));
        }
        assert_eq!(keys, 6);
        let last = listed.last().unwrap().2;
        assert!(file.get_pages().len() >= last);
    }
}

#[test]
fn packets_hold_their_week_as_often_as_it_is_wanted() {
    let folder = Folder::new();
    write(read(&folder.course()), options(&folder, &[Format::Pdf]));
    let packet = |player: &str, week: usize| {
        let name = format!("out/term/{player}/week-{week:02}.pdf");
        Document::load_mem(&fs::read(folder.path(&name)).unwrap()).unwrap()
    };
    for (player, copies) in [("noor", 3), ("trombone", 1)] {
        for (week, keys) in [(1, 2), (2, 3), (3, 2)] {
            let file = packet(player, week);
            let pages = file.get_pages().len();
            assert_eq!(pages % (2 * copies), 0, "{player} {week}: {pages}");
            let copy = pages / copies;
            // The first page, a page to each key at least.
            assert!(copy > keys, "{player} {week}: {copy}");
            for page in 1..=copy {
                for other in 1..copies {
                    assert_eq!(text(&file, page), text(&file, page + other * copy));
                }
            }
        }
    }
    let first = text(&packet("noor", 1), 1);
    for words in [
        "BytheRiver",
        "Week1·Across",
        "Noor",
        "Slowlyfirst.",
        "Ferry",
        "A2",
        "D3",
    ] {
        assert!(first.contains(words), "{words}: {first}");
    }
    let third = packet("noor", 3);
    let begun = text(&third, 1);
    for words in ["Week3", "Bridge", "Again", "Ferry"] {
        assert!(begun.contains(words), "{words}: {begun}");
    }
    // Bb for an alto is G; nothing of the other keys.
    let all: String = (1..=third.get_pages().len())
        .map(|page| text(&third, page))
        .collect();
    assert!(all.contains("WrittenG"), "{all}");
    assert!(
        !all.contains("WrittenA") && !all.contains("WrittenD"),
        "{all}"
    );
}

#[test]
fn everyone_plays_on_their_own_horn() {
    let folder = Folder::new();
    let source = course(&folder.course());
    let players = source.course.players.clone();
    let formats = [Format::MusicXml];
    let told = write(Source::Course(source), options(&folder, &formats));
    assert_eq!(
        told.folders,
        ["term/lessons/ferry", "term/lessons/bridge", "term"]
    );
    assert_eq!(told.sheets.len(), 2 * 2 * 3);
    for (lesson, sheet) in &told.sheets {
        let player = players
            .iter()
            .find(|player| player.instrument.id == sheet.heading.instrument)
            .unwrap();
        assert_eq!(player.name, sheet.heading.player);
        let range = player.range(player.level);
        for pitch in [&sheet.lowest, &sheet.highest] {
            let pitch: Pitch = pitch.parse().unwrap();
            assert!(range.holds(pitch), "{lesson} {}", sheet.file);
        }
        let path = folder.path(&format!("out/{lesson}/{}", sheet.file));
        assert!(path.is_file(), "{}", path.display());
    }
    for (player, transposed) in [("noor", true), ("trombone", false)] {
        let book = folder.path(&format!("out/term/{player}/book.musicxml"));
        let book = fs::read_to_string(book).unwrap();
        assert_eq!(book.contains("<transpose>"), transposed, "{player}");
        for words in ["By the River", "Ferry", "Bridge", "Take your time."] {
            assert!(book.contains(words), "{player}: {words}");
        }
        assert_eq!(book.matches("new-page=\"yes\"").count(), 5, "{player}");
    }
    // No packets, no printed books.
    let files = folder.files("out");
    assert!(
        files.keys().all(|name| !name.ends_with(".pdf")),
        "{files:?}"
    );
}

/// A player's page has each sheet of the weeks once, and says which weeks play
/// it.
#[test]
fn the_practice_page_has_the_weeks() {
    let folder = Folder::new();
    write(read(&folder.course()), options(&folder, &[Format::Page]));
    let page = fs::read_to_string(folder.path("out/term/noor/practice.html")).unwrap();
    for words in [
        "By the River",
        "Week 1 · Across",
        "Week 2",
        "Week 3",
        "Slowly first.",
    ] {
        assert!(page.contains(words), "{words}");
    }
    for lesson in ["ferry", "bridge"] {
        for key in ["01-a", "02-d", "03-g"] {
            let section = format!("<section id=\"{lesson}-{key}\"");
            assert_eq!(page.matches(&section).count(), 1, "{section}");
        }
    }
    assert!(!folder.path("out/term/lessons").exists());
}
