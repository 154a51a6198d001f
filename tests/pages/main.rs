//! Printed pages as they are told: everything of a sheet is drawn once, in its
//! place, and nothing touches what it shouldn't.
#![cfg(test)]

mod faults;
mod looks;
mod pdf;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use engrave::{Page, Paper, Role};
use etude::{Composer, LeftOut, RoomPitch};
use lesson::Lesson;
use rayon::prelude::*;
use score::Score;

use crate::faults::{count, faults, measured, notes};

/// High, low and transposing.
const HORNS: [&str; 3] = ["alto-saxophone", "trombone", "flute"];

#[test]
fn every_shipped_lesson_is_drawn_as_it_is() {
    let mut sheets: Vec<(String, Score)> = Vec::new();
    for path in lessons() {
        sheets.extend(scores(&path));
    }
    assert!(sheets.len() > 60, "{}", sheets.len());
    let faults: Vec<String> = sheets
        .par_iter()
        .flat_map_iter(|(name, score)| {
            let faults = faults(score, Paper::A4);
            faults
                .into_iter()
                .map(move |fault| format!("{name}: {fault}"))
        })
        .collect();
    assert!(faults.is_empty(), "{} {}", faults.len(), faults.join("\n"));
}

#[test]
fn letter_paper_and_large_print_hold_everything() {
    for lesson in ["weather-vane", "cooper-street", "crooked-pier"] {
        let path = folder().join(format!("{lesson}.toml"));
        for (name, mut score) in scores(&path) {
            assert_eq!(faults(&score, Paper::Letter), [""; 0], "{name}");
            score.page.staff_height = 110;
            assert_eq!(faults(&score, Paper::A4), [""; 0], "{name}, large");
        }
    }
}

/// Everyone's staves under each other: notes that begin together stand in one
/// column, and nothing touches either.
#[test]
fn scores_with_everyone_are_drawn_too() {
    for name in ["lantern-stairs", "five-ferries", "night-crossing"] {
        let path = folder().join(format!("{name}.toml"));
        let text = fs::read_to_string(&path).unwrap();
        let lesson = lesson_text::read(&text, name).unwrap();
        let composer = Composer::new(&lesson).unwrap();
        let rooms = etude::rooms(
            &lesson,
            composer.plans(),
            RoomPitch::Transposed,
            &AtomicBool::new(false),
        )
        .unwrap();
        let parts = &rooms[0].parts;
        assert!(parts.len() > 1);
        let sheet = engrave::room(parts, "Transposed score", Paper::A4);
        let faults: Vec<String> = sheet.pages.iter().flat_map(measured).collect();
        assert_eq!(faults, [""; 0], "{name}");
        let notes: usize = parts.iter().map(notes).sum();
        assert_eq!(count(&sheet, Role::Notehead), notes, "{name}");
        for page in &sheet.pages {
            let mut columns: BTreeMap<String, BTreeSet<i32>> = BTreeMap::new();
            for seen in page.seen().filter(|seen| seen.role == Role::Notehead) {
                let Some(note) = seen.note else { continue };
                let key = format!("{} {} {}", seen.frame, note.bar, note.onset);
                columns.entry(key).or_default().insert(seen.ink.left);
            }
            for (key, lefts) in columns {
                assert_eq!(lefts.len(), 1, "{name} {key}: {lefts:?}");
            }
        }
    }
}

#[test]
fn a_fault_on_a_page_is_seen() {
    let (_, score) = scores(&folder().join("lantern-stairs.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    let spoiled = |x: i32, y: i32| {
        let mut page = sheet.pages[0].clone();
        let at = page.frames.len() - 1;
        page.frames[at].x += x;
        page.frames[at].y += y;
        measured(&page).len()
    };
    assert_eq!(spoiled(0, 0), 0);
    assert_ne!(spoiled(12_000, 0), 0);
    assert_ne!(spoiled(0, -20_000), 0);
}

/// Faults of the pages that another program drew for us.
#[test]
fn faults_of_before() {
    let drawn = |more: &str, moves: &str, labels: &str, large: bool| {
        let text = format!(
            "title = \"Stairs\"\ninstruments = [\"alto saxophone\"]\nlabels = [{labels}]\n{more}\n\
             [keys]\nonly = [\"C\", \"Gb\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"{moves}\"\n\
             [[exercise]]\nkind = \"sequence\"\n"
        );
        let lesson =
            lesson_text::read(&text, "stairs").unwrap_or_else(|faults| panic!("{faults:?} {text}"));
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans() {
            let mut score = composer.compose(plan).unwrap().score;
            if large {
                score.page.staff_height = 110;
            }
            assert_eq!(faults(&score, Paper::A4), [""; 0], "{text}");
        }
    };
    // Ornaments' labels over one another, accidentals pushed onto heads.
    let ornaments = "start, from below, step up, from above, step up, from below, step up, step up";
    drawn("", ornaments, "\"moves\"", false);
    drawn(
        "",
        ornaments,
        "\"moves\", \"degrees\", \"counts\", \"note names\"",
        true,
    );
    // Latin names and large print that ran together.
    let steps = "start, step up, skip up, step down, step down, step up, up 3 steps, step down";
    drawn("note_names = \"latin\"", steps, "\"note names\"", false);
    drawn(
        "note_names = \"latin\"",
        steps,
        "\"note names\", \"moves\"",
        true,
    );
    drawn("", steps, "\"moves\"", true);
    // Sixteenths as wide as one tie wanted them, wider than the eighths.
    let tied = "start, step up, step up, skip down, step up, step up, step down\"\ncount = \"1 e (&) a 2 & 3 (e) (&) a";
    drawn("", tied, "\"counts\"", false);
}

/// A given bar is no narrower than its notes want beside blank ones.
#[test]
fn given_bars_are_not_narrower_than_blank_ones() {
    let (_, score) = scores(&folder().join("quarry-answers.toml")).remove(0);
    let sheet = engrave::sheet(&score, Paper::A4);
    for page in &sheet.pages {
        for (frame, bars) in bars(page) {
            let widths: Vec<(bool, i32)> = bars;
            let narrowest = widths
                .iter()
                .filter(|(given, _)| *given)
                .map(|(_, width)| *width)
                .min();
            let widest = widths
                .iter()
                .filter(|(given, _)| !*given)
                .map(|(_, width)| *width)
                .max();
            if let (Some(given), Some(blank)) = (narrowest, widest) {
                assert!(given * 10 > blank * 8, "frame {frame}: {widths:?}");
            }
        }
    }
}

/// Whether each bar of each system has more than a few notes, and its width;
/// none for a bar of a few long ones.
fn bars(page: &Page) -> BTreeMap<usize, Vec<(bool, i32)>> {
    let mut edges: BTreeMap<usize, (Vec<i32>, Vec<i32>)> = BTreeMap::new();
    for seen in page.seen() {
        let own = edges.entry(seen.frame).or_default();
        match seen.role {
            Role::Barline => own.0.push(seen.ink.left),
            Role::Notehead => own.1.push(seen.ink.left),
            _ => (),
        }
    }
    edges
        .into_iter()
        .map(|(frame, (mut lines, heads))| {
            lines.sort_unstable();
            let widths = lines.windows(2).filter(|pair| pair[1] - pair[0] > 3_000);
            let bars = widths.filter_map(|pair| {
                let inside = heads
                    .iter()
                    .filter(|head| (pair[0]..pair[1]).contains(head));
                match inside.count() {
                    0 => Some((false, pair[1] - pair[0])),
                    1..4 => None,
                    _ => Some((true, pair[1] - pair[0])),
                }
            });
            (frame, bars.collect())
        })
        .collect()
}

/// The first and the last sheet of each horn, and the answers to the first.
pub(crate) fn scores(path: &Path) -> Vec<(String, Score)> {
    let stem = path.file_stem().unwrap().to_str().unwrap();
    let text = fs::read_to_string(path).unwrap();
    let mut lesson: Lesson = match lesson_text::read(&text, stem) {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            // Those that name a lead sheet are read with it elsewhere.
            assert!(text.contains("lead_sheet = "), "{stem}: {mistakes:?}");
            return Vec::new();
        }
    };
    let model = lesson.players[0].clone();
    lesson.players = HORNS
        .map(|horn| {
            let mut player = model.clone();
            player.instrument = theory::Instrument::named(horn).unwrap();
            (player.low, player.high, player.name) = (None, None, None);
            player
        })
        .to_vec();
    let composer = Composer::new(&lesson).unwrap();
    let mut scores = Vec::new();
    for (player, horn) in HORNS.iter().enumerate() {
        let own: Vec<_> = composer
            .plans()
            .iter()
            .filter(|plan| plan.player == player)
            .collect();
        for plan in [own.first(), own.last()].into_iter().flatten() {
            let name = format!("{stem} {horn} {}", plan.stem());
            match composer.compose(plan) {
                Ok(sheet) => scores.push((name.clone(), sheet.score)),
                // A horn may be too small for one of a lesson's keys.
                Err(LeftOut::OffTheHorn { .. }) => continue,
                Err(why) => unreachable!("{name}: {why}"),
            }
            if let Some(sheet) = composer.answers(plan).unwrap() {
                scores.push((name + " answers", sheet.score));
            }
        }
    }
    assert!(scores.len() >= HORNS.len(), "{stem}: {}", scores.len());
    scores
}

pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/lessons")
}

fn lessons() -> Vec<PathBuf> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    paths
}
