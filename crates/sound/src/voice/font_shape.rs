//! A SoundFont's outer shape, checked before the player reads it: chunks that
//! lie within the file, and tables whose entries point onwards. A font that
//! fails here could make the player ask for more memory than the file is
//! large (SoundFont 2.04 technical specification, sections 4, 5 and 7).

use crate::FontError;

/// Checks the shape.
///
/// # Errors
/// What is wrong, in words.
pub(crate) fn check(bytes: &[u8]) -> Result<(), FontError> {
    let (form, inside) = (bytes.get(..4), bytes.get(8..12));
    if form != Some(b"RIFF") || inside != Some(b"sfbk") {
        return Err(fault("it is not a SoundFont file"));
    }
    let lists = &bytes[12..];
    let (_, info, lists) = chunk(lists)?;
    let (_, samples, lists) = chunk(lists)?;
    let (_, tables, _) = chunk(lists)?;
    for list in [info, samples] {
        chunks(list).try_for_each(|chunk| chunk.map(|_| ()))?;
    }
    for chunk in chunks(tables) {
        let (name, table) = chunk?;
        match name {
            b"phdr" => rising(table, 38, 24)?,
            b"inst" => rising(table, 22, 20)?,
            b"pbag" | b"ibag" => rising(table, 4, 0)?,
            _ => {}
        }
    }
    Ok(())
}

/// A chunk's name, what it holds, and what comes after it.
type Chunk<'a> = (&'a [u8], &'a [u8], &'a [u8]);

fn chunk(bytes: &[u8]) -> Result<Chunk<'_>, FontError> {
    let size = bytes
        .get(4..8)
        .and_then(|size| <[u8; 4]>::try_from(size).ok());
    let size = size
        .map(u32::from_le_bytes)
        .and_then(|size| usize::try_from(size).ok());
    let end = size
        .and_then(|size| size.checked_add(8))
        .filter(|end| *end <= bytes.len());
    let end = end.ok_or_else(|| fault("it is cut short"))?;
    Ok((&bytes[..4], &bytes[8..end], &bytes[end..]))
}

/// The chunks of a list, after the list's own name.
fn chunks(list: &[u8]) -> impl Iterator<Item = Result<(&[u8], &[u8]), FontError>> {
    let mut rest = list.get(4..).unwrap_or_default();
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        Some(chunk(rest).map(|(name, inside, after)| {
            rest = after;
            (name, inside)
        }))
    })
    .scan(false, |broken, chunk| {
        let before = std::mem::replace(broken, chunk.is_err());
        (!before).then_some(chunk)
    })
}

/// Whether the number at a place of each entry never falls.
fn rising(table: &[u8], entry: usize, at: usize) -> Result<(), FontError> {
    let numbers = table
        .chunks_exact(entry)
        .map(|entry| u16::from_le_bytes([entry[at], entry[at + 1]]));
    if numbers.is_sorted() {
        Ok(())
    } else {
        Err(fault("its tables are damaged"))
    }
}

fn fault(what: &str) -> FontError {
    FontError(what.to_owned())
}
