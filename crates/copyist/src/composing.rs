//! Composing within a run: a sheet that is given up when the run is asked to
//! stop is not one that is left out.

use etude::{Composer, LeftOut};
use lesson::Lesson;

use crate::error::CopyError;
use crate::refusal::Refusal;
use crate::stop::Stop;

/// The lesson made ready for composing, until someone asks to stop.
///
/// # Errors
/// That its rhythms are too fine.
pub fn composer<'a>(lesson: &'a Lesson, stop: &'a Stop) -> Result<Composer<'a>, Refusal> {
    let composer = Composer::new(lesson).map_err(too_fine)?;
    Ok(composer.until(stop.raised()))
}

/// What composing gave, or why there is none of it.
///
/// # Errors
/// That someone asked to stop meanwhile: then nothing is known of the sheet.
pub fn unless_stopped<T>(composed: Result<T, LeftOut>) -> Result<Result<T, LeftOut>, CopyError> {
    match composed {
        Err(LeftOut::Stopped) => Err(CopyError::Stopped),
        known => Ok(known),
    }
}

/// Rhythms that no tick is short enough for.
pub fn too_fine(error: impl std::fmt::Display) -> Refusal {
    Refusal::new(
        error.to_string(),
        "use fewer different tuplets in one lesson",
    )
}

#[cfg(test)]
mod tests {
    use etude::{RoomPitch, SheetPlan};
    use lesson::Player;

    use super::*;
    use crate::compilation::{books, course_book, rooms};
    use crate::format::Format;
    use crate::options::Options;
    use crate::pictures::Pictures;
    use crate::practice_page::practice_pages;
    use crate::printed_book::{self, BookLesson, PrintedBook};
    use crate::sheets::{composed, in_order};

    const LESSON: &str = "title = \"A\"\ninstruments = [\"flute\"]\n\
        [keys]\nonly = [\"C\", \"F\"]\n[changes]\nbars = \"| Dm7 | G7 |\"\n\
        [figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"changes\"\n\
        [[exercise]]\nkind = \"write out\"\ngiven = 1\n";

    /// Composing is given up while nobody else looks at the stop: whatever is
    /// made of sheets ends, instead of going on without them.
    #[test]
    fn whatever_is_made_of_sheets_ends_with_the_one_given_up() {
        let (asked, unasked) = (Stop::default(), Stop::default());
        asked.ask();
        let lesson = lesson_text::read(LESSON, "a").unwrap();
        let composer = composer(&lesson, &asked).unwrap();
        let plans = composer.plans();
        let folders = ["flute".to_owned()];
        let pictures = Pictures::new(&Options {
            formats: vec![Format::Pdf, Format::Page],
            ..Options::default()
        });
        let check = |what: &str, ended: Result<(), CopyError>| {
            assert!(
                matches!(ended, Err(CopyError::Stopped)),
                "{what}: {ended:?}"
            );
        };
        let sheets = in_order(
            &composer,
            plans,
            &unasked,
            |_, sheet, _| {
                assert!(sheet.is_ok(), "{sheet:?}");
                Ok(())
            },
            |_, ()| Ok(()),
        );
        check("sheets", sheets);
        check("joined tracks", composed(&composer, plans.iter()).map(drop));
        let made = books(&composer, plans, &folders, &unasked);
        check("books", made.map(drop));
        let (course, player) = course_of(&lesson);
        let own: Vec<(&Composer<'_>, Vec<SheetPlan>)> = vec![(&composer, plans.to_vec())];
        let made = course_book(&course, &player, &own, &unasked);
        check("a course's book", made.map(drop));
        let pitch = RoomPitch::Concert;
        let made = rooms(&lesson, plans, &folders, pitch, &pictures, &asked);
        check("rooms", made.map(drop));
        let made = printed_book::books(&composer, plans, &folders, true, &pictures, &unasked);
        check("printed books", made.map(drop));
        let made = practice_pages(&composer, plans, &folders, &pictures, &unasked);
        check("practice pages", made.map(drop));
        let answers = plans.iter().try_for_each(|plan| {
            let answers = unless_stopped(composer.answers(plan))?;
            assert_eq!(answers.map(|sheet| sheet.is_some()), Ok(false));
            Ok(())
        });
        check("answers", answers);
    }

    /// Pages that are drawn again when their turn comes are not left empty.
    #[test]
    fn a_book_that_is_given_up_while_it_is_drawn_is_none() {
        let (asked, unasked) = (Stop::default(), Stop::default());
        let lesson = lesson_text::read(LESSON, "a").unwrap();
        let composer = composer(&lesson, &asked).unwrap();
        let lessons = [true, false].map(|answers| BookLesson {
            composer: &composer,
            // More pages than are held.
            plans: composer.plans().iter().copied().cycle().take(70).collect(),
            answers,
        });
        let pictures = Pictures::new(&Options::default());
        let (course, player) = course_of(&lesson);
        let book = PrintedBook::new(Some(&course), &player, &lessons, &pictures, &unasked);
        let book = book.unwrap_or_else(|error| unreachable!("{error}"));
        asked.ask();
        let made = book.pdf(1);
        assert!(matches!(made, Err(CopyError::Stopped)));
    }

    fn course_of(lesson: &Lesson) -> (lesson::Course, Player) {
        let course = lesson::Course {
            id: "b".to_owned(),
            title: "B".to_owned(),
            subtitle: None,
            class: None,
            own: lesson.own.clone(),
            paper: None,
            care: false,
            players: lesson.players.clone(),
            lessons: vec![lesson.clone()],
            weeks: Vec::new(),
        };
        let player = lesson.players[0].clone();
        (course, player)
    }
}
