//! The scale over the horn: root to root and back, or from the lowest root to
//! the highest note, down to the lowest, and home.

use lesson::{Direction, TooWide};
use theory::{Form, LineTone, Pitch, Rung, Tone};

use crate::compose::course::{Extent, span};
use crate::compose::line::ScaleLine;
use crate::heights::{Reach, height};
use crate::place::horn::{Horn, midi};
use crate::place::placement::{Misfit, Placement};
use crate::remark::{Remark, Shortfall};

/// A run up to `top`, down to `bottom`, and home to rung 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Run {
    pub top: i32,
    pub bottom: i32,
    /// Octaves from root to root; none for the whole horn.
    pub octaves: Option<i32>,
    /// Rungs to the octave.
    pub size: i32,
    pub direction: Direction,
    /// The root it begins on, where the rule names it; else the one that
    /// brings it nearest the middle of the range.
    pub root: Option<Pitch>,
}

/// The run that a horn can play: as many octaves as asked, one less if they
/// don't fit, then the whole horn.
pub(crate) fn run(line: &ScaleLine, horn: Horn, too_wide: TooWide) -> Result<Run, Misfit> {
    let most = line.octaves.unwrap_or(0);
    let asked = (1..=most).rev().map(|octaves| Run::octaves(line, octaves));
    let tried = if too_wide == TooWide::LeaveOut {
        1
    } else {
        usize::MAX
    };
    if let Some(run) = asked
        .take(tried)
        .find(|run| horn.nearest_middle(run.reach(line)).is_some())
    {
        return Ok(run);
    }
    let whole =
        whole_horn(line, horn).filter(|_| line.octaves.is_none() || too_wide != TooWide::LeaveOut);
    whole.ok_or_else(|| misfit(line, horn))
}

/// A run in its octave.
pub(crate) fn settle(line: &ScaleLine, horn: Horn, run: Run) -> Option<Placement> {
    let tones = run.tones();
    let root = run.root.or_else(|| horn.nearest_middle(run.reach(line)))?;
    let asked = span(line.octaves);
    let shortfall = match (line.octaves, run.octaves) {
        (Some(most), Some(octaves)) if octaves < most => Some(Shortfall::Octaves {
            got: span(run.octaves),
            asked,
        }),
        (Some(_), None) => Some(Shortfall::WholeHorn { asked }),
        _ => None,
    };
    Some(Placement {
        root,
        roots: vec![root],
        extent: run.extent(),
        tones: tones.into(),
        remarks: shortfall.into_iter().map(Remark::Shortfall).collect(),
    })
}

impl Run {
    fn octaves(line: &ScaleLine, octaves: i32) -> Run {
        let size = line.heights.size();
        Run {
            top: octaves * size,
            bottom: 0,
            octaves: Some(octaves),
            size,
            direction: line.direction,
            root: None,
        }
    }

    /// Notes up to the top, and from there to the end.
    fn extent(self) -> Extent {
        let (ups, downs) = match self.direction {
            Direction::Up => (self.top + 1, 0),
            Direction::Down => (1, self.top - self.bottom - self.bottom),
            Direction::UpAndDown => (self.top + 1, self.top - self.bottom - self.bottom),
        };
        let count = |notes: i32| u16::try_from(notes).unwrap_or(u16::MAX);
        Extent {
            ups: count(ups),
            downs: count(downs),
        }
    }

    fn tones(self) -> Vec<LineTone> {
        let tone = |form| {
            move |rung| LineTone {
                tone: Tone::Rung(Rung(rung)),
                form,
            }
        };
        let begin = if self.direction == Direction::Down {
            self.top
        } else {
            0
        };
        let mut tones: Vec<LineTone> = (begin..=self.top).map(tone(Form::Rising)).collect();
        if self.direction != Direction::Up {
            tones.extend((self.bottom..self.top).rev().map(tone(Form::Falling)));
            tones.extend((self.bottom + 1..=0).map(tone(Form::Rising)));
        }
        tones
    }

    fn reach(self, line: &ScaleLine) -> Reach {
        let heights = self
            .tones()
            .into_iter()
            .map(|tone| height(&line.heights, tone));
        Reach::of(heights).unwrap_or(Reach { low: 0, high: 0 })
    }
}

/// From the lowest root in range; going only up, to the highest root.
fn whole_horn(line: &ScaleLine, horn: Horn) -> Option<Run> {
    let heights = &line.heights;
    let size = heights.size();
    let root = horn.lowest_root()?;
    let range = horn.reach().up(-midi(root));
    let highest = heights.highest_within(range.high, Form::Rising);
    let top = if line.direction == Direction::Up {
        highest.div_euclid(size) * size
    } else {
        highest
    };
    let bottom = if line.direction == Direction::Up {
        0
    } else {
        heights.lowest_within(range.low, Form::Falling).min(0)
    };
    let run = Run {
        top,
        bottom,
        octaves: None,
        size,
        direction: line.direction,
        root: Some(root),
    };
    run.reach(line).within(range).then_some(run)
}

/// As far as all of several horns can play, each in an octave of its own: the
/// octaves that were asked, or fewer, where they fit everyone; else the most
/// notes between a lowest that is less than an octave under the root and a
/// highest, and of as many the least below it.
pub(crate) fn together(line: &ScaleLine, horns: &[Horn]) -> Option<Run> {
    let suits = |run: &Run| {
        let reach = run.reach(line);
        horns
            .iter()
            .all(|horn| horn.nearest_middle(reach).is_some())
    };
    let asked = (1..=line.octaves.unwrap_or(0)).rev();
    let asked = asked.map(|octaves| Run::octaves(line, octaves)).find(suits);
    let size = line.heights.size();
    let lowest = if line.direction == Direction::Up {
        0
    } else {
        1 - size
    };
    asked.or_else(|| {
        let runs = (lowest..=0).rev().filter_map(|bottom| {
            let tops = horns.iter().map(|horn| top_over(line, *horn, bottom));
            let top = tops.min().flatten()?;
            let step = if line.direction == Direction::Up {
                size
            } else {
                1
            };
            let run = |top| Run {
                top,
                bottom,
                octaves: None,
                size,
                direction: line.direction,
                root: None,
            };
            (1..=top / step)
                .rev()
                .map(|steps| run(steps * step))
                .find(suits)
        });
        // Of equals the first, which goes least below the root.
        runs.fold(None, |best: Option<Run>, run| match best {
            Some(best) if best.top - best.bottom >= run.top - run.bottom => Some(best),
            _ => Some(run),
        })
    })
}

/// The highest rung that a horn has over the lowest root with so low a rung.
fn top_over(line: &ScaleLine, horn: Horn, bottom: i32) -> Option<i32> {
    let heights = &line.heights;
    let range = horn.reach();
    let below = heights.at(bottom, Form::Falling);
    let root = horn.roots().find(|root| midi(*root) + below >= range.low)?;
    Some(heights.highest_within(range.high - midi(root), Form::Rising))
}

/// The note of the asked octaves that is furthest outside the range.
pub(crate) fn misfit(line: &ScaleLine, horn: Horn) -> Misfit {
    let run = Run::octaves(line, line.octaves.unwrap_or(1));
    let reach = run.reach(line);
    let root = horn.least_outside(reach);
    let range = horn.reach();
    let outside = |tone: &LineTone| {
        let at = height(&line.heights, *tone) + midi(root);
        (range.low - at).max(at - range.high)
    };
    let first = LineTone {
        tone: Tone::Rung(Rung(0)),
        form: Form::Rising,
    };
    let tone = run
        .tones()
        .into_iter()
        .rev()
        .max_by_key(outside)
        .unwrap_or(first);
    Misfit { root, tone }
}

#[cfg(test)]
mod tests {
    use theory::{Letter, PitchName, Range};

    use super::*;
    use crate::sample::scale_line;

    /// Where the run begins, its top and bottom note, and what is said of it.
    fn check(octaves: Option<i32>, direction: Direction, low: &str, high: &str, expected: &str) {
        let line = scale_line("1 2 3 4 5 6 7", octaves, direction);
        let range = Range {
            low: low.parse().unwrap(),
            high: high.parse().unwrap(),
        };
        let horn = Horn {
            root: PitchName::new(Letter::C, 0),
            range,
        };
        let said = match run(&line, horn, TooWide::TurnEarly) {
            Err(misfit) => format!("misfit from {}", misfit.root),
            Ok(run) => {
                let placed = settle(&line, horn, run).unwrap();
                let remark = placed
                    .remarks
                    .first()
                    .map_or(String::new(), |remark: &Remark| format!(" ({remark:?})"));
                format!(
                    "{} to {} and {}, {} notes{remark}",
                    placed.root,
                    run.top,
                    run.bottom,
                    placed.tones.len()
                )
            }
        };
        assert_eq!(said, expected, "{octaves:?} in {low} to {high}");
    }

    #[test]
    fn runs() {
        use Direction::{Down, Up, UpAndDown};
        check(Some(1), UpAndDown, "C4", "C6", "C4 to 7 and 0, 15 notes");
        check(Some(2), UpAndDown, "C4", "C6", "C4 to 14 and 0, 29 notes");
        check(Some(1), Up, "A3", "C6", "C4 to 7 and 0, 8 notes");
        check(
            Some(2),
            Down,
            "A3",
            "B5",
            "C4 to 7 and 0, 8 notes (Shortfall(Octaves { got: OneOctave, asked: TwoOctaves }))",
        );
        check(
            Some(1),
            UpAndDown,
            "D4",
            "D5",
            "C5 to 1 and -6, 15 notes (Shortfall(WholeHorn { asked: OneOctave }))",
        );
        check(None, UpAndDown, "Bb3", "F5", "C4 to 10 and -1, 23 notes");
        check(None, Up, "Bb3", "F6", "C4 to 14 and 0, 15 notes");
        check(None, Down, "Bb3", "F5", "C4 to 10 and -1, 13 notes");
        check(Some(1), UpAndDown, "D4", "B4", "misfit from C4");
    }
}
