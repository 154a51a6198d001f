//! What is on a sheet, as the lesson says it.

use lesson::{
    Breath, ComingDown, Direction, Dynamic, Ending, Hide, KindName, Label, SayName, Span, Tempo,
    TooWide, WordsOver,
};
use theory::{Chord, Level};

use crate::language::choice::{choose, folded};
use crate::language::known_table;
use crate::language::study::{Study, choices};
use crate::language::words;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::{listed, shown};
use crate::mistakes::text::Text;
use crate::tables::tree::{Node, Table, Value};
use crate::tables::value::{as_number, as_texts};
use crate::tables::walk::{Walk, tables};
use crate::typed::idle::{idle, only_written_out};
use crate::typed::keys::{KeysText, keys};
use crate::typed::over_text::{OverText, over_text};
use crate::typed::own_words::{heading, paragraphs, words_over};
use crate::typed::scale::chord;
use crate::typed::tempo::tempo;
use crate::typed::variant::{VariantsText, variants};

/// One exercise as the lesson says it.
#[derive(Debug)]
pub(crate) struct ExerciseText {
    pub kind: Saying<KindName>,
    pub say: Saying<SayName>,
    pub study: Saying<Study>,
    pub broken: Saying<bool>,
    pub figure: Saying<String>,
    /// Several to choose from.
    pub figures: Saying<Vec<Text>>,
    pub scale: Saying<String>,
    pub chord: Saying<Chord>,
    pub chord_symbols: Saying<bool>,
    /// For whom it is.
    pub only_for: Saying<Vec<Text>>,
    pub heading: Saying<String>,
    /// Paragraphs; `None` where unclear.
    pub text: Option<Vec<String>>,
    pub words: Saying<Vec<WordsOver>>,
    pub direction: Saying<Direction>,
    pub coming_down: Saying<ComingDown>,
    pub span: Saying<Span>,
    pub when_too_wide: Saying<TooWide>,
    pub ending: Saying<Ending>,
    pub variants: Saying<VariantsText>,
    pub level: Saying<Level>,
    pub keys: Saying<KeysText>,
    pub tempo: Saying<Tempo>,
    pub labels: Saying<Vec<Label>>,
    pub dynamic: Saying<Dynamic>,
    pub breath: Saying<Breath>,
    /// Bars that are written, and of slashes, in turn.
    pub written: Saying<i64>,
    pub slashes: Saying<i64>,
    /// Whether the student writes it out.
    pub writes_out: bool,
    /// Bars that are given.
    pub given: Saying<i64>,
    pub hide: Saying<Hide>,
    pub over: OverText,
}

impl ExerciseText {
    /// An exercise of which nothing but the kind is said.
    pub(crate) fn plain(kind: KindName) -> ExerciseText {
        let kind = Saying::Said(Spanned {
            value: kind,
            span: 0..0,
        });
        ExerciseText {
            kind,
            say: Saying::Unsaid,
            study: Saying::Unsaid,
            broken: Saying::Unsaid,
            figure: Saying::Unsaid,
            figures: Saying::Unsaid,
            scale: Saying::Unsaid,
            chord: Saying::Unsaid,
            chord_symbols: Saying::Unsaid,
            only_for: Saying::Unsaid,
            heading: Saying::Unsaid,
            text: Some(Vec::new()),
            words: Saying::Unsaid,
            direction: Saying::Unsaid,
            coming_down: Saying::Unsaid,
            span: Saying::Unsaid,
            when_too_wide: Saying::Unsaid,
            ending: Saying::Unsaid,
            variants: Saying::Unsaid,
            level: Saying::Unsaid,
            keys: Saying::Unsaid,
            tempo: Saying::Unsaid,
            labels: Saying::Unsaid,
            dynamic: Saying::Unsaid,
            breath: Saying::Unsaid,
            written: Saying::Unsaid,
            slashes: Saying::Unsaid,
            writes_out: false,
            given: Saying::Unsaid,
            hide: Saying::Unsaid,
            over: OverText::unsaid(),
        }
    }
}

/// Reads every `[[exercise]]`; `None` where unclear, empty where none is
/// said.
pub(crate) fn exercises(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Vec<ExerciseText>> {
    let said = match tables(walk, "exercise", limit::EXERCISES, report) {
        Saying::Unsaid => return Some(Vec::new()),
        said => said,
    };
    Some(
        said.said()?
            .value
            .iter()
            .map(|table| read(table, report))
            .collect(),
    )
}

/// Reads `labels` of a lesson or an exercise; an empty list asks for none.
pub(crate) fn labels(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Vec<Label>> {
    walk.read("labels", |node| label_list(node, report))
}

fn label_list(node: &Node, report: &mut Report<'_>) -> Option<Vec<Label>> {
    let texts = as_texts("labels", node, words::LABELS.len() + 1, report)?;
    let before = report.count();
    let mut labels = Vec::new();
    for text in &texts {
        let Some(label) = choose("a label", text, words::LABELS, report) else {
            continue;
        };
        if labels.contains(&label) {
            report.mistake(
                &text.span,
                format!("{} is there already", shown(&text.value)),
                "name each label once",
            );
        } else if labels.len() == limit::LABEL_ROWS {
            report.mistake(
                &text.span,
                "there is no room for a fifth row of labels",
                "keep it to four",
            );
        } else {
            labels.push(label);
        }
    }
    (report.count() == before).then_some(labels)
}

fn read(table: &Table, report: &mut Report<'_>) -> ExerciseText {
    let walk = Walk::open(table, known_table::EXERCISE, report);
    if walk.lacks("kind") {
        let kinds = words::KINDS.iter().map(|(word, _)| format!("\"{word}\""));
        let help = format!(
            "write kind = {} below it",
            listed(&kinds.collect::<Vec<_>>(), "or")
        );
        report.missing(&table.span, "this exercise doesn't say its kind", help);
    }
    let kind = walk.word("kind", words::KINDS, report);
    let writes_out = kind.said().is_some_and(|kind| kind.value.is_none());
    let kind = if writes_out {
        match walk.word("line", words::LINES, report) {
            Saying::Unsaid => kind.and_then(|_| Some(KindName::Keys)),
            of => of,
        }
    } else {
        kind.and_then(|kind| kind.value)
    };
    if let (Some(kind), false) = (kind.said(), writes_out) {
        only_written_out(&walk, kind.value, report);
    }
    let say = walk.word("say", words::SAYINGS, report);
    if let (Some(kind), Some(say)) = (kind.said(), say.or(SayName::default())) {
        idle(&walk, kind.value, say, report);
    }
    let study = kind
        .said()
        .map_or(Saying::Unsaid, |kind| study(&walk, kind, report));
    let of = kind.said().map(|kind| kind.value);
    let words = words_over(&walk, of, report);
    let figures = figures(&walk, report);
    let only_for = walk.read("for", |node| only_for(node, report));
    let over = over_text(&walk, kind.said().map(|kind| kind.value), report);
    ExerciseText {
        kind,
        say,
        study,
        broken: walk.word("pattern", words::PATTERNS, report),
        figure: walk.text("figure", report),
        figures,
        scale: walk.text("scale", report),
        chord: chord(&walk, report),
        chord_symbols: walk.switch("chord_symbols", report),
        only_for,
        heading: heading(&walk, report),
        text: paragraphs(&walk, report),
        words,
        direction: walk.word("direction", words::DIRECTIONS, report),
        coming_down: walk.word("coming_down", words::COMING_DOWN, report),
        span: walk.word("span", words::SPANS, report),
        when_too_wide: walk.word("when_too_wide", words::TOO_WIDE, report),
        ending: walk.word("ending", words::ENDINGS, report),
        variants: variants(&walk, report),
        level: walk.word("level", words::LEVELS, report),
        keys: keys(&walk, report),
        tempo: tempo(&walk, report),
        labels: labels(&walk, report),
        dynamic: walk.word("dynamic", words::DYNAMICS, report),
        breath: walk.word("breath", words::BREATHS, report),
        written: bars(&walk, "written", report),
        slashes: bars(&walk, "slashes", report),
        writes_out,
        given: bars(&walk, "given", report),
        hide: walk.word("hide", words::HIDES, report),
        over,
    }
}

/// What a study is of; other kinds say nothing of it.
fn study(walk: &Walk<'_>, kind: &Spanned<KindName>, report: &mut Report<'_>) -> Saying<Study> {
    let Some(choices) = choices(kind.value) else {
        return Saying::Unsaid;
    };
    if walk.has("of") {
        return walk
            .text("of", report)
            .and_then(|text| choose("of", &text, choices, report));
    }
    if walk.lacks("of") {
        let words: Vec<String> = choices
            .iter()
            .map(|(word, _)| format!("\"{word}\""))
            .collect();
        report.missing(
            &kind.span,
            format!(
                "this exercise doesn't say of what its {} are",
                kind.value.word()
            ),
            format!("write of = {} below it", listed(&words, "or")),
        );
    }
    Saying::Unclear
}

/// `figures = ["cell", "hop"]`, beside which `figure` says nothing.
fn figures(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<Vec<Text>> {
    if walk.has("figure") && walk.has("figures") {
        let message = "figure and figures both say what is played";
        report.mistake(&walk.key_span("figures"), message, "keep one of the two");
        return Saying::Unclear;
    }
    walk.read("figures", |node| {
        let texts = as_texts("figures", node, limit::FIGURES, report)?;
        if texts.is_empty() {
            let help = "name some in the brackets, or leave the line out";
            report.mistake(&node.span, "no figure is named", help);
            return None;
        }
        Some(texts)
    })
}

/// For whom: a list that names somebody.
fn only_for(node: &Node, report: &mut Report<'_>) -> Option<Vec<Text>> {
    let texts = as_texts("for", node, limit::PLAYERS, report)?;
    if texts.is_empty() {
        let help = "name levels, players or instruments in the brackets, or leave the line out";
        report.mistake(&node.span, "this exercise is for nobody", help);
        return None;
    }
    Some(texts)
}

/// So many bars: `2`, or `"2 bars"`.
fn bars(walk: &Walk<'_>, key: &str, report: &mut Report<'_>) -> Saying<i64> {
    walk.read(key, |node| {
        let said = match &node.value {
            Value::Text(words) => in_bars(words),
            _ => None,
        };
        match said.filter(|bars| limit::BARS.contains(bars)) {
            Some(bars) => Some(bars),
            None => as_number(key, node, limit::BARS, report),
        }
    })
}

fn in_bars(words: &str) -> Option<i64> {
    let words = folded(words);
    let (number, bars) = words.split_once(' ')?;
    matches!(bars, "bar" | "bars").then(|| number.parse().ok())?
}
