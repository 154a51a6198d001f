//! Where systems begin: each wish of the score's that fits is kept, one is
//! added where ink would not fit, and none are joined.

use std::ops::Range;

use crate::line::{self, Plan};
use crate::place::Sp;
use crate::spacing::Stretch;
use crate::system::{self, System, Width, indent};
use crate::voice::Voice;

/// Below this stretch a line is too full to be read well.
const FULLEST: Stretch = 720;
/// What is less than so many thousandths full keeps the stretch of the lines
/// before it.
const FULL: i64 = 667;
/// A line by itself is stretched no further than this.
const LOOSE: Stretch = 1500;

/// A line and its plan.
struct LinePlan {
    bars: Range<usize>,
    plan: Plan,
    width: Width,
}

/// Every system of the voices, each line so wide.
pub(crate) fn systems(voices: &[Voice<'_>], whole: Sp) -> Vec<System> {
    let Some(first) = voices.first() else {
        return Vec::new();
    };
    let indents = [indent(voices, true), indent(voices, false)];
    let width = |bars: &Range<usize>| Width {
        indent: indents[usize::from(bars.start > 0)],
        whole,
    };
    let mut lines: Vec<LinePlan> = Vec::new();
    for wish in wishes(first) {
        let plan = line::plan(voices, wish.clone());
        let room = width(&wish);
        if wish.len() == 1 || fits(&plan, room) {
            lines.push(LinePlan {
                bars: wish,
                plan,
                width: room,
            });
            continue;
        }
        for bars in parted(voices, wish, &width) {
            let plan = line::plan(voices, bars.clone());
            let width = width(&bars);
            lines.push(LinePlan { bars, plan, width });
        }
    }
    let stretches = stretches(first, &lines);
    lines
        .iter()
        .zip(stretches)
        .map(|(line, stretch)| {
            system::draw(voices, line.bars.clone(), &line.plan, line.width, stretch)
        })
        .collect()
}

fn fits(plan: &Plan, width: Width) -> bool {
    plan.spring.fits(width.whole - width.indent, FULLEST)
}

/// The bars between the breaks that the score wishes for.
fn wishes(voice: &Voice<'_>) -> Vec<Range<usize>> {
    let count = voice.bars.len();
    let mut begins: Vec<usize> = (1..count)
        .filter(|&place| voice.bars[place].measure.begins.is_some())
        .collect();
    begins.insert(0, 0);
    begins.push(count);
    let pairs = begins.windows(2).map(|pair| pair[0]..pair[1]);
    pairs.filter(|bars| !bars.is_empty()).collect()
}

/// Bars that one line can't hold, in as few lines as can be, as equally full as
/// can be.
fn parted(
    voices: &[Voice<'_>],
    bars: Range<usize>,
    width: &impl Fn(&Range<usize>) -> Width,
) -> Vec<Range<usize>> {
    let count = bars.len();
    // The fewest lines for the first so many bars, the sum of the squares of
    // what they need, and where the last of them begins.
    let mut best: Vec<Option<(usize, i64, usize)>> = vec![None; count + 1];
    best[0] = Some((0, 0, 0));
    for end in 1..=count {
        for begin in (0..end).rev() {
            let range = bars.start + begin..bars.start + end;
            let plan = line::plan(voices, range.clone());
            if range.len() > 1 && !fits(&plan, width(&range)) {
                break;
            }
            let Some((lines, before, _)) = best[begin] else {
                continue;
            };
            let wide = i64::from(plan.spring.width(1000)) / 100;
            let cost = (lines + 1, before + wide * wide);
            if best[end].is_none_or(|(lines, known, _)| cost < (lines, known)) {
                best[end] = Some((cost.0, cost.1, begin));
            }
        }
    }
    let mut parts = Vec::new();
    let mut end = count;
    while end > 0 {
        let begin = best[end].map_or(end - 1, |(_, _, begin)| begin);
        parts.push(bars.start + begin..bars.start + end);
        end = begin;
    }
    parts.reverse();
    parts
}

/// How far each line is stretched; none fills its line. The last line of an
/// exercise that would have to be drawn out keeps the stretch of those before
/// it, or, alone, the usual one of the sheet.
fn stretches(voice: &Voice<'_>, lines: &[LinePlan]) -> Vec<Option<Stretch>> {
    let room = |line: &LinePlan| line.width.whole - line.width.indent;
    let full: Vec<Stretch> = lines
        .iter()
        .map(|line| line.plan.spring.stretch(room(line)))
        .collect();
    let ends = |line: &LinePlan| {
        let last = line.bars.end.checked_sub(1);
        let bar = last.and_then(|last| voice.bars.get(last));
        line.bars.end == voice.bars.len() || bar.is_some_and(|bar| bar.measure.barline.is_some())
    };
    let mut inner: Vec<Stretch> = lines
        .iter()
        .zip(&full)
        .filter(|(line, _)| !ends(line))
        .map(|(_, stretch)| *stretch)
        .collect();
    inner.sort_unstable();
    let usual = inner.get(inner.len() / 2).copied().unwrap_or(LOOSE);
    let mut before: Option<Stretch> = None;
    lines
        .iter()
        .zip(full)
        .map(|(line, full)| {
            if !ends(line) {
                before = Some(full);
                return None;
            }
            let wanted = before.take().unwrap_or(usual).min(full);
            let wide = i64::from(line.plan.spring.width(wanted));
            (wide * 1000 < i64::from(room(line)) * FULL).then_some(wanted)
        })
        .collect()
}
