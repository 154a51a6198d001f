//! A run that is asked to stop: nothing is told or written of what it gave up,
//! what it wrote is whole, and the next run completes it.

use std::collections::BTreeMap;
use std::fs;
use std::sync::atomic::{AtomicU32, Ordering};

use copyist::{
    CopyError, CourseSurvey, Format, News, Options, RoomPitch, Run, Stop, Survey, composer,
};

use crate::support::{ALL, Folder, course, options, read, write};

/// Over changes, and with answers to be made.
const LESSON: &str = r#"title = "Weir"
instruments = ["flute", "alto saxophone"]
tempo = 120
answers = true

[keys]
only = ["C", "Db", "F"]

[track]
forms = ["backing", "all keys"]

[changes]
bars = "| Dm7 | G7 | Cmaj7 | same |"

[figure]
moves = "start, step up, step up, up 3 steps"

[[exercise]]
kind = "changes"

[[exercise]]
kind = "write out"
given = 1
"#;

/// Every format but samples, and everything that is bound.
fn everything(folder: &Folder) -> Options {
    Options {
        gather: true,
        room: Some(RoomPitch::Concert),
        sign_off: true,
        ..options(
            folder,
            &[
                Format::MusicXml,
                Format::Mxl,
                Format::Midi,
                Format::Flac,
                Format::Pdf,
                Format::Svg,
                Format::Page,
            ],
        )
    }
}

/// Files by name, without locks.
fn written(folder: &Folder) -> BTreeMap<String, Vec<u8>> {
    let mut files = folder.files("out");
    files.retain(|name, _| !name.ends_with(".lock"));
    files
}

/// A run that is asked to stop when it has counted so many sheets: what is left
/// out by what it tells, and whether it was stopped.
fn stopped(folder: &Folder, path: &str, options: Options, sheets: u32) -> (Vec<String>, bool) {
    let stop = Stop::default();
    if sheets == 0 {
        stop.ask();
    }
    let source = read(&folder.path(path));
    let run = Run::new(vec![source], options, &stop).unwrap();
    let counted = AtomicU32::new(0);
    let count = |_| {
        if counted.fetch_add(1, Ordering::Relaxed) + 1 >= sheets {
            stop.ask();
        }
    };
    let mut left_out = Vec::new();
    let ended = run.write(&count, &mut |news| {
        if let News::Lesson(outcome) = news {
            left_out.extend(outcome.left_out.iter().map(|one| one.sheet.clone()));
            left_out.extend(
                outcome
                    .contents
                    .left_out
                    .iter()
                    .map(|one| one.sheet.clone()),
            );
            assert!(outcome.failed.is_empty(), "{:?}", outcome.failed);
            assert!(
                outcome
                    .settled
                    .leftovers
                    .iter()
                    .all(|one| one.renamed.is_some())
            );
        }
        Ok(())
    });
    if let Err(error) = &ended {
        assert!(matches!(error, CopyError::Stopped), "{error}");
    }
    (left_out, ended.is_err())
}

fn check(name: &str, alone: &Folder, of: impl Fn(&Folder) -> Options) {
    write(read(&alone.path(name)), of(alone));
    let whole = written(alone);
    for sheets in [0, 2] {
        let folder = alone.beside();
        let (left_out, ended) = stopped(&folder, name, of(&folder), sheets);
        assert!(ended && left_out.is_empty(), "{sheets}: {left_out:?}");
        let now = written(&folder);
        for (file, bytes) in &now {
            let told = file.ends_with("contents.json");
            assert!(told || whole.get(file) == Some(bytes), "{sheets}: {file}");
        }
        assert!(sheets > 0 || now.is_empty(), "{:?}", now.keys());
        write(read(&folder.path(name)), of(&folder));
        assert_eq!(names(&written(&folder)), names(&whole), "{sheets}");
        assert!(written(&folder) == whole, "{sheets}");
    }
}

fn names(files: &BTreeMap<String, Vec<u8>>) -> Vec<&str> {
    files.keys().map(String::as_str).collect()
}

#[test]
fn nothing_is_told_of_what_was_given_up_and_the_next_run_completes_it() {
    let alone = Folder::new();
    alone.write("weir.toml", LESSON);
    check("weir.toml", &alone, everything);
}

#[test]
fn a_stopped_course_goes_on_where_it_ended() {
    let alone = Folder::new();
    alone.course();
    check("term.toml", &alone, |folder| options(folder, &ALL));
}

/// A stopped run takes nothing away: not what the lesson no longer makes, and
/// no sheet under its old name before the new one stands.
#[test]
fn nothing_is_taken_away_by_a_run_that_stops() {
    let folder = Folder::new();
    let plain = LESSON.replace("answers = true\n", "");
    folder.write("weir.toml", &plain);
    let formats = [Format::MusicXml, Format::Midi];
    let tidy = |folder: &Folder| Options {
        tidy: true,
        ..options(folder, &formats)
    };
    write(read(&folder.path("weir.toml")), tidy(&folder));
    let before = written(&folder);
    // Other names of keys, and one horn less.
    let sharps = plain.replace("\"Db\"", "\"C#\"").replace("\"flute\", ", "");
    folder.write("weir.toml", &sharps);
    let (left_out, ended) = stopped(&folder, "weir.toml", tidy(&folder), 1);
    assert!(ended && left_out.is_empty(), "{left_out:?}");
    let between = written(&folder);
    let flute = |name: &&String| name.contains("/flute/");
    assert!(before.keys().filter(flute).count() > 0);
    assert!(
        before
            .keys()
            .filter(flute)
            .all(|name| between.contains_key(name))
    );
    write(read(&folder.path("weir.toml")), tidy(&folder));
    let alone = Folder::new();
    alone.write("weir.toml", &sharps);
    write(read(&alone.path("weir.toml")), tidy(&alone));
    let (ended, alone) = (written(&folder), written(&alone));
    assert_eq!(names(&ended), names(&alone));
    assert!(ended == alone);
}

/// What was edited is told to be so by the next run, not forgotten.
#[test]
fn an_edit_is_known_after_a_run_that_stopped() {
    let folder = Folder::new();
    folder.write("weir.toml", LESSON);
    let path = folder.path("weir.toml");
    write(read(&path), options(&folder, &[Format::MusicXml]));
    let edited = folder.path("out/weir/flute/03-f.musicxml");
    fs::write(&edited, "mine").unwrap();
    folder.write("weir.toml", &LESSON.replace("Weir", "Sluice"));
    let (_, ended) = stopped(
        &folder,
        "weir.toml",
        options(&folder, &[Format::MusicXml]),
        1,
    );
    assert!(ended);
    let told = write(read(&path), options(&folder, &[Format::MusicXml]));
    assert_eq!(told.kept, ["weir/flute/03-f.musicxml"]);
    assert_eq!(fs::read_to_string(&edited).unwrap(), "mine");
}

#[test]
fn what_is_looked_through_ends_too() {
    let folder = Folder::new();
    let stop = Stop::default();
    stop.ask();
    let lesson = lesson_text::read(LESSON, "weir").unwrap();
    let composer = composer(&lesson, &stop).unwrap();
    let survey = Survey::of(&composer, &Stop::default());
    assert!(matches!(survey, Err(CopyError::Stopped)), "{survey:?}");
    let term = course(&folder.course()).course;
    let survey = CourseSurvey::of(&term, &stop);
    assert!(matches!(survey, Err(CopyError::Stopped)), "{survey:?}");
}
