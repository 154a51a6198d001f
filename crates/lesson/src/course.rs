//! A course: lessons that a class works through, week by week.

use theory::PitchName;

use crate::{Lesson, OwnWords, Paper, Player};

/// A course with its lessons, checked and whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// The name of its folder: `id`, or the file's stem.
    pub id: String,
    /// On the cover of every book and at the head of every packet.
    pub title: String,
    /// Printed under the title.
    pub subtitle: Option<String>,
    /// The class it is for.
    pub class: Option<String>,
    /// The teacher's own words for the books; its `text` is their foreword.
    /// Author, rights and footer are those of each lesson that has none.
    pub own: OwnWords,
    /// What the books are printed on, if the course says it.
    pub paper: Option<Paper>,
    /// Whether the books ask players to take care of themselves.
    pub care: bool,
    /// Everyone who gets a book, each folder once. Where the course says who
    /// plays, exactly those, and every lesson has them too, in this order;
    /// else whoever plays in any lesson, in the order first met.
    pub players: Vec<Player>,
    /// Its lessons in the order they are first named; no two of one id. What
    /// a lesson doesn't say itself it has from the course.
    pub lessons: Vec<Lesson>,
    /// Its weeks in order; empty where it only lists lessons.
    pub weeks: Vec<Week>,
}

/// A week of a course.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Week {
    /// Its own title, beside its number.
    pub title: Option<String>,
    /// Paragraphs at the head of its packet.
    pub text: Vec<String>,
    /// This week's lessons, as places in [`Course::lessons`], each once.
    pub lessons: Vec<usize>,
    /// Lessons that come back this week, in the same way; none that is among
    /// this week's own.
    pub again: Vec<usize>,
    /// Which of the lessons' keys are played this week, as `--key` names them:
    /// by sound, in each lesson's own naming. None for all. Every lesson of
    /// the week has one of them.
    pub keys: Option<Vec<PitchName>>,
}

impl Week {
    /// What is played this week, what comes back after what is new.
    pub fn all(&self) -> impl Iterator<Item = usize> + '_ {
        self.lessons.iter().chain(&self.again).copied()
    }
}
