//! Directions: rehearsal marks, and jumps through the piece, which are told
//! but not followed.

use crate::element::Element;
use crate::shown::{short, shown};

/// What a direction says of the piece's course.
#[derive(Debug, Default)]
pub(crate) struct Direction {
    /// A rehearsal mark.
    pub mark: Option<String>,
    /// Jumps, each with the element that says it.
    pub jumps: Vec<(&'static str, String)>,
}

/// Reads a `direction` or a `sound`.
pub(crate) fn direction(element: &Element) -> Direction {
    let mut direction = Direction::default();
    if element.name() == "sound" {
        sound(element, &mut direction);
        return direction;
    }
    for kind in element.children("direction-type") {
        let marks = kind.children("rehearsal").map(Element::text);
        let mark = marks.into_iter().find(|text| !text.is_empty()).map(short);
        direction.mark = direction.mark.or(mark);
        for (name, sign) in [("segno", "a segno"), ("coda", "a coda sign")] {
            if kind.child(name).is_some() {
                direction.jumps.push(("direction", sign.to_owned()));
            }
        }
        let words = kind.children("words").map(Element::text);
        let jumps = words.filter(|words| is_jump(words));
        direction
            .jumps
            .extend(jumps.map(|words| ("direction", shown(words))));
    }
    if let Some(child) = element.child("sound") {
        sound(child, &mut direction);
    }
    direction
}

fn sound(element: &Element, direction: &mut Direction) {
    for (name, word) in [
        ("dacapo", "a da capo"),
        ("dalsegno", "a dal segno"),
        ("tocoda", "a jump to the coda"),
        ("fine", "an end before the end"),
    ] {
        if element.attribute(name).is_some() {
            direction.jumps.push(("sound", word.to_owned()));
        }
    }
}

/// `D.C.`, `D.S. al Coda`, `Da Capo al Fine`, `Fine`, `To Coda`.
fn is_jump(words: &str) -> bool {
    let plain: String = words.to_lowercase().split([' ', '.']).collect();
    let begins = |jump: &str| plain.starts_with(jump);
    matches!(plain.as_str(), "dc" | "ds" | "fine" | "tocoda" | "alcoda")
        || ["dcal", "dsal", "dacapo", "dalsegno"]
            .iter()
            .any(|jump| begins(jump))
}

#[cfg(test)]
mod tests {
    use super::is_jump;

    #[test]
    fn words_that_jump() {
        for words in [
            "D.C.",
            "D.S. al Coda",
            "D. C. al Fine",
            "Da Capo",
            "dal segno al Fine",
            "Fine",
            "To Coda",
        ] {
            assert!(is_jump(words), "{words}");
        }
        for words in [
            "",
            "dim.",
            "fine tone",
            "decresc.",
            "Coda",
            "ds and dc",
            "Swing",
        ] {
            assert!(!is_jump(words), "{words}");
        }
    }
}
