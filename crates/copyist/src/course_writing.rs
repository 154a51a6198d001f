//! What is made of a course's lessons together: for each player a book, a packet
//! for each week, and the weeks' tracks.

use std::collections::{BTreeMap, BTreeSet};

use etude::{Composer, Sheet, SheetPlan};
use lesson::TrackForm;
use rayon::prelude::*;
use score::Score;

use crate::compilation;
use crate::composing::composer;
use crate::contents::{Heading, TrackSubject, key_words, stem};
use crate::course_job::{CourseJob, CoursePlayer, LESSONS};
use crate::course_lesson::{CourseLesson, week_lessons};
use crate::error::CopyError;
use crate::format::Format;
use crate::job::Job;
use crate::outcome::{CourseOutcome, Interruption, LessonOutcome};
use crate::packet::packet;
use crate::part::Part;
use crate::practice_page::course_page;
use crate::printed_book::{BookLesson, PrintedBook};
use crate::sheets::{composed, in_order};
use crate::track::{TrackSet, TrackSheet};
use crate::track_name::{TrackName, playlist_text};
use crate::writing::{Writing, is_audio};

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
        if !self.options.part.is_none_or(Part::is_first) {
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

    /// Each week's tracks, sheet by sheet; of several parts each makes those of
    /// its own sheets, and the first those of all keys.
    fn week_tracks(
        &self,
        course: &CourseJob,
        lessons: &[CourseLesson<'_>],
        tracks: &mut TrackSet,
    ) -> Result<(), CopyError> {
        if !self.tracks.any() {
            return Ok(());
        }
        let shares: Vec<BTreeSet<String>> = lessons
            .iter()
            .map(|lesson| {
                let share = lesson.job.share(self.options.part);
                let plans = share.filter_map(|place| lesson.chosen.get(place));
                plans.map(|plan| lesson.job.stem(plan)).collect()
            })
            .collect();
        let first = self.options.part.is_none_or(Part::is_first);
        for place in 0..course.course.weeks.len() {
            let week = course.week_name(place);
            for player in &course.players {
                for played in week_lessons(course, place, player, lessons) {
                    let lesson = &lessons[played.lesson];
                    let names = WeekNames {
                        player: &player.folder,
                        week: &week,
                        lesson: &lesson.job.name,
                    };
                    let mut share = played.plans.clone();
                    share.retain(|plan| shares[played.lesson].contains(&lesson.job.stem(plan)));
                    self.sheets_tracks(course, lesson, &names, &share, tracks)?;
                    if first {
                        self.joined_tracks(course, lesson, &names, &played.plans, tracks)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn sheets_tracks(
        &self,
        course: &CourseJob,
        lesson: &CourseLesson<'_>,
        names: &WeekNames<'_>,
        plans: &[SheetPlan],
        tracks: &mut TrackSet,
    ) -> Result<(), CopyError> {
        let job = lesson.job;
        let make = |plan: &SheetPlan, sheet: Result<&Sheet, etude::LeftOut>, _: &mut Vec<u8>| {
            // What is left out was told with its lesson.
            let Ok(sheet) = sheet else {
                return Ok(TrackSet::default());
            };
            let player = &job.lesson.players[plan.player];
            let track_sheet = TrackSheet {
                scores: &[&sheet.score],
                name: names.of(&plan.stem()),
                of: TrackSubject::Sheet(Heading::new(player, plan)),
                key: key_words(plan, plan.written),
                edition: &sheet.report.edition,
                before: usize::from(plan.number.saturating_sub(1)),
            };
            let put = self.putting(&course.folder);
            self.tracks
                .make(&track_sheet, &job.versions, self.stop, put)
        };
        in_order(&lesson.composer, plans, self.stop, make, |_, made| {
            tracks.add(made);
            Ok(())
        })
    }

    /// One track of all of a lesson's keys this week, where that is asked for.
    fn joined_tracks(
        &self,
        course: &CourseJob,
        lesson: &CourseLesson<'_>,
        names: &WeekNames<'_>,
        plans: &[SheetPlan],
        tracks: &mut TrackSet,
    ) -> Result<(), CopyError> {
        let job = lesson.job;
        if !job.lesson.track.forms.contains(&TrackForm::AllKeys) {
            return Ok(());
        }
        let (plans, sheets) = composed(&lesson.composer, plans.iter())?;
        let Some(plan) = plans.first().filter(|_| sheets.len() > 1) else {
            return Ok(());
        };
        let scores: Vec<&Score> = sheets.iter().map(|sheet| &sheet.score).collect();
        let sheet = TrackSheet {
            scores: &scores,
            name: names.of(ALL_KEYS),
            of: TrackSubject::all_keys(&job.lesson.players[plan.player], &plans),
            key: "all keys".to_owned(),
            edition: "",
            before: plans.len(),
        };
        let put = self.putting(&course.folder);
        tracks.add(self.tracks.make(&sheet, &job.versions, self.stop, put)?);
        Ok(())
    }

    /// A list of each week's audio for each player, in playing order: of what
    /// this run made, and what it found. Of several parts the first writes down
    /// what there will be.
    fn week_lists(
        &self,
        course: &CourseJob,
        lessons: &[CourseLesson<'_>],
        found: &BTreeSet<&str>,
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        let made = outcome.contents.tracks.iter();
        let made: BTreeSet<&str> = made.map(|track| track.file.as_str()).collect();
        let first = self.options.part.is_none_or(Part::is_first);
        if !made.iter().any(|file| is_audio(file)) || !first {
            return Ok(());
        }
        let all = self.options.part.is_some() && self.options.choice.is_everything();
        let there = |file: &String| {
            let file = file.as_str();
            let path = || self.options.out.join(&course.folder).join(file);
            made.contains(file) || found.contains(file) && path().exists()
        };
        let mut lists = Vec::new();
        for (list, sheets) in self.week_sheets(course, lessons) {
            let formats = [Format::Flac, Format::Wav];
            let names = |format: Format| -> Vec<String> {
                let wanted = self.options.formats.contains(&format);
                let names = sheets.iter().flat_map(|(name, lesson)| {
                    let versions = lesson.job.versions.iter();
                    versions.map(|version| name.file(&version.suffix, format))
                });
                names.filter(|file| there(file) || all && wanted).collect()
            };
            let mut listed = formats.into_iter().map(names);
            if let Some(listed) = listed.find(|names| !names.is_empty()) {
                lists.push((list, playlist_text(listed.iter().map(String::as_str))));
            }
        }
        for (file, text) in lists {
            self.store.put(&course.folder, &file, text.as_bytes())?;
            outcome.files += 1;
        }
        Ok(())
    }

    /// The list of each week and player, and the names of the tracks on it, in
    /// playing order.
    fn week_sheets<'b>(
        &self,
        course: &CourseJob,
        lessons: &'b [CourseLesson<'b>],
    ) -> Vec<(String, Vec<(TrackName, &'b CourseLesson<'b>)>)> {
        let mut lists = Vec::new();
        for place in 0..course.course.weeks.len() {
            let week = course.week_name(place);
            for player in &course.players {
                let mut sheets = Vec::new();
                for played in week_lessons(course, place, player, lessons) {
                    let lesson = &lessons[played.lesson];
                    let names = WeekNames {
                        player: &player.folder,
                        week: &week,
                        lesson: &lesson.job.name,
                    };
                    let stems = played.plans.iter().map(SheetPlan::stem);
                    let stems = stems.chain([ALL_KEYS.to_owned()]);
                    sheets.extend(stems.map(|stem| (names.of(&stem), lesson)));
                }
                let folder = &player.folder;
                let list = format!("{folder}/{week}/{}-{folder}-{week}.m3u8", course.folder);
                lists.push((list, sheets));
            }
        }
        lists
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

/// What a lesson's tracks are called in a week.
struct WeekNames<'a> {
    player: &'a str,
    week: &'a str,
    lesson: &'a str,
}

impl WeekNames<'_> {
    fn of(&self, sheet: &str) -> TrackName {
        TrackName::in_week(self.player, self.week, self.lesson, sheet)
    }
}

const ALL_KEYS: &str = "all-keys";

/// Whether a name from `contents.json` is that of a folder and no way out.
fn is_plain(name: &str) -> bool {
    !name.is_empty() && name == lesson::slug(name)
}
