//! Mistakes as plain lines of text.

use lesson_text::{Mistake, read};

/// `line:column words — message — help` for each mistake of a text, or `fine`.
#[allow(dead_code)]
pub fn rendered(text: &str) -> String {
    match read(text, "stem") {
        Ok(_) => "fine".to_owned(),
        Err(mistakes) => mistakes
            .iter()
            .map(|mistake| line(text, mistake))
            .collect::<Vec<_>>()
            .join("\n"),
    }
}

#[allow(dead_code)]
pub fn line(text: &str, mistake: &Mistake) -> String {
    let before = &text[..mistake.place.start];
    let number = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .unwrap_or_default()
        .chars()
        .count()
        + 1;
    let words = text[mistake.place.clone()].escape_debug();
    format!(
        "{number}:{column} {words} — {} — {}",
        mistake.message, mistake.help
    )
}
