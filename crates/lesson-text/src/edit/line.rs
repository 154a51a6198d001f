//! A figure's line as words that can be taken out, put in and changed, each
//! kept as it was typed until then.

use theory::Ladder;

use super::figure_words::{degree, move_in_words, rung};
use super::refusal::Refusal;
use crate::mistakes::saying::Spanned;
use crate::typed::figures::wording::{DegreeWord, MoveWord, NoteWord, Wording};

/// One word of the line.
#[derive(Debug, Clone)]
pub(super) struct LineWord {
    /// As it is written.
    pub said: String,
    pub means: Means,
}

/// What a word means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Means {
    Move(MoveWord),
    Note(NoteWord),
}

impl Means {
    /// How many notes it sounds.
    pub(super) fn notes(self) -> usize {
        match self {
            Means::Move(MoveWord::Rest) | Means::Note(NoteWord::Rest) => 0,
            Means::Move(MoveWord::Enclose) => 2,
            Means::Move(_) | Means::Note(_) => 1,
        }
    }

    pub(super) fn is_ornament(self) -> bool {
        matches!(self, Means::Move(word) if word.is_ornament())
    }

    fn said(self) -> String {
        match self {
            Means::Move(word) => move_in_words(word),
            Means::Note(word) => word.typed(),
        }
    }
}

impl LineWord {
    fn new(means: Means) -> LineWord {
        LineWord {
            said: means.said(),
            means,
        }
    }
}

/// The words of a line, rests left out: the count says where silence is.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub words: Vec<LineWord>,
    /// Whether rests are said among them.
    pub rests: bool,
    /// Whether commas part them.
    moves: bool,
}

impl Line {
    pub(super) fn of(wording: &Wording, text: &str) -> Line {
        let words: Vec<LineWord> = match wording {
            Wording::Moves(moves) => moves
                .iter()
                .map(|said| word(said, Means::Move(said.value), text))
                .collect(),
            Wording::Notes(notes) => notes
                .iter()
                .map(|said| word(said, Means::Note(said.value), text))
                .collect(),
        };
        let all = words.len();
        let words: Vec<LineWord> = words
            .into_iter()
            .filter(|word| word.means.notes() > 0)
            .collect();
        Line {
            rests: words.len() < all,
            words,
            moves: matches!(wording, Wording::Moves(_)),
        }
    }

    /// The line over a count's slots, `silent` saying which of them are.
    pub(super) fn over(&self, silent: &[bool]) -> String {
        let mut words: Vec<&str> = Vec::new();
        let mut slots = silent.iter();
        let mut rests = |words: &mut Vec<&str>, until_note: bool| {
            for silent in slots.by_ref() {
                match silent {
                    true if self.rests => words.push("rest"),
                    true => {}
                    false if until_note => return,
                    false => {}
                }
            }
        };
        for word in &self.words {
            for note in 0..word.means.notes() {
                // An enclosure goes on over silence without a word.
                let mut skipped = Vec::new();
                rests(if note == 0 { &mut words } else { &mut skipped }, true);
            }
            words.push(&word.said);
        }
        rests(&mut words, false);
        words.join(if self.moves { ", " } else { " " })
    }

    /// The word that sounds a note, notes counted from 0.
    pub(super) fn at(&self, note: usize) -> Option<usize> {
        let mut before = 0;
        self.words.iter().position(|word| {
            before += word.means.notes();
            note < before
        })
    }

    /// One note more, which repeats the one before.
    pub(super) fn insert(&mut self, note: usize) -> Result<(), Refusal> {
        let Some(before) = note.checked_sub(1) else {
            return self.insert_first();
        };
        let word = self.at(before).ok_or_else(super::refusal::nothing_there)?;
        let new = match self.words[word].means {
            means if means.is_ornament() => return Err(leads_on()),
            Means::Move(_) => Means::Move(MoveWord::Repeat),
            note @ Means::Note(_) => note,
        };
        self.words.insert(word + 1, LineWord::new(new));
        Ok(())
    }

    /// A note before all others is the first one twice.
    fn insert_first(&mut self) -> Result<(), Refusal> {
        let first = self
            .words
            .first()
            .cloned()
            .ok_or_else(super::refusal::nothing_there)?;
        match first.means {
            means if means.is_ornament() => return Err(leads_on()),
            Means::Move(_) => {
                self.words[0] = LineWord::new(Means::Move(MoveWord::Repeat));
                self.words.insert(0, first);
            }
            Means::Note(_) => self.words.insert(0, first),
        }
        Ok(())
    }

    /// One note less; the way it went is added to the next one's.
    pub(super) fn remove(&mut self, note: usize, ladder: Option<&Ladder>) -> Result<(), Refusal> {
        let index = self.at(note).ok_or_else(super::refusal::nothing_there)?;
        let word = self.words[index].means;
        if word.is_ornament() {
            return Err(ornament());
        }
        if let Means::Move(gone) = word {
            let next = self.next_rung(index);
            if next.is_none()
                && self.words[index + 1..]
                    .iter()
                    .any(|w| w.means.is_ornament())
            {
                return Err(leads_on());
            }
            match next {
                None if matches!(gone, MoveWord::Start(_)) => return Err(only_note()),
                None => {}
                Some((at, after)) => {
                    self.words[at] = LineWord::new(Means::Move(joined(gone, after, ladder)?));
                }
            }
        } else if self.words.len() == 1 {
            return Err(only_note());
        }
        self.words.remove(index);
        Ok(())
    }

    /// The next word that goes to a rung.
    fn next_rung(&self, index: usize) -> Option<(usize, MoveWord)> {
        let after = self.words.iter().enumerate().skip(index + 1);
        after.into_iter().find_map(|(at, word)| match word.means {
            Means::Move(word) if !word.is_ornament() => Some((at, word)),
            _ => None,
        })
    }

    /// One note elsewhere on the scale, all others where they were.
    pub(super) fn shift(
        &mut self,
        note: usize,
        rungs: i32,
        octaves: i32,
        ladder: &Ladder,
    ) -> Result<(), Refusal> {
        let index = self.at(note).ok_or_else(super::refusal::nothing_there)?;
        let by = rungs + octaves * ladder.size();
        let moved = match self.words[index].means {
            means if means.is_ornament() => return Err(ornament()),
            Means::Move(MoveWord::Start(word)) => {
                let from = start(word, ladder)?;
                Means::Move(MoveWord::Start(Some(degree(from + by, ladder))))
            }
            Means::Move(word) => Means::Move(going(rungs_of(word, Some(ladder))? + by, ladder)),
            Means::Note(NoteWord::Rung { rungs, octaves }) => {
                let all = rungs + octaves * ladder.size() + by;
                Means::Note(NoteWord::Rung {
                    rungs: all.rem_euclid(ladder.size()),
                    octaves: all.div_euclid(ladder.size()),
                })
            }
            Means::Note(NoteWord::Degree(word)) => {
                let from = rung(word, ladder).ok_or_else(off_the_scale)?;
                Means::Note(NoteWord::Degree(degree(from + by, ladder)))
            }
            Means::Note(NoteWord::Rest) => return Err(super::refusal::nothing_there()),
        };
        self.words[index] = LineWord::new(moved);
        if let (Means::Move(_), Some((at, after))) = (moved, self.next_rung(index)) {
            let back = rungs_of(after, Some(ladder))? - by;
            self.words[at] = LineWord::new(Means::Move(going(back, ladder)));
        }
        Ok(())
    }

    /// What each note sounds, in the scale's degrees; an ornament in words.
    pub(super) fn sounds(&self, ladder: Option<&Ladder>) -> Vec<String> {
        let mut sounds = Vec::new();
        let mut at = Some(0);
        for word in &self.words {
            match word.means {
                Means::Move(MoveWord::Enclose) => {
                    sounds.push("from above".to_owned());
                    sounds.push("from below".to_owned());
                    continue;
                }
                Means::Move(word) if word.is_ornament() => {
                    sounds.push(move_in_words(word));
                    continue;
                }
                Means::Move(MoveWord::Start(word)) => {
                    at = ladder.and_then(|ladder| start(word, ladder).ok());
                }
                Means::Move(word) => {
                    at = at.and_then(|at| Some(at + rungs_of(word, ladder).ok()?));
                }
                Means::Note(NoteWord::Rung { rungs, octaves }) => {
                    at = ladder.map(|ladder| rungs + octaves * ladder.size());
                }
                Means::Note(NoteWord::Degree(word)) => {
                    sounds.push(word.typed());
                    continue;
                }
                Means::Note(NoteWord::Rest) => continue,
            }
            let said = match (at, ladder) {
                (Some(at), Some(ladder)) => degree_said_at(at, ladder),
                _ => word.said.clone(),
            };
            sounds.push(said);
        }
        sounds
    }
}

fn degree_said_at(at: i32, ladder: &Ladder) -> String {
    degree(at, ladder).typed()
}

fn word<T>(said: &Spanned<T>, means: Means, text: &str) -> LineWord {
    match text.get(said.span.clone()) {
        // What is escaped or runs over a line is said anew.
        Some(typed) if !typed.contains(['\\', '\n', '"', '\'']) => LineWord {
            said: typed.trim().to_owned(),
            means,
        },
        _ => LineWord::new(means),
    }
}

/// The rung that a figure starts on.
fn start(word: Option<DegreeWord>, ladder: &Ladder) -> Result<i32, Refusal> {
    word.map_or(Ok(0), |word| rung(word, ladder).ok_or_else(off_the_scale))
}

/// How far a move goes.
fn rungs_of(word: MoveWord, ladder: Option<&Ladder>) -> Result<i32, Refusal> {
    match word {
        MoveWord::Steps(steps) => Ok(steps),
        MoveWord::Octave(octaves) => Ok(octaves * ladder.ok_or_else(no_scale)?.size()),
        _ => Ok(0),
    }
}

/// The move that goes so far.
fn going(rungs: i32, ladder: &Ladder) -> MoveWord {
    match rungs {
        0 => MoveWord::Repeat,
        rungs if rungs.abs() == ladder.size() => MoveWord::Octave(rungs.signum()),
        rungs => MoveWord::Steps(rungs),
    }
}

/// Two moves as one.
fn joined(gone: MoveWord, after: MoveWord, ladder: Option<&Ladder>) -> Result<MoveWord, Refusal> {
    match (gone, after) {
        (gone, MoveWord::Repeat) => Ok(gone),
        (MoveWord::Repeat, after) => Ok(after),
        (MoveWord::Steps(one), MoveWord::Steps(two)) => Ok(match one + two {
            0 => MoveWord::Repeat,
            both => MoveWord::Steps(both),
        }),
        (MoveWord::Start(word), after) => {
            let ladder = ladder.ok_or_else(no_scale)?;
            let both = start(word, ladder)? + rungs_of(after, Some(ladder))?;
            Ok(MoveWord::Start(Some(degree(both, ladder))))
        }
        (gone, after) => {
            let ladder = ladder.ok_or_else(no_scale)?;
            let both = rungs_of(gone, Some(ladder))? + rungs_of(after, Some(ladder))?;
            Ok(going(both, ladder))
        }
    }
}

fn ornament() -> Refusal {
    Refusal("this count is an ornament: ornaments are changed in the text".to_owned())
}

fn leads_on() -> Refusal {
    Refusal("an ornament leads on from here: ornaments are changed in the text".to_owned())
}

fn only_note() -> Refusal {
    Refusal("a figure needs a note".to_owned())
}

fn off_the_scale() -> Refusal {
    Refusal("this note is none of the scale's: change it in the text".to_owned())
}

pub(super) fn no_scale() -> Refusal {
    Refusal("the lesson has no scale yet: choose one first".to_owned())
}
