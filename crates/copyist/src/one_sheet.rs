//! One sheet of a lesson, for whoever shows it.

use etude::{Sheet, SheetPlan};
use lesson::Lesson;

use crate::choice::Choice;
use crate::job::composer;
use crate::refusal::Refusal;

/// The first sheet of a lesson that is chosen, with its plan: `Choice::new`
/// with a player's name and a key gives that player's sheet in that key. An
/// instrument that the lesson doesn't name plays it, too.
///
/// # Errors
/// That the lesson has no such player or key, or why the sheet is left out.
pub fn one_sheet(lesson: &Lesson, choice: &Choice) -> Result<(SheetPlan, Sheet), Refusal> {
    let mut lesson = lesson.clone();
    let players = choice.players(&mut lesson)?;
    let composer = composer(&lesson)?;
    let plans = choice.plans(&composer, &players)?;
    let plan = plans
        .first()
        .ok_or_else(|| Refusal::new(format!("{} has no sheet", lesson.id), "name other players"))?;
    let sheet = composer.compose(plan).map_err(|left_out| Refusal {
        message: left_out.to_string(),
        help: None,
    })?;
    Ok((*plan, sheet))
}
