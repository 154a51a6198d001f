//! `start`: a commented lesson, or a course of the lessons beside it, to begin
//! from.

use std::fmt::Write as _;
use std::fs;
use std::io::{self, Write};
use std::path::Path;

use anyhow::Context;
use copyist::gathered;

use crate::args::StartArgs;
use crate::console::Console;
use crate::exit::Exit;

const LESSON: &str = include_str!("starter.toml");
const COURSE: &str = include_str!("starter_course.toml");

/// Weeks that a new course has; more lessons share them.
const WEEKS: usize = 4;

pub fn run(args: &StartArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let name = if args.course {
        "course.toml"
    } else {
        "lesson.toml"
    };
    let file = args.file.as_deref().unwrap_or(Path::new(name));
    let text = text(args, file);
    if file == Path::new("-") {
        out.write_all(text.as_bytes())?;
        return Ok(Exit::Done);
    }
    let path = file.display();
    match copyist::create(file, text.as_bytes()) {
        Ok(()) => {
            let next = if args.course { "check" } else { "write" };
            writeln!(out, "{path}\nnow try: twelvefold {next} {path}")?;
            Ok(Exit::Done)
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            let help = format!("name another file, as in: twelvefold start monday-{name}");
            console.fault(&format!("{path} is there already"), Some(&help));
            Ok(Exit::NotWritten)
        }
        Err(error) => Err(error).with_context(|| format!("could not write {path}")),
    }
}

fn text(args: &StartArgs, file: &Path) -> String {
    // What editors that complete and check TOML look for in its first line.
    let schema = args.schema.as_ref();
    let mut text = schema.map_or(String::new(), |path| format!("#:schema {path}\n"));
    if !args.course {
        return text + LESSON;
    }
    text += COURSE;
    let folder = file.parent().filter(|folder| *folder != Path::new(""));
    text + &weeks(&lessons(folder.unwrap_or(Path::new("."))))
}

/// The names of the lesson files in a folder.
fn lessons(folder: &Path) -> Vec<String> {
    let files = gathered(&[folder.to_owned()]).unwrap_or_default();
    let is_lesson = |path: &Path| {
        let text = fs::read_to_string(path);
        text.is_ok_and(|text| !lesson_text::is_course(&text))
    };
    let files = files.iter().filter(|path| is_lesson(path));
    let names = files.filter_map(|path| path.file_name()?.to_str());
    names.map(str::to_owned).collect()
}

/// The lessons spread over a few weeks.
fn weeks(lessons: &[String]) -> String {
    let mut text = String::new();
    if lessons.is_empty() {
        text += "# There is no lesson beside this file yet: twelvefold start lesson.toml\n\n";
        text += "[[week]]\nlessons = [\"lesson.toml\"]\n";
    }
    for week in lessons.chunks(lessons.len().div_ceil(WEEKS).max(1)) {
        // Writing into a string can't fail.
        let _ = writeln!(text, "[[week]]\nlessons = {week:?}");
        text += "# title = \"What this week is about\"\n";
        text +=
            "# keys = [\"C\", \"F\"]              # this week only these of the lessons' keys\n";
        text += "# again = 2                       # the lessons of two weeks ago come back\n\n";
    }
    text.truncate(text.trim_end().len());
    text + "\n"
}
