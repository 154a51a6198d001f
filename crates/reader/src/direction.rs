//! Directions: rehearsal marks, and where to go on in the piece.

use crate::element::Element;
use crate::shown::short;
use crate::sign::Sign;

/// What a direction says of the piece's course.
#[derive(Debug, Default)]
pub(crate) struct Direction {
    /// A rehearsal mark.
    pub mark: Option<String>,
    /// Where to go on, by signs, words or sound.
    pub signs: Vec<Sign>,
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
        for (name, sign) in [("segno", Sign::Segno), ("coda", Sign::Coda)] {
            if kind.child(name).is_some() {
                direction.signs.push(sign);
            }
        }
        let words = kind.children("words").map(Element::text);
        direction.signs.extend(words.filter_map(in_words));
    }
    if let Some(child) = element.child("sound") {
        sound(child, &mut direction);
    }
    // “To Coda” is often a word and a sign in one.
    if direction.signs.contains(&Sign::ToCoda) {
        direction.signs.retain(|sign| *sign != Sign::Coda);
    }
    direction
}

fn sound(element: &Element, direction: &mut Direction) {
    for (name, sign) in [
        ("segno", Sign::Segno),
        ("coda", Sign::Coda),
        ("dacapo", Sign::DaCapo),
        ("dalsegno", Sign::DalSegno),
        ("tocoda", Sign::ToCoda),
        ("fine", Sign::Fine),
    ] {
        if element.attribute(name).is_some_and(|said| said != "no") {
            direction.signs.push(sign);
        }
    }
}

/// `D.C.`, `D.S. al Coda`, `Da Capo al Fine`, `Fine`, `To Coda`.
fn in_words(words: &str) -> Option<Sign> {
    let plain: String = words.to_lowercase().split([' ', '.']).collect();
    let begins = |jumps: [&str; 2]| jumps.iter().any(|jump| plain.starts_with(jump));
    match plain.as_str() {
        "fine" => Some(Sign::Fine),
        "tocoda" => Some(Sign::ToCoda),
        "dc" => Some(Sign::DaCapo),
        "ds" => Some(Sign::DalSegno),
        _ if begins(["dcal", "dacapo"]) => Some(Sign::DaCapo),
        _ if begins(["dsal", "dalsegno"]) => Some(Sign::DalSegno),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_jump() {
        let check = |words: &str, sign: Option<Sign>| assert_eq!(in_words(words), sign, "{words}");
        check("D.C.", Some(Sign::DaCapo));
        check("D.S. al Coda", Some(Sign::DalSegno));
        check("D. C. al Fine", Some(Sign::DaCapo));
        check("Da Capo", Some(Sign::DaCapo));
        check("dal segno al Fine", Some(Sign::DalSegno));
        check("Fine", Some(Sign::Fine));
        check("To Coda", Some(Sign::ToCoda));
        for words in [
            "",
            "dim.",
            "fine tone",
            "decresc.",
            "Coda",
            "ds and dc",
            "Swing",
        ] {
            check(words, None);
        }
    }
}
