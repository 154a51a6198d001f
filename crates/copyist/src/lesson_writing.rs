//! A lesson made into files.

use std::collections::{BTreeMap, BTreeSet};

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::Player;

use crate::compilation;
use crate::composing::{composer, unless_stopped};
use crate::contents::{LeftOutEntry, PastContents, SheetEntry, sheet_names, stem};
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::format::Format;
use crate::job::Job;
use crate::news::{News, Tell};
use crate::outcome::{Interruption, LessonOutcome};
use crate::practice_page::practice_pages;
use crate::printed_book;
use crate::sheet_writing::{LessonSheet, SheetFiles};
use crate::sheets::in_order;
use crate::track::TrackSet;
use crate::track_name::playlist;
use crate::writing::{Writing, is_audio};

impl Writing<'_> {
    /// Makes a lesson's sheets and all that goes with them. What each contains
    /// goes to `tell`.
    pub fn lesson(
        &self,
        job: &Job,
        mut tell: Option<&mut Tell<'_>>,
    ) -> Result<LessonOutcome, Interruption> {
        let lesson = &job.lesson;
        let composer = composer(lesson, self.stop)?;
        let chosen = self.options.choice.wanted(&composer, &job.players);
        let part = self.options.part;
        let plans: Vec<SheetPlan> = job.share(part).map(|place| chosen[place]).collect();
        let mut outcome = LessonOutcome::new(&lesson.id, &lesson.title, &job.folder);
        let folder = self.writes().then(|| self.store.open(&job.folder));
        let known = folder.as_ref().map(|folder| &folder.known.contents);
        let bound = known.iter().flat_map(|known| &known.bound);
        outcome.bound.extend(bound.cloned());
        let mut tracks = TrackSet::default();
        let make = |plan: &SheetPlan, sheet: Result<&Sheet, LeftOut>, buffer: &mut Vec<u8>| {
            let own = match sheet {
                Ok(sheet) => LessonSheet {
                    job,
                    plan,
                    sheet,
                    answers: false,
                },
                Err(why) => return Ok(Err(why)),
            };
            self.with_answers(&own, &composer, buffer).map(Ok)
        };
        let done = in_order(&composer, &plans, self.stop, make, |plan, made| {
            let player = &lesson.players[plan.player];
            match made {
                Ok(sheets) => {
                    for made in sheets {
                        outcome.take_sheet(&made, player, plan, known);
                        tracks.add(made.tracks);
                        if let (Some(tell), Some(json)) = (tell.as_deref_mut(), made.json) {
                            tell(News::Sheet(&json))?;
                        }
                    }
                }
                Err(why) => {
                    let entry = LeftOutEntry::new(job.stem(plan), player, plan, &why);
                    outcome.left_out.push(entry.clone());
                    outcome.contents.left_out.push(entry);
                }
            }
            Ok(())
        });
        let done = done.and_then(|()| self.bind(job, &composer, &chosen, &mut outcome));
        let done = done.and_then(|()| {
            let joined = self.all_keys(job, &composer, &chosen)?;
            outcome.files += joined.tracks.len();
            tracks.add(joined);
            Ok(())
        });
        outcome.contents.tracks = tracks.tracks;
        let done = done.and_then(|()| {
            let known = known.map(|known| known.tracks.as_slice());
            self.playlists(job, &composer, known.unwrap_or_default(), &mut outcome)
        });
        outcome.failed = tracks.failed;
        outcome.told.append(&mut tracks.told);
        // Closed even when not all was done: what is written is remembered.
        let closed = self.close(job, &composer, done.is_ok(), &mut outcome);
        outcome.ended(done, closed)
    }

    /// A sheet's files, and its answers' where they are wanted.
    fn with_answers(
        &self,
        own: &LessonSheet<'_>,
        composer: &Composer<'_>,
        buffer: &mut Vec<u8>,
    ) -> Result<Vec<SheetFiles>, CopyError> {
        let mut made = vec![self.sheet(own, buffer)?];
        (self.count)(own.sheet.report.bars);
        let wanted = self.options.answers || own.job.lesson.answers;
        // What was left out would have been so already.
        if wanted && let Ok(Some(sheet)) = unless_stopped(composer.answers(own.plan))? {
            buffer.clear();
            let answers = LessonSheet {
                sheet: &sheet,
                answers: true,
                ..*own
            };
            made.push(self.sheet(&answers, buffer)?);
        }
        Ok(made)
    }

    fn close(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        done: bool,
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.writes() {
            return Ok(());
        }
        let plans = composer.plans().iter().enumerate();
        let names = plans.flat_map(|(place, plan)| {
            let names = sheet_names(&job.stem(plan));
            names.map(|name| (name, place))
        });
        let order: BTreeMap<String, usize> = names.collect();
        let left = outcome.contents.left_out.iter();
        let left: BTreeSet<String> = left.flat_map(|one| sheet_names(&one.sheet)).collect();
        // What is bound together and isn't made again may be out of date; but
        // a run of a few players, keys or sheets, or one that was cut short, has
        // no say about the others.
        let all = done && self.options.choice.is_everything() && self.options.part.is_none();
        let bound = &outcome.bound;
        let [midi, audio] = job.track_stems(order.keys().filter(|sheet| !left.contains(*sheet)));
        let lists = job.player_folders.iter().filter(|_| job.has_tracks);
        let lists: BTreeSet<String> = lists.map(|player| playlist(&job.name, player)).collect();
        let still = |file: &str| {
            if is_audio(file) {
                return audio.contains(stem(file));
            }
            let sheet = stem(file);
            order.contains_key(sheet) && !left.contains(sheet)
                || !all && bound.contains(file)
                || midi.contains(stem(file))
                || lists.contains(file)
        };
        outcome.contents.order = order.clone();
        outcome.settled = self
            .store
            .close(&job.folder, &mut outcome.contents, still)?;
        Ok(())
    }

    /// Puts what is made of the lesson's sheets together.
    fn bind(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.binds() {
            return Ok(());
        }
        for bound in self.bound(job, composer, plans)? {
            self.store.put(&job.folder, &bound.file, &bound.bytes)?;
            outcome.contents.bound.push(bound.file);
            outcome.files += 1;
        }
        Ok(())
    }

    /// What is made of the lesson's sheets together, where that is asked for.
    fn bound(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> Result<Vec<FolderFile>, CopyError> {
        let lesson = composer.lesson();
        let folders = &job.player_folders;
        let mut bound = Vec::new();
        if self.options.gather && !job.in_course {
            bound.extend(compilation::books(composer, plans, folders, self.stop)?);
        }
        let answers = self.options.answers || lesson.answers;
        if !job.in_course {
            bound.extend(printed_book::books(
                composer,
                plans,
                folders,
                answers,
                self.pictures,
                self.stop,
            )?);
        }
        if self.options.formats.contains(&Format::Page) && !job.in_course {
            bound.extend(practice_pages(
                composer,
                plans,
                folders,
                self.pictures,
                self.stop,
            )?);
        }
        if let Some(pitch) = self.options.room {
            bound.extend(compilation::rooms(
                lesson,
                plans,
                folders,
                pitch,
                self.pictures,
                self.stop,
            )?);
        }
        if self.options.sign_off {
            bound.extend(compilation::sign_offs(lesson, plans, folders));
        }
        Ok(bound)
    }
}

impl LessonOutcome {
    /// Takes a sheet in that was made; `known` is what its folder said before.
    fn take_sheet(
        &mut self,
        made: &SheetFiles,
        player: &Player,
        plan: &SheetPlan,
        known: Option<&PastContents>,
    ) {
        let shorter = made.report.turns > 0 && !made.answers;
        self.shortened += usize::from(shorter);
        self.files += made.files.len() + made.tracks.tracks.len();
        let edition = |file: &str| known?.edition(file);
        let changed = made
            .files
            .iter()
            .filter(|file| edition(file).is_some_and(|known| known != made.report.edition));
        self.changed.extend(changed.cloned());
        let entry =
            |file: &String| SheetEntry::new(file.clone(), made.answers, player, plan, &made.report);
        self.contents.sheets.extend(made.files.iter().map(entry));
    }
}
