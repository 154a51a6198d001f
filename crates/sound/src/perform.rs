//! From scores and a take to a performance.

use score::Score;

use crate::conductor::Conductor;
use crate::form::{Stretch, stretches};
use crate::grid::Grid;
use crate::sheet::Sheet;
use crate::timeline::{Timeline, swing_parts};
use crate::{Performance, Role, SoundError, Strike, Take, backing, click, line};

/// Plays a sheet, or several joined with a bar of click between them (the
/// twelve keys of a lesson, for one player: the first names the part and its
/// program).
///
/// # Errors
/// No score, a note outside MIDI's keys, or a track too long for a file.
pub fn perform(scores: &[&Score], take: &Take) -> Result<Performance, SoundError> {
    let first = scores.first().ok_or(SoundError::NoSheet)?;
    let sheets = scores.iter().map(|score| Sheet::of(score, take));
    let sheets: Vec<Sheet<'_>> = sheets.collect::<Result<_, _>>()?;
    let grid = grid(&sheets, take);
    let timelines: Vec<Timeline<'_>> = sheets
        .into_iter()
        .map(|sheet| Timeline::of(sheet, grid, take.swing))
        .collect();
    let (stretches, end) = stretches(&timelines, take)?;
    let mut performance = Performance {
        title: first.title.clone(),
        part: first.part.name.clone(),
        program: first.part.midi_program.clamp(1, 128),
        tuning: take.tuning,
        per_quarter: grid.per_quarter(),
        end: end as u32,
        tempos: Vec::new(),
        meters: Vec::new(),
        keys: Vec::new(),
        heads: Vec::new(),
        markers: Vec::new(),
        lyrics: Vec::new(),
        roles: Vec::new(),
    };
    conduct(&stretches, &mut performance);
    for role in [Role::Line, Role::Chords, Role::Bass, Role::Click] {
        let mut strikes = Vec::new();
        for stretch in &stretches {
            play(role, stretch, take, &mut strikes, &mut performance.lyrics);
        }
        if !strikes.is_empty() {
            performance.roles.push((role, strikes));
        }
    }
    Ok(performance)
}

/// A note of the track, unless it would last less than a tick.
pub(crate) fn strike(onset: u64, end: u64, key: u8, velocity: u8) -> Option<Strike> {
    (onset < end).then_some(Strike {
        onset: onset as u32,
        end: end as u32,
        key,
        velocity,
    })
}

fn conduct(stretches: &[Stretch<'_>], performance: &mut Performance) {
    let mut conductor = Conductor::default();
    for stretch in stretches {
        match stretch {
            Stretch::Count(count) => conductor.count(count, performance),
            Stretch::Passage(passage) => conductor.passage(passage, performance),
        }
    }
}

fn play(
    role: Role,
    stretch: &Stretch<'_>,
    take: &Take,
    strikes: &mut Vec<Strike>,
    lyrics: &mut Vec<(u32, String)>,
) {
    let tracks = take.tracks;
    match (stretch, role) {
        (Stretch::Passage(passage), Role::Line) if tracks.line && passage.call => {
            line::line(passage, strikes, lyrics);
        }
        (Stretch::Passage(passage), Role::Chords) if tracks.chords => {
            backing::chords(passage, strikes);
        }
        (Stretch::Passage(passage), Role::Bass) if tracks.bass => backing::bass(passage, strikes),
        (Stretch::Passage(passage), Role::Click) if tracks.click => {
            click::passage(passage, strikes);
        }
        (Stretch::Count(count), Role::Click) => click::count(count, strikes),
        _ => {}
    }
}

/// Ticks in which every sheet's times, its swing and its meters' units are
/// whole, in that order of importance.
fn grid(sheets: &[Sheet<'_>], take: &Take) -> Grid {
    let divisions = sheets.iter().map(|sheet| sheet.divisions);
    let swing = sheets
        .iter()
        .flat_map(|sheet| swing_parts(sheet, take.swing));
    let meters = sheets
        .iter()
        .flat_map(|sheet| &sheet.bars)
        .filter_map(|bar| bar.meter);
    let units = meters.map(|meter| u64::from(meter.lower()).div_ceil(4));
    Grid::of(divisions.chain(swing).chain(units))
}
