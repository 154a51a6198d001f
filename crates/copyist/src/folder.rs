//! Names of folders: from whatever a lesson or a player is called to
//! something short and safe on every disk.

use std::collections::BTreeSet;

use lesson::Player;

use crate::store::Hash;

/// Bytes a name may have; with a file in it that stays far below what
/// systems allow.
const LONGEST: usize = 80;

/// Letters that tell names apart which are cut to the same.
const MARK: usize = 8;

/// Names that some systems keep for devices.
const RESERVED: [&str; 4] = ["con", "prn", "aux", "nul"];

/// The folder of a lesson or a course, by its id.
pub fn lesson_folder(id: &str) -> String {
    slug(id, "lesson")
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
    if whole.is_empty() {
        // Two names of nothing but signs are two names all the same.
        return if name.trim().is_empty() {
            otherwise.to_owned()
        } else {
            marked(otherwise, name)
        };
    }
    let whole = if whole.len() > LONGEST {
        let room = LONGEST - MARK - 1;
        let ends = whole
            .char_indices()
            .map(|(at, letter)| at + letter.len_utf8());
        let end = ends.take_while(|end| *end <= room).last().unwrap_or(0);
        marked(whole[..end].trim_end_matches('-'), &whole)
    } else {
        whole
    };
    let slug = whole.as_str();
    if is_reserved(slug) {
        format!("{slug}-{otherwise}")
    } else {
        slug.to_owned()
    }
}

/// A name told from others that would look the same.
fn marked(short: &str, whole: &str) -> String {
    format!(
        "{short}-{}",
        &Hash::of(whole.as_bytes()).to_string()[..MARK]
    )
}

fn is_reserved(slug: &str) -> bool {
    let numbered = |prefix| {
        slug.strip_prefix(prefix).is_some_and(|rest: &str| {
            rest.chars().count() == 1 && rest.chars().all(char::is_numeric)
        })
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
        check("", "lesson");
        check("C:\\lessons", "c-lessons");
        check("con", "con-lesson");
        check("COM7", "com7-lesson");
        check("com10", "com10");
        check("LPT¹", "lpt¹-lesson");
        check("Größe 2", "größe-2");
        check("音階", "音階");
        check(" - a - ", "a");
    }

    #[test]
    fn long_names_are_cut_on_a_character() {
        let check = |name: &str, begins: &str| {
            let slug = slug(name, "lesson");
            assert!(slug.len() <= LONGEST, "{slug}");
            assert_eq!(&slug[..slug.len() - MARK - 1], begins);
        };
        check(&"x".repeat(300), &"x".repeat(71));
        check(&"音".repeat(300), &"音".repeat(23));
        check(
            &format!("{}-{}", "x".repeat(70), "b".repeat(20)),
            &"x".repeat(70),
        );
    }

    #[test]
    fn names_of_nothing_but_signs_are_numbered_by_what_they_are() {
        for name in ["..", "🎷🎷", "!"] {
            let slug = slug(name, "lesson");
            assert!(slug.starts_with("lesson-") && slug.len() == 15, "{slug}");
        }
    }

    #[test]
    fn names_that_differ_only_past_the_cut_stay_apart() {
        let long = "x".repeat(290);
        assert_ne!(
            slug(&format!("{long} one"), "lesson"),
            slug(&format!("{long} two"), "lesson")
        );
        assert_ne!(slug("🎷", "lesson"), slug("🎺", "lesson"));
    }
}
