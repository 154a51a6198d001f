//! A page for each player to practise with: `alto-saxophone/practice.html`.

use etude::{Composer, SheetPlan};
use lesson::Player;
use practice::{PracticePage, PracticeSheet};
use rayon::prelude::*;
use sound::{Take, perform};

use crate::course_job::{CourseJob, CoursePlayer};
use crate::course_writing::CourseLesson;
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::pictures::Pictures;
use crate::stop::Stop;
use crate::track_version::take;

/// A page for each player who has any sheets.
pub fn practice_pages(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    folders: &[String],
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Vec<FolderFile>, CopyError> {
    let players = (0..composer.lesson().players.len()).into_par_iter();
    let pages: Vec<Option<FolderFile>> = players
        .map(|player| {
            stop.check()?;
            let own: Vec<SheetPlan> = plans
                .iter()
                .filter(|plan| plan.player == player)
                .copied()
                .collect();
            Ok(page(composer, player, &own, &folders[player], pictures))
        })
        .collect::<Result<_, CopyError>>()?;
    Ok(pages.into_iter().flatten().collect())
}

fn page(
    composer: &Composer<'_>,
    player: usize,
    plans: &[SheetPlan],
    folder: &str,
    pictures: &Pictures,
) -> Option<FolderFile> {
    let lesson = composer.lesson();
    let sheets: Vec<PracticeSheet> = plans
        .iter()
        .filter_map(|plan| sheet(composer, plan, pictures))
        .collect();
    if sheets.is_empty() {
        return None;
    }
    let name = name(&lesson.players[player]);
    let bytes = practice::page(&PracticePage {
        lesson: lesson.id.clone(),
        title: lesson.title.clone(),
        player: folder.to_owned(),
        name,
        tuning: lesson.track.tuning,
        sheets,
        weeks: Vec::new(),
    });
    Some(FolderFile {
        file: format!("{folder}/practice.html"),
        bytes,
    })
}

/// A page for a player of a course, with the sheets of all its weeks.
pub fn course_page(
    course: &CourseJob,
    player: &CoursePlayer,
    lessons: &[CourseLesson<'_>],
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Option<Vec<u8>>, CopyError> {
    let mut sheets = Vec::new();
    let mut tuning = None;
    for (place, lesson) in lessons.iter().enumerate() {
        let own = &lesson.job.lesson;
        for plan in lesson.plans(player.places.get(place).copied().flatten()) {
            stop.check()?;
            let Some(made) = sheet(&lesson.composer, &plan, pictures) else {
                continue;
            };
            tuning = tuning.or(Some(own.track.tuning));
            sheets.push(PracticeSheet {
                stem: format!("{}-{}", lesson.job.name, made.stem),
                lesson: own.title.clone(),
                ..made
            });
        }
    }
    let Some(tuning) = tuning else {
        return Ok(None);
    };
    Ok(Some(practice::page(&PracticePage {
        lesson: course.course.id.clone(),
        title: course.course.title.clone(),
        player: player.folder.clone(),
        name: name(&player.player),
        tuning,
        sheets,
        weeks: Vec::new(),
    })))
}

/// Who plays.
fn name(player: &Player) -> String {
    match &player.name {
        Some(name) => format!("{name} · {}", player.instrument.name),
        None => player.instrument.name.to_string(),
    }
}

fn sheet(composer: &Composer<'_>, plan: &SheetPlan, pictures: &Pictures) -> Option<PracticeSheet> {
    let score = composer.compose(plan).ok()?.score;
    let take = Take {
        times: 1,
        ..take(composer.lesson())
    };
    let events = perform(&[&score], &take)
        .ok()
        .map(|performance| practice::events(&performance, &score));
    let through = || "through the keys".to_owned();
    let key = |name: String| if plan.through_keys { through() } else { name };
    Some(PracticeSheet {
        stem: plan.stem(),
        lesson: String::new(),
        tempos: composer
            .lesson()
            .tempo
            .map(|tempo| tempo.steps())
            .unwrap_or_default(),
        written: key(plan.written.signs()),
        concert: key(plan.concert.signs()),
        pages: pictures.pages(&score),
        events,
    })
}
