//! A whole run's work: each lesson and course, and where it goes.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::course_job::{CourseJob, LESSONS, chosen, course_players};
use crate::folder::lesson_folder;
use crate::job::{Job, ready};
use crate::lesson_source::{CourseSource, LessonSource, Source};
use crate::options::Options;
use crate::refusal::Refusal;
use crate::stop::Stop;

/// A whole run's work.
#[derive(Debug, Default)]
pub struct Work {
    /// Lessons, those of courses too, in their order.
    pub jobs: Vec<Job>,
    /// The courses, each naming its lessons among the jobs.
    pub courses: Vec<CourseJob>,
    refusals: Vec<Refusal>,
    /// Who has each folder.
    folders: BTreeMap<String, PathBuf>,
    /// Which file has each lesson's id.
    ids: BTreeMap<String, PathBuf>,
    sheets: usize,
}

/// All that is to be done, or everything wrong with it.
pub fn work(sources: Vec<Source>, options: &Options, stop: &Stop) -> Result<Work, Vec<Refusal>> {
    let mut work = Work::default();
    for source in sources {
        match source {
            Source::Lesson(source) => work.lesson(source, options, stop),
            Source::Course(source) => work.course(source, options, stop),
        }
    }
    if work.refusals.is_empty() {
        Ok(work)
    } else {
        Err(work.refusals)
    }
}

impl Work {
    fn lesson(&mut self, source: LessonSource, options: &Options, stop: &Stop) {
        let name = lesson_folder(&source.lesson.id);
        let free = self.takes(&name, &source.path) && self.is_only(&name, &source.path);
        if !free {
            return;
        }
        match self.job(source, &name, options, stop) {
            Ok(job) => self.add(job),
            Err(refusal) => self.refusals.push(refusal),
        }
    }

    fn job(
        &self,
        source: LessonSource,
        name: &str,
        options: &Options,
        stop: &Stop,
    ) -> Result<Job, Refusal> {
        let LessonSource {
            path, mut lesson, ..
        } = source;
        let choice = &options.choice;
        lesson.paper = options.paper.or(lesson.paper);
        let players = choice.players(&mut lesson)?;
        // Refused now, while nothing is written yet.
        let composer = ready(&lesson, stop, &path)?;
        let sheets = choice.plans(&composer, &players)?.len();
        Ok(Job::new(lesson, name.to_owned(), name, players, sheets))
    }

    /// Takes a course in, with all its lessons.
    fn course(&mut self, source: CourseSource, options: &Options, stop: &Stop) {
        let CourseSource {
            path,
            mut course,
            files,
            ..
        } = source;
        let folder = lesson_folder(&course.id);
        let lessons = std::mem::take(&mut course.lessons);
        let file = |place: usize| files.get(place).map_or(path.as_path(), Path::new);
        let mut free = self.takes(&folder, &path);
        for (place, lesson) in lessons.iter().enumerate() {
            free &= self.is_only(&lesson_folder(&lesson.id), file(place));
        }
        if !free {
            return;
        }
        course.paper = options.paper.or(course.paper);
        let chosen = match chosen(lessons, options, stop, file) {
            Ok(chosen) => chosen,
            Err(refusals) => return self.refusals.extend(refusals),
        };
        let first = self.jobs.len();
        for (lesson, players, sheets) in chosen {
            let name = lesson_folder(&lesson.id);
            let place = format!("{folder}/{LESSONS}/{name}");
            let mut job = Job::new(lesson, place, &name, players, sheets);
            job.in_course = true;
            job.has_tracks = course.weeks.is_empty();
            self.add(job);
        }
        let jobs = first..self.jobs.len();
        let players = course_players(&course, &self.jobs[jobs.clone()]);
        self.courses.push(CourseJob {
            course,
            folder,
            jobs,
            players,
        });
    }

    /// Gives a job its place in the run.
    fn add(&mut self, job: Job) {
        let first = self.sheets;
        self.sheets += job.sheets();
        self.jobs.push(job.from(first));
    }

    /// Whether a folder is nobody else's.
    fn takes(&mut self, folder: &str, path: &Path) -> bool {
        if let Some(other) = self.folders.get(folder) {
            self.refusals.push(Refusal::new(
                format!(
                    "{} and {} would share the folder {folder}",
                    other.display(),
                    path.display()
                ),
                "give one of them an id of its own, as in id = \"another-name\"",
            ));
            return false;
        }
        self.folders.insert(folder.to_owned(), path.to_owned());
        true
    }

    /// Whether no other file is a lesson of this id: sheets of two lessons are
    /// never told apart by where they lie alone.
    fn is_only(&mut self, id: &str, path: &Path) -> bool {
        let whole = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        if let Some(other) = self.ids.get(id)
            && whole(other) != whole(path)
        {
            self.refusals.push(Refusal::new(
                format!(
                    "{} and {} are two lessons of one id, {id}",
                    other.display(),
                    path.display()
                ),
                "give one of them an id of its own, as in id = \"another-name\"",
            ));
            return false;
        }
        self.ids.insert(id.to_owned(), path.to_owned());
        true
    }
}
