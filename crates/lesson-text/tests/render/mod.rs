//! Mistakes as plain lines of text.

use lesson_text::{Mistake, read};

/// The mistakes of a lesson as [`lines`], or `fine`.
pub fn rendered(text: &str) -> String {
    match read(text, "stem") {
        Ok(_) => "fine".to_owned(),
        Err(mistakes) => lines(text, &mistakes).join("\n"),
    }
}

/// `line:column words — message — help` for each mistake of a text.
pub fn lines(text: &str, mistakes: &[Mistake]) -> Vec<String> {
    mistakes.iter().map(|mistake| line(text, mistake)).collect()
}

fn line(text: &str, mistake: &Mistake) -> String {
    let before = &text[..mistake.span.start];
    let number = before.matches('\n').count() + 1;
    let column = before
        .rsplit('\n')
        .next()
        .unwrap_or_default()
        .chars()
        .count()
        + 1;
    let words = text[mistake.span.clone()].escape_debug();
    format!(
        "{number}:{column} {words} — {} — {}",
        mistake.message, mistake.help
    )
}
