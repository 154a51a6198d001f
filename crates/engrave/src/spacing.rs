//! How far columns stand apart: ideal widths that grow with length, stretched
//! in one proportion to fill a line, and never so close that ink meets.

use crate::place::Sp;

/// The way from one point of a line to the next.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Gap {
    /// What looks right.
    pub(crate) natural: Sp,
    /// What ink needs.
    pub(crate) least: Sp,
    /// Whether it stays as it is, however full the line.
    pub(crate) rigid: bool,
    /// Gaps of one length: they are to look equal.
    pub(crate) alike: Option<u32>,
}

impl Gap {
    pub(crate) fn rigid(width: Sp) -> Gap {
        Gap {
            natural: width,
            least: width,
            rigid: true,
            alike: None,
        }
    }
}

/// How far two points must be apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Need {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) least: Sp,
}

/// A line's gaps, ready to be stretched.
#[derive(Debug, Clone)]
pub(crate) struct Spring {
    gaps: Vec<Gap>,
    /// The same with gaps that are alike made equal.
    even: Vec<Gap>,
    /// And longer ones wider than shorter ones.
    best: Vec<Gap>,
}

/// A thousandth of natural width, and no more than this much of it.
pub(crate) type Stretch = i64;
pub(crate) const NATURAL: Stretch = 1000;
const WIDEST: Stretch = 20_000;
/// Below this much of their natural width alike gaps may differ.
const EVEN: Stretch = 700;

impl Spring {
    /// Widens the gaps for what must stand apart.
    pub(crate) fn new(mut gaps: Vec<Gap>, mut needs: Vec<Need>) -> Spring {
        needs.sort_by_key(|need| (need.to - need.from, need.from));
        for need in &needs {
            widen(&mut gaps[need.from..need.to], need.least);
        }
        let mut classes = classes(&gaps);
        let even = evened(&gaps, &classes);
        in_proportion(&mut classes);
        let best = evened(&gaps, &classes);
        Spring { gaps, even, best }
    }

    /// As narrow as ink allows.
    pub(crate) fn least(&self) -> Sp {
        self.gaps.iter().map(|gap| gap.least).sum()
    }

    /// Whether a width holds it at no less than a stretch.
    pub(crate) fn fits(&self, width: Sp, fullest: Stretch) -> bool {
        self.least() <= width && total(&self.even, fullest) <= width
    }

    /// How wide it is at a stretch.
    pub(crate) fn width(&self, stretch: Stretch) -> Sp {
        total(&self.best, stretch)
    }

    /// The stretch at which it fills a width, as near as can be.
    pub(crate) fn stretch(&self, width: Sp) -> Stretch {
        solve(&self.best, width)
    }

    /// The points, the first at 0, at a stretch.
    pub(crate) fn points_at(&self, stretch: Stretch) -> Vec<Sp> {
        points(&self.best, stretch, None)
    }

    /// The points, the first at 0 and the last at a width, if that holds them.
    pub(crate) fn points_in(&self, width: Sp) -> Vec<Sp> {
        for gaps in [&self.best, &self.even] {
            let stretch = solve(gaps, width);
            if stretch >= EVEN {
                return points(gaps, stretch, Some(width));
            }
        }
        points(&self.gaps, solve(&self.gaps, width), Some(width))
    }
}

/// The gaps of one length: their usual width, and the widest they must be.
#[derive(Debug, Clone, Copy)]
struct Class {
    length: u32,
    usual: Sp,
    widest: Sp,
}

/// The lengths of a line, shortest first.
fn classes(gaps: &[Gap]) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    for gap in gaps {
        let Some(length) = gap.alike else { continue };
        let widest = gap.least.max(gap.natural);
        match classes.iter_mut().find(|class| class.length == length) {
            Some(class) => {
                class.widest = class.widest.max(widest);
                class.usual = class.usual.min(gap.natural);
            }
            None => classes.push(Class {
                length,
                usual: gap.natural,
                widest,
            }),
        }
    }
    classes.sort_by_key(|class| class.length);
    classes
}

/// Gaps of one length made equal.
fn evened(gaps: &[Gap], classes: &[Class]) -> Vec<Gap> {
    let mut even = gaps.to_vec();
    for gap in &mut even {
        let class = classes.iter().find(|class| Some(class.length) == gap.alike);
        if let Some(class) = class {
            gap.natural = class.widest;
        }
    }
    even
}

/// A longer length keeps at least the root of its usual proportion to a shorter
/// one, or sixteenths that one tie widens would be wider than eighths.
fn in_proportion(classes: &mut [Class]) {
    let mut shorter: Option<Class> = None;
    for class in classes {
        if let Some(shorter) = shorter {
            let [own, other, wide] =
                [class.usual, shorter.usual, shorter.widest].map(|width| i64::from(width.max(0)));
            let least = (wide * wide * own / other.max(1)).isqrt() as Sp;
            class.widest = class.widest.max(least);
        }
        shorter = Some(*class);
    }
}

/// Makes gaps together at least so wide: their natural widths in proportion,
/// and what they must have as if they were stretched to it.
fn widen(gaps: &mut [Gap], least: Sp) {
    let natural: Sp = gaps.iter().map(|gap| gap.natural).sum();
    let share: i64 = gaps
        .iter()
        .filter(|gap| !gap.rigid)
        .map(|gap| i64::from(gap.natural.max(1)))
        .sum();
    if share == 0 {
        return;
    }
    let wider = i64::from((least - natural).max(0));
    for gap in gaps.iter_mut().filter(|gap| !gap.rigid) {
        gap.natural = gap.natural.max(1);
        gap.natural += ((wider * i64::from(gap.natural) + share - 1) / share) as Sp;
    }
    if total(gaps, 0) < least {
        let stretch = solve(gaps, least - 1) + 1;
        for gap in gaps.iter_mut().filter(|gap| !gap.rigid) {
            gap.least = wide(gap, stretch);
        }
    }
}

fn wide(gap: &Gap, stretch: Stretch) -> Sp {
    if gap.rigid {
        return gap.natural;
    }
    let stretched = i64::from(gap.natural) * stretch / NATURAL;
    gap.least.max(stretched as Sp)
}

fn total(gaps: &[Gap], stretch: Stretch) -> Sp {
    gaps.iter().map(|gap| wide(gap, stretch)).sum()
}

fn solve(gaps: &[Gap], width: Sp) -> Stretch {
    let (mut low, mut high) = (0, WIDEST);
    while low < high {
        let middle = (low + high + 1) / 2;
        if total(gaps, middle) <= width {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    low
}

/// What the stretch leaves over, less than a thousandth of each gap, goes to
/// the elastic ones in turn.
fn points(gaps: &[Gap], stretch: Stretch, width: Option<Sp>) -> Vec<Sp> {
    let over = width.map_or(0, |width| width - total(gaps, stretch)).max(0);
    let elastic = gaps.iter().filter(|gap| !gap.rigid).count().max(1) as Sp;
    let mut points = Vec::with_capacity(gaps.len() + 1);
    let (mut at, mut seen) = (0, 0);
    points.push(0);
    for gap in gaps {
        at += wide(gap, stretch);
        if !gap.rigid {
            at += over * (seen + 1) / elastic - over * seen / elastic;
            seen += 1;
        }
        points.push(at);
    }
    points
}

/// The ideal width of so many ticks: a quarter 3.5 spaces, and about √2 times
/// as much for each doubling.
pub(crate) fn ideal(ticks: u32, divisions: u32) -> Sp {
    let square = u64::from(QUARTER * QUARTER) * u64::from(ticks) / u64::from(divisions.max(1));
    square.isqrt() as Sp
}

const QUARTER: u32 = 3500;

#[cfg(test)]
mod tests {
    use super::*;

    fn gap(natural: Sp, least: Sp) -> Gap {
        Gap {
            natural,
            least,
            rigid: false,
            alike: Some(natural as u32),
        }
    }

    #[test]
    fn ideal_widths() {
        let widths: Vec<Sp> = [1, 2, 4, 6, 8, 16].map(|ticks| ideal(ticks, 4)).into();
        assert_eq!(widths, [1750, 2474, 3500, 4286, 4949, 7000]);
    }

    #[test]
    fn a_line_is_filled_in_proportion() {
        let spring = Spring::new(
            vec![
                Gap::rigid(1000),
                gap(2000, 1500),
                gap(4000, 1500),
                gap(2000, 1500),
            ],
            vec![],
        );
        assert_eq!(spring.points_in(17_000), [0, 1000, 5000, 13_000, 17_000]);
        assert_eq!(spring.points_at(NATURAL), [0, 1000, 3000, 7000, 9000]);
        // Ink keeps its room.
        assert_eq!(spring.points_in(6000), [0, 1000, 2500, 4500, 6000]);
        assert_eq!(spring.least(), 5500);
    }

    /// One accidental widens its whole bar.
    #[test]
    fn equal_notes_look_equal() {
        let needs = vec![Need {
            from: 1,
            to: 2,
            least: 3000,
        }];
        let spring = Spring::new(vec![gap(2500, 1500); 3], needs);
        assert_eq!(spring.points_at(NATURAL), [0, 3000, 6000, 9000]);
        // But not where the line is too full for that.
        assert_eq!(spring.points_in(6300), [0, 1650, 4650, 6300]);
    }

    /// Where a tie makes sixteenths wide, eighths and quarters stay wider.
    #[test]
    fn a_longer_note_keeps_more_room() {
        let needs = vec![Need {
            from: 0,
            to: 1,
            least: 4600,
        }];
        let lengths = [1750, 1750, 2474, 3500];
        let spring = Spring::new(lengths.map(|natural| gap(natural, 1000)).to_vec(), needs);
        let points = spring.points_at(NATURAL);
        let widths: Vec<Sp> = points.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert_eq!(widths, [4600, 4600, 5469, 6504]);
    }

    /// A chord symbol over several notes.
    #[test]
    fn needs_reach_over_several_gaps() {
        let needs = vec![Need {
            from: 0,
            to: 3,
            least: 9000,
        }];
        let spring = Spring::new(
            vec![gap(2000, 1000), Gap::rigid(1000), gap(2000, 1000)],
            needs,
        );
        assert_eq!(spring.points_at(NATURAL), [0, 4000, 5000, 9000]);
        assert_eq!(spring.least(), 9000);
    }
}
