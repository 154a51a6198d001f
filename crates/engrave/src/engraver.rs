//! The engraving library, held by the hand: one sheet in, its systems out as
//! SVG, all on one page without end.

use std::fs;
use std::panic::{self, AssertUnwindSafe};
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

use verovio::{LogLevel, Toolkit, set_log_level};

use crate::EngraveError;

/// Draws one sheet at a time; take one for each worker.
#[derive(Debug)]
pub(crate) struct Engraver {
    toolkit: Toolkit,
}

/// Engravers made and not in use, and the folder that they were read from.
#[derive(Debug, Default)]
pub struct Engravers {
    free: Mutex<Vec<Engraver>>,
    resources: Mutex<Option<PathBuf>>,
}

/// A staff's height in the library's units, whatever it is on paper: what it
/// draws is scaled afterwards, so that staves may be larger than it allows.
pub(crate) const STAFF: i32 = 720;

impl Engravers {
    /// Draws a sheet: MusicXML in, SVG documents out, one as a rule. A page is
    /// so many units wide.
    ///
    /// # Errors
    /// When the library can't be had or doesn't take the sheet.
    pub(crate) fn draw(&self, musicxml: &str, width: i32) -> Result<Vec<String>, EngraveError> {
        let mut engraver = self.take()?;
        let drawn = engraver.draw(musicxml, width);
        let mut free = self.free.lock().unwrap_or_else(PoisonError::into_inner);
        free.push(engraver);
        drawn
    }

    fn take(&self) -> Result<Engraver, EngraveError> {
        let free = self
            .free
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .pop();
        match free {
            Some(engraver) => Ok(engraver),
            None => self.make(),
        }
    }

    /// The library unpacks its resources into a folder for temporary files, and
    /// panics where it can't.
    fn make(&self) -> Result<Engraver, EngraveError> {
        let mut resources = self
            .resources
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        set_log_level(LogLevel::Off);
        let hook = panic::take_hook();
        panic::set_hook(Box::new(|_| ()));
        let toolkit = panic::catch_unwind(AssertUnwindSafe(Toolkit::new));
        panic::set_hook(hook);
        let toolkit = toolkit.map_err(|_| EngraveError::Resources)?;
        *resources = Some(PathBuf::from(toolkit.resource_path()));
        Ok(Engraver { toolkit })
    }
}

/// The library leaves its folder behind.
impl Drop for Engravers {
    fn drop(&mut self) {
        let mut resources = self
            .resources
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        if let Some(folder) = resources.take() {
            // What can't be removed is left to the system's own tidying.
            let _ = fs::remove_dir_all(folder);
        }
    }
}

impl Engraver {
    fn draw(&mut self, musicxml: &str, width: i32) -> Result<Vec<String>, EngraveError> {
        let refused = |error: verovio::Error| EngraveError::Refused(error.to_string());
        self.toolkit.set_options(&options(width)).map_err(refused)?;
        self.toolkit.reset_xml_id_seed(1);
        self.toolkit.load_data(musicxml).map_err(refused)?;
        (1..=self.toolkit.page_count())
            .map(|page| self.toolkit.render_to_svg(page).map_err(refused))
            .collect()
    }
}

/// No margins and no words of its own; one page as high as it can be.
fn options(width: i32) -> String {
    format!(
        "{{\"breaks\": \"encoded\", \"header\": \"none\", \"footer\": \"none\", \"adjustPageHeight\": true, \
         \"pageWidth\": {}, \"pageHeight\": 60000, \"pageMarginLeft\": 0, \"pageMarginRight\": 0, \
         \"pageMarginTop\": 0, \"pageMarginBottom\": 0, \"scale\": 100, \"unit\": 9, \
         \"smuflTextFont\": \"none\", \"svgRemoveXlink\": true, \"mnumInterval\": 0, \"minLastJustification\": 0.6}}",
        width / 10
    )
}
