//! A room full of players, whose sheets are written, edited and written again.

use std::path::{Path, PathBuf};

use crate::support::{Ran, fresh, lesson, plain, run, tree};

pub(crate) const ROOM: &str = "instruments = [\"flute\", \"alto saxophone\", \"tenor saxophone\", \"trombone\", \"b-flat trumpet\"]";

pub(crate) struct Room {
    pub(crate) folder: PathBuf,
    pub(crate) out: PathBuf,
}

impl Room {
    pub(crate) fn new(name: &str) -> Room {
        let folder = fresh(name);
        let out = folder.join("out");
        let room = Room { folder, out };
        room.lesson("Plain");
        room
    }

    pub(crate) fn lesson(&self, title: &str) {
        let text = plain(ROOM).replace("Plain", title);
        lesson(&self.folder, "lesson.toml", &text);
    }

    pub(crate) fn arguments(&self, more: &[&str]) -> Vec<String> {
        let path = self.folder.join("lesson.toml");
        let own = [
            "write",
            path.to_str().unwrap(),
            "--out",
            self.out.to_str().unwrap(),
        ];
        own.iter()
            .chain(more)
            .map(|word| (*word).to_owned())
            .collect()
    }

    pub(crate) fn write(&self, more: &[&str]) -> Ran {
        run(self.arguments(more))
    }

    pub(crate) fn sheet(&self, name: &str) -> PathBuf {
        self.out.join("lesson").join(name)
    }
}

/// The files in place: not those that a kill left unfinished, nor notes.
pub(crate) fn finished(out: &Path) -> Vec<(String, Vec<u8>)> {
    if !out.exists() {
        return Vec::new();
    }
    let is_hidden = |name: &str| name.split('/').any(|part| part.starts_with('.'));
    tree(out)
        .into_iter()
        .filter(|(name, _)| !is_hidden(name))
        .collect()
}
