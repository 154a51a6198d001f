//! What earlier runs say of a lesson's folder: which files are ours.

use std::collections::BTreeMap;
use std::io;
use std::path::{Component, Path};

use crate::contents::PastContents;

use super::hash::Hash;
use super::journal;
use super::regular;

/// What the file is called that tells of a folder.
pub const CONTENTS: &str = "contents.json";

/// A folder's contents as last told, and each file's hashes: the one it was
/// written with, then those that a killed run may have given it.
#[derive(Debug, Default)]
pub struct Record {
    pub contents: PastContents,
    pub hashes: BTreeMap<String, Vec<Hash>>,
    /// There is a `contents.json`, and it can't be read.
    pub damaged: bool,
}

impl Record {
    /// Reads what stands in a folder.
    pub fn read(folder: &Path) -> Record {
        let mut known = Record::default();
        match regular::read(&folder.join(CONTENTS)) {
            Ok(bytes) => match serde_json::from_slice::<PastContents>(&bytes) {
                Ok(contents) => known.contents = contents,
                Err(_) => {
                    known.damaged = true;
                    return known;
                }
            },
            Err(error) => known.damaged = error.kind() != io::ErrorKind::NotFound,
        }
        let told: Vec<(String, Hash)> = known
            .contents
            .files
            .iter()
            .filter_map(|(file, hash)| Some((file.clone(), hash.parse().ok()?)))
            .collect();
        let pending = journal::all(folder);
        let pending = pending.iter().flat_map(|path| journal::read(path));
        for (file, hash) in told.into_iter().chain(pending) {
            if is_inside(&file) {
                known.hashes.entry(file).or_default().push(hash);
            }
        }
        known
    }

    /// Whether a run of ours wrote this into the file, or into the new
    /// version beside it that somebody then moved there.
    pub fn is_ours(&self, file: &str, hash: Hash) -> bool {
        let wrote = |name: &str| {
            self.hashes
                .get(name)
                .is_some_and(|hashes| hashes.contains(&hash))
        };
        wrote(file) || wrote(&super::versions::beside(file, "new", 1))
    }
}

/// Whether a name leads to a place below the folder it is said in.
fn is_inside(file: &str) -> bool {
    let mut parts = Path::new(file).components().peekable();
    parts.peek().is_some() && parts.all(|part| matches!(part, Component::Normal(_)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_lead_out_are_not_ours() {
        for (file, expected) in [
            ("flute/01-c.musicxml", true),
            ("a", true),
            ("", false),
            ("../a", false),
            ("a/../../b", false),
            ("/etc/passwd", false),
        ] {
            assert_eq!(is_inside(file), expected, "{file}");
        }
    }
}
