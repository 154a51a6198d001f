//! A player's printed book, of one lesson or of a course's.

use std::collections::BTreeMap;

use engrave::{Book, Chapter, Cover, Foot, Key, KeyPlace, Page, RangeChart, Section};
use etude::{Composer, SheetPlan};
use lesson::{Course, Player};
use rayon::prelude::*;
use score::{About, Score};
use theory::{Pitch, Range};

use crate::composing::unless_stopped;
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::pictures::Pictures;
use crate::stop::Stop;

/// So many pages are held until the book is put together, about those of one
/// lesson; others are drawn again when their turn comes.
const HELD: usize = 64;

/// A lesson in a book.
#[derive(Debug)]
pub struct BookLesson<'a> {
    pub composer: &'a Composer<'a>,
    /// The player's sheets, in order.
    pub plans: Vec<SheetPlan>,
    /// Whether the answers go to the back.
    pub answers: bool,
}

/// A book for each of a lesson's players with more sheets than one.
pub fn books(
    composer: &Composer<'_>,
    plans: &[SheetPlan],
    folders: &[String],
    answers: bool,
    pictures: &Pictures,
    stop: &Stop,
) -> Result<Vec<FolderFile>, CopyError> {
    if !pictures.prints() {
        return Ok(Vec::new());
    }
    let players = folders.par_iter().enumerate();
    let books = players.map(|(place, folder)| {
        let player = composer.lesson().players.get(place);
        let own = plans.iter().filter(|plan| plan.player == place);
        let lesson = BookLesson {
            composer,
            plans: own.copied().collect(),
            answers,
        };
        let Some(player) = player.filter(|_| lesson.plans.len() > 1) else {
            return Ok(None);
        };
        let book = PrintedBook::new(None, player, std::slice::from_ref(&lesson), pictures, stop)?;
        let bytes = book.pdf(2)?;
        Ok(bytes.map(|bytes| FolderFile {
            file: format!("{folder}/book.pdf"),
            bytes,
        }))
    });
    let books: Vec<Option<FolderFile>> = books.collect::<Result<_, CopyError>>()?;
    Ok(books.into_iter().flatten().collect())
}

/// A book whose pages are counted, and as many of them held as may be.
pub struct PrintedBook<'a> {
    lessons: &'a [BookLesson<'a>],
    pictures: &'a Pictures,
    stop: &'a Stop,
    book: Book,
    sheets: usize,
    held: BTreeMap<KeyPlace, Vec<Page>>,
    pages: usize,
    reach: Option<(Pitch, Pitch)>,
}

impl<'a> PrintedBook<'a> {
    /// Of one lesson, or of a course with its cover, foreword and a chapter to
    /// each lesson.
    pub fn new(
        course: Option<&Course>,
        player: &Player,
        lessons: &'a [BookLesson<'a>],
        pictures: &'a Pictures,
        stop: &'a Stop,
    ) -> Result<PrintedBook<'a>, CopyError> {
        let mut making = PrintedBook {
            lessons,
            pictures,
            stop,
            book: Book::default(),
            sheets: 0,
            held: BTreeMap::new(),
            pages: 0,
            reach: None,
        };
        for (place, lesson) in lessons.iter().enumerate() {
            let chapter = making.chapter(place, lesson, course, player)?;
            making.book.chapters.push(chapter);
        }
        for (place, lesson) in lessons.iter().enumerate() {
            let answers = making.answers(place, lesson, course.is_some())?;
            making.book.answers.push(answers);
        }
        if let Some(range) = &mut making.book.cover.range {
            range.lesson = making.reach.map(|(low, high)| Range { low, high });
        }
        Ok(making)
    }

    /// The file; none with fewer sheets than `least`.
    pub fn pdf(mut self, least: usize) -> Result<Option<Vec<u8>>, CopyError> {
        if self.sheets < least.max(1) {
            return Ok(None);
        }
        let bound = std::mem::take(&mut self.book).bind();
        bound.pdf(|place| self.draw(place)).map(Some)
    }

    fn chapter(
        &mut self,
        place: usize,
        lesson: &BookLesson<'_>,
        course: Option<&Course>,
        player: &Player,
    ) -> Result<Chapter, CopyError> {
        let mut chapter = self.unfilled(lesson, course.is_some());
        let mut alike: Option<Vec<usize>> = None;
        for (key, plan) in lesson.plans.iter().enumerate() {
            self.stop.check()?;
            let Ok(sheet) = unless_stopped(lesson.composer.compose(plan))? else {
                chapter.keys.push(Key::default());
                continue;
            };
            let score = &sheet.score;
            if self.sheets == 0 {
                self.front(score, course, player);
            }
            if self.book.cover.care.is_empty() {
                self.book.cover.care = line(score, About::Care).unwrap_or_default();
            }
            self.sheets += 1;
            let exercises = score.exercises.iter().map(|exercise| exercise.place);
            let exercises: Vec<usize> = exercises.collect();
            chapter.alike &= *alike.get_or_insert_with(|| exercises.clone()) == exercises;
            self.reached(score);
            let place = KeyPlace {
                answers: false,
                chapter: place,
                key,
            };
            chapter.keys.push(self.key(place, plan, score));
        }
        Ok(chapter)
    }

    fn answers(
        &mut self,
        place: usize,
        lesson: &BookLesson<'_>,
        named: bool,
    ) -> Result<Chapter, CopyError> {
        let mut chapter = self.unfilled(lesson, named);
        if !lesson.answers {
            return Ok(chapter);
        }
        for (key, plan) in lesson.plans.iter().enumerate() {
            self.stop.check()?;
            let answers = unless_stopped(lesson.composer.answers(plan))?;
            chapter.keys.push(match answers.ok().flatten() {
                Some(sheet) => {
                    let place = KeyPlace {
                        answers: true,
                        chapter: place,
                        key,
                    };
                    self.key(place, plan, &sheet.score)
                }
                None => Key::default(),
            });
        }
        Ok(chapter)
    }

    fn unfilled(&self, lesson: &BookLesson<'_>, named: bool) -> Chapter {
        let title = &lesson.composer.lesson().title;
        Chapter {
            name: if named { title.clone() } else { String::new() },
            alike: true,
            keys: Vec::with_capacity(lesson.plans.len()),
        }
    }

    /// Counts a key's pages, and holds them where there is room.
    fn key(&mut self, place: KeyPlace, plan: &SheetPlan, score: &Score) -> Key {
        let sheet = self.pictures.drawn(score);
        let sections = sheet.exercises.into_iter();
        let key = Key {
            name: key_name(score),
            short: short_key(plan),
            sections: sections
                .map(|(name, page)| Section { name, page })
                .collect(),
            pages: sheet.pages.len(),
        };
        if self.lessons.len() == 1 || self.pages + key.pages <= HELD {
            self.pages += key.pages;
            self.held.insert(place, sheet.pages);
        }
        key
    }

    /// A key's pages: those held, or drawn again.
    fn draw(&mut self, place: KeyPlace) -> Result<Vec<Page>, CopyError> {
        self.stop.check()?;
        if let Some(held) = self.held.remove(&place) {
            return Ok(held);
        }
        let lesson = &self.lessons[place.chapter];
        let plan = &lesson.plans[place.key];
        let sheet = if place.answers {
            unless_stopped(lesson.composer.answers(plan))?
                .ok()
                .flatten()
        } else {
            unless_stopped(lesson.composer.compose(plan))?.ok()
        };
        let pages = sheet.map(|sheet| self.pictures.drawn(&sheet.score).pages);
        Ok(pages.unwrap_or_default())
    }

    fn reached(&mut self, score: &Score) {
        let by = |pitch: &Pitch| (pitch.midi(), pitch.steps());
        let (Some(lowest), Some(highest)) = (score.lowest(), score.highest()) else {
            return;
        };
        let (low, high) = self.reach.unwrap_or((lowest, highest));
        self.reach = Some((
            std::cmp::min_by_key(low, lowest, by),
            std::cmp::max_by_key(highest, high, by),
        ));
    }

    /// Cover, foreword and foot, from the first sheet and the course.
    fn front(&mut self, first: &Score, course: Option<&Course>, player: &Player) {
        let instrument = first.part.name.clone();
        self.book.paper = engrave::Paper::of(first);
        self.book.foot = Foot::of(first, &instrument, true);
        // A player's name is the first of these lines where there is one.
        let mut who = first.head.iter().filter(|line| line.about == About::Player);
        let name = player.name.as_ref().and_then(|_| who.next());
        self.book.cover = Cover {
            title: first.title.clone(),
            subtitle: first.subtitle.clone().unwrap_or_default(),
            class: who.next().map(|line| line.text.clone()).unwrap_or_default(),
            instrument,
            player: name.map(|line| line.text.clone()).unwrap_or_default(),
            about: vec![format!("Level: {}", player.level.word())],
            range: Some(RangeChart {
                clef: player.instrument.clef,
                level: player.level,
                range: player.range(player.level),
                lesson: None,
                several: self.lessons.len() > 1,
            }),
            care: String::new(),
        };
        let Some(course) = course else { return };
        let cover = &mut self.book.cover;
        cover.title.clone_from(&course.title);
        cover.subtitle = course.subtitle.clone().unwrap_or_default();
        cover.class = course.class.clone().unwrap_or_default();
        cover.player = player.name.clone().unwrap_or_default();
        cover.about.extend(course.own.author.clone());
        cover.about.extend(course.own.rights.clone());
        self.book.foot = Foot::new(&course.title, &[&cover.instrument, footer(course)]);
        self.book.foreword.clone_from(&course.own.text);
        self.book.author = course.own.author.clone().unwrap_or_default();
    }
}

/// What a course says at the foot of its pages beside its title.
pub fn footer(course: &Course) -> &str {
    let footer = course.own.footer.as_deref().unwrap_or_default();
    if footer == course.title { "" } else { footer }
}

/// What a sheet's key is called at its head.
pub fn key_name(score: &Score) -> String {
    line(score, About::Key).unwrap_or_else(|| "Through the keys".to_owned())
}

/// The same where there is little room.
pub fn short_key(plan: &SheetPlan) -> String {
    if plan.through_keys {
        "all".to_owned()
    } else {
        plan.written.signs()
    }
}

/// The first line of a sheet's head that is about something.
pub fn line(score: &Score, about: About) -> Option<String> {
    let mut lines = score.head.iter().filter(|line| line.about == about);
    lines.next().map(|line| line.text.clone())
}
