//! Meters, keys and headings of the first track.

use std::borrow::Cow;

use score::{Direction, Transposition};
use theory::{Interval, KeySignature, Mode, Signature};

use super::{quarters, sheet};
use crate::{Take, perform};

fn counting(count_in: u8) -> Take {
    Take {
        count_in,
        ..Take::default()
    }
}

#[test]
fn meters_keep_bar_lines_in_step() {
    let check = |meter: &str, bars: &[&str], take: Take, expected: &str| {
        let performance = perform(&[&sheet(6, meter, bars)], &take).unwrap();
        let meters = performance.meters.iter().map(|(at, meter)| {
            format!(
                "{} {}/{} {}",
                quarters(&performance, *at),
                meter.upper,
                meter.lower,
                meter.clocks
            )
        });
        assert_eq!(meters.collect::<Vec<_>>().join(", "), expected, "{bars:?}");
    };
    check("4/4", &["C5/24", "C5/24"], counting(1), "0 4/4 24");
    check("6/8", &["C5/18"], counting(1), "0 6/8 36");
    check("2/2", &["C5/24"], counting(1), "0 2/2 48");
    check("7/8", &["C5/21"], counting(1), "0 7/8 12");
    // inside the count-in a pickup is the end of its last bar
    check("4/4", &["^C5/6", "C5/24"], counting(1), "0 4/4 24");
    // without one, and between exercises, it is a bar of its own length
    check(
        "4/4",
        &["^C5/6", "C5/24"],
        counting(0),
        "0 1/4 24, 1 4/4 24",
    );
    check(
        "4/4",
        &["^C5/9", "C5/24"],
        counting(0),
        "0 3/8 24, 3/2 4/4 24",
    );
    check(
        "3/4",
        &["C5/18", "^D5/3", "C5/18", "C5/18"],
        counting(1),
        "0 3/4 24, 6 1/8 24, 13/2 3/4 24",
    );
    // a triplet eighth is no meter: the next bar line starts anew
    check(
        "4/4",
        &["^C5/2t", "C5/24"],
        counting(0),
        "0 4/4 24, 1/3 4/4 24",
    );
}

#[test]
fn keys_are_in_sounding_pitch() {
    let check = |written: i16, mode, (steps, semitones), expected: (i8, bool)| {
        let mut score = sheet(1, "4/4", &["C5/4", "C5/4"]);
        score.part.transposition = Transposition::of(Interval::from_steps(steps, semitones));
        for measure in &mut score.part.measures {
            let signature = Signature::new(written).unwrap();
            measure.key = Some(KeySignature { signature, mode });
        }
        let performance = perform(&[&score], &counting(1)).unwrap();
        let keys: Vec<_> = performance
            .keys
            .iter()
            .map(|(at, key)| (*at, key.fifths, key.minor))
            .collect();
        assert_eq!(keys, [(0, expected.0, expected.1)]);
    };
    check(0, Some(Mode::Major), (0, 0), (0, false));
    check(2, Some(Mode::Major), (-5, -9), (-1, false)); // alto: D is F
    check(-3, Some(Mode::Minor), (-1, -2), (-5, true)); // trumpet: C minor is B♭ minor
    check(7, None, (2, 3), (4, false)); // seven sharps, a minor third up
    check(-7, None, (-5, -9), (2, false)); // ten flats are two sharps
    check(7, None, (1, 2), (-3, false)); // nine sharps are three flats
}

#[test]
fn headings_are_marked_where_they_stand() {
    let mut score = sheet(1, "4/4", &["C5/4", "D5/4", "++E5/4"]);
    score.part.measures[0].directions = vec![
        Direction::Rehearsal("A".into()),
        Direction::Words(Cow::Borrowed("Scale, up")),
    ];
    score.part.measures[2].directions = vec![Direction::Rehearsal("B".into())];
    let take = Take {
        answer: true,
        ..counting(1)
    };
    let performance = perform(&[&score], &take).unwrap();
    let quarter = u32::from(performance.per_quarter);
    let said = |texts: &[(u32, String)]| -> Vec<String> {
        texts
            .iter()
            .map(|(at, text)| format!("{} {text}", at / quarter))
            .collect()
    };
    assert_eq!(
        said(&performance.markers),
        ["4 A · Scale, up", "4 The line begins", "20 B"]
    );
    assert_eq!(said(&performance.heads), ["4 Written C · concert C"]);
}
