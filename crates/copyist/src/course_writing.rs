//! What is made of a course's lessons together: for each player a book, a packet
//! for each week, and a practice page.

use std::collections::{BTreeMap, BTreeSet};

use etude::{Composer, SheetPlan};
use rayon::prelude::*;

use crate::compilation;
use crate::composing::composer;
use crate::contents::stem;
use crate::course_job::{CourseJob, CoursePlayer, LESSONS};
use crate::course_lesson::{CourseLesson, week_lessons};
use crate::error::CopyError;
use crate::format::Format;
use crate::job::Job;
use crate::outcome::{CourseOutcome, Interruption, LessonOutcome};
use crate::packet::packet;
use crate::practice_page::course_page;
use crate::printed_book::{BookLesson, PrintedBook};
use crate::run_part::RunPart;
use crate::track::TrackSet;
use crate::writing::Writing;

impl Writing<'_> {
    /// Opens a course's folder, before its lessons.
    pub fn open_course(&self, course: &CourseJob) {
        if self.writes() {
            let lessons = format!("{}/{LESSONS}", course.folder);
            self.store.open_around(&course.folder, &lessons);
        }
    }

    /// Makes all that is made of a course's lessons together, once they are
    /// done themselves. `edited` are sheets of theirs that somebody edited.
    pub fn course(
        &self,
        course: &CourseJob,
        jobs: &[Job],
        edited: Vec<String>,
    ) -> Result<LessonOutcome, Interruption> {
        let own = &course.course;
        let mut outcome = LessonOutcome::new(&own.id, &own.title, &course.folder);
        let folder = self.store.opened(&course.folder);
        let known = folder.as_ref().map(|folder| &folder.known.contents);
        outcome
            .bound
            .extend(known.iter().flat_map(|known| known.bound.iter().cloned()));
        outcome.contents.lessons = jobs.iter().map(|job| job.name.clone()).collect();
        let earlier = known.iter().flat_map(|known| &known.lessons);
        for lesson in earlier {
            let stands = || {
                let folder = format!("{}/{LESSONS}/{lesson}", course.folder);
                self.store.has(&folder)
            };
            if !outcome.contents.lessons.contains(lesson) && is_plain(lesson) && stands() {
                outcome.contents.lessons.push(lesson.clone());
            }
        }
        let lessons = self.course_lessons(jobs)?;
        let mut tracks = TrackSet::default();
        let done = self.course_bound(course, &lessons, &mut outcome);
        if done.is_ok() && !outcome.contents.bound.is_empty() {
            outcome.course = Some(CourseOutcome { edited });
        }
        let done = done.and_then(|()| self.week_tracks(course, &lessons, &mut tracks));
        outcome.files += tracks.tracks.len();
        outcome.contents.tracks = tracks.tracks;
        outcome.failed = tracks.failed;
        outcome.told = tracks.told;
        let done = done.and_then(|()| {
            let found: BTreeSet<&str> = known
                .iter()
                .flat_map(|known| &known.tracks)
                .map(|track| track.file.as_str())
                .collect();
            self.week_lists(course, &lessons, &found, &mut outcome)
        });
        let closed = self.close_course(course, &lessons, done.is_ok(), &mut outcome);
        outcome.ended(done, closed)
    }

    fn course_lessons<'b>(&'b self, jobs: &'b [Job]) -> Result<Vec<CourseLesson<'b>>, CopyError> {
        let lesson = |job: &'b Job| {
            let composer = composer(&job.lesson, self.stop)?;
            let chosen = self.options.choice.wanted(&composer, &job.players);
            Ok(CourseLesson {
                job,
                composer,
                chosen,
            })
        };
        jobs.iter().map(lesson).collect()
    }

    /// Books, packets and practice pages, player by player on all cores; each
    /// file is put as soon as it is made. Of several parts the first makes
    /// them.
    fn course_bound(
        &self,
        course: &CourseJob,
        lessons: &[CourseLesson<'_>],
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.options.part.is_none_or(RunPart::is_first) {
            return Ok(());
        }
        let made: Vec<Vec<String>> = course
            .players
            .par_iter()
            .map(|player| self.player_bound(course, player, lessons))
            .collect::<Result<_, CopyError>>()?;
        outcome.contents.bound = made.into_iter().flatten().collect();
        outcome.files += outcome.contents.bound.len();
        Ok(())
    }

    /// The names of what was made for one player.
    fn player_bound(
        &self,
        course: &CourseJob,
        player: &CoursePlayer,
        lessons: &[CourseLesson<'_>],
    ) -> Result<Vec<String>, CopyError> {
        let formats = &self.options.formats;
        let mut made = Vec::new();
        let mut put = |file: String, bytes: Option<Vec<u8>>| {
            if let Some(bytes) = bytes {
                self.store.put(&course.folder, &file, &bytes)?;
                made.push(file);
            }
            Ok::<(), CopyError>(())
        };
        let plans = |lesson: &CourseLesson<'_>, place: usize| {
            lesson.plans(player.places.get(place).copied().flatten())
        };
        if formats.contains(&Format::MusicXml) || self.options.gather {
            let sheets: Vec<(&Composer<'_>, Vec<SheetPlan>)> = lessons
                .iter()
                .enumerate()
                .map(|(place, lesson)| (&lesson.composer, plans(lesson, place)))
                .collect();
            let book =
                compilation::course_book(&course.course, &player.player, &sheets, self.stop)?;
            put(format!("{}/book.musicxml", player.folder), book)?;
        }
        if self.pictures.prints() {
            let chapters: Vec<BookLesson<'_>> = lessons
                .iter()
                .enumerate()
                .map(|(place, lesson)| BookLesson {
                    composer: &lesson.composer,
                    plans: plans(lesson, place),
                    answers: self.options.answers || lesson.job.lesson.answers,
                })
                .collect();
            let book = PrintedBook::new(
                Some(&course.course),
                &player.player,
                &chapters,
                self.pictures,
                self.stop,
            )?;
            put(format!("{}/book.pdf", player.folder), book.pdf(1)?)?;
            for week in 0..course.course.weeks.len() {
                let lessons = week_lessons(course, week, player, lessons);
                let packet = packet(course, week, player, &lessons, self.pictures, self.stop)?;
                let name = course.week_name(week);
                put(format!("{}/{name}.pdf", player.folder), packet)?;
            }
        }
        if formats.contains(&Format::Page) {
            let page = course_page(course, player, lessons, self.pictures, self.stop)?;
            put(format!("{}/practice.html", player.folder), page)?;
        }
        Ok(made)
    }

    fn close_course(
        &self,
        course: &CourseJob,
        lessons: &[CourseLesson<'_>],
        done: bool,
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.writes() {
            return Ok(());
        }
        let all = done && self.options.choice.is_everything() && self.options.part.is_none();
        let mut stems = BTreeSet::new();
        let mut lists = BTreeSet::new();
        let mut order: BTreeMap<String, usize> = BTreeMap::new();
        for (list, sheets) in self.week_sheets(course, lessons) {
            lists.insert(list);
            for (name, lesson) in sheets {
                order.insert(name.sheet.clone(), order.len());
                for version in &lesson.job.versions {
                    stems.extend([name.midi(&version.suffix), name.audio(&version.suffix)]);
                }
            }
        }
        let bound = &outcome.bound;
        let still = |file: &str| {
            !all && bound.contains(file) || lists.contains(file) || stems.contains(stem(file))
        };
        outcome.contents.order = order;
        outcome.settled = self
            .store
            .close(&course.folder, &mut outcome.contents, still)?;
        Ok(())
    }

    /// What is left of lessons that a course no longer has, told and tidied
    /// like what a lesson no longer makes.
    pub fn dropped_lessons(
        &self,
        course: &CourseJob,
        jobs: &[Job],
        outcome: &LessonOutcome,
    ) -> Result<Vec<LessonOutcome>, CopyError> {
        let mut outcomes = Vec::new();
        if !self.writes() || !self.options.choice.is_everything() || self.options.part.is_some() {
            return Ok(outcomes);
        }
        for name in &outcome.contents.lessons {
            if jobs.iter().any(|job| job.name == *name) {
                continue;
            }
            let folder = format!("{}/{LESSONS}/{name}", course.folder);
            let mut dropped = LessonOutcome::new(name, "", &folder);
            self.store.open(&folder);
            dropped.settled = self
                .store
                .close(&folder, &mut dropped.contents, |_| false)?;
            self.store.clear(&folder, &dropped.contents);
            outcomes.push(dropped);
        }
        Ok(outcomes)
    }
}

/// Whether a name from `contents.json` is that of a folder and no way out.
fn is_plain(name: &str) -> bool {
    !name.is_empty() && name == lesson::slug(name)
}
