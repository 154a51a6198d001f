//! What is wrong with a value whose key can be read.

use std::ops::Range;

use crate::lines::fault::{Fault, unreadable};
use crate::lines::line::{self, FANCY, Statement};
use crate::mistakes::mistake::Mistake;
use crate::mistakes::suggestion::{plain, shown};

/// What is wrong after `=`; `from` is the byte of the file that follows it.
pub(crate) fn value_mistake(
    source: &str,
    statement: &Statement,
    key: &str,
    from: usize,
    fault: &Fault,
) -> Mistake {
    let end = statement.span.end.max(from);
    let whole = line::trimmed(source, &(from..end));
    let value = &source[whole.clone()];
    let opening = value.chars().next();
    match opening {
        None | Some('#') => {
            let help = format!("write what {key} is to be, or leave the line out");
            return Mistake::new(
                statement.span.start..from,
                format!("nothing is said after {key} ="),
                help,
            );
        }
        Some('=') => {
            let help = "write = once";
            return Mistake::new(whole.start..whole.start + 1, "one = too many", help);
        }
        _ => {}
    }
    if let Some(mistake) = quote_mistake(source, statement, key, &whole) {
        return mistake;
    }
    if let Some(open) = &statement.unclosed {
        return unclosed(source, open, &whole);
    }
    match opening {
        Some('[' | '{') => in_brackets(source, statement, &whole, fault),
        Some(quote @ ('"' | '\'')) => after_quotes(source, key, quote, &whole, fault),
        _ => bare(source, key, &first_line(source, &whole), fault),
    }
}

/// Printed quotation marks, and quotes that don't close or don't open.
fn quote_mistake(
    source: &str,
    statement: &Statement,
    key: &str,
    whole: &Range<usize>,
) -> Option<Mistake> {
    let message = "curly quotation marks can't be read here";
    if let Some(fancy) = &statement.fancy {
        let line = first_line(source, &(fancy.start..whole.end.max(fancy.end)));
        let words = source[line.clone()]
            .trim_matches(|c| FANCY.contains(&c) || c == '"' || c == ',' || c == ']');
        let help = if whole.start == fancy.start {
            format!("write {key} = \"{}\" with straight ones", words.trim())
        } else {
            "write straight ones instead".to_owned()
        };
        let span = if whole.start == fancy.start {
            line
        } else {
            fancy.clone()
        };
        return Some(Mistake::new(span, message, help));
    }
    let torn = line::trimmed(source, statement.torn.as_ref()?);
    let words = &source[torn.clone()];
    let quote = words.chars().next()?;
    if words.ends_with(FANCY) {
        let help = format!(
            "write {quote}{}{quote} with straight ones",
            words.trim_matches(|c| c == quote || FANCY.contains(&c))
        );
        return Some(Mistake::new(torn, message, help));
    }
    if torn.start > whole.start && !source[whole.clone()].starts_with(['[', '{']) {
        if source[whole.clone()].starts_with(['"', '\'']) {
            return None;
        }
        let right = format!("{quote}{}{quote}", source[whole.start..torn.start].trim());
        let span = whole.start..torn.start + 1;
        return Some(Mistake::new(
            span,
            "the opening quotation mark is missing",
            format!("write {key} = {right}"),
        ));
    }
    let closed = words.trim_end_matches([',', ']', '}', ' ']);
    let help = format!("write {closed}{quote}");
    Some(Mistake::new(
        torn,
        "the closing quotation mark is missing",
        help,
    ))
}

fn odd_quotes(span: Range<usize>) -> Mistake {
    let help = "a text that holds \" stands between ' and ', one that holds ' between \" and \"";
    Mistake::new(span, "this stands after the closing quotation mark", help)
}

fn unclosed(source: &str, open: &Range<usize>, whole: &Range<usize>) -> Mistake {
    let (what, close) = match &source[open.clone()] {
        "[" => ("this list", "]"),
        "{" => ("this table", "}"),
        quotes => ("this text", quotes),
    };
    let span = first_line(source, &(open.start..whole.end.max(open.end)));
    Mistake::new(
        span,
        format!("{what} is never closed"),
        format!("write {close} at its end"),
    )
}

/// Inside `[ ]` or `{ }`.
fn in_brackets(
    source: &str,
    statement: &Statement,
    whole: &Range<usize>,
    fault: &Fault,
) -> Mistake {
    let inside = fault.span.start.clamp(whole.start, whole.end);
    let word = word_at(source, inside, whole.end);
    if let Some(next) = run_together(source, &word) {
        let message = format!("a comma is missing before {}", plain(&source[next.clone()]));
        return Mistake::new(next, message, "put a comma between one and the next");
    }
    if fault.said.contains("missing comma") || fault.said.contains("extra assignment") {
        let message = format!("a comma is missing before {}", plain(&source[word.clone()]));
        return Mistake::new(word, message, "put a comma between one and the next");
    }
    if fault.said.contains("extra comma") {
        return Mistake::new(
            inside..inside + 1,
            "one comma too many",
            "put one comma between one and the next",
        );
    }
    if fault.said.contains("duplicate") {
        let message = format!(
            "{} is said here for the second time",
            plain(&source[word.clone()])
        );
        return Mistake::new(word, message, "keep one of the two");
    }
    if needs_quotes(fault) && !word.is_empty() {
        let help = format!("write \"{}\"", source[word.clone()].trim());
        return Mistake::new(
            word.clone(),
            format!("{} stands without quotation marks", plain(&source[word])),
            help,
        );
    }
    if let Some(mistake) = escape_mistake(source, fault) {
        return mistake;
    }
    if let Some(length) = line::matching(&source[whole.clone()]) {
        let rest = line::trimmed(source, &(whole.start + length..whole.end));
        if !rest.is_empty() {
            return Mistake::new(
                rest,
                "this stands after the closing bracket",
                "end the line with the bracket",
            );
        }
    }
    unreadable(statement.span.clone(), fault)
}

/// The key of a pair that follows another without a comma: `72 to = 120`.
fn run_together(source: &str, word: &Range<usize>) -> Option<Range<usize>> {
    let words = &source[word.clone()];
    let key = words.rfind(char::is_whitespace)? + 1;
    let paired = source[word.end..].trim_start().starts_with('=');
    (paired && !words.starts_with(['"', '\''])).then_some(word.start + key..word.end)
}

/// After a text in quotes.
fn after_quotes(
    source: &str,
    key: &str,
    quote: char,
    whole: &Range<usize>,
    fault: &Fault,
) -> Mistake {
    let line = first_line(source, whole);
    let value = &source[line.clone()];
    if let Some(mistake) = escape_mistake(source, fault) {
        return mistake;
    }
    let Some(length) = line::closing(value, quote) else {
        return unreadable(line, fault);
    };
    let rest = line::trimmed(source, &(line.start + length..line.end));
    let words = &source[rest.clone()];
    if matches!(words, "," | ";" | ".") {
        let help = format!("leave the {words} out");
        return Mistake::new(rest, "nothing follows a value on its line", help);
    }
    if !words.contains(['"', '\'']) && !words.contains('=') {
        let help = "leave it out; a remark begins with #";
        return Mistake::new(rest, "this stands after the closing quotation mark", help);
    }
    if words.starts_with(',') {
        let help = format!("several stand in brackets: {key} = [{value}]");
        return Mistake::new(line, format!("{key} is given several values"), help);
    }
    if line::key(words).is_some_and(|(key, _)| !key.is_empty()) {
        return Mistake::new(
            rest,
            "a second value stands on this line",
            "begin a new line for it",
        );
    }
    if words.is_empty() {
        return unreadable(line, fault);
    }
    odd_quotes(rest)
}

/// Words or numbers without quotes.
fn bare(source: &str, key: &str, line: &Range<usize>, fault: &Fault) -> Mistake {
    let value = source[line.clone()]
        .split('#')
        .next()
        .unwrap_or_default()
        .trim();
    let span = line.start..line.start + value.len();
    let switch = match value.to_lowercase().as_str() {
        "true" | "yes" | "on" => Some("true"),
        "false" | "no" | "off" => Some("false"),
        _ => None,
    };
    if let Some(switch) = switch.filter(|_| key == "together") {
        return Mistake::new(
            span,
            format!("{key} is true or false"),
            format!("write {key} = {switch}"),
        );
    }
    if fault.said.contains("leading zero") {
        let help = format!("write {key} = {}", value.trim_start_matches('0'));
        return Mistake::new(span, "a number doesn't begin with 0", help);
    }
    let digits: String = value.chars().take_while(char::is_ascii_digit).collect();
    if key == "tempo" || key == "copies" || key == "seed" {
        let help = if digits.is_empty() {
            format!("write {key} = and a number")
        } else {
            format!("write {key} = {digits}")
        };
        return Mistake::new(
            span,
            format!("{} is not a plain number", shown(value)),
            help,
        );
    }
    if value.contains(',') && matches!(key, "instruments" | "labels" | "only") {
        let names: Vec<String> = value
            .split(',')
            .map(|name| format!("\"{}\"", name.trim().trim_matches('"')))
            .collect();
        let help = format!("write {key} = [{}]", names.join(", "));
        return Mistake::new(
            span,
            "these words stand without quotation marks and brackets",
            help,
        );
    }
    let words = value.trim_matches(['"', '\'']);
    Mistake::new(
        span,
        format!("{} stands without quotation marks", plain(words)),
        format!("write {key} = \"{words}\""),
    )
}

/// A backslash that means nothing.
fn escape_mistake(source: &str, fault: &Fault) -> Option<Mistake> {
    if !(fault.said.contains("escaped")
        || fault.said.contains("unicode value")
        || fault.said == "invalid value")
    {
        return None;
    }
    let before = source.get(..fault.span.start)?;
    let at = before.rfind('\\')?;
    Some(Mistake::new(
        at..at + 1,
        "a backslash alone means nothing here",
        "leave it out, or write two of them",
    ))
}

fn needs_quotes(fault: &Fault) -> bool {
    [
        "must be quoted",
        "invalid boolean",
        "invalid float",
        "invalid integer",
        "invalid datetime",
        "opening quote",
    ]
    .iter()
    .any(|words| fault.said.contains(words))
}

/// The word, or the text in quotes, that begins at or after a byte.
fn word_at(source: &str, from: usize, end: usize) -> Range<usize> {
    let rest = source.get(from..end).unwrap_or_default();
    let start = from + (rest.len() - rest.trim_start().len());
    let rest = rest.trim_start();
    let quoted = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '"' | '\''))
        .and_then(|quote| line::closing(rest, quote));
    let length = quoted.unwrap_or_else(|| {
        rest.find(|c: char| ",]}=\n\"".contains(c) && !rest.starts_with(c))
            .unwrap_or(rest.len())
    });
    start..start + rest[..length].trim_end().len()
}

/// A span up to the end of its first line.
fn first_line(source: &str, span: &Range<usize>) -> Range<usize> {
    let words = source[span.clone()]
        .lines()
        .next()
        .unwrap_or_default()
        .trim_end();
    span.start..span.start + words.len()
}
