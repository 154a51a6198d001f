//! How the variants of a figure are said.

use lesson::Variant;

/// One variant, or a series of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum VariantText {
    One(Variant),
    EachNote,
    EveryOrder,
    EveryEighth,
    All,
}

/// Words that need no number, as they are suggested.
pub(crate) const PLAIN: [(&str, Variant); 6] = [
    ("as it is", Variant::AsItIs),
    ("flipped", Variant::Flipped),
    ("reversed", Variant::Reversed),
    ("flipped and reversed", Variant::FlippedAndReversed),
    ("half values", Variant::HalfValues),
    ("double values", Variant::DoubleValues),
];

pub(crate) const SERIES: [(&str, VariantText); 4] = [
    ("begun on each note", VariantText::EachNote),
    ("every order", VariantText::EveryOrder),
    ("begun on every eighth", VariantText::EveryEighth),
    ("all", VariantText::All),
];

/// How those with numbers are said.
pub(crate) const NUMBERED: [&str; 7] = [
    "begun on note 2",
    "order 2 1 3",
    "3 eighths later",
    "in 3/4",
    "from below on 1 3",
    "from above on 2",
    "enclosed on 1",
];

/// How variants are said, those with numbers by an example.
pub(crate) fn usual() -> Vec<String> {
    let plain = PLAIN.iter().map(|(word, _)| *word);
    let series = SERIES.iter().map(|(word, _)| *word);
    let all = plain.chain(series).chain(NUMBERED);
    all.map(str::to_owned).collect()
}
