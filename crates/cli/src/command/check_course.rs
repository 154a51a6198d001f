//! What `check` says of a course: what may surprise in its lessons, then week
//! by week what each player meets.

use std::io::Write;

use copyist::{
    CourseSurvey, Meeting, PlayerWeek, Stop, Survey, WeekSurvey, key_words, surprise_lines,
};
use etude::Composer;
use lesson::{Course, Player, counted};

use crate::table;

/// Says what is in store in a course.
pub fn print(course: &Course, survey: &CourseSurvey, out: &mut impl Write) -> anyhow::Result<()> {
    writeln!(out, "{}", head(course, survey))?;
    let surprises = surprises(course)?;
    if surprises.is_empty() {
        writeln!(out, "Nothing in it should surprise you.")?;
    } else {
        writeln!(out, "What may surprise you:")?;
    }
    for surprise in surprises {
        writeln!(out, "  {surprise}")?;
    }
    for week in &survey.weeks {
        writeln!(out, "\n{}", week_line(week))?;
        print_week(course, week, out)?;
    }
    writeln!(out)?;
    Ok(())
}

/// Whether any sheet that somebody should meet can't be made.
pub fn leaves_out(survey: &CourseSurvey) -> bool {
    meetings(survey).any(|meeting| !meeting.left_out.is_empty())
}

fn meetings(survey: &CourseSurvey) -> impl Iterator<Item = &Meeting> {
    let players = survey.weeks.iter().flat_map(|week| &week.players);
    players.flat_map(|player| &player.lessons)
}

fn head(course: &Course, survey: &CourseSurvey) -> String {
    let mut parts = vec![counted(course.lessons.len(), "lesson")];
    if !course.weeks.is_empty() {
        parts.push(counted(course.weeks.len(), "week"));
    }
    parts.push(counted(course.players.len(), "player"));
    let left_out: usize = meetings(survey).map(|meeting| meeting.left_out.len()).sum();
    if left_out > 0 {
        parts.push(format!("{} left out", counted(left_out, "sheet")));
    }
    format!("{} ({}): {}", course.title, course.id, parts.join(", "))
}

/// Lesson by lesson, as its players in this course meet it.
fn surprises(course: &Course) -> anyhow::Result<Vec<String>> {
    let mut said = Vec::new();
    for lesson in &course.lessons {
        let composer = Composer::new(lesson)?;
        let survey = Survey::of(&composer, &Stop::default())?;
        let lines = surprise_lines(&survey, lesson).into_iter();
        said.extend(lines.map(|line| format!("{}: {line}", lesson.title)));
        let remarks = lesson.remarks.iter();
        said.extend(remarks.map(|remark| format!("{}: {remark}", lesson.title)));
    }
    Ok(said)
}

fn week_line(week: &WeekSurvey) -> String {
    match (week.number, &week.title) {
        (Some(number), Some(title)) => format!("Week {number}, {title}"),
        (Some(number), None) => format!("Week {number}"),
        (None, _) => "All of it".to_owned(),
    }
}

const HEADING: [&str; 5] = ["player", "lesson", "written keys", "bars", "minutes"];

fn print_week(course: &Course, week: &WeekSurvey, out: &mut impl Write) -> anyhow::Result<()> {
    let mut rows: Vec<[String; 5]> = Vec::new();
    for week in &week.players {
        rows.extend(player_rows(course, week));
    }
    table::print(out, "  ", HEADING, &rows)?;
    for week in &week.players {
        let who = who(&course.players[week.player]);
        for meeting in &week.lessons {
            let title = &course.lessons[meeting.lesson].title;
            for (_, why) in &meeting.left_out {
                writeln!(out, "  left out: {who}, {title}: {why}")?;
            }
        }
    }
    Ok(())
}

/// A row to each lesson, and one for all of several.
fn player_rows(course: &Course, week: &PlayerWeek) -> Vec<[String; 5]> {
    let mut first = Some(who(&course.players[week.player]));
    let mut name = || first.take().unwrap_or_default();
    if week.lessons.iter().all(|meeting| meeting.sheets.is_empty()) {
        let nothing = [
            name(),
            "nothing".to_owned(),
            String::new(),
            "0".to_owned(),
            "0".to_owned(),
        ];
        return vec![nothing];
    }
    let mut rows: Vec<[String; 5]> = Vec::new();
    for meeting in &week.lessons {
        let title = &course.lessons[meeting.lesson].title;
        let again = if meeting.again { ", again" } else { "" };
        let sheets = meeting.sheets.iter();
        let keys: Vec<String> = sheets.map(|plan| key_words(plan, plan.written)).collect();
        rows.push([
            name(),
            format!("{title}{again}"),
            keys.join(", "),
            meeting.bars.to_string(),
            minutes(meeting.seconds),
        ]);
    }
    if week.lessons.len() > 1 {
        let bars: u32 = week.lessons.iter().map(|meeting| meeting.bars).sum();
        let seconds = week.lessons.iter().map(|meeting| meeting.seconds);
        rows.push([
            String::new(),
            "in all".to_owned(),
            String::new(),
            bars.to_string(),
            minutes(seconds.sum()),
        ]);
    }
    rows
}

fn who(player: &Player) -> String {
    let name = player.name.clone();
    name.unwrap_or_else(|| player.instrument.name.to_string())
}

/// Begun minutes; a dash where a sheet says no tempo.
fn minutes(seconds: Option<u64>) -> String {
    seconds.map_or("–".to_owned(), |seconds| seconds.div_ceil(60).to_string())
}
