//! Forms: count-in, loops, keys joined, tracks left out.

use super::{onsets, played, quarters, sheet};
use crate::{Performance, Role, SoundError, Take, Tracks, perform};

fn line(performance: &Performance) -> String {
    format!(
        "{} | {}",
        onsets(performance, Role::Line),
        quarters(performance, performance.end)
    )
}

#[test]
fn count_in_times_and_pickup() {
    let check = |bars: &[&str], count_in, times, expected: &str| {
        let take = Take {
            count_in,
            times,
            ..Take::default()
        };
        let performance = perform(&[&sheet(2, "4/4", bars)], &take).unwrap();
        assert_eq!(line(&performance), expected, "{bars:?} {count_in} {times}");
    };
    check(&["C5/8"], 0, 1, "0 | 4");
    check(&["C5/8"], 1, 1, "4 | 8");
    check(&["C5/8"], 2, 0, "8 | 12");
    check(&["C5/8"], 2, 3, "8 12 16 | 20");
    check(&["^C5/2", "C5/8"], 1, 1, "3 4 | 8");
    check(&["^C5/2", "C5/8"], 0, 1, "0 1 | 5");
    // round again: the pickup sounds over the last bar, where that has room
    check(&["^C5/2", "C5/8"], 1, 2, "3 4 7 8 | 12");
    check(&["^C5/2", "C5/8"], 1, 3, "3 4 7 8 11 12 | 16");
    check(&["^C5/2", "C5/6 D5/2"], 1, 2, "3 4 7 11 12 15 | 16");
    // more than half of the only bar: one more
    check(&["^C5/6", "C5/8"], 1, 1, "5 8 | 12");
    check(&["^C5/6", "C5/8"], 2, 1, "5 8 | 12");
}

#[test]
fn keys_are_joined_by_a_bar_of_click() {
    let first = sheet(2, "4/4", &["C5/8"]);
    let second = sheet(3, "3/4", &["D5/1 E5/8"]);
    let third = sheet(2, "4/4", &["^F5/2", "G5/8"]);
    let take = Take {
        times: 2,
        ..Take::default()
    };
    let performance = perform(&[&first, &second, &third], &take).unwrap();
    assert_eq!(line(&performance), "4 8 15 46/3 18 55/3 24 25 28 29 | 33");
    let meters: Vec<(u32, u8)> = performance
        .meters
        .iter()
        .map(|(at, meter)| (at / u32::from(performance.per_quarter), meter.upper))
        .collect();
    assert_eq!(meters, [(0, 4), (12, 3), (21, 4)]);
}

#[test]
fn tracks_that_are_not_wanted_are_not_there() {
    let check = |tracks, expected: &[Role]| {
        let score = sheet(2, "4/4", &["C@C5/8"]);
        let take = Take {
            tracks,
            ..Take::default()
        };
        let performance = perform(&[&score], &take).unwrap();
        let roles: Vec<Role> = performance.roles.iter().map(|(role, _)| *role).collect();
        assert_eq!(roles, expected);
    };
    check(
        Tracks::ALL,
        &[
            Role::Line,
            Role::Chords,
            Role::Bass,
            Role::Count,
            Role::Click,
        ],
    );
    check(
        Tracks::BACKING,
        &[Role::Chords, Role::Bass, Role::Count, Role::Click],
    );
    check(Tracks::LINE_ALONE, &[Role::Line, Role::Count]);
}

#[test]
fn tempos_are_the_takes_or_the_sheets() {
    use rhythm::ValueKind::{Half, Quarter};
    let check = |marks: &[(usize, score::Direction)], meter, tempo, expected: &[(u32, u32)]| {
        let mut score = sheet(2, meter, &["C5/6", "C5/6"]);
        for (bar, mark) in marks {
            score.part.measures[*bar].directions.push(mark.clone());
        }
        let take = Take {
            tempo,
            count_in: 0,
            ..Take::default()
        };
        let performance = perform(&[&score], &take).unwrap();
        let quarter = u32::from(performance.per_quarter);
        let tempos: Vec<(u32, u32)> = performance
            .tempos
            .iter()
            .map(|(at, micros)| (at / quarter, *micros))
            .collect();
        assert_eq!(tempos, expected, "{marks:?}");
    };
    let mark = super::tempo;
    check(&[], "3/4", None, &[(0, 666_667)]); // 90 quarters
    check(&[], "6/8", None, &[(0, 444_444)]); // 90 dotted quarters
    check(&[], "6/8", Some(60), &[(0, 666_667)]);
    check(&[(0, mark(Quarter, 0, 120))], "3/4", None, &[(0, 500_000)]);
    check(&[(0, mark(Quarter, 1, 80))], "6/8", None, &[(0, 500_000)]);
    check(&[(0, mark(Half, 0, 60))], "3/2", Some(120), &[(0, 250_000)]);
    check(
        &[(0, mark(Quarter, 0, 120)), (1, mark(Quarter, 0, 60))],
        "3/4",
        None,
        &[(0, 500_000), (3, 1_000_000)],
    );
    check(
        &[(0, mark(Quarter, 0, 120)), (1, mark(Quarter, 0, 60))],
        "3/4",
        Some(100),
        &[(0, 600_000)],
    );
}

#[test]
fn the_line_keeps_its_times_in_every_form() {
    let score = sheet(2, "4/4", &["C5/3 D5/5"]);
    let take = Take {
        times: 2,
        ..Take::default()
    };
    let performance = perform(&[&score], &take).unwrap();
    assert_eq!(
        played(&performance, Role::Line),
        "72 4 11/2, 74 11/2 8, 72 8 19/2, 74 19/2 12"
    );
}

#[test]
fn a_track_too_long_for_a_file_is_said() {
    let long = sheet(1, "4/4", &["C5/4294967295"]);
    assert_eq!(
        perform(&[&long], &Take::default()),
        Err(SoundError::TooLong)
    );
    let bars = vec!["C5/40000"; 10];
    let take = Take {
        times: 255,
        ..Take::default()
    };
    let looped = sheet(1, "4/4", &bars);
    assert_eq!(perform(&[&looped], &take), Err(SoundError::TooLong));
}
