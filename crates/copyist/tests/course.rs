//! Courses as files: books, packets, tracks and sheets.
#![allow(clippy::unwrap_used, missing_docs)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use copyist::{
    CourseSource, CourseSurvey, Format, LessonOutcome, News, Options, Part, Run, Source, Stop,
    read_source,
};
use lopdf::Document;
use theory::Pitch;

/// A folder that goes when it is done with.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        path
    }

    /// Every file below, by its name.
    fn files(&self, name: &str) -> BTreeMap<String, Vec<u8>> {
        let mut files = BTreeMap::new();
        let mut folders = vec![self.path(name)];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    let name = path.strip_prefix(self.0.path()).unwrap();
                    files.insert(name.display().to_string(), fs::read(&path).unwrap());
                }
            }
        }
        files
    }

    /// Two lessons, two players, three weeks.
    fn course(&self) -> PathBuf {
        for (name, title, kind) in [("ferry", "Ferry", "scale"), ("bridge", "Bridge", "figure")] {
            self.write(
                &format!("lessons/{name}.toml"),
                &format!(
                    "title = \"{title}\"\ntempo = 96\n[keys]\nonly = [\"C\", \"F\", \"Bb\"]\n\
                     [scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n\
                     [[exercise]]\nkind = \"{kind}\"\n"
                ),
            );
        }
        self.write("term.toml", COURSE)
    }
}

const COURSE: &str = r#"course = "By the River"
text = "Take your time."

[[player]]
name = "Noor"
instrument = "alto saxophone"
copies = 3

[[player]]
instrument = "trombone"
level = "beginner"

[[week]]
title = "Across"
text = "Slowly first."
lessons = ["lessons/ferry.toml"]
keys = ["C", "F"]

[[week]]
lessons = ["lessons/bridge.toml"]

[[week]]
lessons = ["lessons/bridge.toml"]
again = 2
keys = ["Bb"]
"#;

fn read(path: &Path) -> Source {
    read_source(path).unwrap()
}

fn course(path: &Path) -> CourseSource {
    match read(path) {
        Source::Course(course) => course,
        Source::Lesson(_) => unreachable!("a lesson"),
    }
}

fn options(folder: &Folder, formats: &[Format]) -> Options {
    Options {
        out: folder.path("out"),
        formats: formats.to_vec(),
        ..Options::default()
    }
}

/// What is told of a run.
#[derive(Debug, Default)]
struct Told {
    folders: Vec<String>,
    kept: Vec<String>,
    leftovers: Vec<(String, bool)>,
    edited: Vec<String>,
    sheets: Vec<(String, copyist::SheetEntry)>,
}

fn write(source: Source, options: Options) -> Told {
    let mut told = Told::default();
    let mut hear = |outcome: &LessonOutcome| {
        let within = |file: &String| format!("{}/{file}", outcome.folder);
        let settled = &outcome.settled;
        told.folders.push(outcome.folder.clone());
        told.kept
            .extend(settled.kept.iter().map(|kept| within(&kept.file)));
        let left = settled.leftovers.iter();
        told.leftovers
            .extend(left.map(|one| (within(&one.file), one.removed)));
        told.edited
            .extend(outcome.course.iter().flat_map(|one| one.edited.clone()));
        let sheets = outcome.contents.sheets.iter();
        told.sheets
            .extend(sheets.map(|sheet| (outcome.folder.clone(), sheet.clone())));
    };
    let run = Run::new(vec![source], options).unwrap();
    run.write(&Stop::default(), &|_| (), &mut |news| {
        if let News::Lesson(outcome) = news {
            hear(outcome);
        }
        Ok(())
    })
    .unwrap();
    told
}

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

const ALL: [Format; 3] = [Format::MusicXml, Format::Pdf, Format::Midi];

#[test]
fn the_same_bytes_on_any_number_of_threads_and_from_parts() {
    let runs: Vec<BTreeMap<String, Vec<u8>>> = [1, 3]
        .map(|threads| {
            let folder = Folder::new();
            let source = read(&folder.course());
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
            let options = options(&folder, &ALL);
            pool.unwrap().install(|| write(source, options));
            folder.files("out")
        })
        .into();
    let names =
        |files: &BTreeMap<String, Vec<u8>>| -> Vec<String> { files.keys().cloned().collect() };
    assert_eq!(names(&runs[0]), names(&runs[1]));
    assert_eq!(runs[0], runs[1]);
    let folder = Folder::new();
    let path = folder.course();
    for part in ["2/3", "1/3", "3/3"] {
        let part: Part = part.parse().unwrap();
        let options = Options {
            part: Some(part),
            ..options(&folder, &ALL)
        };
        write(read(&path), options);
    }
    let parts = folder.files("out");
    for (name, bytes) in &runs[0] {
        if !name.ends_with(".lock") {
            assert_eq!(parts.get(name), Some(bytes), "{name}");
        }
    }
}

#[test]
fn weeks_have_their_tracks() {
    let folder = Folder::new();
    write(read(&folder.course()), options(&folder, &[Format::Midi]));
    let files = folder.files("out");
    let tracks: Vec<&str> = files
        .keys()
        .filter_map(|name| name.strip_prefix("out/term/noor/"))
        .collect();
    let expected = [
        "week-01/ferry-01-a.mid",
        "week-01/ferry-02-d.mid",
        "week-02/bridge-01-a.mid",
        "week-02/bridge-02-d.mid",
        "week-02/bridge-03-g.mid",
        "week-03/bridge-03-g.mid",
        "week-03/ferry-03-g.mid",
    ];
    assert_eq!(tracks, expected);
    let contents = String::from_utf8(files["out/term/contents.json"].clone()).unwrap();
    assert!(
        contents.contains("\"noor/week-03/ferry-03-g.mid\""),
        "{contents}"
    );
}

#[test]
fn an_edited_sheet_survives_and_books_are_told_to_hold_the_other() {
    let folder = Folder::new();
    let path = folder.course();
    let formats = [Format::MusicXml, Format::Pdf];
    let told = write(read(&path), options(&folder, &formats));
    assert!(told.edited.is_empty());
    let edited = "term/lessons/ferry/noor/01-a.musicxml";
    folder.write(&format!("out/{edited}"), "mine");
    folder.write(
        "lessons/ferry.toml",
        &fs::read_to_string(folder.path("lessons/ferry.toml"))
            .unwrap()
            .replace("96", "88"),
    );
    // Even where the sheet itself isn't written again.
    for formats in [&formats[..], &[Format::Pdf]] {
        let told = write(read(&path), options(&folder, formats));
        assert_eq!(told.edited, ["lessons/ferry/noor/01-a.musicxml"]);
        let mine = fs::read_to_string(folder.path(&format!("out/{edited}"))).unwrap();
        assert_eq!(mine, "mine");
    }
    let book = folder.path("out/term/noor/book.pdf");
    folder.write("out/term/noor/book.pdf", "my own book");
    let told = write(read(&path), options(&folder, &[Format::Pdf]));
    assert_eq!(told.kept, ["term/noor/book.pdf"]);
    assert_eq!(fs::read_to_string(book).unwrap(), "my own book");
}

#[test]
fn what_a_course_no_longer_has_is_told_and_tidied() {
    let folder = Folder::new();
    let path = folder.course();
    let formats = [Format::MusicXml, Format::Pdf];
    write(read(&path), options(&folder, &formats));
    let mine = "term/lessons/ferry/noor/01-a.musicxml";
    folder.write(&format!("out/{mine}"), "mine");
    let (head, _) = COURSE.split_once("[[player]]\ninstrument").unwrap();
    folder.write(
        "term.toml",
        &format!("{head}[[week]]\nlessons = [\"lessons/bridge.toml\"]\n"),
    );
    let told = write(read(&path), options(&folder, &formats));
    let names: Vec<&str> = told
        .leftovers
        .iter()
        .map(|(name, _)| name.as_str())
        .collect();
    for name in [
        "term/trombone/book.pdf",
        "term/noor/week-02.pdf",
        "term/lessons/bridge/trombone/01-c.musicxml",
        "term/lessons/ferry/noor/02-d.musicxml",
    ] {
        assert!(names.contains(&name), "{name}: {names:?}");
    }
    assert!(told.leftovers.iter().all(|(_, removed)| !removed));
    let tidy = Options {
        tidy: true,
        ..options(&folder, &formats)
    };
    write(read(&path), tidy);
    let files = folder.files("out");
    let left: Vec<&str> = files
        .keys()
        .map(String::as_str)
        .filter(|name| name.contains("ferry") || name.contains("trombone"))
        .collect();
    assert_eq!(
        left,
        [
            "out/term/lessons/ferry/contents.json",
            &format!("out/{mine}"),
        ]
    );
    fs::remove_file(folder.path(&format!("out/{mine}"))).unwrap();
    let tidy = Options {
        tidy: true,
        ..options(&folder, &formats)
    };
    write(read(&path), tidy);
    assert!(!folder.path("out/term/lessons/ferry").exists());
    assert!(folder.path("out/term/lessons/bridge").exists());
}

#[test]
fn a_lesson_by_itself_and_in_a_course_is_written_in_both_places() {
    let folder = Folder::new();
    let path = folder.course();
    let ferry = folder.path("lessons/ferry.toml");
    let run = Run::new(
        vec![read(&ferry), read(&path)],
        options(&folder, &[Format::MusicXml]),
    );
    run.unwrap()
        .write(&Stop::default(), &|_| (), &mut |_| Ok(()))
        .unwrap();
    let files = folder.files("out");
    assert!(files.contains_key("out/term/lessons/ferry/noor/01-a.musicxml"));
    assert!(files.keys().any(|name| name.starts_with("out/ferry/")));
    // Another file of that id is a mistake.
    let other = folder.write("elsewhere/ferry.toml", &fs::read_to_string(&ferry).unwrap());
    for sources in [
        vec![read(&other), read(&path)],
        vec![read(&path), read(&other)],
    ] {
        let refused = Run::new(sources, options(&folder, &[Format::MusicXml])).unwrap_err();
        assert_eq!(refused.len(), 1);
        assert!(
            refused[0].message.contains("two lessons of one id"),
            "{refused:?}"
        );
    }
}

#[test]
fn what_everyone_meets() {
    let folder = Folder::new();
    let source = course(&folder.course());
    let survey = CourseSurvey::of(&source.course, &Stop::default()).unwrap();
    let told: Vec<String> = survey
        .weeks
        .iter()
        .flat_map(|week| {
            week.players.iter().flat_map(move |player| {
                player.lessons.iter().map(move |meeting| {
                    assert!(meeting.bars > 0 && meeting.left_out.is_empty());
                    // At 96, a bar of 4/4 is two and a half seconds.
                    let bars = u64::from(meeting.bars);
                    let exact = (5 * bars).div_ceil(2);
                    let seconds = meeting.seconds.unwrap();
                    assert!((exact..=exact + 3).contains(&seconds), "{exact} {seconds}");
                    let keys: Vec<String> = meeting.keys().collect();
                    let again = if meeting.again { " again" } else { "" };
                    format!(
                        "{:?} {} {}{again}: {}",
                        week.number,
                        player.player,
                        meeting.lesson,
                        keys.join(" ")
                    )
                })
            })
        })
        .collect();
    assert_eq!(
        told,
        [
            "Some(1) 0 0: A D",
            "Some(1) 1 0: C F",
            "Some(2) 0 1: A D G",
            "Some(2) 1 1: C F B♭",
            "Some(3) 0 1: G",
            "Some(3) 0 0 again: G",
            "Some(3) 1 1: B♭",
            "Some(3) 1 0 again: B♭",
        ]
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

/// What was written is told even where the run ends with an error.
#[test]
fn a_run_that_can_not_go_on_says_what_it_wrote() {
    let folder = Folder::new();
    let path = folder.course();
    // Somebody's folder stands where a sheet goes.
    let taken = "out/term/lessons/ferry/noor/02-d.musicxml";
    fs::create_dir_all(folder.path(taken)).unwrap();
    let run = Run::new(vec![read(&path)], options(&folder, &[Format::MusicXml])).unwrap();
    let mut told = Vec::new();
    let ended = run.write(&Stop::default(), &|_| (), &mut |news| {
        if let News::Lesson(outcome) = news {
            told.push((outcome.folder.clone(), outcome.whole, outcome.files > 0));
        }
        Ok(())
    });
    let error = ended.unwrap_err().to_string();
    assert!(
        error.contains("02-d.musicxml: a folder has that name"),
        "{error}"
    );
    let bridge = ("term/lessons/bridge".to_owned(), true, true);
    assert!(told.contains(&bridge), "{told:?}");
    assert!(
        told.iter()
            .all(|(name, whole, _)| name.ends_with("bridge") || !whole)
    );
}

/// A run that was asked to stop writes nothing more.
#[test]
fn a_stopped_course_ends() {
    let folder = Folder::new();
    let path = folder.course();
    let stop = Stop::default();
    let run = Run::new(vec![read(&path)], options(&folder, &ALL)).unwrap();
    let asked = stop.clone();
    let ended = run.write(&stop, &move |_| asked.ask(), &mut |_| Ok(()));
    assert!(ended.unwrap_err().to_string().starts_with("stopped"));
    assert!(!folder.path("out/term/noor").exists());
    write(read(&path), options(&folder, &ALL));
    let files = folder.files("out");
    assert!(files.contains_key("out/term/noor/book.pdf"));
    assert!(
        files
            .keys()
            .all(|name| !name.contains(".part") && !name.contains(".pending"))
    );
}

/// Whatever is wrong is told with its own file, and no course comes of it.
#[test]
fn a_lesson_with_mistakes_is_told_with_its_own_file() {
    let folder = Folder::new();
    let path = folder.course();
    folder.write("lessons/bridge.toml", "title = \"Bridge\"\n");
    let faults = read_source(&path).unwrap_err();
    let files: Vec<PathBuf> = faults.iter().map(|fault| fault.path.clone()).collect();
    assert_eq!(files, [folder.path("lessons/bridge.toml")]);
    fs::remove_file(folder.path("lessons/ferry.toml")).unwrap();
    let faults = read_source(&path).unwrap_err();
    let files: Vec<PathBuf> = faults.iter().map(|fault| fault.path.clone()).collect();
    assert_eq!(files, [path, folder.path("lessons/bridge.toml")]);
}
