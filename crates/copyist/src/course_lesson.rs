//! A lesson of a course while its books and packets are made, and what of it a
//! week has.

use etude::{Composer, SheetPlan};

use crate::choice::is_in;
use crate::course_job::{CourseJob, CoursePlayer};
use crate::job::Job;
use crate::packet::WeekLesson;

/// A lesson of a course, ready to be composed.
pub struct CourseLesson<'a> {
    pub job: &'a Job,
    pub composer: Composer<'a>,
    /// Its sheets that the run is about.
    pub chosen: Vec<SheetPlan>,
}

impl CourseLesson<'_> {
    /// A player's sheets.
    pub fn plans(&self, player: Option<usize>) -> Vec<SheetPlan> {
        let chosen = self.chosen.iter();
        let own = chosen.filter(|plan| player == Some(plan.player));
        own.copied().collect()
    }
}

/// What a player plays of each lesson in a week.
pub fn week_lessons<'a>(
    course: &CourseJob,
    week: usize,
    player: &CoursePlayer,
    lessons: &'a [CourseLesson<'a>],
) -> Vec<WeekLesson<'a>> {
    let Some(week) = course.course.weeks.get(week) else {
        return Vec::new();
    };
    let lesson = |place: usize| {
        let lesson = lessons.get(place)?;
        let mut plans = lesson.plans(player.places.get(place).copied().flatten());
        if let Some(keys) = &week.keys {
            plans.retain(|plan| is_in(&lesson.job.lesson, plan, keys));
        }
        Some(WeekLesson {
            composer: &lesson.composer,
            lesson: place,
            again: week.again.contains(&place),
            plans,
        })
    };
    week.all().filter_map(lesson).collect()
}
