//! A sheet, or a figure by itself, as it sounds, for the player in the page.

use etude::Composer;
use lesson::Lesson;
use lesson_text::edit::grid;
use score::Score;
use sound::{Take, perform};

use crate::figure_staff::{alone, composed};
use crate::folder::Folder;
use crate::lessons;
use crate::look::Shown;

/// What the player plays, as JSON, or why it can't.
pub(crate) fn play(folder: &Folder, shown: &Shown) -> Result<String, String> {
    let lesson = lessons::read(folder, &shown.file, &shown.text)
        .map_err(|_| "the lesson has a mistake: mend it first".to_owned())?;
    let composer = Composer::new(&lesson).map_err(|error| error.to_string())?;
    let plan = shown
        .plan(&composer)
        .ok_or_else(|| "there is no sheet".to_owned())?;
    if let Some(place) = shown.figure {
        let figure = grid(&shown.text, place, None);
        let small = figure.and_then(|figure| alone(&lesson, &plan, figure.name.as_deref()));
        let small = small.ok_or_else(|| "no exercise plays this figure".to_owned())?;
        let score =
            composed(&small, &plan).ok_or_else(|| "this figure doesn't fit the horn".to_owned())?;
        return performed(&small, &score);
    }
    let made = composer.compose(&plan).map_err(|fault| fault.to_string())?;
    performed(&lesson, &made.score)
}

fn performed(lesson: &Lesson, score: &Score) -> Result<String, String> {
    // Once, with everything in it: what isn't wanted is muted in the page.
    let take = Take {
        times: 1,
        ..copyist::take(lesson)
    };
    let performance = perform(&[score], &take).map_err(|error| error.to_string())?;
    Ok(practice::events(&performance, score))
}
