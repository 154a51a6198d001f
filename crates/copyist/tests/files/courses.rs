//! A course's folders: what lies where, what stays, what is told.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use copyist::{CourseSurvey, Format, News, Options, Run, RunPart, Stop, read_source};

use crate::support::{ALL, COURSE, Folder, course, options, read, write};

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
        let part: RunPart = part.parse().unwrap();
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
        &Stop::default(),
    );
    run.unwrap().write(&|_| (), &mut |_| Ok(())).unwrap();
    let files = folder.files("out");
    assert!(files.contains_key("out/term/lessons/ferry/noor/01-a.musicxml"));
    assert!(files.keys().any(|name| name.starts_with("out/ferry/")));
    // Another file of that id is a mistake.
    let other = folder.write("elsewhere/ferry.toml", &fs::read_to_string(&ferry).unwrap());
    for sources in [
        vec![read(&other), read(&path)],
        vec![read(&path), read(&other)],
    ] {
        let refused = Run::new(
            sources,
            options(&folder, &[Format::MusicXml]),
            &Stop::default(),
        )
        .unwrap_err();
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

/// What was written is told even where the run ends with an error.
#[test]
fn a_run_that_can_not_go_on_says_what_it_wrote() {
    let folder = Folder::new();
    let path = folder.course();
    // Somebody's folder stands where a sheet goes.
    let taken = "out/term/lessons/ferry/noor/02-d.musicxml";
    fs::create_dir_all(folder.path(taken)).unwrap();
    let run = Run::new(
        vec![read(&path)],
        options(&folder, &[Format::MusicXml]),
        &Stop::default(),
    )
    .unwrap();
    let mut told = Vec::new();
    let ended = run.write(&|_| (), &mut |news| {
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
