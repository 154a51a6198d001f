//! What an exercise over changes says of its own.

use lesson::{ChorusKind, Connect, KindName, PhraseWeights, RhythmPlan, Shift, Weights};
use theory::Degree;

use crate::language::choice::{choose, folded};
use crate::language::known_table;
use crate::language::words;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Value;
use crate::tables::value::{as_texts, wrong_kind};
use crate::tables::walk::Walk;
use crate::typed::idle::led;
use crate::typed::scale::degrees;

/// What an exercise over changes says of its own.
#[derive(Debug)]
pub(crate) struct OverText {
    /// Degrees to begin on.
    pub begins: Saying<Vec<Degree>>,
    pub choruses: Saying<Vec<ChorusKind>>,
    pub plan: Saying<RhythmPlan>,
    pub anticipate: Saying<bool>,
    pub connect: Saying<Connect>,
    pub shift: Saying<Shift>,
    pub weights: Saying<(Weights, PhraseWeights)>,
    pub in_a_row: Saying<i64>,
    pub seed: Saying<i64>,
}

impl OverText {
    /// One that says nothing.
    pub(crate) fn unsaid() -> OverText {
        OverText {
            begins: Saying::Unsaid,
            choruses: Saying::Unsaid,
            plan: Saying::Unsaid,
            anticipate: Saying::Unsaid,
            connect: Saying::Unsaid,
            shift: Saying::Unsaid,
            weights: Saying::Unsaid,
            in_a_row: Saying::Unsaid,
            seed: Saying::Unsaid,
        }
    }
}

/// Reads what an exercise over changes says of its own; in others that would
/// say nothing.
pub(crate) fn over_text(
    walk: &Walk<'_>,
    kind: Option<KindName>,
    report: &mut Report<'_>,
) -> OverText {
    if kind.is_some_and(|kind| !kind.row().over_changes) {
        return OverText::unsaid();
    }
    let anticipate = walk.switch("anticipate", report);
    let shift = walk.word("shift", words::SHIFTS, report);
    if let (Saying::Said(shift), Some(true)) = (&shift, anticipate.or(false))
        && shift.value != Shift::None
    {
        let message = "anticipate and shift both move what begins on a bar line";
        report.mistake(&shift.span, message, "keep anticipate or shift");
    }
    let connect = walk.word("connect", words::CONNECTS, report);
    let weights = weights(walk, kind, &connect, report);
    OverText {
        begins: walk
            .text("begins", report)
            .and_then(|text| begins(&text, report)),
        choruses: choruses(walk, report),
        plan: walk
            .text("plan", report)
            .and_then(|text| plan(&text, report)),
        anticipate,
        connect,
        shift,
        weights,
        in_a_row: walk.number("in_a_row", report),
        seed: walk.number("seed", report),
    }
}

/// `1`, `1 5`: each degree once.
fn begins(text: &Text, report: &mut Report<'_>) -> Option<Vec<Degree>> {
    let found = degrees(text, report)?;
    let before = report.count();
    if found.is_empty() {
        let help = "write begins = \"1\", or several degrees: begins = \"1 5\"";
        report.mistake(&text.span, "no degree is named", help);
    }
    for (at, degree) in found.iter().enumerate() {
        if !(1..=7).contains(&degree.number) {
            let message = format!("{degree} is no degree of a scale");
            report.mistake(&text.span, message, "they are numbered from 1 to 7");
        } else if found[..at].contains(degree) {
            report.mistake(
                &text.span,
                format!("{degree} is named twice"),
                "name it once",
            );
        }
    }
    (report.count() == before).then_some(found)
}

fn choruses(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Vec<ChorusKind>> {
    walk.read("choruses", |node| {
        let texts = as_texts("choruses", node, limit::CHORUSES, report)?;
        let before = report.count();
        let choruses: Vec<ChorusKind> = texts
            .iter()
            .filter_map(|text| choose("a chorus", text, words::CHORUSES, report))
            .collect();
        if choruses.is_empty() && report.count() == before {
            let help = "write choruses = [\"line\", \"elsewhere\"], or leave it out";
            report.mistake(&node.span, "no chorus is named", help);
        }
        if choruses.first() == Some(&ChorusKind::Slashes) {
            report.mistake(
                &node.span,
                "the first chorus is all slashes",
                "begin with a chorus of notes: choruses = [\"line\", \"slashes\"]",
            );
        }
        (report.count() == before).then_some(choruses)
    })
}

/// `2 bars play, 1 bar rest`, `every bar`.
fn plan(text: &Text, report: &mut Report<'_>) -> Option<RhythmPlan> {
    let typed = folded(&text.value);
    let part = |said: Option<&str>, word: &str| -> Option<u16> {
        let said = said?.trim().strip_suffix(word)?.trim();
        let bars = said.strip_suffix("bars").or(said.strip_suffix("bar"))?;
        let bars = bars.trim().parse().ok()?;
        limit::BARS.contains(&i64::from(bars)).then_some(bars)
    };
    if typed == "every bar" {
        return Some(RhythmPlan { play: 1, rest: 0 });
    }
    let mut parts = typed.split(',');
    let plan = part(parts.next(), "play").zip(part(parts.next(), "rest"));
    let plan = plan.filter(|_| parts.next().is_none());
    if plan.is_none() {
        report.mistake(
            &text.span,
            format!("{} is no plan of bars", shown(&text.value)),
            "write it as in plan = \"2 bars play, 1 bar rest\"",
        );
    }
    plan.map(|(play, rest)| RhythmPlan { play, rest })
}

fn weights(
    walk: &Walk<'_>,
    kind: Option<KindName>,
    connect: &Saying<Connect>,
    report: &mut Report<'_>,
) -> Saying<(Weights, PhraseWeights)> {
    let connects = connect
        .said()
        .is_some_and(|said| said.value != Connect::None);
    walk.read("weights", |node| {
        let Value::Table(table) = &node.value else {
            let help = "write weights = { smooth = 4, variety = 2, range = 2, strong_beats = 3 }";
            wrong_kind("weights", node, &node.value, help, report);
            return None;
        };
        let own = Walk::open(table, known_table::WEIGHTS, report);
        // Guide tones and targets are no statements.
        if let Some(kind) = kind.filter(|kind| !kind.row().statements) {
            for key in ["phrase", "high_point", "connect"] {
                if own.has(key) {
                    report.note(led(own.key_span(key), key, kind));
                }
            }
        } else if own.has("connect") && !connects && !matches!(connect, Saying::Unclear) {
            let message = "a weight for connect says nothing where nothing connects the statements";
            let help = "write connect = \"approach\" or connect = \"run\" in the exercise, or leave it out";
            report.mistake(&own.key_span("connect"), message, help);
        }
        let (usual, usual_phrase) = usual(connects);
        let mut weight = |key, usual: u8| {
            let said = own.number(key, report).or(i64::from(usual))?;
            u8::try_from(said).ok()
        };
        let read = [
            weight("smooth", usual.smooth),
            weight("variety", usual.variety),
            weight("range", usual.range),
            weight("strong_beats", usual.strong_beats),
            weight("phrase", usual_phrase.phrase),
            weight("high_point", usual_phrase.high_point),
            weight("connect", usual_phrase.connect),
        ];
        let [smooth, variety, range, strong_beats, phrase, high_point, connect] = read;
        let weights = Weights {
            smooth: smooth?,
            variety: variety?,
            range: range?,
            strong_beats: strong_beats?,
        };
        let phrase = PhraseWeights {
            phrase: phrase?,
            high_point: high_point?,
            connect: connect?,
        };
        Some((weights, phrase))
    })
}

/// Weights where none are said: a gap counts where something may close it.
pub(crate) fn usual(connects: bool) -> (Weights, PhraseWeights) {
    const GAP: u8 = 2;
    let phrase = PhraseWeights {
        connect: if connects { GAP } else { 0 },
        ..PhraseWeights::default()
    };
    (Weights::default(), phrase)
}
