//! The moves of a phrase in the lesson's words.

use lesson::Phrase;
use theory::{Form, Ladder, Rung};

use crate::fit::OnScale;
use crate::ornament::Step;

/// A phrase's moves, and those of its flip.
#[derive(Debug)]
pub(crate) struct Moves {
    pub moves: String,
    pub flipped: String,
}

/// The moves as a lesson says them, silences inside the phrase among them.
pub(crate) fn moves(phrase: &Phrase, on: &OnScale) -> Moves {
    let first = on.steps.iter().find_map(|step| match step {
        Step::Rung(rung) => Some(*rung),
        Step::Above | Step::Below => None,
    });
    let around = 2 * first.unwrap_or(0);
    let over = on.steps.iter().map(|step| match step {
        Step::Rung(rung) => Step::Rung(around - rung),
        Step::Above => Step::Below,
        Step::Below => Step::Above,
    });
    Moves {
        moves: said(phrase, on, &on.steps),
        flipped: said(phrase, on, &over.collect::<Vec<_>>()),
    }
}

/// How many of a phrase's moves are rests: the silences between its notes.
pub(crate) fn rests(phrase: &Phrase) -> usize {
    let silent = |note: &&lesson::PhraseNote| note.pitch.is_none();
    let mut inside = phrase.notes.as_slice();
    while let [rest @ .., last] = inside
        && last.pitch.is_none()
    {
        inside = rest;
    }
    inside.iter().skip_while(silent).filter(silent).count()
}

fn said(phrase: &Phrase, on: &OnScale, steps: &[Step]) -> String {
    let ladder = Ladder::new(&on.scale);
    let mut said: Vec<String> = Vec::new();
    let mut before: Option<i32> = None;
    let mut sounded = 0;
    // Whether the note before stands next to this one and leads from above.
    let mut from_above = false;
    let mut resting = false;
    for note in &phrase.notes {
        if note.pitch.is_none() {
            resting = sounded > 0 && sounded < steps.len();
            continue;
        }
        if std::mem::take(&mut resting) {
            said.push("rest".to_owned());
            from_above = false;
        }
        let Some(step) = steps.get(sounded) else {
            break;
        };
        sounded += 1;
        let words = match step {
            Step::Above => "from above".to_owned(),
            Step::Below if from_above => {
                said.pop();
                "enclose".to_owned()
            }
            Step::Below => "from below".to_owned(),
            Step::Rung(rung) => {
                let words = match before {
                    None => start(&ladder, *rung),
                    Some(before) => between(rung - before, ladder.size()),
                };
                before = Some(*rung);
                words
            }
        };
        from_above = matches!(step, Step::Above);
        said.push(words);
    }
    said.join(", ")
}

fn start(ladder: &Ladder, rung: i32) -> String {
    match rung {
        0 => "start".to_owned(),
        rung => format!("start on {}", ladder.degree(Rung(rung), Form::Rising)),
    }
}

fn between(rungs: i32, size: i32) -> String {
    let way = if rungs < 0 { "down" } else { "up" };
    match rungs.abs() {
        0 => "repeat".to_owned(),
        1 => format!("step {way}"),
        2 => format!("skip {way}"),
        octave if octave == size => format!("octave {way}"),
        rungs => format!("{way} {rungs} steps"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_have_words() {
        let check = |rungs: i32, words: &str| assert_eq!(between(rungs, 7), words);
        check(0, "repeat");
        check(1, "step up");
        check(-2, "skip down");
        check(3, "up 3 steps");
        check(-7, "octave down");
        check(8, "up 8 steps");
    }
}
