//! Names of folders: from whatever a lesson or a player is called to
//! something short and safe on every disk.

use std::collections::BTreeSet;

use lesson::{Lesson, Player};

/// Bytes a name may have; with a file in it that stays far below what
/// systems allow.
const LONGEST: usize = 80;

/// Names that some systems keep for devices.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];

/// The folder of a lesson.
pub fn lesson_folder(lesson: &Lesson) -> String {
    slug(&lesson.id, "lesson")
}

/// The folders of a lesson's players, in their order, all different: a
/// second alto saxophone gets `alto-saxophone-2`.
pub fn player_folders(players: &[Player]) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let folder = |player: &Player| {
        let plain = match &player.name {
            Some(name) => slug(name, &player.instrument.id),
            None => slug(&player.instrument.id, "player"),
        };
        let mut name = plain.clone();
        let mut number = 1;
        while !taken.insert(name.clone()) {
            number += 1;
            name = format!("{plain}-{number}");
        }
        name
    };
    players.iter().map(folder).collect()
}

/// A name's slug, cut where it is long; `otherwise` if nothing is left.
fn slug(name: &str, otherwise: &str) -> String {
    let whole = lesson::slug(name);
    let ends = whole
        .char_indices()
        .map(|(at, letter)| at + letter.len_utf8());
    let end = ends.take_while(|end| *end <= LONGEST).last().unwrap_or(0);
    let slug = whole[..end].trim_end_matches('-');
    if slug.is_empty() {
        return otherwise.to_owned();
    }
    if is_reserved(slug) {
        format!("{slug}-{otherwise}")
    } else {
        slug.to_owned()
    }
}

fn is_reserved(slug: &str) -> bool {
    let numbered = |prefix| {
        slug.strip_prefix(prefix)
            .is_some_and(|rest: &str| rest.len() == 1 && rest.chars().all(char::is_numeric))
    };
    RESERVED.contains(&slug) || numbered("com") || numbered("lpt")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(name: &str, expected: &str) {
        assert_eq!(slug(name, "lesson"), expected, "{name:?}");
    }

    #[test]
    fn names_become_safe() {
        check("lantern-stairs", "lantern-stairs");
        check("Lantern Stairs!", "lantern-stairs");
        check("../../etc/passwd", "etc-passwd");
        check("..", "lesson");
        check("", "lesson");
        check("🎷🎷", "lesson");
        check("C:\\lessons", "c-lessons");
        check("con", "con-lesson");
        check("COM7", "com7-lesson");
        check("com10", "com10");
        check("Größe 2", "größe-2");
        check("音階", "音階");
        check(" - a - ", "a");
    }

    #[test]
    fn long_names_are_cut_on_a_character() {
        assert_eq!(slug(&"x".repeat(300), "lesson").len(), LONGEST);
        assert_eq!(
            slug(&"音".repeat(300), "lesson").chars().count(),
            LONGEST / 3
        );
        assert_eq!(
            slug(&format!("{}-b", "x".repeat(LONGEST - 1)), "lesson"),
            "x".repeat(LONGEST - 1)
        );
    }
}
