//! `check`: composes lessons and courses, writes nothing, and says what is in
//! store: what will surprise, then sheet by sheet, or week by week.

use std::io::Write;

use copyist::{CourseSurvey, Source, Stop, Survey, surprise_lines, track_remarks};
use etude::Composer;
use lesson::{Course, Lesson};

use super::{check_course, check_json, check_player, explanation};
use crate::args::{CheckArgs, TextFormat};
use crate::console::Console;
use crate::exit::Exit;
use crate::json::JsonArray;
use crate::lessons::read_all;

pub fn run(args: &CheckArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(files) = read_all(&args.lessons, console) else {
        return Ok(Exit::Mistake);
    };
    let mut array = JsonArray::default();
    let mut exit = Exit::Done;
    for file in &files {
        let (left_out, told) = match file {
            Source::Lesson(source) => lesson(&source.lesson, args, out)?,
            Source::Course(source) => course(&source.course, args, out)?,
        };
        if let Some(json) = told {
            array.item(out, &json)?;
        }
        if left_out {
            exit = Exit::LeftOut;
        }
    }
    if args.format == TextFormat::Json {
        array.close(out)?;
    }
    Ok(exit)
}

/// Whether sheets are left out; and what is told, where that isn't printed as
/// text.
type LessonCheck = (bool, Option<Vec<u8>>);

fn lesson(lesson: &Lesson, args: &CheckArgs, out: &mut impl Write) -> anyhow::Result<LessonCheck> {
    let composer = Composer::new(lesson)?;
    let survey = Survey::of(&composer, &Stop::default())?;
    let told = match args.format {
        TextFormat::Json => {
            let told = check_json::lesson(&composer, &survey, args.explain);
            Some(serde_json::to_vec(&told)?)
        }
        TextFormat::Text => {
            print(&composer, &survey, args.explain, out)?;
            None
        }
    };
    Ok((survey.left_out(None).next().is_some(), told))
}

fn course(course: &Course, args: &CheckArgs, out: &mut impl Write) -> anyhow::Result<LessonCheck> {
    let survey = CourseSurvey::of(course, &Stop::default())?;
    let told = match args.format {
        TextFormat::Json => {
            let told = check_json::course(course, &survey, args.explain)?;
            Some(serde_json::to_vec(&told)?)
        }
        TextFormat::Text => {
            check_course::print(course, &survey, out)?;
            None
        }
    };
    Ok((check_course::leaves_out(&survey), told))
}

/// Says what is in store in a lesson.
fn print(
    composer: &Composer<'_>,
    survey: &Survey,
    explain: bool,
    out: &mut impl Write,
) -> anyhow::Result<()> {
    let lesson = composer.lesson();
    writeln!(out, "{}", head(lesson, survey))?;
    let surprises = surprise_lines(survey, lesson);
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
        check_player::print(composer, survey, place, out)?;
        if explain {
            explanation::print(survey.made(Some(place)), out)?;
        }
    }
    writeln!(out)?;
    Ok(())
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
