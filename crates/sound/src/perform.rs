//! From scores and a take to a performance.

use std::collections::BTreeMap;

use score::Score;

use crate::band::{Accompaniment, Time};
use crate::conductor::Conductor;
use crate::form::{Passage, Stretch, stretches};
use crate::grid::Grid;
use crate::sheet::Sheet;
use crate::timeline::{Timeline, swing_parts};
use crate::{Performance, Role, SoundError, Strike, Take, click, key_given, line};

/// What is marked where the count-in ends.
const BEGINS: &str = "The line begins";

/// Into how many parts the band divides quarters: swing eighths of two to one
/// and sixteenths.
const BAND_PARTS: [u64; 2] = [3, 4];

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
    let counted_in = stretches.first().map_or(0, |stretch| match stretch {
        Stretch::Count(count) => count.begins + count.length,
        Stretch::Passage(_) => 0,
    });
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
        counted_in: counted_in as u32,
        levels: take.levels,
        roles: Vec::new(),
    };
    conduct(&stretches, &mut performance);
    if counted_in > 0 {
        performance
            .markers
            .push((counted_in as u32, BEGINS.to_owned()));
        performance.markers.sort_by_key(|(at, _)| *at);
    }
    play_roles(&stretches, take, &mut performance);
    Ok(performance)
}

/// Everything that is played, role by role.
fn play_roles(stretches: &[Stretch<'_>], take: &Take, performance: &mut Performance) {
    let mut bands: BTreeMap<(usize, Time), Accompaniment> = BTreeMap::new();
    for stretch in stretches {
        if let Stretch::Passage(passage) = stretch {
            bands
                .entry((passage.sheet, passage.time))
                .or_insert_with(|| Accompaniment::of(passage.timeline, take, passage.time));
        }
    }
    for role in Role::ALL {
        if take.levels.of(role) == 0 {
            continue;
        }
        let mut strikes = Vec::new();
        for stretch in stretches {
            match stretch {
                Stretch::Count(count) if role == Role::Count => click::count(count, &mut strikes),
                Stretch::Count(count) if role == Role::Chords && take.tracks.chords => {
                    key_given::give(count, &mut strikes);
                }
                Stretch::Count(_) => {}
                Stretch::Passage(passage) => {
                    let band = bands.get(&(passage.sheet, passage.time));
                    let lyrics = &mut performance.lyrics;
                    play(role, passage, band, take, &mut strikes, lyrics);
                }
            }
        }
        if !strikes.is_empty() {
            performance.roles.push((role, strikes));
        }
    }
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
    passage: &Passage<'_>,
    band: Option<&Accompaniment>,
    take: &Take,
    strikes: &mut Vec<Strike>,
    lyrics: &mut Vec<(u32, String)>,
) {
    match role {
        Role::Line if take.tracks.line && passage.call => line::line(passage, strikes, lyrics),
        Role::Click if take.tracks.click => click::passage(passage, take, strikes),
        Role::Line | Role::Count | Role::Click => {}
        Role::Chords | Role::Drone | Role::Bass | Role::Drums => {
            accompany(passage, band.map_or(&[], |band| band.hits(role)), strikes);
        }
    }
}

/// The hits that fall in a passage. What still sounds where it begins is
/// struck there again if it is meant to last.
fn accompany(passage: &Passage<'_>, hits: &[crate::band::Hit], strikes: &mut Vec<Strike>) {
    let timeline = passage.timeline;
    let (from, to) = (
        timeline.straight(passage.from),
        timeline.straight(passage.to),
    );
    let from = from + passage.over;
    let heard = hits.iter().filter(|hit| {
        (hit.at >= from && hit.at < to) || (hit.lasts && hit.at < from && hit.end > from)
    });
    let placed = |at: u64| (passage.begins + at).saturating_sub(timeline.straight(passage.from));
    strikes.extend(heard.filter_map(|hit| {
        let (at, end) = (placed(hit.at.max(from)), placed(hit.end.min(to)));
        Strike::of(at, end, hit.key, hit.velocity)
    }));
}

/// Ticks in which every sheet's times, its swing, its meters' units and the
/// band's patterns are whole, in that order of importance.
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
    Grid::of(divisions.chain(swing).chain(units).chain(BAND_PARTS))
}
