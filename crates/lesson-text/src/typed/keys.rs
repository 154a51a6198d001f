//! The keys: an order, or exactly some.

use lesson::{Draw, KeyChoice, Keys, Named};
use theory::{KeyOrder, PitchName, Preference};

use crate::language::choice::{choice_help, folded};
use crate::language::known_table;
use crate::language::words;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned, Unclear};
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::{Node, Table, Value};
use crate::tables::value::{as_texts, wrong_kind};
use crate::tables::walk::Walk;

/// What a lesson, a player or an exercise says of its keys.
#[derive(Debug, Clone, Default)]
pub(crate) struct KeysText {
    order: Option<KeyOrder>,
    from: Option<PitchName>,
    only: Option<Vec<PitchName>>,
    named: Option<Named>,
    prefer: Option<Preference>,
    draw: Option<Draw>,
}

impl KeysText {
    /// The keys meant, what isn't said being as in `rest`.
    pub(crate) fn keys(&self, rest: &Keys) -> Keys {
        let (rest_order, rest_from) = match &rest.choice {
            KeyChoice::Order { order, from } => (*order, *from),
            KeyChoice::Only(_) => (fourths(), PitchName::from_fifths(0)),
        };
        let choice = match (&self.only, self.order, self.from) {
            (Some(names), _, _) => KeyChoice::Only(names.clone()),
            (None, None, None) => rest.choice.clone(),
            (None, order, from) => KeyChoice::Order {
                order: order.unwrap_or(rest_order),
                from: from.unwrap_or(rest_from),
            },
        };
        Keys {
            choice,
            named: self.named.unwrap_or(rest.named),
            prefer: self.prefer.or(rest.prefer),
            draw: self.draw.clone().or_else(|| rest.draw.clone()),
        }
    }
}

/// Twelve keys in fourths from C, named at concert pitch.
pub(crate) fn unsaid() -> Keys {
    Keys {
        choice: KeyChoice::Order {
            order: fourths(),
            from: PitchName::from_fifths(0),
        },
        named: Named::default(),
        prefer: None,
        draw: None,
    }
}

fn fourths() -> KeyOrder {
    KeyOrder::Cycle {
        cycle: theory::Cycle::Fourths,
        down: false,
    }
}

/// Reads `keys` of a lesson, a player or an exercise: a table, an order in
/// words, or a list of exactly these.
pub(crate) fn keys(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<KeysText> {
    walk.read("keys", |node| match &node.value {
        Value::Table(table) => from_table(table, report),
        Value::List(nodes)
            if nodes
                .iter()
                .any(|inner| matches!(inner.value, Value::Table(_))) =>
        {
            let help = "write [keys] once, in single brackets";
            report.mistake(&node.span, "a lesson has one set of keys", help);
            None
        }
        Value::List(_) => Some(KeysText {
            only: Some(only(node, report)?),
            ..KeysText::default()
        }),
        Value::Text(words) => {
            let text = Spanned {
                value: words.clone(),
                span: node.span.clone(),
            };
            Some(KeysText {
                order: Some(order(&text, report)?),
                ..KeysText::default()
            })
        }
        other => {
            let help =
                "write keys = [\"C\", \"F\"] for exactly these, or keys = \"fourths\" for an order";
            wrong_kind("keys", node, other, help, report);
            None
        }
    })
}

fn from_table(table: &Table, report: &mut Report<'_>) -> Option<KeysText> {
    let walk = Walk::open(table, known_table::KEYS, report);
    let before = report.count();
    let order_said = walk
        .text("order", report)
        .and_then(|text| order(&text, report));
    let from = walk
        .text("from", report)
        .and_then(|text| root(&text, report));
    let only = walk.read("only", |node| only(node, report));
    let named = walk.word("named", words::NAMED, report);
    let prefer = walk.word("prefer", words::PREFERENCES, report);
    let seed = walk.number("seed", report);
    let draw = draw(&walk, report);
    // Keys are drawn from a shuffled order, if no other is said.
    let order_said = match order_said {
        Saying::Unsaid if walk.has("draw") => Saying::Said(Spanned {
            value: KeyOrder::Shuffled { seed: 1 },
            span: walk.key_span("draw"),
        }),
        said => said,
    };
    if walk.has("only") {
        for key in ["order", "from", "seed", "draw", "heard"] {
            if walk.has(key) {
                let help = format!(
                    "only gives the keys and their order: leave out {key}, or leave out only"
                );
                report.mistake(
                    &walk.key_span(key),
                    format!("{key} and only say two different things"),
                    help,
                );
            }
        }
    } else if walk.has("seed") && !is_shuffled(&order_said) {
        let help = "write order = \"shuffled\", or leave the seed out";
        report.mistake(
            &walk.key_span("seed"),
            "a seed only counts where the keys are shuffled",
            help,
        );
    }
    let mut order = order_said.maybe().ok()?;
    if let (Some(KeyOrder::Shuffled { seed: old }), Some(said)) = (&mut order, seed.maybe().ok()?) {
        *old = u64::try_from(said).ok()?;
    }
    let text = KeysText {
        order,
        from: from.maybe().ok()?,
        only: only.maybe().ok()?,
        named: named.maybe().ok()?,
        prefer: prefer.maybe().ok()?,
        draw: draw.ok()?,
    };
    (report.count() == before).then_some(text)
}

/// `draw = 3`, `heard = ["C", "F"]`.
fn draw(walk: &Walk<'_>, report: &mut Report<'_>) -> Result<Option<Draw>, Unclear> {
    let count = walk.number("draw", report);
    let heard = walk.read("heard", |node| match &node.value {
        Value::List(nodes) if nodes.is_empty() => Some(Vec::new()),
        _ => only(node, report),
    });
    if walk.has("heard") && !walk.has("draw") {
        report.mistake(
            &walk.key_span("heard"),
            "heard keys only count where some are drawn",
            "say how many to draw: draw = 3",
        );
        return Err(Unclear);
    }
    let heard = heard.maybe()?.unwrap_or_default();
    let Some(count) = count.maybe()? else {
        return Ok(None);
    };
    let count = usize::try_from(count).map_err(|_| Unclear)?;
    let left = 12 - heard.len();
    if count > left {
        report.mistake(
            &walk.key_span("draw"),
            format!("{count} keys can't be drawn: {left} are left"),
            "draw fewer, or take keys out of heard",
        );
        return Err(Unclear);
    }
    Ok(Some(Draw { count, heard }))
}

/// Unclear orders may be.
fn is_shuffled(order: &Saying<KeyOrder>) -> bool {
    match order {
        Saying::Unsaid => false,
        Saying::Unclear => true,
        Saying::Said(said) => matches!(said.value, KeyOrder::Shuffled { .. }),
    }
}

fn order(text: &Text, report: &mut Report<'_>) -> Option<KeyOrder> {
    let typed = folded(&text.value);
    let order = KeyOrder::from_words(&typed);
    if order.is_none() {
        let names: Vec<String> = KeyOrder::all().iter().map(KeyOrder::words).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let help = circle(&typed).unwrap_or_else(|| choice_help(&typed, &names));
        report.mistake(
            &text.span,
            format!("{} is no order of keys", shown(&text.value)),
            help,
        );
    }
    order
}

/// A circle of keys goes round either way.
fn circle(typed: &str) -> Option<String> {
    let (around, of) = typed.split_once(' ')?;
    let circle = matches!(around, "circle" | "cycle") && matches!(of, "of fifths" | "of fourths");
    circle.then(|| "write \"fifths\" (C G D A …) or \"fourths\" (C F Bb Eb …)".to_owned())
}

fn only(node: &Node, report: &mut Report<'_>) -> Option<Vec<PitchName>> {
    let names = exactly(node, report)?;
    Some(names.into_iter().map(|name| name.value).collect())
}

/// Exactly these keys, none that sounds like another.
pub(crate) fn exactly(node: &Node, report: &mut Report<'_>) -> Option<Vec<Spanned<PitchName>>> {
    let texts = as_texts("only", node, 12, report)?;
    if texts.is_empty() {
        report.mistake(
            &node.span,
            "no key is given",
            "write the keys in the brackets: [\"C\", \"F\", \"Bb\"]",
        );
        return None;
    }
    let before = report.count();
    let mut names: Vec<Spanned<PitchName>> = Vec::new();
    for text in &texts {
        let Some(name) = root(text, report) else {
            continue;
        };
        let same = |other: &&Spanned<PitchName>| other.value.class() == name.class();
        match names.iter().find(same).map(|other| other.value) {
            Some(other) => {
                let help = format!("leave out one of the two: {other} is there already");
                report.mistake(
                    &text.span,
                    if other == name {
                        format!("{name} is there twice")
                    } else {
                        format!("{name} sounds like {other}")
                    },
                    help,
                );
            }
            None => names.push(Spanned {
                value: name,
                span: text.span.clone(),
            }),
        }
    }
    (report.count() == before).then_some(names)
}

/// The name of a key: `Bb`, `b flat`, `F♯`.
fn root(text: &Text, report: &mut Report<'_>) -> Option<PitchName> {
    let typed = folded(&text.value);
    let joined = typed.replace(" flat", "b").replace(" sharp", "#");
    let name = joined.parse::<PitchName>().ok();
    if name.is_none() {
        let help = "write a letter from A to G, and b or # after it where it has one: Bb, F#";
        report.mistake(
            &text.span,
            format!("{} is no key", shown(&text.value)),
            help,
        );
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(typed: &str, expected: Option<&str>) {
        let mut report = Report::new("");
        let text = Spanned {
            value: typed.to_owned(),
            span: 0..0,
        };
        let name = root(&text, &mut report).map(|name| name.to_string());
        assert_eq!(name.as_deref(), expected, "{typed}");
    }

    #[test]
    fn keys_are_named_as_people_say_them() {
        check("Bb", Some("Bb"));
        check("b flat", Some("Bb"));
        check("B-flat", Some("Bb"));
        check("F♯", Some("F#"));
        check("f sharp", Some("F#"));
        check("bb", Some("Bb"));
        check("H", None);
        check("Cm", None);
        check("", None);
    }
}
