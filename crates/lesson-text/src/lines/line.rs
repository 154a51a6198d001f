//! Lines as a teacher sees them: headings, keys with their values (which may
//! run over several lines), remarks. Good enough to say what is wrong where
//! the parser only knows that something is.

use std::ops::Range;

/// A heading, or a key with its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Statement {
    /// Numbers of its lines.
    pub lines: Range<usize>,
    /// Bytes of its words in the file, white space around left out.
    pub span: Range<usize>,
    /// A quote that isn't closed on its line, to that line's end.
    pub torn: Option<Range<usize>>,
    /// The first printed quotation mark outside of straight ones.
    pub fancy: Option<Range<usize>>,
    /// A bracket, or three quotes, never closed.
    pub unclosed: Option<Range<usize>>,
}

/// Quotation marks as word processors print them.
pub(crate) const FANCY: [char; 13] = [
    '“', '”', '„', '‟', '‘', '’', '‚', '‛', '«', '»', '`', '´', '″',
];

/// The statements of a file. Each line comes with whether it still stands as
/// typed; empty lines, remarks and lines set aside are no statements.
pub(crate) fn statements(source: &str, lines: &[(Range<usize>, bool)]) -> Vec<Statement> {
    let mut statements = Vec::new();
    let mut at = 0;
    while at < lines.len() {
        let (span, typed) = &lines[at];
        if !typed || !says_something(&source[span.clone()]) {
            at += 1;
            continue;
        }
        let mut scan = Scan::default();
        scan.line(source, span);
        let mut end = at + 1;
        if heading(&source[span.clone()]).is_none() {
            while scan.is_open() && end < lines.len() {
                let (next, typed) = &lines[end];
                let words = &source[next.clone()];
                if !typed || (scan.block.is_none() && scan.ended_by(words)) {
                    break;
                }
                scan.line(source, next);
                end += 1;
            }
            if scan.block.is_some() {
                // Three quotes never closed would swallow the whole file: they
                // hold the prose up to the next key or heading.
                let prose = |(span, typed): &(Range<usize>, bool)| {
                    let words = &source[span.clone()];
                    *typed && key(words).is_none() && heading(words).is_none()
                };
                let held = lines[at + 1..].iter().take_while(|line| prose(line));
                end = at + 1 + held.count();
            }
        } else {
            scan.brackets.clear();
        }
        let unclosed = scan
            .block
            .clone()
            .or_else(|| scan.brackets.first().map(|(span, _)| span.clone()));
        let whole = span.start..lines[end - 1].0.end;
        statements.push(Statement {
            lines: at..end,
            span: trimmed(source, &whole),
            torn: scan.torn,
            fancy: scan.fancy,
            unclosed,
        });
        at = end;
    }
    statements
}

/// Whether a line holds more than white space and a remark.
pub(crate) fn says_something(line: &str) -> bool {
    let words = line.trim();
    !words.is_empty() && !words.starts_with('#')
}

/// A span without the white space around it.
pub(crate) fn trimmed(source: &str, span: &Range<usize>) -> Range<usize> {
    let words = &source[span.clone()];
    let start = span.start + (words.len() - words.trim_start().len());
    start..start + words.trim().len()
}

/// The words of a heading, and how many brackets open and close it, if a line
/// is meant as one.
pub(crate) fn heading(line: &str) -> Option<(&str, usize, usize)> {
    let words = line.split('#').next().unwrap_or_default().trim();
    let inner = words.trim_start_matches('[');
    let opens = words.len() - inner.len();
    let name = inner.trim_end_matches(']');
    let closes = inner.len() - name.len();
    let name = name.trim();
    let plain = !name.is_empty()
        && name
            .chars()
            .all(|c| c.is_alphanumeric() || " -_.".contains(c));
    (plain && opens + closes > 0).then_some((name, opens, closes))
}

/// The key of a line that has `=`, as typed, and where `=` stands.
pub(crate) fn key(line: &str) -> Option<(&str, usize)> {
    let equals = line.find('=')?;
    let key = line[..equals].trim();
    let plain = key
        .chars()
        .all(|c| c.is_alphanumeric() || " \t-_.".contains(c));
    plain.then_some((key, equals))
}

/// What is still open while the lines of a statement are read.
#[derive(Debug, Default)]
struct Scan {
    brackets: Vec<(Range<usize>, char)>,
    block: Option<Range<usize>>,
    block_quotes: &'static str,
    torn: Option<Range<usize>>,
    fancy: Option<Range<usize>>,
}

impl Scan {
    fn is_open(&self) -> bool {
        !self.brackets.is_empty() || self.block.is_some()
    }

    /// Whether a line can't belong to the open brackets any more.
    fn ended_by(&self, line: &str) -> bool {
        let table = self.brackets.iter().any(|(_, bracket)| *bracket == '{');
        let headed = heading(line).is_some_and(|(_, opens, closes)| opens > 0 && closes > 0);
        let keyed = key(line).is_some_and(|(key, _)| !key.is_empty());
        headed || (keyed && !table)
    }

    fn line(&mut self, source: &str, span: &Range<usize>) {
        let line = &source[span.clone()];
        let mut at = 0;
        while at < line.len() {
            let rest = &line[at..];
            let here = span.start + at;
            if self.block.is_some() {
                match rest.find(self.block_quotes) {
                    Some(close) => {
                        self.block = None;
                        at += close + 3;
                    }
                    None => return,
                }
                continue;
            }
            let Some(letter) = rest.chars().next() else {
                return;
            };
            let mut taken = letter.len_utf8();
            match letter {
                '#' => return,
                '"' if rest.starts_with("\"\"\"") => self.open_block("\"\"\"", here, &mut taken),
                '\'' if rest.starts_with("'''") => self.open_block("'''", here, &mut taken),
                '"' | '\'' => match closing(rest, letter) {
                    Some(length) => taken = length,
                    None => {
                        self.torn.get_or_insert(here..span.end);
                        return;
                    }
                },
                '[' | '{' => self.brackets.push((here..here + 1, letter)),
                ']' | '}' => {
                    self.brackets.pop();
                }
                fancy if FANCY.contains(&fancy) => {
                    self.fancy.get_or_insert(here..here + taken);
                }
                _ => {}
            }
            at += taken;
        }
    }

    fn open_block(&mut self, quotes: &'static str, here: usize, taken: &mut usize) {
        self.block = Some(here..here + 3);
        self.block_quotes = quotes;
        *taken = 3;
    }
}

/// Bytes of a text with both its quotes, if it is closed.
pub(crate) fn closing(text: &str, quote: char) -> Option<usize> {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        if escaped {
            escaped = false;
        } else if letter == '\\' && quote == '"' {
            escaped = true;
        } else if letter == quote {
            return Some(at + 1);
        }
    }
    None
}

/// Bytes of a value in brackets, if it is closed.
pub(crate) fn matching(value: &str) -> Option<usize> {
    let mut depth = 0_usize;
    let mut at = 0;
    while let Some(letter) = value[at..].chars().next() {
        let mut taken = letter.len_utf8();
        match letter {
            '[' | '{' => depth += 1,
            ']' | '}' if depth <= 1 => return Some(at + taken),
            ']' | '}' => depth -= 1,
            '"' | '\'' => taken = closing(&value[at..], letter)?,
            '#' => taken = value[at..].find('\n').unwrap_or(value.len() - at),
            _ => {}
        }
        at += taken;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(source: &str, expected: &[(Range<usize>, bool)]) {
        let mut start = 0;
        let lines: Vec<_> = source
            .split('\n')
            .map(|line| {
                let span = start..start + line.len();
                start += line.len() + 1;
                (span, true)
            })
            .collect();
        let found: Vec<_> = statements(source, &lines)
            .into_iter()
            .map(|statement| (statement.lines, statement.unclosed.is_some()))
            .collect();
        assert_eq!(found, expected, "{source}");
    }

    #[test]
    fn statements_run_over_lines() {
        check(
            "a = 1\n\n# b\n[c]\nd = 'x'",
            &[(0..1, false), (3..4, false), (4..5, false)],
        );
        check(
            "a = [\n 'x',\n 'y' # ]\n]\nb = 1",
            &[(0..4, false), (4..5, false)],
        );
        check("a = [\n 'x',\nb = 1", &[(0..2, true), (2..3, false)]);
        check(
            "a = ['x'\n[b]\nc = 1",
            &[(0..1, true), (1..2, false), (2..3, false)],
        );
        check(
            "a = {\n b = 1,\n c = 2 }\nd = 1",
            &[(0..3, false), (3..4, false)],
        );
        check(
            "a = \"\"\"\nb = 1\n\"\"\"\nc = 1",
            &[(0..3, false), (3..4, false)],
        );
        check("a = '''\nb = 1", &[(0..1, true), (1..2, false)]);
        check("a = '''\nb\n\nc\nd = 1", &[(0..4, true), (4..5, false)]);
    }

    #[test]
    fn headings_are_known_by_their_brackets() {
        assert_eq!(heading("[scale]"), Some(("scale", 1, 1)));
        assert_eq!(heading(" [[exercise] # two"), Some(("exercise", 2, 1)));
        assert_eq!(heading("scale]"), Some(("scale", 0, 1)));
        assert_eq!(heading("[\"a\", \"b\"]"), None);
        assert_eq!(heading("scale"), None);
    }
}
