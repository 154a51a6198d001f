//! Rule 9: how many bars stand on a system.

use score::Break;

use crate::support::sheet;

/// Bars on the first system of a long sequence in statements of one bar.
fn on_the_first_system(head: &str, count: &str) -> usize {
    let notes = count.split(' ').count();
    let degrees = ["1", "2", "3", "4"].repeat(notes / 4).join(" ");
    let text = format!(
        "{head}\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"{degrees}\"\ncount = \"{count}\"\n[[exercise]]\nkind = \"sequence\"\ndirection = \"up\"\nspan = \"two octaves\"\n[[player]]\ninstrument = \"piano right hand\"\nlow = \"C4\"\nhigh = \"C7\"\n"
    );
    let score = sheet(&text, 0).unwrap().score;
    let measures = &score.part.measures;
    assert!(measures.len() > 12, "{}", measures.len());
    let second = measures[1..]
        .iter()
        .position(|measure| measure.begins == Some(Break::System));
    second.unwrap() + 1
}

/// Four bars to a system; fewer where they are dense, where labels widen them,
/// and on the larger staves that beginners read (common practice: no more notes
/// to a line than the eye holds).
#[test]
fn dense_bars_labels_and_large_staves_take_room() {
    const QUARTERS: &str = "1 2 3 4";
    const EIGHTHS: &str = "1 & 2 & 3 & 4 &";
    const SIXTEENTHS: &str = "1 e & a 2 e & a 3 e & a 4 e & a";
    let check = |head: &str, count: &str, expected: usize| {
        assert_eq!(
            on_the_first_system(head, count),
            expected,
            "{head}: {count}"
        );
    };
    check("", QUARTERS, 4);
    check("", EIGHTHS, 4);
    check("", SIXTEENTHS, 2);
    check("labels = [\"degrees\"]", EIGHTHS, 4);
    check("labels = [\"degrees\", \"counts\"]", EIGHTHS, 3);
    check("labels = [\"degrees\", \"counts\"]", SIXTEENTHS, 1);
    check("level = \"beginner\"", QUARTERS, 3);
    check("level = \"beginner\"", EIGHTHS, 3);
    check("level = \"beginner\"", SIXTEENTHS, 1);
    check(
        "level = \"beginner\"\nlabels = [\"degrees\", \"counts\"]",
        EIGHTHS,
        2,
    );
    check("large_print = true", QUARTERS, 2);
    check("large_print = true", SIXTEENTHS, 1);
}
