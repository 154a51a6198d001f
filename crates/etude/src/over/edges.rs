//! How statements begin and end beside their time, and how much time that
//! leaves between them.

use super::fitted_figure::FittedFigure;

/// How a line's statements begin and end beside their time, each way once.
#[derive(Debug, Default)]
pub(crate) struct Edges {
    /// Eighths from where their time begins to their first note, and whether
    /// that can be led up to.
    begins: Vec<(i8, bool)>,
    /// Eighths from where their last note may end to the next one's time.
    rooms: Vec<i8>,
}

impl Edges {
    pub fn of<'a>(fitted: impl Iterator<Item = &'a FittedFigure> + Clone, matter: bool) -> Edges {
        let mut edges = Edges {
            begins: vec![(0, false)],
            rooms: vec![0],
        };
        if matter {
            edges.begins = fitted.clone().map(|one| (one.begins, one.leads)).collect();
            edges.rooms = fitted.map(|one| one.room).collect();
            edges.begins.sort_unstable();
            edges.begins.dedup();
            edges.rooms.sort_unstable();
            edges.rooms.dedup();
        }
        edges
    }

    /// How many ways there are to begin, and to end.
    pub fn counts(&self) -> (usize, usize) {
        (self.begins.len(), self.rooms.len())
    }

    /// The place of a first note among those of a range.
    pub fn first(&self, begins: (i8, bool), pitch: usize, pitches: usize) -> usize {
        let place = self.begins.iter().position(|one| *one == begins);
        place.unwrap_or(0) * pitches + pitch
    }

    /// The place of a last note.
    pub fn last(&self, room: i8, pitch: usize, pitches: usize) -> usize {
        let place = self.rooms.iter().position(|one| *one == room);
        place.unwrap_or(0) * pitches + pitch
    }

    /// The eighths between a last note and a first one, which may be led up
    /// to or not, by their places; none where they would sound at once.
    pub fn between(&self, last: usize, first: usize, pitches: usize) -> (Option<u8>, bool) {
        let pitches = pitches.max(1);
        let (begins, leads) = self.begins[first / pitches];
        let time = begins + self.rooms[last / pitches];
        (u8::try_from(time).ok(), leads)
    }
}
