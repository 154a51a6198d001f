//! The band: what chords, drone, bass and drums play under a whole sheet.
//!
//! It is worked out once, in the track's ticks from the sheet's beginning;
//! every time the sheet or a part of it is played takes its hits from there.
//! No chance: what varies goes by the number of the bar.

mod bass;
mod comp;
mod drone;
mod drums;
mod frame;
mod hit;
mod plain;
mod table;
mod walk;

pub(crate) use frame::{Time, bar_style};
pub(crate) use hit::Hit;
pub(crate) use table::drum;

use crate::Take;
use crate::role::Role;
use crate::timeline::Timeline;
use frame::Frame;

/// What each of the band plays, in order.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Accompaniment {
    pub chords: Vec<Hit>,
    pub drone: Vec<Hit>,
    pub bass: Vec<Hit>,
    pub drums: Vec<Hit>,
}

impl Accompaniment {
    /// Under a sheet as it is played one time.
    pub(crate) fn of(timeline: &Timeline<'_>, take: &Take, time: Time) -> Accompaniment {
        let frame = Frame::of(timeline, take, time);
        let mut all = Accompaniment::default();
        if take.tracks.chords {
            comp::play(&frame, &mut all.chords);
            plain::chords(&frame, &mut all.chords);
            drone::play(&frame, &mut all.drone);
        }
        if take.tracks.bass {
            bass::play(&frame, &mut all.bass);
            plain::bass(&frame, &mut all.bass);
        }
        if take.tracks.drums {
            drums::play(&frame, &mut all.drums);
        }
        for hits in [
            &mut all.chords,
            &mut all.drone,
            &mut all.bass,
            &mut all.drums,
        ] {
            put_in_order(hits);
        }
        all
    }

    /// What a role plays.
    pub(crate) fn hits(&self, role: Role) -> &[Hit] {
        match role {
            Role::Chords => &self.chords,
            Role::Drone => &self.drone,
            Role::Bass => &self.bass,
            Role::Drums => &self.drums,
            Role::Line | Role::Count | Role::Click => &[],
        }
    }
}

/// In order of time and key; a key ends where it is struck again.
fn put_in_order(hits: &mut Vec<Hit>) {
    hits.sort_by_key(|hit| (hit.at, hit.key));
    hits.dedup_by_key(|hit| (hit.at, hit.key));
    let mut next = [u64::MAX; 128];
    for hit in hits.iter_mut().rev() {
        let next = &mut next[usize::from(hit.key & 127)];
        hit.end = hit.end.min(*next);
        *next = hit.at;
    }
    hits.retain(|hit| hit.at < hit.end);
}
