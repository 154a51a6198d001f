//! Which variants of its figure an exercise plays: one, several, or a whole
//! series.

use std::ops::Range;

use lesson::{Figure, NoVariant, Ornament, Variant, counted};
use rhythm::Meter;

use crate::language::choice::{choice_help, folded, meant};
use crate::language::variant_words::{NUMBERED, PLAIN, SERIES, VariantText};
use crate::limit;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned};
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::Value;
use crate::tables::value::as_texts;
use crate::tables::walk::Walk;

/// What an exercise says of variants.
#[derive(Debug, Clone)]
pub(crate) struct VariantsText {
    pub said: Vec<Spanned<VariantText>>,
}

/// Reads `variant` or `variants` of an exercise.
pub(crate) fn variants(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<VariantsText> {
    if walk.has("variant") && walk.has("variants") {
        report.mistake(
            &walk.key_span("variants"),
            "variant and variants both say what becomes of the figure",
            "keep one of the two lines",
        );
        return Saying::Unclear;
    }
    if walk.has("variant") {
        return walk.text("variant", report).and_then(|text| {
            let said = one(&text, report)?;
            if !matches!(said.value, VariantText::One(_)) {
                report.mistake(
                    &text.span,
                    format!("{} are several variants", shown(&text.value)),
                    format!("write variants = \"{}\"", folded(&text.value)),
                );
                return None;
            }
            Some(VariantsText { said: vec![said] })
        });
    }
    walk.read("variants", |node| {
        let texts = match &node.value {
            Value::Text(words) => vec![Spanned {
                value: words.clone(),
                span: node.span.clone(),
            }],
            _ => as_texts("variants", node, limit::EXERCISES, report)?,
        };
        if texts.is_empty() {
            report.mistake(
                &node.span,
                "no variant is named",
                "name some in the brackets, or write variants = \"all\"",
            );
            return None;
        }
        let said: Vec<_> = texts.iter().filter_map(|text| one(text, report)).collect();
        (said.len() == texts.len()).then_some(VariantsText { said })
    })
}

fn one(text: &Text, report: &mut Report<'_>) -> Option<Spanned<VariantText>> {
    let typed = folded(&text.value);
    let plain = PLAIN.iter().find(|(word, _)| *word == typed);
    let series = SERIES.iter().find(|(word, _)| *word == typed);
    let value = match (plain, series) {
        (Some((_, variant)), _) => Some(VariantText::One(variant.clone())),
        (_, Some((_, series))) => Some(series.clone()),
        _ => numbered(&typed).map(VariantText::One),
    };
    if value.is_none() {
        report.mistake(
            &text.span,
            format!("{} is no variant of a figure", shown(&text.value)),
            help(&typed),
        );
    }
    value.map(|value| Spanned {
        value,
        span: text.span.clone(),
    })
}

/// `begun on note 2`, `order 2 1 3`, `3 eighths later`, `in 3/4`, `enclosed
/// on 1 3`.
fn numbered(typed: &str) -> Option<Variant> {
    let numbers = |said: &str| -> Option<Vec<usize>> {
        let numbers: Option<Vec<usize>> = said.split(' ').map(|word| word.parse().ok()).collect();
        numbers.filter(|numbers| numbers.len() <= limit::MOVES)
    };
    if let Some(note) = typed.strip_prefix("begun on note ") {
        return note.parse().ok().map(Variant::BegunOn);
    }
    if let Some(order) = typed.strip_prefix("order ") {
        return numbers(order).map(Variant::Order);
    }
    if let Some(meter) = typed.strip_prefix("in ") {
        return meter.parse::<Meter>().ok().map(Variant::In);
    }
    let eighths = typed
        .strip_suffix(" eighths later")
        .or_else(|| typed.strip_suffix(" eighth later"));
    if let Some(eighths) = eighths {
        return eighths.parse().ok().map(Variant::Later);
    }
    let ornaments = [
        ("from below on ", Ornament::FromBelow),
        ("from above on ", Ornament::FromAbove),
        ("enclosed on ", Ornament::Enclosed),
    ];
    ornaments.into_iter().find_map(|(words, ornament)| {
        let notes = numbers(typed.strip_prefix(words)?)?;
        Some(Variant::Ornamented(ornament, notes))
    })
}

fn help(typed: &str) -> String {
    let plain = PLAIN.iter().map(|(word, _)| *word);
    let words: Vec<&str> = plain.chain(SERIES.iter().map(|(word, _)| *word)).collect();
    let all: Vec<&str> = words.iter().copied().chain(NUMBERED).collect();
    match meant(typed, &all) {
        Some(near) if words.contains(&near) => choice_help(typed, &words),
        Some(near) => format!("write it as in \"{near}\""),
        None => format!(
            "write \"flipped\", \"reversed\", \"every order\", \"all\" or, with numbers, \"{}\"",
            NUMBERED.join("\", \"")
        ),
    }
}

/// A figure's variants, in the order said; a mistake where one can't be.
/// What of a series can't be, or is the same again, is left out with a
/// remark.
pub(crate) fn expanded(
    variants: &VariantsText,
    figure: &Figure,
    size: i32,
    report: &mut Report<'_>,
) -> Option<(Vec<Figure>, Vec<String>)> {
    let before = report.count();
    let mut figures: Vec<Figure> = Vec::new();
    let mut same: Vec<String> = Vec::new();
    let mut unwritable: Vec<String> = Vec::new();
    let mut remarks = Vec::new();
    for said in &variants.said {
        let Some(series) = series(said, figure, size, &mut remarks, report) else {
            continue;
        };
        let named = matches!(said.value, VariantText::One(_));
        for variant in series {
            match figure.varied(&variant, size) {
                Ok(varied) if figures.iter().any(|one| one.sounds_like(&varied, size)) => {
                    same.push(variant.to_string());
                }
                Ok(varied) => figures.push(varied),
                Err(_) if !named => unwritable.push(variant.to_string()),
                Err(why) => {
                    report.note(no_variant(&said.span, &variant, &why, figure));
                }
            }
        }
    }
    if !same.is_empty() {
        remarks.push(format!(
            "{} left out, the same again: {}",
            counted(same.len(), "variant"),
            some(&same)
        ));
    }
    if !unwritable.is_empty() {
        remarks.push(format!(
            "{} left out, their rhythm can't be written: {}",
            counted(unwritable.len(), "variant"),
            some(&unwritable)
        ));
    }
    (report.count() == before).then_some((figures, remarks))
}

/// The variants of one or a series; what a series leaves out is a remark.
fn series(
    said: &Spanned<VariantText>,
    figure: &Figure,
    size: i32,
    remarks: &mut Vec<String>,
    report: &mut Report<'_>,
) -> Option<Vec<Variant>> {
    Some(match &said.value {
        VariantText::One(variant) => vec![variant.clone()],
        VariantText::EachNote => each_note(figure.notes(size)),
        VariantText::EveryOrder => {
            let Some(orders) = every_order(figure, size) else {
                report.mistake(
                    &said.span,
                    too_many_orders(figure, size),
                    "name those you want: variants = [\"order 2 1 3 4\", \"reversed\"]",
                );
                return None;
            };
            orders
        }
        VariantText::EveryEighth => every_eighth(figure),
        VariantText::All => {
            let mut all: Vec<Variant> = PLAIN[..4].iter().map(|(_, one)| one.clone()).collect();
            all.extend(each_note(figure.notes(size)));
            match every_order(figure, size) {
                Some(orders) => all.extend(orders),
                None => remarks.push(format!(
                    "orders are left out: {}",
                    too_many_orders(figure, size)
                )),
            }
            all.extend(every_eighth(figure));
            all.extend(PLAIN[4..].iter().map(|(_, one)| one.clone()));
            all
        }
    })
}

fn some(names: &[String]) -> String {
    const SHOWN: usize = 8;
    let shown = names[..names.len().min(SHOWN)].join(", ");
    if names.len() > SHOWN {
        format!("{shown} and {} more", names.len() - SHOWN)
    } else {
        shown
    }
}

fn each_note(notes: usize) -> Vec<Variant> {
    (1..=notes).map(Variant::BegunOn).collect()
}

fn every_eighth(figure: &Figure) -> Vec<Variant> {
    let later = (1..figure.eighths()).map(Variant::Later);
    std::iter::once(Variant::AsItIs).chain(later).collect()
}

/// All orders of a cell's notes, smallest first; none where there are too
/// many that differ.
fn every_order(figure: &Figure, size: i32) -> Option<Vec<Variant>> {
    let notes = figure.notes(size);
    if notes > limit::ORDERED_NOTES {
        return None;
    }
    let mut orders: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in 0..notes {
        orders = orders
            .iter()
            .flat_map(|order| {
                let left = (1..=notes).filter(|note| !order.contains(note));
                left.map(|note| [order.as_slice(), &[note]].concat())
            })
            .collect();
    }
    Some(orders.into_iter().map(Variant::Order).collect())
}

fn too_many_orders(figure: &Figure, size: i32) -> String {
    format!(
        "a figure of {} notes has too many orders: at most {} notes may be put in every order",
        figure.notes(size),
        limit::ORDERED_NOTES
    )
}

fn no_variant(span: &Range<usize>, variant: &Variant, why: &NoVariant, figure: &Figure) -> Mistake {
    let (message, help) = match why {
        NoVariant::Notes(notes) => (
            format!("the figure has no such note for \"{variant}\""),
            format!("its notes are 1 to {notes}; an ornament belongs to the note it leads to"),
        ),
        NoVariant::NoOrder(notes) => (
            format!("\"{variant}\" doesn't name each note of the figure once"),
            format!("write each number from 1 to {notes} once, as in order {}", {
                let numbers: Vec<String> = (1..=*notes).rev().map(|note| note.to_string()).collect();
                numbers.join(" ")
            }),
        ),
        NoVariant::Eighths(eighths) => (
            format!("\"{variant}\" is past the next bar line"),
            format!(
                "a bar of {} has {eighths} eighths: write 1 to {}",
                figure.meter,
                eighths.saturating_sub(1)
            ),
        ),
        NoVariant::Unwritable => (
            format!("the figure's rhythm can't be written \"{variant}\""),
            "its notes would be too fine, or its triplets would lie across a beat; write a [[figure]] of its own"
                .to_owned(),
        ),
    };
    Mistake::new(span.clone(), message, help)
}
