//! How the words of a lesson are written in TOML 1.0's quotes.

/// A key as it is written.
pub(crate) fn key(name: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    if !name.is_empty() && name.chars().all(plain) {
        name.to_owned()
    } else {
        quoted(name)
    }
}

/// Words in quotes, as TOML 1.0 escapes them.
pub fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\r' => quoted.push_str("\\r"),
            '\t' => quoted.push_str("\\t"),
            letter if letter.is_control() => {
                quoted.push_str(&format!("\\u{:04X}", u32::from(letter)));
            }
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}
