//! Degrees and rungs as they are said, and the rung that each is.

use theory::{Degree, Form, Ladder, Rung};

use crate::typed::figures::wording::{DegreeWord, MoveWord};

/// The rung of a degree; none where the scale lacks it. The scale of all twelve
/// has every degree, whatever it calls it.
pub(super) fn rung(word: DegreeWord, ladder: &Ladder) -> Option<i32> {
    if ladder.size() == 12 {
        let semitones = i32::from(word.degree.interval().semitones());
        return Some(semitones + word.octaves * 12);
    }
    let Rung(rung) = ladder.rung_of(word.degree)?;
    Some(rung + word.octaves * ladder.size())
}

/// The degree of a rung.
pub(super) fn degree(rung: i32, ladder: &Ladder) -> DegreeWord {
    DegreeWord {
        degree: ladder.degree(Rung(rung), Form::Rising),
        octaves: rung.div_euclid(ladder.size()),
    }
}

pub(super) fn move_in_words(word: MoveWord) -> String {
    let way = |up: bool| if up { "up" } else { "down" };
    match word {
        MoveWord::Start(None) => "start".to_owned(),
        MoveWord::Start(Some(word)) if word.octaves == 0 && word.degree == Degree::ROOT => {
            "start".to_owned()
        }
        MoveWord::Start(Some(word)) => format!("start on {}", word.typed()),
        MoveWord::Steps(0) | MoveWord::Octave(0) | MoveWord::Repeat => "repeat".to_owned(),
        MoveWord::Steps(steps @ (1 | -1)) => format!("step {}", way(steps > 0)),
        MoveWord::Steps(steps @ (2 | -2)) => format!("skip {}", way(steps > 0)),
        MoveWord::Steps(steps) => format!("{} {} steps", way(steps > 0), steps.abs()),
        MoveWord::Octave(octaves) => format!("octave {}", way(octaves > 0)),
        MoveWord::Rest => "rest".to_owned(),
        MoveWord::FromBelow => "from below".to_owned(),
        MoveWord::FromAbove => "from above".to_owned(),
        MoveWord::Enclose => "enclose".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use crate::edit::{Edit, edit};

    #[test]
    fn a_literal_note_moves_by_half_steps() {
        let text = |degrees: &str| {
            format!("title = \"A\"\n[figure]\nliteral = true\ndegrees = \"{degrees}\"\n")
        };
        let check = |degrees: &str, note, rungs, octaves, expected: &str| {
            let shift = Edit::Shift {
                figure: 0,
                note,
                rungs,
                octaves,
            };
            assert_eq!(
                edit(&text(degrees), &shift),
                Ok(text(expected)),
                "{degrees}"
            );
        };
        check("1 #4 5", 2, 1, 0, "1 5 5");
        check("1 #4 5", 2, -1, 0, "1 4 5");
        check("1 b3 5", 2, 0, 1, "1 high b3 5");
        check("1 3 5", 1, -1, 0, "low 7 3 5");
    }
}
