//! What all lessons and courses of a run share while they are made into files.

use crate::error::CopyError;
use crate::format::Format;
use crate::news::Count;
use crate::options::Options;
use crate::pictures::Pictures;
use crate::run_part::RunPart;
use crate::stop::Stop;
use crate::store::{Content, Store};
use crate::track::Tracks;

/// What all lessons of a run share.
pub struct Writing<'a> {
    pub options: &'a Options,
    pub tracks: &'a Tracks,
    pub pictures: &'a Pictures,
    pub store: Store,
    pub stop: &'a Stop,
    pub count: &'a Count<'a>,
}

impl Writing<'_> {
    pub fn writes(&self) -> bool {
        let files = |format: &Format| !format.is_track();
        let any = self.options.formats.iter().any(files) || self.tracks.any() || self.binds();
        any && !self.options.dry_run
    }

    /// Whether books, scores or grids are asked for; of several parts the
    /// first makes them.
    pub fn binds(&self) -> bool {
        let options = self.options;
        let books = [Format::Pdf, Format::Page]
            .iter()
            .any(|format| options.formats.contains(format));
        (options.gather || options.room.is_some() || options.sign_off || books)
            && options.part.is_none_or(RunPart::is_first)
    }

    /// Puts files into an open folder.
    pub fn putting<'b>(
        &'b self,
        folder: &'b str,
    ) -> impl Fn(&str, Content<'_>) -> Result<(), CopyError> + Sync {
        |file, content| self.store.put_content(folder, file, content)
    }
}

/// Whether a file holds sound, by its ending.
pub fn is_audio(file: &str) -> bool {
    let endings = [Format::Flac, Format::Wav].map(Format::ending);
    file.rsplit_once('.')
        .is_some_and(|(_, ending)| endings.contains(&ending))
}
