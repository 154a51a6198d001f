//! Whatever is played over whatever changes: bars stay full, and something is
//! said where nothing sounds.

use proptest::prelude::*;
use rhythm::Fraction;

use crate::over::over;
use crate::support::sheet;

const CHORDS: [&str; 6] = ["C6", "Dm7", "G7", "Am7b5", "Ebmaj7", "N.C."];
const FIGURES: [(&str, &str); 7] = [
    ("start, step up", "1 3"),
    ("start, step up", "& 3"),
    ("start, step up", "(1 2) 3 4"),
    ("start, step up, skip down, step up", "1 & 2 &"),
    ("start, from below, step up, repeat", "1 & 2 &"),
    ("start, step up, step up, step down, repeat", "4 & | 1 2 3"),
    (
        "start, step up, skip down, step up, step up, step down",
        "1 2 & 3 4 &",
    ),
];
const CHORUSES: [&str; 6] = ["line", "elsewhere", "flipped", "later", "denser", "slashes"];
const CONNECT: [&str; 3] = ["", "connect = \"run\"\n", "connect = \"approach\"\n"];
const EARLY: [&str; 3] = ["", "shift = \"over the bar\"\n", "anticipate = true\n"];
const PLANS: [&str; 3] = [
    "",
    "plan = \"1 bar play, 1 bar rest\"\n",
    "plan = \"2 bars play, 1 bar rest\"\n",
];
const WEIGHTS: [&str; 2] = ["", "weights = { phrase = 4, high_point = 3 }\n"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]
    #[test]
    fn bars_are_full_over_any_changes(
        mut bars in prop::collection::vec(prop::collection::vec(0..CHORDS.len(), 1..4), 1..5),
        figure in 0..FIGURES.len(),
        choruses in prop::collection::vec(0..CHORUSES.len(), 0..4),
        options in 0..54usize,
    ) {
        // Somewhere there is a chord.
        bars[0][0] %= CHORDS.len() - 1;
        let bars = bars.iter().map(|bar| {
            bar.iter().map(|chord| CHORDS[*chord]).collect::<Vec<_>>().join(" ")
        });
        let changes = format!("bars = \"| {} |\"", bars.collect::<Vec<_>>().join(" | "));
        let (moves, count) = FIGURES[figure];
        // The first is played, or there is nothing to improvise on.
        let choruses = choruses.iter().map(|kind| CHORUSES[*kind]);
        let choruses: Vec<String> = ["line"].into_iter().chain(choruses).map(|kind| format!("\"{kind}\"")).collect();
        let exercise = format!(
            "kind = \"changes\"\nchoruses = [{}]\n{}{}{}{}",
            choruses.join(", "),
            CONNECT[options % 3],
            EARLY[options / 3 % 3],
            PLANS[options / 9 % 3],
            WEIGHTS[options / 27],
        );
        let text = over(&changes, &format!("moves = \"{moves}\"\ncount = \"{count}\""), &exercise);
        let Ok(sheet) = sheet(&text, 0) else { return Ok(()) };
        let score = &sheet.score;
        let bar = Fraction::from(4) * i64::from(score.divisions);
        for measure in score.part.measures.iter().filter(|measure| !measure.implicit) {
            let lengths = measure.elements.iter().map(|element| i64::from(element.written().length));
            prop_assert_eq!(Fraction::from(lengths.sum::<i64>()), bar, "{}", text);
        }
        let report = &sheet.report.exercises[0];
        let silent = report.statements.is_empty();
        prop_assert!(!silent || !report.remarks.is_empty(), "nothing is said: {}", text);
    }
}
