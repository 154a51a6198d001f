//! A page for each player to practise with: `alto-saxophone/practice.html`.

use std::collections::BTreeMap;

use etude::{Composer, Sheet, SheetPlan};
use lesson::{Player, Tempo};
use practice::{PracticePage, PracticeSheet, PracticeWeek};
use rayon::prelude::*;
use sound::{Take, perform};

use crate::composing::unless_stopped;
use crate::course_job::{CourseJob, CoursePlayer};
use crate::course_lesson::{CourseLesson, week_lessons};
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::packet::WeekLesson;
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
            page(composer, player, &own, &folders[player], pictures)
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
) -> Result<Option<FolderFile>, CopyError> {
    let lesson = composer.lesson();
    let sheets: Vec<PracticeSheet> = plans
        .iter()
        .filter_map(|plan| sheet(composer, plan, pictures).transpose())
        .collect::<Result<_, CopyError>>()?;
    if sheets.is_empty() {
        return Ok(None);
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
    Ok(Some(FolderFile {
        file: format!("{folder}/practice.html"),
        bytes,
    }))
}

/// A page for a player of a course: the sheets of its weeks, or, without
/// weeks, of all its lessons.
pub fn course_page(
    course: &CourseJob,
    player: &CoursePlayer,
    lessons: &[CourseLesson<'_>],
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Option<Vec<u8>>, CopyError> {
    let weeks = 0..course.course.weeks.len();
    let mut weeks: Vec<PracticeWeek> = weeks
        .map(|place| PracticeWeek {
            title: course.week_title(place),
            text: course.course.weeks[place].text.clone(),
            sheets: Vec::new(),
        })
        .collect();
    let played: Vec<Vec<WeekLesson<'_>>> = (0..weeks.len())
        .map(|place| week_lessons(course, place, player, lessons))
        .collect();
    let mut sheets = Vec::new();
    // Each sheet's place on the page.
    let mut places: BTreeMap<(usize, String), usize> = BTreeMap::new();
    for (place, lesson) in lessons.iter().enumerate() {
        for plan in lesson.plans(player.places.get(place).copied().flatten()) {
            stop.check()?;
            let in_weeks = played.iter().flatten();
            let mut in_weeks = in_weeks.filter(|played| played.lesson == place);
            if !weeks.is_empty() && !in_weeks.any(|played| played.plans.contains(&plan)) {
                continue;
            }
            let Some(made) = sheet(&lesson.composer, &plan, pictures)? else {
                continue;
            };
            places.insert((place, made.stem.clone()), sheets.len());
            sheets.push(PracticeSheet {
                stem: format!("{}-{}", lesson.job.name, made.stem),
                lesson: lesson.job.lesson.title.clone(),
                ..made
            });
        }
    }
    for (week, played) in weeks.iter_mut().zip(&played) {
        for lesson in played {
            let own = lesson.plans.iter();
            let own = own.filter_map(|plan| places.get(&(lesson.lesson, plan.stem())));
            week.sheets.extend(own);
        }
    }
    weeks.retain(|week| !week.sheets.is_empty());
    let Some(first) = lessons.first().filter(|_| !sheets.is_empty()) else {
        return Ok(None);
    };
    Ok(Some(practice::page(&PracticePage {
        lesson: course.course.id.clone(),
        title: course.course.title.clone(),
        player: player.folder.clone(),
        name: name(&player.player),
        tuning: first.job.lesson.track.tuning,
        sheets,
        weeks,
    })))
}

/// Who plays.
fn name(player: &Player) -> String {
    match &player.name {
        Some(name) => format!("{name} · {}", player.instrument.name),
        None => player.instrument.name.to_string(),
    }
}

/// A sheet on the page; none where it is left out.
fn sheet(
    composer: &Composer<'_>,
    plan: &SheetPlan,
    pictures: &Pictures,
) -> Result<Option<PracticeSheet>, CopyError> {
    let lesson = composer.lesson();
    let Ok(Sheet { score, .. }) = unless_stopped(composer.compose(plan))? else {
        return Ok(None);
    };
    let take = Take {
        times: 1,
        ..take(lesson)
    };
    let events = perform(&[&score], &take)
        .ok()
        .map(|performance| practice::events(&performance, &score));
    let through = || "through the keys".to_owned();
    let key = |name: String| if plan.through_keys { through() } else { name };
    Ok(Some(PracticeSheet {
        stem: plan.stem(),
        lesson: String::new(),
        tempos: lesson.tempo.map(Tempo::steps).unwrap_or_default(),
        written: key(plan.written.signs()),
        concert: key(plan.concert.signs()),
        pages: pictures.pages(&score),
        events,
    }))
}
