//! Systems put on pages.

use crate::place::Micrometres;

/// What is put on a page in one piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Block {
    pub(crate) height: Micrometres,
    /// Whether an exercise begins here.
    pub(crate) opens: bool,
    /// Whether a new page begins here.
    pub(crate) page: bool,
    /// Whether it ends in a rest.
    pub(crate) rests: bool,
}

/// Which systems stand on a page, and how far apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stack {
    /// The first of them, and the first that isn't on it any more.
    pub(crate) systems: (usize, usize),
    /// From one to the next.
    pub(crate) gap: Micrometres,
}

/// The room for systems.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Room {
    /// On the first page.
    pub(crate) first: Micrometres,
    /// On each page after it.
    pub(crate) later: Micrometres,
    /// The least between two systems: room for a pencil.
    pub(crate) gap: Micrometres,
}

/// How far systems are drawn apart to fill a page, in hundredths of the gap.
const WIDEST: i32 = 220;

/// What a page costs on which a system is alone, and one that begins inside
/// of an exercise though another might have begun it, in the square of the
/// thousandths of its room that stay empty.
const ALONE: i64 = 400_000;
const INSIDE: i64 = 90_000;
/// And a page that is turned where nobody rests.
const HURRIED: i64 = 100_000;

/// The way to part the systems into pages that wastes least: the squares of
/// what stays empty are summed, the last page's left out. A system too high
/// for a page gets one to itself.
pub(crate) fn stack(systems: &[Block], room: Room) -> Vec<Stack> {
    let count = systems.len();
    // The best way to set the first so many systems, and where its last page
    // begins.
    let mut best: Vec<Option<(i64, usize)>> = vec![None; count + 1];
    best[0] = Some((0, 0));
    for end in 1..=count {
        for begin in (0..end).rev() {
            let page = &systems[begin..end];
            let used = height(page, room.gap);
            let here = if begin == 0 { room.first } else { room.later };
            let broken = page.iter().skip(1).any(|system| system.page);
            if (used > here || broken) && end - begin > 1 {
                break;
            }
            let Some((before, _)) = best[begin] else {
                continue;
            };
            let empty = i64::from((here - used).max(0)) * 1000 / i64::from(here.max(1));
            let forced = systems.get(end).is_some_and(|next| next.page);
            let mut cost = if end == count || forced {
                0
            } else {
                empty * empty
            };
            if end - begin == 1 && count > 1 && !forced {
                cost += ALONE;
            }
            if begin > 0 && !page[0].opens {
                cost += INSIDE;
                if !systems[begin - 1].rests {
                    cost += HURRIED;
                }
            }
            let cost = before + cost;
            if best[end].is_none_or(|(least, _)| cost < least) {
                best[end] = Some((cost, begin));
            }
        }
    }
    let mut pages = Vec::new();
    let mut end = count;
    while end > 0 {
        let begin = best[end].map_or(end - 1, |(_, begin)| begin);
        let page = &systems[begin..end];
        let here = if begin == 0 { room.first } else { room.later };
        let gaps = i32::try_from(page.len() - 1).unwrap_or(i32::MAX);
        let spare = (here - height(page, room.gap)).max(0);
        let widest = room.gap * (WIDEST - 100) / 100;
        let last = end == count;
        // A last page that is nearly full looks like those before it.
        let more = if gaps == 0 || (last && spare * 4 > here) {
            0
        } else {
            (spare / gaps).min(widest)
        };
        pages.push(Stack {
            systems: (begin, end),
            gap: room.gap + more,
        });
        end = begin;
    }
    pages.reverse();
    pages
}

fn height(systems: &[Block], gap: Micrometres) -> Micrometres {
    let heights: Micrometres = systems.iter().map(|system| system.height).sum();
    let gaps = i32::try_from(systems.len().saturating_sub(1)).unwrap_or(i32::MAX);
    heights.saturating_add(gaps.saturating_mul(gap))
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Room = Room {
        first: 800,
        later: 1000,
        gap: 20,
    };

    fn systems(heights: &[i32]) -> Vec<Block> {
        let system = |&height: &i32| Block {
            height,
            ..Block::default()
        };
        heights.iter().map(system).collect()
    }

    fn check(heights: &[i32], expected: &[(usize, usize)]) {
        let pages = stack(&systems(heights), ROOM);
        let parted: Vec<_> = pages.iter().map(|page| page.systems).collect();
        assert_eq!(parted, expected, "{heights:?}");
    }

    #[test]
    fn systems_are_parted_into_pages() {
        check(&[], &[]);
        check(&[100], &[(0, 1)]);
        check(&[180; 4], &[(0, 4)]);
        check(&[180; 9], &[(0, 4), (4, 9)]);
        // Too high for any page.
        check(&[100, 2000, 100], &[(0, 1), (1, 2), (2, 3)]);
    }

    #[test]
    fn no_system_is_alone_on_the_last_page() {
        check(&[180; 10], &[(0, 4), (4, 8), (8, 10)]);
        check(&[180; 5], &[(0, 3), (3, 5)]);
    }

    #[test]
    fn a_page_is_begun_where_that_is_asked() {
        let mut some = systems(&[180; 4]);
        some[1].page = true;
        let pages = stack(&some, ROOM);
        let parted: Vec<_> = pages.iter().map(|page| page.systems).collect();
        assert_eq!(parted, [(0, 1), (1, 4)]);
    }

    #[test]
    fn an_exercise_begins_a_page_where_that_costs_little() {
        let mut some = systems(&[180; 8]);
        some[3].opens = true;
        let pages = stack(&some, ROOM);
        let parted: Vec<_> = pages.iter().map(|page| page.systems).collect();
        assert_eq!(parted, [(0, 3), (3, 8)]);
    }

    #[test]
    fn a_page_is_turned_at_a_rest() {
        let mut some = systems(&[180; 8]);
        some[2].rests = true;
        let pages = stack(&some, ROOM);
        let parted: Vec<_> = pages.iter().map(|page| page.systems).collect();
        assert_eq!(parted, [(0, 3), (3, 8)]);
    }

    #[test]
    fn full_pages_are_filled_and_last_ones_are_not() {
        let gaps: Vec<i32> = stack(&systems(&[180; 11]), ROOM)
            .iter()
            .map(|page| page.gap)
            .collect();
        assert_eq!(gaps, [26, 25, 20]);
    }
}
