//! Characters that nobody sees and that steer what stands around them: they
//! reach no sheet, no folder's name and no terminal from a lesson.

use std::ops::Range;

use crate::mistakes::report::Report;
use crate::mistakes::within::within;
use crate::tables::tree::{Node, Table, Value};

/// Tells of such characters in the words and keys of a table; what has one is
/// set aside.
pub(crate) fn refuse(table: &mut Table, report: &mut Report<'_>) {
    for entry in &mut table.entries {
        if let Some(part) = steering(&entry.key) {
            told(&entry.key, &entry.key_span, &part, report);
            entry.aside = true;
        }
        in_value(&mut entry.node, report);
    }
}

fn in_value(node: &mut Node, report: &mut Report<'_>) {
    let part = match &mut node.value {
        Value::Text(words) => steering(words),
        Value::List(nodes) => {
            nodes.iter_mut().for_each(|inner| in_value(inner, report));
            None
        }
        Value::Table(table) => {
            refuse(table, report);
            None
        }
        _ => None,
    };
    if let (Some(part), Value::Text(words)) = (part, &node.value) {
        told(words, &node.span, &part, report);
        node.value = Value::Broken;
    }
}

fn told(words: &str, span: &Range<usize>, part: &Range<usize>, report: &mut Report<'_>) {
    let letter = words[part.clone()].chars().next().map_or(0, u32::from);
    let span = within(report.source, span, words, part);
    let message = format!("a character that can't be seen stands in these words (U+{letter:04X})");
    let help = "delete it, and type the words around it anew if it goes on hiding";
    report.mistake(&span, message, help);
}

/// Where the first such character stands.
fn steering(words: &str) -> Option<Range<usize>> {
    let mut letters = words.char_indices();
    let (at, letter) = letters.find(|(_, letter)| steers(*letter))?;
    Some(at..at + letter.len_utf8())
}

/// Marks that turn the direction of the text around them, line separators,
/// spaces of no width, and what is no letter at all (The Unicode Standard,
/// chapter 23). The two joiners are no such marks: Persian, Hindi and others
/// are written with them.
fn steers(letter: char) -> bool {
    matches!(
        letter,
        '\u{61c}'
            | '\u{200b}'
            | '\u{200e}'..='\u{200f}'
            | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{fdd0}'..='\u{fdef}'
            | '\u{feff}'
            | '\u{fff9}'..='\u{fffb}'
    ) || u32::from(letter) & 0xfffe == 0xfffe
}
