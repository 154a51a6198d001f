//! `check`: composes lessons, writes nothing, and says what is in store: what
//! will surprise, then sheet by sheet.

use std::io::Write;
use std::path::PathBuf;

use copyist::{Stop, Survey, surprise_lines, track_remarks};
use etude::Composer;
use lesson::Lesson;

use super::{check_player, explanation};
use crate::console::Console;
use crate::exit::Exit;
use crate::lessons::read_all;

pub fn run(
    paths: &[PathBuf],
    explain: bool,
    out: &mut impl Write,
    console: &Console,
) -> anyhow::Result<Exit> {
    let Some(files) = read_all(paths, console) else {
        return Ok(Exit::Mistake);
    };
    let mut exit = Exit::Done;
    for file in &files {
        let composer = match Composer::new(&file.lesson) {
            Ok(composer) => composer,
            Err(error) => {
                console.fault(&format!("{}: {error}", file.path.display()), None);
                return Ok(Exit::Mistake);
            }
        };
        if lesson(&composer, explain, out)? {
            exit = Exit::LeftOut;
        }
    }
    Ok(exit)
}

/// Reports on a lesson; whether any of its sheets is left out.
fn lesson(composer: &Composer<'_>, explain: bool, out: &mut impl Write) -> anyhow::Result<bool> {
    let survey = Survey::of(composer, &Stop::default())?;
    let lesson = composer.lesson();
    writeln!(out, "{}", head(lesson, &survey))?;
    let surprises = surprise_lines(&survey, lesson);
    let tracks = track_remarks(composer);
    if surprises.is_empty() && lesson.remarks.is_empty() && tracks.is_empty() {
        writeln!(out, "Nothing in it should surprise you.")?;
    } else {
        writeln!(out, "What may surprise you:")?;
    }
    for surprise in &surprises {
        writeln!(out, "  {surprise}")?;
    }
    for remark in lesson.remarks.iter().chain(&tracks) {
        writeln!(out, "  {remark}")?;
    }
    for place in 0..lesson.players.len() {
        writeln!(out)?;
        check_player::print(composer, &survey, place, out)?;
        if explain {
            explanation::print(survey.made(Some(place)), out)?;
        }
    }
    writeln!(out)?;
    Ok(survey.left_out(None).next().is_some())
}

fn head(lesson: &Lesson, survey: &Survey) -> String {
    let bars: u32 = survey.made(None).map(|(_, sheet)| sheet.bars).sum();
    let left_out = survey.left_out(None).count();
    let sheets = survey.made(None).count();
    let tail = if left_out > 0 {
        format!(", {left_out} left out")
    } else {
        String::new()
    };
    format!(
        "{} ({}): {sheets} sheets, {bars} bars{tail}",
        lesson.title, lesson.id
    )
}
