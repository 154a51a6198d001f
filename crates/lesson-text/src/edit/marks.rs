//! Marks that go by the numbers of a figure's notes keep to their notes when
//! one comes or goes: `slur = "2-3 6-next"`, `accent = "1 4"`.

/// What became of a note, the first that sounds being 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NoteChange {
    /// It is new, under this number.
    Added(usize),
    /// It had this number.
    Removed(usize),
}

/// Whether a key of a figure says numbers of notes.
pub(super) fn numbers_notes(key: &str) -> bool {
    matches!(
        key,
        "slur"
            | "accent"
            | "staccato"
            | "tenuto"
            | "ghost"
            | "fall"
            | "scoop"
            | "doit"
            | "unflipped"
    )
}

/// The numbers afterwards; empty where none is left.
pub(super) fn renumbered(said: &str, changed: NoteChange) -> String {
    let parts = said
        .split([' ', ',', '\t', '\n'])
        .filter(|part| !part.is_empty());
    let parts: Vec<String> = parts.filter_map(|part| one(part, changed)).collect();
    parts.join(" ")
}

fn one(part: &str, changed: NoteChange) -> Option<String> {
    match part.split_once(['-', '–']) {
        Some((from, to)) => {
            let gone = from
                .parse()
                .is_ok_and(|number| changed == NoteChange::Removed(number));
            let from_number = begins(from, changed);
            let to_number = ends(to, changed);
            match (from_number, to_number) {
                (Some(from), Some(to)) if from < to => Some(format!("{from}-{to}")),
                (Some(_), Some(_)) => None,
                // What led into the next statement from a note that is gone.
                (Some(_), None) if gone => None,
                (Some(from), None) => Some(format!("{from}-{to}")),
                _ => Some(part.to_owned()),
            }
        }
        None => match part.parse::<usize>() {
            Ok(number) => match changed {
                NoteChange::Removed(gone) if gone == number => None,
                _ => Some(after(number, changed).to_string()),
            },
            Err(_) => Some(part.to_owned()),
        },
    }
}

fn after(number: usize, changed: NoteChange) -> usize {
    match changed {
        NoteChange::Added(new) => number + usize::from(number >= new),
        NoteChange::Removed(gone) => number - usize::from(number > gone),
    }
}

/// A slur that began on a note that is gone begins on the next one.
fn begins(said: &str, changed: NoteChange) -> Option<usize> {
    Some(after(said.parse().ok()?, changed))
}

/// One that ended there ends on the one before.
fn ends(said: &str, changed: NoteChange) -> Option<usize> {
    let number: usize = said.parse().ok()?;
    Some(match changed {
        NoteChange::Removed(gone) if gone == number => number.saturating_sub(1),
        _ => after(number, changed),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_keep_to_their_notes() {
        let check = |said, changed, expected: &str| {
            assert_eq!(renumbered(said, changed), expected, "{said} {changed:?}");
        };
        check("1 4", NoteChange::Added(2), "1 5");
        check("1 4", NoteChange::Removed(1), "3");
        check("4", NoteChange::Removed(4), "");
        check("2-3 4-5", NoteChange::Added(4), "2-3 5-6");
        check("2-3 4-5", NoteChange::Removed(3), "3-4");
        check("2-4", NoteChange::Removed(2), "2-3");
        check("6-next", NoteChange::Removed(2), "5-next");
        check("6-next", NoteChange::Removed(6), "");
        check("6-next", NoteChange::Removed(5), "5-next");
        check("6-next", NoteChange::Added(6), "7-next");
        check("last", NoteChange::Added(1), "last");
    }
}
