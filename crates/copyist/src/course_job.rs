//! What a run is to do of a course.

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::Path;

use etude::Composer;
use lesson::{Course, Lesson, Player};

use crate::folder::player_folders;
use crate::job::{Job, ready};
use crate::options::Options;
use crate::refusal::Refusal;
use crate::stop::Stop;

/// Where a course's lessons lie in its folder.
pub const LESSONS: &str = "lessons";

/// A course's part of the work.
#[derive(Debug)]
pub struct CourseJob {
    /// What it says; its lessons are the run's jobs.
    pub course: Course,
    /// Its folder under the one that everything goes into.
    pub folder: String,
    /// Its lessons among the run's jobs.
    pub jobs: Range<usize>,
    /// Everyone who gets a book.
    pub players: Vec<CoursePlayer>,
}

/// Somebody who gets a book.
#[derive(Debug)]
pub struct CoursePlayer {
    pub player: Player,
    /// The folder of the player's books.
    pub folder: String,
    /// The player's place in each lesson; none where a lesson hasn't got them.
    pub places: Vec<Option<usize>>,
}

impl CourseJob {
    /// What the folder of a week's tracks and its packet are called, by its
    /// place: `week-01`.
    pub fn week_name(&self, place: usize) -> String {
        let figures = self.course.weeks.len().to_string().len().max(2);
        format!("week-{:0figures$}", place + 1)
    }

    /// What a week is called: `Week 3 · Over the bridge`.
    pub fn week_title(&self, place: usize) -> String {
        let number = format!("Week {}", place + 1);
        let own = self.course.weeks.get(place);
        match own.and_then(|week| week.title.as_deref()) {
            Some(title) => format!("{number} · {title}"),
            None => number,
        }
    }
}

/// A lesson, who of its players is asked for, and how many sheets that gives.
pub type LessonChoice = (Lesson, Vec<usize>, usize);

/// What of a course's lessons is asked for. What only some of them have is left
/// aside in the others.
pub fn chosen<'a>(
    mut lessons: Vec<Lesson>,
    options: &Options,
    stop: &Stop,
    file: impl Fn(usize) -> &'a Path,
) -> Result<Vec<LessonChoice>, Vec<Refusal>> {
    let choice = &options.choice;
    let mut players = Vec::with_capacity(lessons.len());
    let mut refusals = Vec::new();
    for lesson in &mut lessons {
        lesson.paper = options.paper.or(lesson.paper);
        match choice.players(lesson) {
            Ok(places) => players.push(places),
            Err(refusal) => {
                players.push(Vec::new());
                refusals.push(refusal);
            }
        }
    }
    if players.iter().all(Vec::is_empty) && !refusals.is_empty() {
        refusals.truncate(1);
        return Err(refusals);
    }
    let mut ready_lessons: Vec<(Composer<'_>, Vec<usize>)> = Vec::with_capacity(lessons.len());
    let mut refusals = Vec::new();
    for (place, (lesson, players)) in lessons.iter().zip(&players).enumerate() {
        match ready(lesson, stop, file(place)) {
            Ok(composer) => ready_lessons.push((composer, players.clone())),
            Err(refusal) => refusals.push(refusal),
        }
    }
    refusals.extend(choice.lacking(&ready_lessons));
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let sheets = ready_lessons
        .iter()
        .map(|(composer, players)| choice.wanted(composer, players).len());
    let sheets: Vec<usize> = sheets.collect();
    drop(ready_lessons);
    let chosen = lessons.into_iter().zip(players).zip(sheets);
    Ok(chosen
        .map(|((lesson, players), sheets)| (lesson, players, sheets))
        .collect())
}

/// Everyone of a course's who has a part in the run: those it names, then horns
/// that were asked for beside them.
pub fn course_players(course: &Course, jobs: &[Job]) -> Vec<CoursePlayer> {
    let mut players: Vec<CoursePlayer> = Vec::new();
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    let mut add = |folder: &str, player: &Player| -> usize {
        *known.entry(folder.to_owned()).or_insert_with(|| {
            players.push(CoursePlayer {
                player: player.clone(),
                folder: folder.to_owned(),
                places: vec![None; jobs.len()],
            });
            players.len() - 1
        })
    };
    for (folder, player) in player_folders(&course.players).iter().zip(&course.players) {
        add(folder, player);
    }
    let mut places = Vec::new();
    for (lesson, job) in jobs.iter().enumerate() {
        for &place in &job.players {
            let at = add(&job.player_folders[place], &job.lesson.players[place]);
            places.push((at, lesson, place));
        }
    }
    for (player, lesson, place) in places {
        players[player].places[lesson] = Some(place);
    }
    players.retain(|player| player.places.iter().any(Option::is_some));
    players
}
