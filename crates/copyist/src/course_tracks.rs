//! A course's tracks: those of each week's sheets, and the weeks' lists.

use std::collections::BTreeSet;

use etude::{LeftOut, Sheet, SheetPlan};
use lesson::TrackForm;
use score::Score;

use crate::contents::{Heading, TrackSubject, key_words};
use crate::course_job::CourseJob;
use crate::course_lesson::{CourseLesson, week_lessons};
use crate::error::CopyError;
use crate::format::Format;
use crate::outcome::LessonOutcome;
use crate::run_part::RunPart;
use crate::sheets::{composed, in_order};
use crate::track::{TrackSet, TrackSheet};
use crate::track_name::{TrackName, playlist_text};
use crate::writing::{Writing, is_audio};

impl Writing<'_> {
    /// Each week's tracks, sheet by sheet; of several parts each makes those of
    /// its own sheets, and the first those of all keys.
    pub fn week_tracks(
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
        let first = self.options.part.is_none_or(RunPart::is_first);
        for place in 0..course.course.weeks.len() {
            let week = course.week_name(place);
            for player in &course.players {
                for played in week_lessons(course, place, player, lessons) {
                    let lesson = &lessons[played.lesson];
                    let lesson_in_week = LessonInWeek {
                        lesson,
                        folder: &course.folder,
                        names: WeekNames {
                            player: &player.folder,
                            week: &week,
                            lesson: &lesson.job.name,
                        },
                    };
                    let mut share = played.plans.clone();
                    share.retain(|plan| shares[played.lesson].contains(&lesson.job.stem(plan)));
                    self.sheets_tracks(&lesson_in_week, &share, tracks)?;
                    if first {
                        self.joined_tracks(&lesson_in_week, &played.plans, tracks)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn sheets_tracks(
        &self,
        lesson_in_week: &LessonInWeek<'_>,
        plans: &[SheetPlan],
        tracks: &mut TrackSet,
    ) -> Result<(), CopyError> {
        let (lesson, names) = (lesson_in_week.lesson, &lesson_in_week.names);
        let job = lesson.job;
        let make = |plan: &SheetPlan, sheet: Result<&Sheet, LeftOut>, _: &mut Vec<u8>| {
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
            let put = self.putting(lesson_in_week.folder);
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
        lesson_in_week: &LessonInWeek<'_>,
        plans: &[SheetPlan],
        tracks: &mut TrackSet,
    ) -> Result<(), CopyError> {
        let (lesson, names) = (lesson_in_week.lesson, &lesson_in_week.names);
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
        let put = self.putting(lesson_in_week.folder);
        tracks.add(self.tracks.make(&sheet, &job.versions, self.stop, put)?);
        Ok(())
    }

    /// A list of each week's audio for each player, in playing order: of what
    /// this run made, and what it found. Of several parts the first writes down
    /// what there will be.
    pub fn week_lists(
        &self,
        course: &CourseJob,
        lessons: &[CourseLesson<'_>],
        found: &BTreeSet<&str>,
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        let made = outcome.contents.tracks.iter();
        let made: BTreeSet<&str> = made.map(|track| track.file.as_str()).collect();
        let first = self.options.part.is_none_or(RunPart::is_first);
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
    pub fn week_sheets<'b>(
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
}

/// A lesson in a player's week.
struct LessonInWeek<'a> {
    lesson: &'a CourseLesson<'a>,
    /// The course's.
    folder: &'a str,
    names: WeekNames<'a>,
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
