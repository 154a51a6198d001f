//! What is in store in a course: what each player meets each week.

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::{Course, Lesson};

use crate::choice::is_in;
use crate::composing::composer;
use crate::error::CopyError;
use crate::folder::player_folders;
use crate::seconds::seconds;
use crate::sheets::in_order;
use crate::stop::Stop;

/// A course, looked through.
#[derive(Debug, Clone)]
pub struct CourseSurvey {
    /// Its weeks; of a course without weeks one, which has no number.
    pub weeks: Vec<WeekSurvey>,
}

/// A week.
#[derive(Debug, Clone)]
pub struct WeekSurvey {
    /// From 1.
    pub number: Option<usize>,
    /// Its own title.
    pub title: Option<String>,
    /// What each of the course's players meets, in their order.
    pub players: Vec<PlayerWeek>,
}

/// What a player meets in a week.
#[derive(Debug, Clone)]
pub struct PlayerWeek {
    /// A place among the course's players.
    pub player: usize,
    /// Lesson by lesson, what comes again last.
    pub lessons: Vec<Meeting>,
}

/// A lesson that a player meets in a week.
#[derive(Debug, Clone)]
pub struct Meeting {
    /// A place among the course's lessons.
    pub lesson: usize,
    /// Whether it comes back.
    pub again: bool,
    /// The sheets there are.
    pub sheets: Vec<SheetPlan>,
    /// Their bars.
    pub bars: u32,
    /// How long they take once each at the printed tempo, of a ladder at its
    /// slowest; none where a sheet says no tempo.
    pub seconds: Option<u64>,
    /// The sheets that are left out, and why.
    pub left_out: Vec<(SheetPlan, LeftOut)>,
}

/// What is known of a sheet.
type SheetTime = Result<(u32, Option<u64>), LeftOut>;

impl CourseSurvey {
    /// Composes every sheet of a course, lesson by lesson on all cores.
    ///
    /// # Errors
    /// That it was asked to stop, or that a lesson can't be composed.
    pub fn of(course: &Course, stop: &Stop) -> Result<CourseSurvey, CopyError> {
        let folders = player_folders(&course.players);
        let mut weeks: Vec<WeekSurvey> = course
            .weeks
            .iter()
            .enumerate()
            .map(|(place, week)| WeekSurvey::new(Some(place + 1), week.title.clone(), course))
            .collect();
        if weeks.is_empty() {
            weeks.push(WeekSurvey::new(None, None, course));
        }
        let mut meetings: Vec<(usize, usize, Meeting)> = Vec::new();
        for (place, lesson) in course.lessons.iter().enumerate() {
            let sheets = looked(lesson, stop)?;
            let own = player_folders(&lesson.players);
            for (player, folder) in folders.iter().enumerate() {
                let Some(at) = own.iter().position(|own| own == folder) else {
                    continue;
                };
                let sheets = sheets.iter().filter(|(plan, _)| plan.player == at);
                let sheets: Vec<&(SheetPlan, SheetTime)> = sheets.collect();
                for week in 0..weeks.len() {
                    let meeting = meeting(course, week, place, lesson, &sheets);
                    meetings.extend(meeting.map(|meeting| (week, player, meeting)));
                }
            }
        }
        for (week, player, meeting) in meetings {
            weeks[week].players[player].lessons.push(meeting);
        }
        for (place, week) in weeks.iter_mut().enumerate() {
            // As the week names them.
            let order: Vec<usize> = course.weeks.get(place).map_or_else(
                || (0..course.lessons.len()).collect(),
                |week| week.all().collect(),
            );
            for player in &mut week.players {
                let at = |meeting: &Meeting| order.iter().position(|at| *at == meeting.lesson);
                player.lessons.sort_by_key(at);
            }
        }
        Ok(CourseSurvey { weeks })
    }
}

impl WeekSurvey {
    fn new(number: Option<usize>, title: Option<String>, course: &Course) -> WeekSurvey {
        let players = (0..course.players.len()).map(|player| PlayerWeek {
            player,
            lessons: Vec::new(),
        });
        WeekSurvey {
            number,
            title,
            players: players.collect(),
        }
    }
}

impl Meeting {
    /// The player's keys, as they read them.
    pub fn keys(&self) -> impl Iterator<Item = String> {
        self.sheets.iter().map(|plan| {
            if plan.through_keys {
                "through the keys".to_owned()
            } else {
                plan.written.signs()
            }
        })
    }
}

/// Every sheet of a lesson, as far as it matters here.
fn looked(lesson: &Lesson, stop: &Stop) -> Result<Vec<(SheetPlan, SheetTime)>, CopyError> {
    let composer: Composer<'_> = composer(lesson, stop)?;
    let mut sheets = Vec::with_capacity(composer.plans().len());
    let make = |_: &SheetPlan, sheet: Result<&Sheet, LeftOut>, _: &mut Vec<u8>| {
        Ok(sheet.map(|sheet| (sheet.report.bars, seconds(&sheet.score))))
    };
    in_order(&composer, composer.plans(), stop, make, |plan, looked| {
        sheets.push((*plan, looked));
        Ok(())
    })?;
    Ok(sheets)
}

/// What a player meets of a lesson in a week; none where it isn't in it.
fn meeting(
    course: &Course,
    week: usize,
    lesson_place: usize,
    lesson: &Lesson,
    sheets: &[&(SheetPlan, SheetTime)],
) -> Option<Meeting> {
    let week = course.weeks.get(week);
    if week.is_some_and(|week| !week.all().any(|place| place == lesson_place)) {
        return None;
    }
    let keys = week.and_then(|week| week.keys.as_ref());
    let mut meeting = Meeting {
        lesson: lesson_place,
        again: week.is_some_and(|week| week.again.contains(&lesson_place)),
        sheets: Vec::new(),
        bars: 0,
        seconds: Some(0),
        left_out: Vec::new(),
    };
    let wanted = |plan: &SheetPlan| keys.is_none_or(|keys| is_in(lesson, plan, keys));
    for (plan, looked) in sheets.iter().filter(|(plan, _)| wanted(plan)) {
        match looked {
            Ok((bars, seconds)) => {
                meeting.sheets.push(*plan);
                meeting.bars += bars;
                meeting.seconds = meeting.seconds.zip(*seconds).map(|(sum, own)| sum + own);
            }
            Err(why) => meeting.left_out.push((*plan, why.clone())),
        }
    }
    Some(meeting)
}
