//! The count language, row by row.
#![cfg(test)]

mod mistakes;

use rhythm::{Count, Counting, Fraction, Meter, Thirds, count_word};

fn read(meter: &str, count: &str, length: &str) -> Result<Count, String> {
    let meter: Meter = meter.parse().unwrap();
    let said = (!length.is_empty()).then_some(length);
    Count::read(count, &meter, said).map_err(|mistakes| {
        let rows = mistakes.iter().map(|mistake| {
            let text = if mistake.in_length { length } else { count };
            format!(
                "[{}] {}; {}",
                &text[mistake.span.clone()],
                mistake.message,
                mistake.help
            )
        });
        rows.collect::<Vec<_>>().join("\n")
    })
}

/// Onset and length in quarters, silences in parentheses; then pickup and
/// span where they say more than one bar without a pickup.
fn check(meter: &str, count: &str, length: &str, expected: &str) {
    let count_read =
        read(meter, count, length).unwrap_or_else(|mistakes| panic!("{count}: {mistakes}"));
    let slots = count_read.slots.iter().map(|slot| {
        let text = format!("{}+{}", slot.onset, slot.length);
        if slot.silent {
            format!("({text})")
        } else {
            text
        }
    });
    let mut said = slots.collect::<Vec<_>>().join(" ");
    if count_read.pickup > Fraction::ZERO {
        said.push_str(&format!(" pickup {}", count_read.pickup));
    }
    if count_read.length != meter.parse::<Meter>().unwrap().bar() {
        said.push_str(&format!(" span {}", count_read.length));
    }
    assert_eq!(said, expected, "{meter}: {count} {length}");
}

#[test]
fn counted_aloud() {
    // Count rows of the reference table (common practice).
    check("4/4", "1 2 3 4", "", "0+1 1+1 2+1 3+1");
    check("4/4", "1 e & a 2", "", "0+1/4 1/4+1/4 1/2+1/4 3/4+1/4 1+3");
    check("4/4", "1 trip let 2", "", "0+1/3 1/3+1/3 2/3+1/3 1+3");
    check(
        "6/8",
        "1 2 3 4 5 6",
        "",
        "0+1/2 1/2+1/2 1+1/2 3/2+1/2 2+1/2 5/2+1/2",
    );
    check("2/2", "1 & 2 &", "", "0+1 1+1 2+1 3+1");
    check("4/4", "1 (2) & 3 (4)", "", "0+1 (1+1/2) 3/2+1/2 2+1 (3+1)");
    check("4/4", "1 & a", "", "0+1/2 1/2+1/4 3/4+13/4");
    check("4/4", "1 a", "", "0+3/4 3/4+13/4");
    check("4/4", "1 e a", "", "0+1/4 1/4+1/2 3/4+13/4");
    check(
        "6/8",
        "1 la li 2 la li",
        "",
        "0+1/2 1/2+1/2 1+1/2 3/2+1/2 2+1/2 5/2+1/2",
    );
    check("7/8", "1 3 5 &", "", "0+1 1+1 2+1/4 9/4+5/4");
}

#[test]
fn and_or_a_plus_is_an_and() {
    let halves = "0+1/2 1/2+1/2 1+1/2 3/2+5/2";
    check("4/4", "1 & 2 &", "", halves);
    check("4/4", "1 and 2 And", "", halves);
    check("4/4", "1+2+", "", halves);
    check("4/4", "1 + 2 +", "", halves);
    check("6/8", "1 and a", "", "0+1/2 1/2+1/2 1+2");
}

/// What `1 & a` means in compound meters (common practice): thirds of the beat,
/// unless the count goes on in eighths.
#[test]
fn and_a_thirds_compound_beats() {
    let sixths = "0+1/2 1/2+1/2 1+1/2 3/2+1/2 2+1/2 5/2+1/2";
    check("6/8", "1 & a 2 & a", "", sixths);
    check("6/8", "1 la li 2 la li", "", sixths);
    check("6/8", "1 & a 2", "", "0+1/2 1/2+1/2 1+1/2 3/2+3/2");
    check(
        "6/8",
        "1 (& a) 2 - & a",
        "",
        "0+1/2 (1/2+1/2) (1+1/2) 3/2+1 5/2+1/2",
    );
    check("6/8", "1 a 2 & a", "", "0+1 1+1/2 3/2+1/2 2+1/2 5/2+1/2");
    check("12/8", "1 & a 4", "", "0+1/2 1/2+1/2 1+7/2 9/2+3/2");
    check("3/8", "1 & a", "", "0+1/2 1/2+1/2 1+1/2");
    check(
        "6/8",
        "a | 1 & a 2 & a | 1",
        "",
        "-1/2+1/2 0+1/2 1/2+1/2 1+1/2 3/2+1/2 2+1/2 5/2+1/2 3+5/2 pickup 1/2 span 6",
    );
    // An e, an & without its a, or a number that only eighths have: eighths.
    check(
        "6/8",
        "1 e & a 2",
        "",
        "0+1/8 1/8+1/8 1/4+1/8 3/8+1/8 1/2+5/2",
    );
    check(
        "6/8",
        "1 & 2 & a",
        "",
        "0+1/4 1/4+1/4 1/2+1/4 3/4+1/8 7/8+17/8",
    );
    check("6/8", "1 & a 4", "", "0+1/4 1/4+1/8 3/8+9/8 3/2+3/2");
    check(
        "6/8",
        "1 & | a 2 &",
        "",
        "0+1/4 1/4+25/8 27/8+1/8 7/2+1/4 15/4+9/4 span 6",
    );
    check("6/8", "1 a", "", "0+3/8 3/8+21/8");
    // In simple meters nothing changes.
    check(
        "4/4",
        "1 & a 2 & a",
        "",
        "0+1/2 1/2+1/4 3/4+1/4 1+1/2 3/2+1/4 7/4+9/4",
    );
}

#[test]
fn what_is_counted_and_how_its_thirds_are_called() {
    let check = |meter: &str, count: &str, beats: bool, thirds: Thirds| {
        let counting = read(meter, count, "").unwrap().counting;
        assert_eq!(
            counting,
            Counting {
                beats,
                thirds,
                lower: None
            },
            "{meter}: {count}"
        );
    };
    check("4/4", "1 & 2", false, Thirds::TripLet);
    check("4/4", "1 trip let", false, Thirds::TripLet);
    check("4/4", "1 La li", false, Thirds::LaLi);
    check("4/4", "1 trip let 2 la li", false, Thirds::TripLet);
    check("6/8", "1 2 3", false, Thirds::TripLet);
    check("6/8", "1 la li", true, Thirds::LaLi);
    check("6/8", "1 trip let", false, Thirds::TripLet);
    check("6/8", "1 & a", true, Thirds::AndA);
    check("6/8", "1 & a 2 la li", true, Thirds::LaLi);
    check("4/4", "1 & a", false, Thirds::TripLet);
}

#[test]
fn three_eight_is_one_beat() {
    check("3/8", "1 2 3", "", "0+1/2 1/2+1/2 1+1/2");
    check("3/8", "1", "2 beats", "0+3 span 3");
    check("3/8", "1 la li", "", "0+1/2 1/2+1/2 1+1/2");
}

#[test]
fn silence_and_inherited_beats() {
    check(
        "4/4",
        "1 & 2 & (3) & 4 &",
        "",
        "0+1/2 1/2+1/2 1+1/2 3/2+1/2 (2+1/2) 5/2+1/2 3+1/2 7/2+1/2",
    );
    check(
        "4/4",
        "1 & 2 (& 3) &",
        "",
        "0+1/2 1/2+1/2 1+1/2 (3/2+1/2) (2+1/2) 5/2+3/2",
    );
    check("4/4", "& 2 &", "", "1/2+1/2 1+1/2 3/2+5/2");
    check("4/4", "3 4", "", "2+1 3+1");
}

#[test]
fn held_over_numbers() {
    // Dotted quarter and eighth, counted aloud with the beat that is held.
    check("4/4", "1-2 & 3-4 &", "", "0+3/2 3/2+1/2 2+3/2 7/2+1/2");
    check("4/4", "1 - 2 & 3 –4 &", "", "0+3/2 3/2+1/2 2+3/2 7/2+1/2");
    check("4/4", "1 2 & -3 & 4", "", "0+1 1+1/2 3/2+1 5/2+1/2 3+1");
    check("4/4", "1-2-3-4", "", "0+4");
    check("4/4", "1-2 trip-3 let", "", "0+4/3 4/3+4/3 8/3+4/3");
    check("4/4", "1-& 2", "", "0+1 1+3");
    check("6/8", "1-4 & 5", "", "0+7/4 7/4+1/4 2+1");
    check("6/8", "1-2 la li", "", "0+2 2+1/2 5/2+1/2");
    // Over bar lines and through whole bars; the hyphen on either side.
    check(
        "4/4",
        "1 3 4 & | -1 & 3",
        "",
        "0+2 2+1 3+1/2 7/2+1 9/2+3/2 6+2 span 8",
    );
    check("4/4", "1 4- | 1 2", "", "0+3 3+2 5+3 span 8");
    check("4/4", "1 | -1 | -1-2 (3)", "", "0+10 (10+2) span 12");
    check("4/4", "4 | -1 2", "", "-1+2 1+2 pickup 1");
    // Silence is held in its parentheses.
    check("4/4", "1 (2-3) 4", "", "0+1 (1+2) 3+1");
}

#[test]
fn bars_and_pickups() {
    check("4/4", "1 3 | 2 4", "", "0+2 2+3 5+2 7+1 span 8");
    check(
        "4/4",
        "4 & | 1 2 3",
        "",
        "-1+1/2 -1/2+1/2 0+1 1+1 2+1 pickup 1",
    );
    check("4/4", "& | 1 3", "", "-1/2+1/2 0+2 2+3/2 pickup 1/2");
    // The next pickup would fall on its last count: it takes another bar.
    check(
        "4/4",
        "4 | 1 2 3 4",
        "",
        "-1+1 0+1 1+1 2+1 3+4 pickup 1 span 8",
    );
    check("4/4", "4 | 1 2 3-4", "", "-1+1 0+1 1+1 2+5 pickup 1 span 8");
    // Silence there gives way to it.
    check("4/4", "4 | 1 2 3 (4)", "", "-1+1 0+1 1+1 2+1 pickup 1");
    check("4/4", "4 | 1 2 (3 4)", "", "-1+1 0+1 1+1 (2+1) pickup 1");
    check("4/4", "4 | 1 2 (3-4)", "", "-1+1 0+1 1+1 (2+1) pickup 1");
    check("4/4", "4 | 1 2 3 (4)", "1 bar", "-1+1 0+1 1+1 2+1 pickup 1");
    check(
        "4/4",
        "4 | 1 2 3 | 1 2 3 (4)",
        "2 bars",
        "-1+1 0+1 1+1 2+2 4+1 5+1 6+1 pickup 1 span 8",
    );
    check(
        "4/4",
        "& | 1 3 (&)",
        "",
        "-1/2+1/2 0+2 2+1/2 (5/2+1) pickup 1/2",
    );
    // But not while the last note still sounds, nor in another bar.
    check(
        "4/4",
        "& | 1 4 (a)",
        "",
        "-1/2+1/2 0+3 3+3/4 (15/4+15/4) pickup 1/2 span 8",
    );
    check("4/4", "4 | 1 | (1)", "", "-1+1 0+4 (4+3) pickup 1 span 8");
    check(
        "4/4",
        "4 | 1 2 3 (4)",
        "2 bars",
        "-1+1 0+1 1+1 2+1 (3+4) pickup 1 span 8",
    );
    check("3/4", "1 2 3 | 1", "", "0+1 1+1 2+1 3+3 span 6");
    // A bar without numbers counts from its first beat, whatever comes after.
    check(
        "4/4",
        "1 | & a | 3",
        "",
        "0+9/2 9/2+1/4 19/4+21/4 10+2 span 12",
    );
    check("4/4", "(1) 2", "", "(0+1) 1+3");
}

#[test]
fn lengths() {
    check("4/4", "1 2", "2 bars", "0+1 1+7 span 8");
    check("4/4", "1 & 2", "3 beats", "0+1/2 1/2+1/2 1+2 span 3");
    check("4/4", "2 3", "3 beats", "1+1 2+2 span 3");
    check("6/8", "1 2", "1 beat", "0+1/2 1/2+1 span 3/2");
}

#[test]
fn even_eighths() {
    let meter: Meter = "4/4".parse().unwrap();
    let count = Count::even_eighths(&[false, false, true, false, false], &meter, None).unwrap();
    let said: Vec<String> = count
        .slots
        .iter()
        .map(|slot| format!("{}+{}", slot.onset, slot.length))
        .collect();
    assert_eq!(said, ["0+1/2", "1/2+1/2", "1+1/2", "3/2+1/2", "2+2"]);
    assert_eq!(count.sounding(), 4);
    assert!(Count::even_eighths(&[], &meter, None).is_err());
    assert!(Count::even_eighths(&[false; 600], &meter, None).is_err());
    assert_eq!(
        Count::even_eighths(&[false; 9], &meter, None)
            .unwrap()
            .length,
        Fraction::from(8)
    );
}

/// The limits that keep a figure one: 64 bars and 2,000 counts.
#[test]
fn the_longest_figures() {
    let bars = |many| vec!["1"; many].join(" | ");
    let span = |meter, count: &str| read(meter, count, "").map(|count| count.length.to_string());
    assert_eq!(span("4/4", &bars(64)).unwrap(), "256");
    // Said once, however many bars too many there are.
    for many in [65, 66, 80] {
        assert_eq!(
            span("4/4", &bars(many)).unwrap_err(),
            "[|] a figure lasts 64 bars at most; write a shorter figure"
        );
    }
    // A pickup is no bar of its own.
    assert_eq!(span("4/4", &format!("4 | {}", bars(64))).unwrap(), "256");
    let bar: Vec<String> = (1..=32).map(|beat| format!("{beat} e & a")).collect();
    let words = vec![bar.join(" "); 16].join(" | ");
    let first = |many| {
        let words: Vec<&str> = words.split(' ').take(many).collect();
        words.join(" ")
    };
    assert_eq!(span("32/4", &first(2_000)).unwrap(), "512");
    let mistake = span("32/4", &first(2_001)).unwrap_err();
    assert!(
        mistake.ends_with("] a count has 2000 words at most; write a shorter figure"),
        "{mistake}"
    );

    let even = |meter: &str, notes| {
        let count = Count::even_eighths(&vec![false; notes], &meter.parse().unwrap(), None);
        count.map(|count| count.length.to_string())
    };
    let refused = |meter, notes| even(meter, notes).unwrap_err()[0].message.clone();
    let message = "a figure lasts 64 bars and 2000 counts at most";
    assert_eq!(even("4/4", 8 * 64).unwrap(), "256");
    assert_eq!(refused("4/4", 8 * 64 + 1), message);
    assert_eq!(even("32/1", 2_000).unwrap(), "1024");
    assert_eq!(refused("32/1", 2_001), message);
}

/// Numbers that count smaller values than the meter's own.
#[test]
fn numbers_of_smaller_values() {
    let onsets = |count: &str, meter: &str, lower: u16, length: Option<&str>| {
        let meter: Meter = meter.parse().unwrap();
        let count = Count::read_in(count, &meter, Some(lower), length).unwrap();
        let onsets: Vec<String> = count
            .slots
            .iter()
            .map(|slot| slot.onset.to_string())
            .collect();
        (onsets.join(" "), count.length.to_string())
    };
    let said = |onsets: &str, span: &str| (onsets.to_owned(), span.to_owned());
    assert_eq!(
        onsets("1 e & a 2 3", "4/4", 8, None),
        said("0 1/8 1/4 3/8 1/2 1", "4")
    );
    assert_eq!(onsets("8 | 1 3 5", "4/4", 8, None), said("-1/2 0 1 2", "4"));
    // A length still counts felt beats.
    assert_eq!(onsets("1 2", "4/4", 8, Some("1 beat")), said("0 1/2", "1"));
    assert_eq!(onsets("1 & 2", "2/2", 4, None), said("0 1/2 1", "4"));
    // Labels say those numbers.
    let meter: Meter = "4/4".parse().unwrap();
    let counting = Count::read_in("1 e & a 2", &meter, Some(8), None)
        .unwrap()
        .counting;
    let word = |at| count_word(&meter, at, counting).unwrap().to_string();
    assert_eq!(
        [word(Fraction::new(1, 8)), word(Fraction::new(3, 2))],
        ["e", "4"]
    );
}
