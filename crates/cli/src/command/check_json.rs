//! What `check` says, for scripts: the same facts as its text, each in a field
//! of its own. `src/schema/check.json` tells the fields.

use copyist::{
    CourseSurvey, Meeting, Stop, Survey, WeekSurvey, key_words, player_folders, surprise_lines,
    track_remarks,
};
use etude::{
    Composer, ExerciseReport, LeftOut, PhrasePart, Report, SheetPlan, Statement, Surprising,
    hardest,
};
use lesson::Course;
use serde::Serialize;

use crate::json::JsonDocument;

/// A lesson, looked through.
#[derive(Serialize)]
pub struct LessonItem {
    lesson: String,
    title: String,
    surprises: Vec<SurpriseItem>,
    remarks: Vec<String>,
    players: Vec<PlayerItem>,
}

#[derive(Serialize)]
struct SurpriseItem {
    what: &'static str,
    sheets: usize,
    of: usize,
    whose: Vec<WhoseItem>,
    said: String,
}

#[derive(Serialize)]
struct WhoseItem {
    player: String,
    written_keys: Option<Vec<String>>,
}

#[derive(Serialize)]
struct PlayerItem {
    instrument: String,
    player: Option<String>,
    level: &'static str,
    low: String,
    high: String,
    sheets: Vec<SheetItem>,
    left_out: Vec<LeftOutItem>,
    hardest: Option<String>,
    beginners: Option<BeginnersItem>,
}

#[derive(Serialize)]
struct SheetItem {
    #[serde(flatten)]
    key: KeyItem,
    bars: u32,
    lowest: String,
    highest: String,
    signature: u32,
    turns: u32,
    jumps: u32,
    register_crossings: u32,
    respelled: u32,
    accidentals: u32,
    doubles: u32,
    white_twins: u32,
    edition: String,
    exercises: Vec<ExerciseItem>,
}

#[derive(Serialize)]
struct KeyItem {
    sheet: String,
    number: u16,
    written_key: String,
    concert_key: String,
}

#[derive(Serialize)]
struct ExerciseItem {
    exercise: usize,
    heading: String,
    lowest: String,
    highest: String,
    doubles: u32,
    remarks: Vec<String>,
    chord: Option<String>,
    clashes: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    statements: Option<Vec<StatementItem>>,
}

#[derive(Serialize)]
struct StatementItem {
    bar: i64,
    chorus: usize,
    chord: String,
    scale: String,
    because: &'static str,
    starts_on: String,
    part: Option<&'static str>,
    variant: String,
    shift: i8,
    join: Option<i32>,
    led: Option<String>,
    high_point: bool,
    cost: u32,
    missing: Vec<String>,
    clashes: Vec<String>,
}

#[derive(Serialize)]
struct LeftOutItem {
    #[serde(flatten)]
    key: KeyItem,
    why: String,
}

#[derive(Serialize)]
struct BeginnersItem {
    low: String,
    high: String,
    sheets: Vec<String>,
}

/// A course, looked through.
#[derive(Serialize)]
struct CourseItem {
    course: String,
    title: String,
    weeks: Vec<WeekItem>,
    lessons: Vec<JsonDocument<LessonItem>>,
}

#[derive(Serialize)]
struct WeekItem {
    week: Option<usize>,
    title: Option<String>,
    players: Vec<PlayerWeekItem>,
}

#[derive(Serialize)]
struct PlayerWeekItem {
    instrument: String,
    player: Option<String>,
    lessons: Vec<MeetingItem>,
}

#[derive(Serialize)]
struct MeetingItem {
    lesson: String,
    again: bool,
    written_keys: Vec<String>,
    bars: u32,
    seconds: Option<u64>,
    left_out: Vec<String>,
}

/// What is in store in a course: week by week, then lesson by lesson as its
/// players have them.
pub fn course(
    course: &Course,
    survey: &CourseSurvey,
    explain: bool,
) -> anyhow::Result<impl Serialize> {
    let mut lessons = Vec::new();
    for one in &course.lessons {
        let composer = Composer::new(one)?;
        let survey = Survey::of(&composer, &Stop::default())?;
        lessons.push(lesson(&composer, &survey, explain));
    }
    let weeks = survey.weeks.iter();
    Ok(JsonDocument::now(CourseItem {
        course: course.id.clone(),
        title: course.title.clone(),
        weeks: weeks.map(|week| week_item(course, week)).collect(),
        lessons,
    }))
}

fn week_item(course: &Course, week: &WeekSurvey) -> WeekItem {
    let players = week.players.iter().map(|own| {
        let player = &course.players[own.player];
        let lessons = own.lessons.iter();
        PlayerWeekItem {
            instrument: player.instrument.id.to_string(),
            player: player.name.clone(),
            lessons: lessons.map(|one| meeting(course, one)).collect(),
        }
    });
    WeekItem {
        week: week.number,
        title: week.title.clone(),
        players: players.collect(),
    }
}

fn meeting(course: &Course, meeting: &Meeting) -> MeetingItem {
    let sheets = meeting.sheets.iter();
    let left_out = meeting.left_out.iter();
    MeetingItem {
        lesson: course.lessons[meeting.lesson].id.clone(),
        again: meeting.again,
        written_keys: sheets.map(|plan| key_words(plan, plan.written)).collect(),
        bars: meeting.bars,
        seconds: meeting.seconds,
        left_out: left_out.map(|(_, why)| why.to_string()).collect(),
    }
}

/// What is in store in a lesson; with `explain`, statement by statement.
pub fn lesson(composer: &Composer<'_>, survey: &Survey, explain: bool) -> JsonDocument<LessonItem> {
    let lesson = composer.lesson();
    let surprises = surprise_lines(survey, lesson).into_iter();
    let folders = player_folders(&lesson.players);
    let remarks = lesson.remarks.iter().map(ToString::to_string);
    JsonDocument::now(LessonItem {
        lesson: lesson.id.clone(),
        title: lesson.title.clone(),
        surprises: surprises
            .map(|line| SurpriseItem {
                what: word(line.what),
                sheets: line.sheets,
                of: line.of,
                said: line.to_string(),
                whose: line.whose.into_iter().map(whose).collect(),
            })
            .collect(),
        remarks: remarks.chain(track_remarks(composer)).collect(),
        players: folders
            .iter()
            .enumerate()
            .map(|(place, folder)| player(composer, survey, (place, folder), explain))
            .collect(),
    })
}

fn word(what: Surprising) -> &'static str {
    match what {
        Surprising::LeftOut => "left out",
        Surprising::NoWayDown => "no way down",
        Surprising::Shorter => "shorter",
        Surprising::Jumps => "jumps",
        Surprising::PlaysAlone => "plays alone",
        Surprising::WishUnmet => "wish unmet",
        Surprising::Doubles => "doubles",
        Surprising::Clashes => "clashes",
    }
}

fn whose((player, written_keys): (String, Option<Vec<String>>)) -> WhoseItem {
    WhoseItem {
        player,
        written_keys,
    }
}

fn player(
    composer: &Composer<'_>,
    survey: &Survey,
    (place, folder): (usize, &str),
    explain: bool,
) -> PlayerItem {
    let player = &composer.lesson().players[place];
    let range = player.range(player.level);
    let made = || survey.made(Some(place));
    PlayerItem {
        instrument: player.instrument.id.to_string(),
        player: player.name.clone(),
        level: player.level.word(),
        low: range.low.to_string(),
        high: range.high.to_string(),
        sheets: made()
            .map(|(plan, report)| sheet(folder, plan, report, explain))
            .collect(),
        left_out: survey
            .left_out(Some(place))
            .map(|(plan, why)| left_out(folder, plan, why))
            .collect(),
        hardest: hardest(made()).map(|(plan, _)| file(folder, plan)),
        beginners: survey
            .beginner_reach(composer, place)
            .map(|reach| BeginnersItem {
                low: reach.range.low.to_string(),
                high: reach.range.high.to_string(),
                sheets: reach.inside.iter().map(|plan| file(folder, plan)).collect(),
            }),
    }
}

/// A sheet's file within the lesson's folder, without ending.
fn file(folder: &str, plan: &SheetPlan) -> String {
    format!("{folder}/{}", plan.stem())
}

fn key(folder: &str, plan: &SheetPlan) -> KeyItem {
    KeyItem {
        sheet: file(folder, plan),
        number: plan.number,
        written_key: key_words(plan, plan.written),
        concert_key: key_words(plan, plan.concert),
    }
}

fn left_out(folder: &str, plan: &SheetPlan, why: &LeftOut) -> LeftOutItem {
    LeftOutItem {
        key: key(folder, plan),
        why: why.to_string(),
    }
}

fn sheet(folder: &str, plan: &SheetPlan, report: &Report, explain: bool) -> SheetItem {
    SheetItem {
        key: key(folder, plan),
        bars: report.bars,
        lowest: report.lowest.to_string(),
        highest: report.highest.to_string(),
        signature: report.signature,
        turns: report.turns,
        jumps: report.jumps,
        register_crossings: report.register_crossings,
        respelled: report.respellings,
        accidentals: report.accidentals,
        doubles: report.doubles,
        white_twins: report.white_twins,
        edition: report.edition.clone(),
        exercises: report
            .exercises
            .iter()
            .map(|one| exercise(one, explain))
            .collect(),
    }
}

fn exercise(report: &ExerciseReport, explain: bool) -> ExerciseItem {
    let (chord, clashes) = match &report.clashes {
        Some((chord, degrees)) => (Some(chord.to_string()), strings(degrees)),
        None => (None, Vec::new()),
    };
    ExerciseItem {
        exercise: report.place,
        heading: report.heading.clone(),
        lowest: report.lowest.to_string(),
        highest: report.highest.to_string(),
        doubles: report.doubles,
        remarks: strings(&report.remarks),
        chord,
        clashes,
        statements: explain.then(|| report.statements.iter().map(statement).collect()),
    }
}

fn statement(statement: &Statement) -> StatementItem {
    StatementItem {
        bar: statement.bar,
        chorus: statement.chorus,
        chord: statement.chord.to_string(),
        scale: statement.scale.clone(),
        because: statement.rule.words(),
        starts_on: statement.start.to_string(),
        part: statement.part.map(PhrasePart::word),
        variant: statement.variant.clone(),
        shift: statement.shift,
        join: statement.join.map(|join| join.semitones),
        led: statement
            .join
            .and_then(|join| join.led)
            .map(|led| led.to_string()),
        high_point: statement.high_point.is_some(),
        cost: statement.cost(),
        missing: strings(&statement.missing),
        clashes: strings(&statement.clashes),
    }
}

fn strings(values: &[impl ToString]) -> Vec<String> {
    values.iter().map(ToString::to_string).collect()
}
