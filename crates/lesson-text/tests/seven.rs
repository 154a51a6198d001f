//! Seven mistakes of different kinds: seven messages, each at its place.

use lesson_text::read;

const SLIPS: &str = "\
title = \"Seven Slips\"
instruments = [\"alto saxofone\"]
level = expert
tempoo = 96

[keys]
order = \"fourths\"
from = \"H\"

[scale]
name = \"dorain\"

[figure]
meter = \"4/4\"
moves = \"start, up 3, step up\"
count = \"1 2 5\"
";

#[test]
fn seven_mistakes_are_told() {
    let mistakes = read(SLIPS, "stem").unwrap_err();
    let places: Vec<(usize, usize, &str)> = mistakes
        .iter()
        .map(|mistake| {
            let before = &SLIPS[..mistake.span.start];
            let line = before.matches('\n').count() + 1;
            let column = before.len() - before.rfind('\n').map_or(0, |at| at + 1) + 1;
            (line, column, &SLIPS[mistake.span.clone()])
        })
        .collect();
    let expected = [
        (2, 16, "\"alto saxofone\""),
        (3, 9, "expert"),
        (4, 1, "tempoo"),
        (8, 8, "\"H\""),
        (11, 8, "\"dorain\""),
        (15, 17, "up 3"),
        (16, 14, "5"),
    ];
    assert_eq!(places, expected, "{mistakes:#?}");
}
