//! The teacher's own words, as the standard has them.

use score::{Cue, Direction, Imprint, Measure, Score};

use rhythm::ValueKind::Quarter;

use super::building::n;
use super::sheets::{bare, document};
use super::tree::Tree;

fn spoken() -> Score {
    let mut score = bare();
    score.imprint = Imprint {
        author: Some("Ilse Marrow & class".to_owned()),
        rights: Some("May be copied for teaching".to_owned()),
        footer: Some("Tuesday reeds, room 4".to_owned()),
        text: vec!["Slowly. ".repeat(20), "Then with the others.".to_owned()],
    };
    score.part.measures = vec![Measure {
        number: 1,
        meter: Some("3/4".parse().unwrap()),
        directions: vec![
            Direction::Heading("The figure".into()),
            Direction::Text("Breathe where you like.".to_owned()),
            Direction::Section("Quay <1>".to_owned()),
        ],
        cues: vec![
            Cue {
                at: 0,
                words: "listen".to_owned(),
            },
            Cue {
                at: 2 * score.divisions,
                words: "now you".to_owned(),
            },
        ],
        elements: vec![
            n("C4", Quarter).done(),
            n("D4", Quarter).done(),
            n("E4", Quarter).done(),
        ],
        ..Measure::default()
    }];
    score
}

#[test]
fn who_made_it_and_on_what_terms() {
    // MusicXML 4.0 `creator`, `rights`, `credit-type`.
    let root = Tree::read(&document(&spoken()));
    let creator = root.find("identification/creator").unwrap();
    assert_eq!(creator.attribute("type"), Some("composer"));
    assert_eq!(creator.text, "Ilse Marrow & class");
    let rights = root.text("identification/rights");
    assert_eq!(rights, Some("May be copied for teaching"));
    let order = root.find("identification").unwrap();
    let names: Vec<&str> = order
        .children
        .iter()
        .map(|child| child.name.as_str())
        .collect();
    assert_eq!(names, ["creator", "rights", "encoding"]);
    let credits: Vec<(Option<&str>, &str, Option<&str>)> = root
        .all("credit")
        .map(|credit| {
            let words = credit.find("credit-words").unwrap();
            (
                credit.text("credit-type"),
                words.text.as_str(),
                words.attribute("valign"),
            )
        })
        .collect();
    let has = |kind: Option<&str>, words: &str, valign: &str| {
        assert!(
            credits.contains(&(kind, words, Some(valign))),
            "{credits:?}"
        );
    };
    has(Some("composer"), "Ilse Marrow & class", "top");
    has(Some("rights"), "May be copied for teaching", "bottom");
    has(None, "Tuesday reeds, room 4", "bottom");
    has(None, "Then with the others.", "top");
    // A hundred letters or so to a line: the first paragraph takes two.
    let slowly = credits
        .iter()
        .filter(|(_, words, _)| words.starts_with("Slowly."));
    assert_eq!(slowly.count(), 2);
    // No word is lost.
    let said: usize = credits
        .iter()
        .map(|(_, words, _)| words.matches("Slowly.").count())
        .sum();
    assert_eq!(said, 20);
}

#[test]
fn words_stand_over_their_places() {
    let root = Tree::read(&document(&spoken()));
    let measure = root.find("part/measure").unwrap();
    let order: Vec<String> = measure
        .children
        .iter()
        .filter_map(|child| match child.name.as_str() {
            "note" => child.text("pitch/step").map(str::to_owned),
            "direction" => {
                let kind = &child.find("direction-type").unwrap().children[0];
                Some(format!("{}: {}", kind.name, kind.text))
            }
            _ => None,
        })
        .collect();
    assert_eq!(
        order,
        [
            "words: The figure",
            "words: Breathe where you like.",
            "rehearsal: Quay <1>",
            "words: listen",
            "C",
            "D",
            "words: now you",
            "E",
        ]
    );
}
