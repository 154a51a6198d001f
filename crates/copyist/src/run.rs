//! A whole run: lessons into folders of sheets.

use rayon::ThreadPoolBuilder;
use rayon::prelude::*;

use crate::course_job::CourseJob;
use crate::error::CopyError;
use crate::job::Job;
use crate::lesson_source::Source;
use crate::news::{Count, News, Tell};
use crate::options::Options;
use crate::outcome::{Interruption, LessonOutcome};
use crate::pictures::Pictures;
use crate::refusal::Refusal;
use crate::run_part::RunPart;
use crate::stop::Stop;
use crate::store::{Rules, Store};
use crate::track::Tracks;
use crate::work::{Work, work};
use crate::writing::Writing;

/// So many lessons are open at once at most, so that the last sheets of one
/// leave no core waiting.
const AT_ONCE: usize = 16;

/// Everything that is to be made of some lessons and courses, looked through
/// and ready.
#[derive(Debug)]
pub struct Run {
    stop: Stop,
    options: Options,
    work: Work,
    tracks: Tracks,
    pictures: Pictures,
    /// Why the audio is left out, if it is.
    audio_fault: Option<String>,
}

/// What a run came to.
#[derive(Debug)]
pub struct RunOutcome {
    /// Bytes that were put into files, the same ones included.
    pub bytes: u64,
    /// Characters that no font has, so that an empty box stands for them.
    pub missing_characters: String,
}

impl Run {
    /// Looks everything through while nothing is written yet. The run ends soon
    /// after it is asked to stop.
    ///
    /// # Errors
    /// All that can't be done as asked.
    pub fn new(sources: Vec<Source>, options: Options, stop: &Stop) -> Result<Run, Vec<Refusal>> {
        let pictures = Pictures::new(&options);
        let work = work(sources, &options, stop)?;
        let (tracks, audio_fault) = Tracks::new(&options, stop);
        Ok(Run {
            stop: stop.clone(),
            options,
            work,
            tracks,
            pictures,
            audio_fault,
        })
    }

    /// How many sheets it makes.
    pub fn sheets(&self) -> usize {
        let part = self.options.part;
        let jobs = self.work.jobs.iter();
        jobs.map(|job| job.share(part).count()).sum()
    }

    /// Why wav and flac are left out, though asked for: a SoundFont that can't
    /// be used.
    pub fn audio_fault(&self) -> Option<&str> {
        self.audio_fault.as_deref()
    }

    /// Makes everything. `count` hears each sheet as it is made, `tell` what
    /// became of each lesson, in their order.
    ///
    /// # Errors
    /// The first thing that could not be done, or that the run was stopped.
    /// What was written until then is whole and remembered.
    pub fn write(&self, count: &Count<'_>, tell: &mut Tell<'_>) -> Result<RunOutcome, CopyError> {
        let mut writing = Writing {
            options: &self.options,
            tracks: &self.tracks,
            pictures: &self.pictures,
            store: Store::new(&self.options.out, rules(&self.options), &self.stop),
            stop: &self.stop,
            count,
        };
        if writing.writes() {
            writing.store.hold(self.options.part, tell)?;
        }
        let mut from = 0;
        for course in &self.work.courses {
            self.lessons(&writing, &self.work.jobs[from..course.jobs.start], tell)?;
            self.course(&writing, course, tell)?;
            from = course.jobs.end;
        }
        self.lessons(&writing, &self.work.jobs[from..], tell)?;
        Ok(RunOutcome {
            bytes: writing.store.bytes(),
            missing_characters: self.pictures.missing().into_iter().collect(),
        })
    }
}

impl Run {
    /// Makes lessons; gives the files of theirs that somebody edited.
    fn lessons(
        &self,
        writing: &Writing<'_>,
        jobs: &[Job],
        tell: &mut Tell<'_>,
    ) -> Result<Vec<String>, CopyError> {
        let mut edited = Vec::new();
        let mut done = |outcome: Result<LessonOutcome, Interruption>, tell: &mut Tell<'_>| {
            let outcome = told(outcome, tell)?;
            let files = outcome.settled.edited.iter();
            edited.extend(files.map(|file| format!("{}/{file}", outcome.folder)));
            Ok::<(), CopyError>(())
        };
        if self.options.describe {
            // One after another, since what they hold is told as it comes.
            for job in jobs {
                done(writing.lesson(job, Some(tell)), tell)?;
            }
            return Ok(edited);
        }
        for some in jobs.chunks(AT_ONCE) {
            let outcomes: Vec<Result<LessonOutcome, Interruption>> = some
                .par_iter()
                .map(|job| writing.lesson(job, None))
                .collect();
            // What became of the others is told even where one ended the run.
            let ends: Vec<Result<(), CopyError>> = outcomes
                .into_iter()
                .map(|outcome| done(outcome, tell))
                .collect();
            ends.into_iter().collect::<Result<(), CopyError>>()?;
        }
        Ok(edited)
    }

    /// Makes a course: its lessons, then what is made of them together.
    fn course(
        &self,
        writing: &Writing<'_>,
        course: &CourseJob,
        tell: &mut Tell<'_>,
    ) -> Result<(), CopyError> {
        writing.open_course(course);
        let jobs = &self.work.jobs[course.jobs.clone()];
        let edited = self.lessons(writing, jobs, tell)?;
        let within = |file: String| {
            let file = file.strip_prefix(&course.folder)?.strip_prefix('/')?;
            Some(file.to_owned())
        };
        let edited = edited.into_iter().filter_map(within).collect();
        let outcome = told(writing.course(course, jobs, edited), tell)?;
        for dropped in writing.dropped_lessons(course, jobs, &outcome)? {
            tell(News::Lesson(&dropped))?;
        }
        Ok(())
    }
}

/// Tells what became of a lesson or a course, also of one that isn't whole.
fn told(
    outcome: Result<LessonOutcome, Interruption>,
    tell: &mut Tell<'_>,
) -> Result<LessonOutcome, CopyError> {
    match outcome {
        Ok(outcome) => {
            tell(News::Lesson(&outcome))?;
            Ok(outcome)
        }
        Err(Interruption { error, outcome }) => {
            if let Some(outcome) = outcome {
                tell(News::Lesson(&outcome))?;
            }
            Err(error)
        }
    }
}

fn rules(options: &Options) -> Rules {
    Rules {
        replace: options.replace,
        tidy: options.tidy,
        durable: options.durable,
        nowhere: options.dry_run,
        at_once: options.formats.iter().all(|format| format.is_quick()),
        tag: options.part.map(RunPart::tag).unwrap_or_default(),
    }
}

/// Lets all runs of this process work on so many cores, instead of on all. To
/// be said before the first.
///
/// # Errors
/// That it can't be had, or was said already.
pub fn use_threads(number: usize) -> Result<(), Refusal> {
    let threads = ThreadPoolBuilder::new().num_threads(number).build_global();
    threads.map_err(|error| Refusal {
        message: format!("{number} cores can't be used: {error}"),
        help: None,
    })
}
