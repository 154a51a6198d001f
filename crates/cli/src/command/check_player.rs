//! What `check` says of a player: each sheet in a row, then what is to be said
//! of several.

use std::io::Write;

use copyist::{BeginnerReach, Survey, key_words};
use etude::{Composer, RemarkOnSheets, Report, SheetPlan, hardest, remarks_on};
use lesson::Player;

use crate::table;

/// Prints what is in store for a player, by its place in the lesson.
pub fn print(
    composer: &Composer<'_>,
    survey: &Survey,
    place: usize,
    out: &mut impl Write,
) -> anyhow::Result<()> {
    let player = &composer.lesson().players[place];
    writeln!(out, "{}", player_line(player))?;
    let made = || survey.made(Some(place));
    let rows: Vec<[String; 14]> = made()
        .map(|(plan, sheet)| row(plan, sheet, player))
        .collect();
    if !rows.is_empty() {
        table::print(out, "  ", HEADING, &rows)?;
    }
    for RemarkOnSheets {
        heading,
        remark,
        sheets,
    } in remarks_on(made())
    {
        writeln!(out, "  {heading}: {remark} ({})", written_keys(&sheets))?;
    }
    for clash in clashes(made()) {
        writeln!(out, "  {clash}")?;
    }
    if let Some(reach) = survey.beginner_reach(composer, place) {
        writeln!(out, "  {}", beginner_hint(&reach))?;
    }
    for (plan, why) in survey.left_out(Some(place)) {
        writeln!(
            out,
            "  left out: {:02}, {}: {why}",
            plan.number,
            written_words(plan)
        )?;
    }
    if let Some((plan, sheet)) = hardest(made()) {
        writeln!(
            out,
            "  hardest: {}, {} in the signature and {} accidentals",
            written_words(plan),
            sheet.signature,
            sheet.accidentals
        )?;
    }
    Ok(())
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

/// `written F#`, or that the sheet moves through the keys.
pub(super) fn written_words(plan: &SheetPlan) -> String {
    if plan.through_keys {
        key_words(plan, plan.written)
    } else {
        format!("written {}", plan.written)
    }
}

/// `written F#, C, G`.
fn written_keys(plans: &[&SheetPlan]) -> String {
    let keys = plans.iter().enumerate().map(|(place, plan)| match place {
        0 => written_words(plan),
        _ => plan.written.to_string(),
    });
    keys.collect::<Vec<String>>().join(", ")
}

const HEADING: [&str; 14] = [
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
    "doubles",
    "E♯ B♯ C♭ F♭",
];

fn row(plan: &SheetPlan, report: &Report, player: &Player) -> [String; 14] {
    [
        format!("{:02}", plan.number),
        key_words(plan, plan.written),
        key_words(plan, plan.concert),
        report.lowest.to_string(),
        report.highest.to_string(),
        chart(report, player),
        report.bars.to_string(),
        report.turns.to_string(),
        report.jumps.to_string(),
        report.register_crossings.to_string(),
        report.respellings.to_string(),
        report.accidentals.to_string(),
        report.doubles.to_string(),
        report.white_twins.to_string(),
    ]
}

/// Cells of the chart.
const CHART: u16 = 24;

/// The sheet's ambitus inside the player's range: `[···=======·····]`.
fn chart(report: &Report, player: &Player) -> String {
    let (cells, low, high) = report.reach_in(player.range(player.level), CHART);
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
fn clashes<'a>(sheets: impl Iterator<Item = (&'a SheetPlan, &'a Report)>) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let mut headings: Vec<&str> = Vec::new();
    for exercise in sheets.flat_map(|(_, sheet)| &sheet.exercises) {
        let Some((chord, degrees)) = &exercise.clashes else {
            continue;
        };
        if degrees.is_empty() || headings.contains(&exercise.heading.as_str()) {
            continue;
        }
        headings.push(&exercise.heading);
        let degrees: Vec<String> = degrees.iter().map(ToString::to_string).collect();
        said.push(format!(
            "{}: {} a half step above a tone of the chord ({chord} in its first key)",
            exercise.heading,
            degrees.join(" and ")
        ));
    }
    said
}

/// Which sheets a beginner on the same instrument could also play.
fn beginner_hint(reach: &BeginnerReach) -> String {
    let range = &reach.range;
    let range = format!("the beginner range {} to {}", range.low, range.high);
    if reach.inside.is_empty() {
        return format!("every sheet goes beyond {range}");
    }
    if reach.outside == 0 {
        return format!("every sheet keeps within {range}");
    }
    let keys = reach.inside.iter();
    let keys: Vec<String> = keys.map(|plan| key_words(plan, plan.written)).collect();
    format!("within {range}: written {}", keys.join(", "))
}
