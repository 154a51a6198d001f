//! Swing: pairs of eighths at exactly the ratio, and nothing else moved.

use score::Direction;

use super::{onsets, played, swinging};
use crate::{Role, Swing, SwingRatio, Take, perform};

fn take(swing: Swing) -> Take {
    Take {
        count_in: 0,
        swing,
        ..Take::default()
    }
}

/// Onsets of the line at two to one.
fn check(divisions: u32, meter: &str, bars: &[&str], expected: &str) {
    let score = swinging(divisions, meter, bars);
    let performance = perform(&[&score], &take(Swing::default())).unwrap();
    assert_eq!(onsets(&performance, Role::Line), expected, "{bars:?}");
}

#[test]
fn offbeats_lie_at_the_ratio() {
    check(
        2,
        "4/4",
        &["C5/1 D5/1 E5/1 F5/1 G5/2 r/1 A5/1"],
        "0 2/3 1 5/3 2 11/3",
    );
    check(2, "3/4", &["C5/3 D5/3"], "0 5/3");
    check(2, "2/2", &["C5/1 D5/1 E5/6"], "0 2/3 1");
    check(2, "5/4", &["C5/5 D5/5"], "0 8/3");
    let ratios = |long, short, expected: &str| {
        let score = swinging(4, "4/4", &["r/2 C5/2 r/12"]);
        let ratio = Swing::Ratio(SwingRatio::new(long, short).unwrap());
        let performance = perform(&[&score], &take(ratio)).unwrap();
        assert_eq!(onsets(&performance, Role::Line), expected);
    };
    ratios(1, 1, "1/2");
    ratios(2, 1, "2/3");
    ratios(3, 1, "3/4");
    ratios(3, 2, "3/5");
    ratios(5, 3, "5/8");
    ratios(12, 11, "12/23");
}

#[test]
fn ties_syncopations_and_ends_swing_too() {
    let score = swinging(2, "4/4", &["C5/1 D5/2 E5/1 r/1 F5/3", "~F5/1 G5/1 r/6"]);
    let performance = perform(&[&score], &take(Swing::default())).unwrap();
    assert_eq!(
        played(&performance, Role::Line),
        "72 0 2/3, 74 2/3 5/3, 76 5/3 2, 77 8/3 14/3, 79 14/3 5"
    );
}

#[test]
fn triplets_and_sixteenths_stay_where_they_are() {
    check(
        12,
        "4/4",
        &["C5/4t C5/4t C5/4t D5/6 D5/6 E5/6 E5/3 E5/3 F5/9 F5/3"],
        "0 1/3 2/3 1 5/3 2 5/2 11/4 3 15/4",
    );
    // a quarter triplet whose middle would lie on a half
    check(4, "3/4", &["C5/3t C5/3t C5/3t C5/3t"], "0 3/4 3/2 9/4");
    // a rest inside the quarter is no event
    check(4, "4/4", &["C5/2 r/1 r/1 D5/2 E5/2 r/8"], "0 1 5/3");
    check(4, "4/4", &["C5/1 r/1 D5/2 r/12"], "0 1/2");
}

#[test]
fn other_meters_and_sheets_are_straight() {
    check(2, "6/8", &["C5/1 D5/1 E5/1 F5/3"], "0 1/2 1 3/2");
    check(2, "6/4", &["C5/1 D5/1 E5/10"], "0 1/2 1");
    check(2, "7/8", &["C5/1 D5/1 E5/5"], "0 1/2 1");
    check(3, "4/4", &["C5/1 D5/2 E5/9"], "0 1/3 1");
    let mut score = swinging(2, "4/4", &["C5/1 D5/7", "C5/1 D5/7", "C5/1 D5/7"]);
    score.part.measures[1].directions.push(Direction::Straight);
    score.part.measures[2].directions.push(Direction::Swing);
    let performance = perform(&[&score], &take(Swing::default())).unwrap();
    assert_eq!(onsets(&performance, Role::Line), "0 2/3 4 9/2 8 26/3");
    let performance = perform(&[&score], &take(Swing::Straight)).unwrap();
    assert_eq!(onsets(&performance, Role::Line), "0 1/2 4 9/2 8 17/2");
}

#[test]
fn pickups_count_from_their_bars_end() {
    check(2, "4/4", &["^C5/1", "D5/8"], "1/6 1/2");
    check(2, "4/4", &["^C5/2 D5/1", "E5/8"], "1/6 7/6 3/2");
}

#[test]
fn narrower_as_the_tempo_rises() {
    let check = |tempo, expected: &str| {
        let score = swinging(2, "4/4", &["C5/1 D5/7"]);
        let take = Take {
            tempo: Some(tempo),
            ..take(Swing::ByTempo)
        };
        let performance = perform(&[&score], &take).unwrap();
        assert_eq!(onsets(&performance, Role::Line), expected, "{tempo}");
    };
    check(72, "0 2/3");
    check(160, "0 5/8");
    check(180, "0 3/5");
    check(240, "0 4/7");
    check(280, "0 5/9");
    check(300, "0 1/2");
}

#[test]
fn too_fine_for_the_ratio_is_nearest() {
    let score = swinging(16_382, "4/4", &["C5/8191 D5/8191 E5/49146"]);
    let performance = perform(&[&score], &take(Swing::default())).unwrap();
    assert_eq!(performance.per_quarter, 32_764);
    assert_eq!(performance.strikes(Role::Line)[1].onset, 21_843); // 21,842.7
}
