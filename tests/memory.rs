//! How much a composer holds while it makes sheets over changes, by counting
//! what is allocated: no more in twelve keys than in the largest of them
//! alone. One test, since all threads of a process are counted together.
#![cfg(test)]

use etude::{Composer, SheetPlan};
use peak_alloc::PeakAlloc;

#[global_allocator]
static HEAP: PeakAlloc = PeakAlloc;

/// A form of 64 bars.
const FORM: &str = r#"
title = "Sixty-four"
instruments = ["alto saxophone", "trombone", "flute"]
[changes]
key = "C"
[[section]]
bars = "| Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Fmaj7 | Bb7 | Em7 | A7 | Dm7 | G7 | C6 | G7 |"
times = 4
[figure]
moves = "start, step up, step up, skip down, step up"
count = "1 & 2 & 3"
[[exercise]]
kind = "changes"
variants = ["as it is", "flipped", "reversed"]
"#;

/// The most that is held at once while these sheets are made one by one.
fn peak(composer: &Composer<'_>, plans: &[SheetPlan]) -> usize {
    let before = HEAP.current_usage();
    HEAP.reset_peak_usage();
    for plan in plans {
        assert!(composer.compose(plan).is_ok());
    }
    HEAP.peak_usage() - before
}

#[test]
fn keys_and_horns_take_no_more_memory_together_than_alone() {
    let lesson = lesson_text::read(FORM, "sixty-four").unwrap();
    let composer = Composer::new(&lesson).unwrap();
    let plans = composer.plans();
    assert_eq!(plans.len(), 36);
    // Tables that are made when they are first asked for.
    peak(&composer, plans);
    let alone = plans
        .iter()
        .map(|plan| peak(&composer, std::slice::from_ref(plan)));
    let largest = alone.max().unwrap();
    for together in [1, 3, 12, 36] {
        let held = peak(&composer, &plans[..together]);
        assert!(held <= largest, "{together} sheets: {held} > {largest}");
    }
}
