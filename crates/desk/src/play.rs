//! A sheet, or a figure by itself, as it sounds, for the player in the page.

use copyist::{CopyError, Stop, composer, unless_stopped};
use lesson::Lesson;
use lesson_text::edit::grid;
use score::Score;
use sound::{Take, perform};

use crate::figure_staff::{alone, composed};
use crate::folder::Folder;
use crate::lessons;
use crate::look::View;

/// What the player plays, as JSON, or why it can't.
///
/// # Errors
/// That someone asked to stop.
pub(crate) fn play(
    folder: &Folder,
    shown: &View,
    stop: &Stop,
) -> Result<Result<String, String>, CopyError> {
    let why = |words: &str| Ok(Err(words.to_owned()));
    let Ok(lesson) = lessons::read(folder, &shown.file, &shown.text) else {
        return why("the lesson has a mistake: mend it first");
    };
    let composer = match composer(&lesson, stop) {
        Ok(composer) => composer,
        Err(refusal) => return why(&refusal.message),
    };
    let Some(plan) = shown.plan(&composer) else {
        return why("there is no sheet");
    };
    if let Some(place) = shown.figure {
        let figure = grid(&shown.text, place, None);
        let small = figure.and_then(|figure| alone(&lesson, &plan, figure.name.as_deref()));
        let Some(small) = small else {
            return why("no exercise plays this figure");
        };
        return match composed(&small, &plan, stop)? {
            Some(score) => Ok(performed(&small, &score)),
            None => why("this figure doesn't fit the horn"),
        };
    }
    match unless_stopped(composer.compose(&plan))? {
        Ok(made) => Ok(performed(&lesson, &made.score)),
        Err(left_out) => why(&left_out.to_string()),
    }
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
