//! `check`: composes lessons, writes nothing, and says what is in store:
//! ranges, turns, jumps, register crossings, respellings, the hardest key.

use std::io::Write;
use std::path::PathBuf;

use copyist::{Stop, in_order, key_words};
use etude::{Composer, LeftOut, Report, SheetPlan};
use lesson::{Lesson, Player};
use theory::{Degree, Level, Pitch, Range};

use super::explanation;
use crate::console::Console;
use crate::exit::Exit;
use crate::lessons::read_all;
use crate::table;

pub fn run(
    paths: &[PathBuf],
    explain: bool,
    out: &mut impl Write,
    console: &Console,
) -> anyhow::Result<Exit> {
    let Some(files) = read_all(paths, console) else {
        return Ok(Exit::Mistake);
    };
    let mut exit = Exit::Done;
    for file in &files {
        let composer = match Composer::new(&file.lesson) {
            Ok(composer) => composer,
            Err(error) => {
                console.fault(&format!("{}: {error}", file.path.display()), None);
                return Ok(Exit::Mistake);
            }
        };
        if lesson(&composer, explain, out)? {
            exit = Exit::LeftOut;
        }
    }
    Ok(exit)
}

/// A sheet's plan, and its report or why it is left out.
pub(super) type Outcome = (SheetPlan, Result<Report, LeftOut>);

/// Reports on a lesson; whether any of its sheets is left out.
fn lesson(composer: &Composer<'_>, explain: bool, out: &mut impl Write) -> anyhow::Result<bool> {
    let mut outcomes: Vec<Outcome> = Vec::new();
    let make = |_: &SheetPlan, sheet: Result<&etude::Sheet, LeftOut>, _: &mut Vec<u8>| {
        Ok(sheet.map(|sheet| sheet.report.clone()))
    };
    in_order(
        composer,
        composer.plans(),
        &Stop::default(),
        make,
        |plan, outcome| {
            outcomes.push((*plan, outcome));
            Ok(())
        },
    )?;
    let lesson = composer.lesson();
    writeln!(out, "{}", head(lesson, &outcomes))?;
    for remark in &lesson.remarks {
        writeln!(out, "{remark}")?;
    }
    for (place, one) in lesson.players.iter().enumerate() {
        let own: Vec<&Outcome> = outcomes
            .iter()
            .filter(|(plan, _)| plan.player == place)
            .collect();
        writeln!(out, "\n{}", player_line(one))?;
        sheets_of(one, &own, out)?;
        if explain {
            explanation::print(&own, out)?;
        }
    }
    writeln!(out)?;
    Ok(outcomes.iter().any(|(_, outcome)| outcome.is_err()))
}

fn head(lesson: &Lesson, outcomes: &[Outcome]) -> String {
    let bars: u32 = outcomes
        .iter()
        .filter_map(|(_, outcome)| outcome.as_ref().ok())
        .map(|report| report.bars)
        .sum();
    let left_out = outcomes
        .iter()
        .filter(|(_, outcome)| outcome.is_err())
        .count();
    let sheets = outcomes.len() - left_out;
    let tail = if left_out > 0 {
        format!(", {left_out} left out")
    } else {
        String::new()
    };
    format!(
        "{} ({}): {sheets} sheets, {bars} bars{tail}",
        lesson.title, lesson.id
    )
}

fn player_line(player: &Player) -> String {
    let range = player.range(player.level);
    let who = player
        .name
        .as_ref()
        .map(|name| format!("{name}, "))
        .unwrap_or_default();
    format!(
        "{who}{}, {}, {} to {}",
        player.instrument.name,
        player.level.word(),
        range.low,
        range.high
    )
}

fn sheets_of(player: &Player, outcomes: &[&Outcome], out: &mut impl Write) -> anyhow::Result<()> {
    let reports = || {
        outcomes
            .iter()
            .filter_map(|(plan, outcome)| Some((plan, outcome.as_ref().ok()?)))
    };
    let range = player.range(player.level);
    let rows: Vec<[String; 12]> = reports()
        .map(|(plan, report)| row(plan, report, range))
        .collect();
    if !rows.is_empty() {
        table::print(out, "  ", HEADING, &rows)?;
    }
    for (remark, keys) in remarks(reports()) {
        writeln!(out, "  {remark} ({})", keys.join(", "))?;
    }
    for clash in clashes(reports()) {
        writeln!(out, "  {clash}")?;
    }
    if let Some(hint) = beginner_hint(player, reports()) {
        writeln!(out, "  {hint}")?;
    }
    for (plan, outcome) in outcomes {
        if let Err(why) = outcome {
            writeln!(
                out,
                "  left out: {:02}, {}: {why}",
                plan.number,
                written_words(plan)
            )?;
        }
    }
    let hardest = reports()
        .rev()
        .max_by_key(|(_, report)| report.signature + report.accidentals);
    if let Some((plan, report)) = hardest {
        let in_signature = report.signature;
        writeln!(
            out,
            "  hardest: {}, {in_signature} in the signature and {} accidentals",
            written_words(plan),
            report.accidentals
        )?;
    }
    Ok(())
}

/// `written F#`, or that the sheet moves through the keys.
pub(super) fn written_words(plan: &SheetPlan) -> String {
    if plan.through_keys {
        key_words(plan, plan.written)
    } else {
        format!("written {}", plan.written)
    }
}

const HEADING: [&str; 12] = [
    "no",
    "written",
    "concert",
    "lowest",
    "highest",
    "in the range",
    "bars",
    "turns",
    "jumps",
    "crossings",
    "respelled",
    "accidentals",
];

fn row(plan: &SheetPlan, report: &Report, range: Range) -> [String; 12] {
    [
        format!("{:02}", plan.number),
        key_words(plan, plan.written),
        key_words(plan, plan.concert),
        report.lowest.to_string(),
        report.highest.to_string(),
        chart(report, range),
        report.bars.to_string(),
        report.turns.to_string(),
        report.jumps.to_string(),
        report.register_crossings.to_string(),
        report.respellings.to_string(),
        report.accidentals.to_string(),
    ]
}

/// Cells of the chart.
const CHART: i32 = 24;

/// The sheet's ambitus inside the player's range: `[···=======·····]`.
fn chart(report: &Report, range: Range) -> String {
    let at = |pitch: Pitch| i32::from(pitch.midi() - range.low.midi());
    let span = at(range.high) + 1;
    let cells = CHART.min(span);
    let cell = |semitones: i32| semitones * cells / span;
    let (low, high) = (cell(at(report.lowest)), cell(at(report.highest)));
    let marks = (0..cells).map(|one| {
        if (low..=high).contains(&one) {
            '='
        } else {
            '·'
        }
    });
    format!("[{}]", marks.collect::<String>())
}

/// Degrees that clash with the chord named for them, each exercise once, by
/// the first key's chord.
fn clashes<'a>(reports: impl Iterator<Item = (&'a SheetPlan, &'a Report)>) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let mut headings: Vec<&str> = Vec::new();
    for exercise in reports.flat_map(|(_, report)| &report.exercises) {
        let Some((chord, degrees)) = &exercise.clashes else {
            continue;
        };
        if degrees.is_empty() || headings.contains(&exercise.heading.as_str()) {
            continue;
        }
        headings.push(&exercise.heading);
        let degrees: Vec<String> = degrees.iter().map(Degree::to_string).collect();
        said.push(format!(
            "{}: {} a half step above a tone of the chord ({chord} in its first key)",
            exercise.heading,
            degrees.join(" and ")
        ));
    }
    said
}

/// Which sheets a beginner on the same instrument could also play.
fn beginner_hint<'a>(
    player: &Player,
    reports: impl Iterator<Item = (&'a SheetPlan, &'a Report)>,
) -> Option<String> {
    if player.level == Level::Beginner {
        return None;
    }
    let range = player.instrument.range(Level::Beginner);
    let (mut inside, mut outside) = (Vec::new(), 0);
    for (plan, report) in reports {
        if range.holds(report.lowest) && range.holds(report.highest) {
            inside.push(key_words(plan, plan.written));
        } else {
            outside += 1;
        }
    }
    let range = format!("the beginner range {} to {}", range.low, range.high);
    Some(match (inside.is_empty(), outside) {
        (true, _) => format!("every sheet goes beyond {range}"),
        (false, 0) => format!("every sheet keeps within {range}"),
        _ => format!("within {range}: written {}", inside.join(", ")),
    })
}

/// Each remark once, with the written keys it holds in.
fn remarks<'a>(
    reports: impl Iterator<Item = (&'a SheetPlan, &'a Report)>,
) -> Vec<(String, Vec<String>)> {
    let mut remarks: Vec<(String, Vec<String>)> = Vec::new();
    for (plan, report) in reports {
        for exercise in &report.exercises {
            for remark in &exercise.remarks {
                let said = format!("{}: {remark}", exercise.heading);
                match remarks.iter_mut().find(|(known, _)| *known == said) {
                    Some((_, keys)) => keys.push(plan.written.to_string()),
                    None => remarks.push((said, vec![written_words(plan)])),
                }
            }
        }
    }
    remarks
}
