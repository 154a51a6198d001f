//! From a file's bytes to a score: unpacked if need be, decoded, read.

use lesson::Named;

use crate::document::{Document, document};
use crate::reading::TOO_MUCH;
use crate::{ReadError, Warning, archive, encoding, limit};

/// The score in a file, plain or in an archive, and what was guessed on the
/// way.
pub(crate) fn score(bytes: &[u8], named: Named) -> Result<(Document, Vec<Warning>), ReadError> {
    if bytes.len() > limit::FILE_BYTES {
        let reason = format!("the file has more than {} bytes", limit::FILE_BYTES);
        return Err(ReadError::whole(reason).with(TOO_MUCH));
    }
    if !archive::is_archive(bytes) {
        return plain(bytes, named, Vec::new());
    }
    let (unpacked, warnings) = archive::score(bytes)?;
    plain(&unpacked, named, warnings)
}

fn plain(
    bytes: &[u8],
    named: Named,
    mut warnings: Vec<Warning>,
) -> Result<(Document, Vec<Warning>), ReadError> {
    let (text, guess) = encoding::text(bytes)?;
    warnings.extend(guess);
    Ok((document(&text, named)?, warnings))
}
