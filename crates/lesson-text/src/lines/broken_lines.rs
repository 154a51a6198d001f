//! What went wrong on a broken line, in the teacher's words, and which lines
//! to set aside for it.

use std::ops::Range;

use crate::language::known_table;
use crate::lines::fault::{BrokenLines, Fault, unreadable};
use crate::lines::half_open::half_open;
use crate::lines::line::{self, Statement};
use crate::lines::value_mistake::value_mistake;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::suggestion::{plain, shown};

/// Finds what the parser's first fault comes from. `lines` are all lines,
/// each with whether it still stands as typed.
pub(crate) fn broken_lines(
    source: &str,
    lines: &[(Range<usize>, bool)],
    fault: &Fault,
) -> BrokenLines {
    let statements = line::statements(source, lines);
    let number = lines
        .partition_point(|(span, _)| span.end < fault.span.start)
        .min(lines.len().saturating_sub(1));
    let begun = statements.partition_point(|statement| statement.lines.start <= number);
    // An open bracket or quote is found out only further on.
    let open = statements[..begun]
        .iter()
        .find(|statement| statement.unclosed.is_some() && statement.torn.is_none());
    let here = statements[..begun]
        .last()
        .filter(|statement| statement.lines.contains(&number));
    if let Some(half_open) = half_open(source, lines, number) {
        return half_open;
    }
    let Some(statement) = open.or(here) else {
        return of_line(source, lines, number, fault);
    };
    let first = &source[lines[statement.lines.start].0.clone()];
    if let Some(heading) = crowded(first) {
        of_crowded(statement, heading)
    } else if let Some(name) = unbracketed(first) {
        of_unbracketed(statement, name)
    } else {
        of_heading(source, lines, statement, fault)
            .unwrap_or_else(|| of_pair(source, lines, statement, fault))
    }
}

/// A line that is neither heading nor key: a remark, or white space.
fn of_line(
    source: &str,
    lines: &[(Range<usize>, bool)],
    number: usize,
    fault: &Fault,
) -> BrokenLines {
    let span = lines.get(number).map_or(0..0, |(span, _)| span.clone());
    let mistake = control_mistake(source, &span)
        .unwrap_or_else(|| unreadable(line::trimmed(source, &span), fault));
    BrokenLines {
        mistake,
        aside: vec![(number, String::new())],
        lost: line::says_something(&source[span]),
    }
}

fn of_heading(
    source: &str,
    lines: &[(Range<usize>, bool)],
    statement: &Statement,
    fault: &Fault,
) -> Option<BrokenLines> {
    let number = statement.lines.start;
    let (name, opens, closes) = line::heading(&source[lines[number].0.clone()])?;
    if fault.said.contains("duplicate") || fault.said.contains("cannot extend") {
        return Some(second_heading(source, lines, statement, name));
    }
    let several = known_table::SEVERAL.contains(&name);
    let bare = is_bare(name);
    let span = statement.span.clone();
    if opens != closes || opens > 2 {
        let double = several && opens.max(closes) > 1 || matches!(name, "exercise" | "player");
        let right = if double {
            format!("[[{name}]]")
        } else {
            format!("[{name}]")
        };
        return Some(BrokenLines {
            mistake: Mistake::new(
                span,
                "the brackets of this heading don't match",
                format!("write {right}"),
            ),
            aside: vec![(number, if bare { right } else { nameless(number) })],
            lost: !bare,
        });
    }
    let help = "a heading is one word in brackets, alone on its line: [scale], [figure], [keys], [[exercise]], [[player]]";
    let message = format!("{} can't be a heading", shown(&source[span.clone()]));
    Some(BrokenLines {
        mistake: Mistake::new(span, message, help),
        aside: vec![(number, nameless(number))],
        lost: true,
    })
}

/// A heading that stood before.
fn second_heading(
    source: &str,
    lines: &[(Range<usize>, bool)],
    statement: &Statement,
    name: &str,
) -> BrokenLines {
    let number = statement.lines.start;
    let message = format!("{} stands here for the second time", plain(name));
    let (help, aside) = if known_table::SEVERAL.contains(&name) {
        (
            format!("where a lesson has several, write [[{name}]] for each"),
            several_headings(source, lines, name),
        )
    } else {
        let aside = vec![(number, nameless(number))];
        ("put all of it in one place".to_owned(), aside)
    };
    BrokenLines {
        mistake: Mistake::new(statement.span.clone(), message, help),
        aside,
        lost: !is_bare(name),
    }
}

/// A heading that no lesson knows, so that what stands under it is set aside
/// with it.
fn nameless(number: usize) -> String {
    format!("[[set-aside-{number}]]")
}

/// Every heading of a name, said as one of several; a value of that name
/// before them goes.
fn several_headings(
    source: &str,
    lines: &[(Range<usize>, bool)],
    name: &str,
) -> Vec<(usize, String)> {
    let mut aside = Vec::new();
    let mut top = true;
    for statement in line::statements(source, lines) {
        let number = statement.lines.start;
        let words = &source[lines[number].0.clone()];
        match line::heading(words) {
            Some((other, 1.., _)) => {
                top = false;
                if other == name {
                    aside.push((number, format!("[[{name}]]")));
                }
            }
            Some(_) => {}
            None => {
                if top
                    && line::key(words)
                        .is_some_and(|(key, _)| key == name || key.starts_with(&format!("{name}.")))
                {
                    aside.extend(statement.lines.map(|number| (number, String::new())));
                }
            }
        }
    }
    aside
}

fn of_pair(
    source: &str,
    lines: &[(Range<usize>, bool)],
    statement: &Statement,
    fault: &Fault,
) -> BrokenLines {
    let number = statement.lines.start;
    let first = lines[number].0.clone();
    let words = &source[first.clone()];
    let mut again = false;
    let (key, mistake) = match line::key(words) {
        Some((key, equals)) => {
            let key_span = line::trimmed(source, &(first.start..first.start + equals));
            again = is_again(fault, &key_span);
            let mistake = key_mistake(key, &key_span, fault)
                .or_else(|| control_mistake(source, &statement.span))
                .unwrap_or_else(|| {
                    value_mistake(source, statement, key, first.start + equals + 1, fault)
                });
            (key.to_owned(), mistake)
        }
        None => {
            let mistake = control_mistake(source, &statement.span);
            let (key, missing) = no_equals(source, statement, fault);
            (key, mistake.unwrap_or(missing))
        }
    };
    let kept = key.split_whitespace().collect::<Vec<_>>().join("_");
    let lost = !again && !is_bare(&kept);
    let indent = words.len() - words.trim_start().len();
    let instead = if again || lost {
        String::new()
    } else {
        format!("{}{kept} = 0", " ".repeat(indent))
    };
    let rest = statement
        .lines
        .clone()
        .skip(1)
        .map(|number| (number, String::new()));
    BrokenLines {
        mistake,
        aside: [(number, instead)].into_iter().chain(rest).collect(),
        lost,
    }
}

/// The heading of a line on which more than a heading stands.
fn crowded(words: &str) -> Option<&str> {
    let words = words.trim();
    let close = words.find(']')?;
    let end = close
        + words[close..]
            .bytes()
            .take_while(|byte| *byte == b']')
            .count();
    let (heading, more) = words.split_at(end);
    let said = line::says_something(more) && line::heading(heading).is_some();
    (words.starts_with('[') && said).then_some(heading)
}

fn of_crowded(statement: &Statement, heading: &str) -> BrokenLines {
    BrokenLines {
        mistake: Mistake::new(
            statement.span.start + heading.len()..statement.span.end,
            "more than a heading stands on this line",
            format!("leave {heading} alone, and begin a new line after it"),
        ),
        aside: vec![(statement.lines.start, heading.to_owned())],
        lost: true,
    }
}

/// The name of a heading that lacks its brackets.
fn unbracketed(words: &str) -> Option<&str> {
    let name = words.trim().trim_end_matches(':').trim();
    (known_table::SEVERAL.contains(&name) || matches!(name, "keys" | "track")).then_some(name)
}

fn of_unbracketed(statement: &Statement, name: &str) -> BrokenLines {
    let right = heading(name);
    BrokenLines {
        mistake: Mistake::new(
            statement.span.clone(),
            format!("{name} stands alone on its line without brackets"),
            format!("write {right}"),
        ),
        aside: vec![(statement.lines.start, right)],
        lost: false,
    }
}

/// A heading as most lessons write it.
fn heading(name: &str) -> String {
    if matches!(name, "exercise" | "player") {
        format!("[[{name}]]")
    } else {
        format!("[{name}]")
    }
}

/// Whether a key is said for the second time.
fn is_again(fault: &Fault, key: &Range<usize>) -> bool {
    fault.said.contains("duplicate") && fault.span.start < key.end
}

/// What is wrong with the key itself.
fn key_mistake(key: &str, span: &Range<usize>, fault: &Fault) -> Option<Mistake> {
    if key.is_empty() {
        let help = "begin the line with what it says: title, level, tempo, …";
        return Some(Mistake::new(
            span.start..span.start + 1,
            "nothing stands before =",
            help,
        ));
    }
    if is_again(fault, span) {
        let help = "keep one of the two lines";
        return Some(Mistake::new(
            span.clone(),
            format!("{key} is said here for the second time"),
            help,
        ));
    }
    if key.split_whitespace().nth(1).is_some() {
        let joined = key.split_whitespace().collect::<Vec<_>>().join("_");
        let help = if known_table::is_known(&joined) {
            format!("write {joined}, with _ between the words")
        } else {
            "before = stands one word: title, level, tempo, …".to_owned()
        };
        return Some(Mistake::new(
            span.clone(),
            format!("{} are several words", shown(key)),
            help,
        ));
    }
    if !is_bare(key) {
        let help = "before = stands one word in plain letters: title, level, tempo, …";
        return Some(Mistake::new(
            span.clone(),
            format!("{} can't stand before =", shown(key)),
            help,
        ));
    }
    None
}

/// A line without `=`: its key, if it can be told, and what is wrong.
fn no_equals(source: &str, statement: &Statement, fault: &Fault) -> (String, Mistake) {
    let words = &source[statement.span.clone()];
    let end = words
        .find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '-'))
        .unwrap_or(words.len());
    let (key, rest) = words.split_at(end);
    let value = rest.trim_start().trim_start_matches(':').trim_start();
    let span = statement.span.clone();
    let colon = rest.trim_start().starts_with(':');
    if key.is_empty() || !(colon || known_table::is_known(key)) {
        return (String::new(), unreadable(span, fault));
    }
    let help = match value.lines().next() {
        None | Some("") => format!("write {key} = and then what it is to be"),
        Some(value) => format!("write {key} = {}", value.trim()),
    };
    let mistake = if colon {
        let at = span.start + words.find(':').unwrap_or_default();
        Mistake::new(
            at..at + 1,
            format!("after {key} stands a colon instead of ="),
            help,
        )
    } else {
        Mistake::new(span, format!("= is missing after {key}"), help)
    };
    (key.to_owned(), mistake)
}

/// A character that can't be seen.
fn control_mistake(source: &str, span: &Range<usize>) -> Option<Mistake> {
    let words = &source[span.clone()];
    let (at, letter) = words.char_indices().find(|(_, letter)| {
        let ends_line = *letter == '\n' || *letter == '\t' || *letter == '\r';
        (letter.is_control() && !ends_line)
            || matches!(letter, '\u{a0}' | '\u{200b}' | '\u{feff}' | '\u{2028}')
    })?;
    let at = span.start + at;
    let mistake = Mistake::new(
        at..at + letter.len_utf8(),
        format!(
            "an invisible character stands here (U+{:04X})",
            u32::from(letter)
        ),
        "delete it; a plain space may stand there instead",
    );
    Some(mistake)
}

/// Whether a key can stand without quotes.
fn is_bare(key: &str) -> bool {
    let plain = |part: &str| {
        !part.is_empty()
            && part
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
    };
    key.split('.').all(|part| plain(part.trim()))
}
