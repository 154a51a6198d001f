//! A player's packet for one week of a course.

use engrave::{Foot, Packet, Task, TaskKey};
use etude::{Composer, SheetPlan};
use lesson::Tempo;
use score::About;

use crate::composing::unless_stopped;
use crate::course_job::{CourseJob, CoursePlayer};
use crate::error::CopyError;
use crate::pictures::Pictures;
use crate::printed_book::{footer, key_name, line, short_key};
use crate::stop::Stop;

/// What somebody plays of a lesson in a week.
#[derive(Debug)]
pub struct WeekLesson<'a> {
    pub composer: &'a Composer<'a>,
    /// The lesson's place in the course.
    pub lesson: usize,
    /// Whether it comes back.
    pub again: bool,
    /// This week's sheets.
    pub plans: Vec<SheetPlan>,
}

/// The packet as a PDF file, every copy of it; none where nothing of the week
/// can be played.
pub fn packet(
    course: &CourseJob,
    week: usize,
    player: &CoursePlayer,
    lessons: &[WeekLesson<'_>],
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Option<Vec<u8>>, CopyError> {
    let mut packet = Packet {
        course: course.course.title.clone(),
        title: course.week_title(week),
        player: player.player.name.clone().unwrap_or_default(),
        copies: player.player.copies,
        ..Packet::default()
    };
    if let Some(week) = course.course.weeks.get(week) {
        packet.text.clone_from(&week.text);
    }
    for lesson in lessons {
        let task = task(&mut packet, lesson, pictures, stop)?;
        if !task.keys.is_empty() {
            packet.tasks.push(task);
        }
    }
    if packet.tasks.is_empty() {
        return Ok(None);
    }
    let rest = [
        packet.title.as_str(),
        &packet.instrument,
        footer(&course.course),
    ];
    packet.foot = Foot::new(&packet.course, &rest);
    packet.bind().pdf(|| stop.check()).map(Some)
}

/// A lesson's sheets of the week, drawn; they say whose packet it is and on
/// which paper.
fn task(
    packet: &mut Packet,
    lesson: &WeekLesson<'_>,
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Task, CopyError> {
    let own = lesson.composer.lesson();
    let mut task = Task {
        name: own.title.clone(),
        again: lesson.again,
        tempos: own.tempo.map(Tempo::steps).unwrap_or_default(),
        keys: Vec::new(),
    };
    for plan in &lesson.plans {
        stop.check()?;
        let Ok(sheet) = unless_stopped(lesson.composer.compose(plan))? else {
            continue;
        };
        let score = &sheet.score;
        packet.paper = engrave::Paper::of(score);
        packet.instrument.clone_from(&score.part.name);
        if packet.care.is_empty() {
            packet.care = line(score, About::Care).unwrap_or_default();
        }
        task.keys.push(TaskKey {
            name: key_name(score),
            short: short_key(plan),
            pages: pictures.drawn(score).pages,
        });
    }
    Ok(task)
}
