//! A sheet as it sounds, for the player in the page.

use etude::Composer;
use sound::{Take, perform};

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
    let made = composer.compose(&plan).map_err(|fault| fault.to_string())?;
    // Once, with everything in it: what isn't wanted is muted in the page.
    let take = Take {
        times: 1,
        ..copyist::take(&lesson)
    };
    let performance = perform(&[&made.score], &take).map_err(|error| error.to_string())?;
    Ok(practice::events(&performance, &made.score))
}
