//! Reading a course: its own file, then the lessons it names, each with what
//! the course says of them all.

use std::ops::Range;

use lesson::{Changes, Course, Lesson, OwnWords, Player, Week, slug};

use crate::meaning::whole::Cast;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::read::{parsed, read_among};
use crate::typed::course_text::{self, CourseText, NamedFile, WeekText};
use crate::typed::head::Head;
use crate::typed::player::{self, PlayerText};

/// A lesson file that a course names: whoever opens files reads it and gives
/// it to [`read_course`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedLesson {
    /// The file, from the course's own, as it is typed.
    pub file: String,
    /// Bytes of the course's file where it is first named.
    pub span: Range<usize>,
}

/// A lesson of a course, as far as it could be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonFile {
    /// The file, as [`course_lessons`] names it.
    pub file: String,
    /// What stands in it, or a mistake in the course: why what it names there
    /// can't be read.
    pub text: Result<String, Mistake>,
    /// What the lead sheet says that it names, if it names one
    /// ([`lead_sheet`](crate::lead_sheet)), or what is wrong with that.
    pub lead: Option<Result<Changes, Mistake>>,
}

/// Every mistake of a course and of the lessons in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CourseMistakes {
    /// Those in the course's own file, in the order they stand there.
    pub course: Vec<Mistake>,
    /// Those of each lesson that has any, in the order the course names them.
    pub lessons: Vec<LessonMistakes>,
}

/// The mistakes of one lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LessonMistakes {
    /// The file, as [`course_lessons`] names it.
    pub file: String,
    /// In the order they stand there; never empty.
    pub mistakes: Vec<Mistake>,
}

/// Whether a file is a course, and no lesson.
pub fn is_course(text: &str) -> bool {
    parsed(text, &mut Report::new(text)).is_some_and(|table| course_text::is_course(&table))
}

/// The lesson files that a course names, each once, in the order first named.
pub fn course_lessons(text: &str) -> Vec<NamedLesson> {
    let mut report = Report::new(text);
    let Some(table) = parsed(text, &mut report) else {
        return Vec::new();
    };
    let course = CourseText::read(&table, &Head::default(), &mut report);
    let named = course.files.into_iter().map(|named| NamedLesson {
        file: named.file,
        span: named.span,
    });
    named.collect()
}

/// Reads a course file and its lessons. `stem` is the file's name without its
/// ending, the course's id if it says none; `files` are those that
/// [`course_lessons`] names, in any order.
///
/// # Errors
/// Every mistake in the course and in each of its lessons.
pub fn read_course(text: &str, stem: &str, files: &[LessonFile]) -> Result<Course, CourseMistakes> {
    let mut report = Report::new(text);
    let Some(table) = parsed(text, &mut report) else {
        return Err(CourseMistakes {
            course: report.into_mistakes(),
            lessons: Vec::new(),
        });
    };
    let course = CourseText::read(&table, &Head::default(), &mut report);
    let (lessons, mistakes) = lessons(&course, files, &mut report);
    told_apart(&course.files, &lessons, &mut report);
    let players = players(&course, &lessons, &mut report);
    let weeks = weeks(&course, &lessons, &mut report);
    let whole = assembled(&course, stem, players, lessons, weeks);
    match whole {
        Some(course) if report.count() == 0 && mistakes.is_empty() => Ok(course),
        _ => Err(CourseMistakes {
            course: report.into_mistakes(),
            lessons: mistakes,
        }),
    }
}

fn assembled(
    course: &CourseText,
    stem: &str,
    players: Option<Vec<Player>>,
    lessons: Vec<Option<Lesson>>,
    weeks: Option<Vec<Week>>,
) -> Option<Course> {
    let head = course.head.head(&Head::default())?;
    let lessons: Option<Vec<Lesson>> = lessons.into_iter().collect();
    Some(Course {
        id: course.id.or(stem.to_owned())?,
        title: course.title.said()?.value.clone(),
        subtitle: course.subtitle.maybe().ok()?,
        class: head.class,
        own: OwnWords {
            text: course.text.clone()?,
            ..head.own
        },
        paper: head.paper,
        care: head.care,
        players: players?,
        lessons: lessons?,
        weeks: weeks?,
    })
}

/// Every lesson read with what the course says of them all; `None` where it
/// has mistakes, which are told beside, or in the course where it can't be
/// opened.
fn lessons(
    course: &CourseText,
    files: &[LessonFile],
    report: &mut Report<'_>,
) -> (Vec<Option<Lesson>>, Vec<LessonMistakes>) {
    // The lessons' own mistakes are told even where the course has some.
    let (head, _) = course.head.as_far_as_clear(&Head::default());
    let head = Head {
        own: OwnWords {
            text: Vec::new(),
            ..head.own
        },
        ..head
    };
    let mut lessons = Vec::with_capacity(course.files.len());
    let mut faults = Vec::new();
    for named in &course.files {
        let (lesson, mistakes) = match opened(named, files, report) {
            Some((_, Some(Err(mistake)))) => (None, vec![mistake.clone()]),
            Some((text, lead)) => {
                let lead = lead.and_then(|lead| lead.as_ref().ok());
                let cast = match course.players.as_deref() {
                    Some([]) => Cast::Own,
                    players => Cast::Course(players, report),
                };
                read_among(text, stem_of(&named.file), lead, &head, cast)
            }
            None => (None, Vec::new()),
        };
        lessons.push(lesson);
        if !mistakes.is_empty() {
            faults.push(LessonMistakes {
                file: named.file.clone(),
                mistakes,
            });
        }
    }
    (lessons, faults)
}

/// A lesson's text and lead sheet; a mistake in the course where it can't be
/// opened, or is a course.
fn opened<'f>(
    named: &NamedFile,
    files: &'f [LessonFile],
    report: &mut Report<'_>,
) -> Option<(&'f str, Option<&'f Result<Changes, Mistake>>)> {
    let file = files.iter().find(|file| file.file == named.file);
    let Some(file) = file else {
        let message = format!("{} isn't there", shown(&named.file));
        report.mistake(&named.span, message, "name a lesson file beside the course");
        return None;
    };
    match &file.text {
        Err(mistake) => {
            report.note(mistake.clone());
            None
        }
        Ok(text) if is_course(text) => {
            let message = format!(
                "{} is a course: a course names lessons, not courses",
                shown(&named.file)
            );
            report.mistake(&named.span, message, "name the lessons that it names");
            None
        }
        Ok(text) => Some((text, file.lead.as_ref())),
    }
}

/// A file's name without folders and ending.
fn stem_of(file: &str) -> &str {
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    match name.rsplit_once('.') {
        Some((stem, _)) if !stem.is_empty() => stem,
        _ => name,
    }
}

/// No two lessons share a folder, on a disk that doesn't mind case either.
fn told_apart(files: &[NamedFile], lessons: &[Option<Lesson>], report: &mut Report<'_>) {
    let folder = |lesson: &Option<Lesson>| lesson.as_ref().map(|lesson| lesson.id.to_lowercase());
    for (at, (named, lesson)) in files.iter().zip(lessons).enumerate() {
        let same = |earlier: &usize| {
            folder(lesson).is_some() && folder(&lessons[*earlier]) == folder(lesson)
        };
        if let (Some(earlier), Some(lesson)) = ((0..at).find(same), lesson) {
            let message = format!(
                "{} has the id {}, as {} has",
                shown(&named.file),
                shown(&lesson.id),
                shown(&files[earlier].file)
            );
            let help = "write id = \"…\" at the top of one of the two lessons, or rename its file";
            report.mistake(&named.span, message, help);
        }
    }
}

/// Everyone who gets a book.
fn players(
    course: &CourseText,
    lessons: &[Option<Lesson>],
    report: &mut Report<'_>,
) -> Option<Vec<Player>> {
    let head = course.head.head(&Head::default());
    let texts = course.players.as_ref()?;
    if !texts.is_empty() {
        for name in texts.iter().filter_map(PlayerText::name) {
            if slug(&name.value) == LESSONS {
                let help = "give this player another name";
                report.mistake(&name.span, called_lessons(), help);
            }
        }
        let head = head?;
        return player::resolve(texts, Some(head.level), Some(&head.keys), report);
    }
    let mut players: Vec<Player> = Vec::new();
    for (named, lesson) in course.files.iter().zip(lessons) {
        for player in lesson.iter().flat_map(|lesson| &lesson.players) {
            if player.folder() == LESSONS {
                let help = format!("give that player of {} another name", shown(&named.file));
                report.mistake(&named.span, called_lessons(), help);
            }
            if players.iter().all(|one| one.folder() != player.folder()) {
                players.push(player.clone());
            }
        }
    }
    Some(players)
}

/// Where the lessons' own sheets go, beside the players' folders.
const LESSONS: &str = "lessons";

fn called_lessons() -> &'static str {
    "the sheets of each lesson are in a folder called lessons: no player's can be called so too"
}

/// The weeks with their lessons; `None` where any isn't clear.
fn weeks(
    course: &CourseText,
    lessons: &[Option<Lesson>],
    report: &mut Report<'_>,
) -> Option<Vec<Week>> {
    let texts = course.weeks.as_ref()?;
    let weeks: Vec<Option<Week>> = texts
        .iter()
        .map(|text| {
            let week = week(text, texts, report)?;
            keys_are_there(text, &week, course, lessons, report);
            Some(week)
        })
        .collect();
    weeks.into_iter().collect()
}

fn week(text: &WeekText, all: &[WeekText], report: &mut Report<'_>) -> Option<Week> {
    let own = text.lessons.or(Vec::new())?;
    let again = match &text.again {
        Saying::Unsaid => Vec::new(),
        Saying::Unclear => return None,
        Saying::Said(back) => {
            let then = &all.get(back.value)?.lessons;
            if then.is_unsaid() {
                let message = format!("week {} has no lessons of its own", back.value + 1);
                report.mistake(&back.span, message, "count back to a week that has");
            }
            then.or(Vec::new())?
        }
    };
    let keys = text.keys.maybe().ok()?;
    Some(Week {
        title: text.title.maybe().ok()?,
        text: text.text.clone()?,
        again: again.into_iter().filter(|at| !own.contains(at)).collect(),
        lessons: own,
        keys: keys.map(|keys| keys.into_iter().map(|key| key.value).collect()),
    })
}

/// Each key of a week is one of its lessons', and each lesson has one of them.
fn keys_are_there(
    text: &WeekText,
    week: &Week,
    course: &CourseText,
    lessons: &[Option<Lesson>],
    report: &mut Report<'_>,
) -> Option<()> {
    let keys = &text.keys.said()?.value;
    // Where a lesson isn't clear, it may have any.
    let met: Option<Vec<(usize, Vec<u8>)>> = week
        .all()
        .map(|at| Some((at, classes(lessons.get(at)?.as_ref()?))))
        .collect();
    let met = met?;
    for key in keys {
        let class = key.value.class();
        if met.iter().all(|(_, classes)| !classes.contains(&class)) {
            let message = format!("no lesson of this week has the key {}", key.value);
            let help = "leave it out, or say it in [keys] of a lesson";
            report.mistake(&key.span, message, help);
        }
    }
    for (at, classes) in &met {
        if keys.iter().all(|key| !classes.contains(&key.value.class())) {
            let file = shown(&course.files.get(*at)?.file);
            let message = format!("{file} has none of this week's keys");
            let help = "name one of its keys too, or play it in another week";
            report.mistake(&text.keys.said()?.span, message, help);
        }
    }
    Some(())
}

/// The keys of a lesson's sheets, in its own naming, whoever plays.
fn classes(lesson: &Lesson) -> Vec<u8> {
    let mut classes = Vec::with_capacity(12);
    for player in &lesson.players {
        let own = player.keys.as_ref().unwrap_or(&lesson.keys);
        classes.extend(own.classes());
    }
    classes
}
