//! The click: on the beats, accented on the bar line.

use super::{quarters, sheet};
use crate::{Role, Take, Tracks, perform};

/// `!` bar line, `.` beat, `,` unit, each with its quarter.
fn check(meter: &str, take: Take, bars: &[&str], expected: &str) {
    let performance = perform(&[&sheet(2, meter, bars)], &take).unwrap();
    let counted = performance.strikes(Role::Count).iter();
    let clicks = counted
        .chain(performance.strikes(Role::Click))
        .map(|strike| {
            let kind = match (strike.key, strike.velocity) {
                (76, 112) => '!',
                (77, 96) => '.',
                (77, 64) => ',',
                other => panic!("{other:?}"),
            };
            format!("{kind}{}", quarters(&performance, strike.onset))
        });
    assert_eq!(
        clicks.collect::<Vec<_>>().join(" "),
        expected,
        "{meter} {bars:?}"
    );
}

fn counting(count_in: u8) -> Take {
    Take {
        count_in,
        ..Take::default()
    }
}

#[test]
fn on_the_beats_of_the_meter() {
    check("4/4", counting(0), &["C5/8"], "!0 .1 .2 .3");
    check("3/4", counting(0), &["C5/6", "C5/6"], "!0 .1 .2 !3 .4 .5");
    check("2/2", counting(0), &["C5/8"], "!0 .2");
    check("6/8", counting(0), &["C5/6"], "!0 .3/2");
    check("9/8", counting(0), &["C5/9"], "!0 .3/2 .3");
    check("5/4", counting(0), &["C5/10"], "!0 ,1 .2 ,3 ,4");
    check("5/4 = 3+2", counting(0), &["C5/10"], "!0 ,1 ,2 .3 ,4");
    check(
        "7/8 = 2+2+3",
        counting(0),
        &["C5/7"],
        "!0 ,1/2 .1 ,3/2 .2 ,5/2 ,3",
    );
}

#[test]
fn a_pickup_is_clicked_as_the_end_of_its_bar() {
    check(
        "4/4",
        counting(0),
        &["^C5/3", "C5/8"],
        ".1/2 !3/2 .5/2 .7/2 .9/2",
    );
    check(
        "4/4",
        counting(1),
        &["^C5/3", "C5/8"],
        "!0 .1 .2 .3 !4 .5 .6 .7",
    );
    check(
        "3/4",
        counting(1),
        &["^C5/4", "C5/6"],
        "!0 !3 .4 .5 !6 .7 .8",
    );
}

#[test]
fn a_count_in_is_heard_without_a_click() {
    let take = Take {
        tracks: Tracks::LINE_ALONE,
        ..counting(2)
    };
    check("3/4", take, &["C5/6"], "!0 !3 .4 .5");
    check("4/4", take, &["C5/8"], "!0 .2 !4 .5 .6 .7");
    check("6/8", take, &["C5/6"], "!0 .3/2 !3 .9/2");
    check(
        "3/4",
        Take {
            count_in: 0,
            ..take
        },
        &["C5/6"],
        "",
    );
}
