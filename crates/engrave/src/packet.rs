//! A week's packet: what there is to do and where it is, a row to sign, and the
//! sheets; so often as copies are wanted, each on an even number of pages, so
//! that a printer gives them all from both sides of the paper.

use crate::{Foot, Page, Paper};

/// What a packet is made of. What is empty is left out.
#[derive(Debug, Clone, Default)]
pub struct Packet {
    /// What its first page is on.
    pub paper: Paper,
    /// The course's title, over the week's.
    pub course: String,
    /// `Week 3 · Over the bridge`.
    pub title: String,
    /// `Alto Saxophone in E♭`.
    pub instrument: String,
    /// Whose it is.
    pub player: String,
    /// The teacher's own paragraphs.
    pub text: Vec<String>,
    /// The caution about long practice, where it was asked for.
    pub care: String,
    /// What stands at the foot of each page.
    pub foot: Foot,
    /// The lessons in order, what comes again last.
    pub tasks: Vec<Task>,
    /// How many are wanted.
    pub copies: u16,
}

/// A lesson of the week.
#[derive(Debug, Clone, Default)]
pub struct Task {
    /// Its title.
    pub name: String,
    /// Whether it was there some weeks ago.
    pub again: bool,
    /// The tempos to climb, slowest first.
    pub tempos: Vec<u16>,
    /// This week's keys.
    pub keys: Vec<TaskKey>,
}

/// A key's sheets.
#[derive(Debug, Clone, Default)]
pub struct TaskKey {
    /// As it is said at its sheets' heads.
    pub name: String,
    /// The same where there is little room: `A♭`.
    pub short: String,
    /// Room left at their feet.
    pub pages: Vec<Page>,
}
