//! What is said to the person at the terminal, on standard error: mistakes
//! with their place, faults, and remarks. Colour only on a terminal, and none
//! where `NO_COLOR` or a dumb one asks for none.

use std::io::Write;
use std::path::Path;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use copyist::Refusal;
use lesson_text::Mistake;

use crate::harmless::{same_length, shown};

/// Standard error; the stream leaves colours out where they aren't wanted,
/// and makes older terminals show them.
pub struct Console {
    renderer: Renderer,
}

impl Console {
    pub fn on_stderr() -> Console {
        Console {
            renderer: Renderer::styled(),
        }
    }

    /// A mistake in a lesson file, with the words it stands at.
    pub fn mistake(&self, path: &Path, text: &str, mistake: &Mistake) {
        self.say(&format!("{}\n", self.draw(path, text, mistake)));
    }

    /// What can't be done as asked.
    pub fn refusal(&self, refusal: &Refusal) {
        self.fault(&refusal.message, refusal.help.as_deref());
    }

    /// Something wrong that has no place in a lesson, and what to do instead.
    pub fn fault(&self, message: &str, help: Option<&str>) {
        let (message, help) = (shown(message), help.map(shown));
        let mut group = Group::with_title(Level::ERROR.primary_title(&*message));
        if let Some(help) = &help {
            group = group.element(Level::HELP.message(&**help));
        }
        self.say(&self.renderer.render(&[group]));
    }

    /// Something the person should know; nothing is wrong.
    pub fn remark(&self, message: &str) {
        self.say(&shown(message));
    }

    fn draw(&self, path: &Path, text: &str, mistake: &Mistake) -> String {
        let path = path.to_string_lossy();
        let (path, text) = (shown(&path), same_length(text));
        let (message, help) = (shown(&mistake.message), shown(&mistake.help));
        let mark = AnnotationKind::Primary.span(mistake.span.clone());
        let snippet = Snippet::source(&*text).path(&*path).annotation(mark);
        let mut group = Level::ERROR
            .with_name("mistake")
            .primary_title(&*message)
            .element(snippet);
        if !help.is_empty() {
            group = group.element(Level::HELP.message(&*help));
        }
        self.renderer.render(&[group])
    }

    fn say(&self, message: &str) {
        // Nobody is left to tell when standard error itself is gone.
        let _ = writeln!(anstream::stderr().lock(), "{message}");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, words: &str, expected: &str) {
        let at = text.find(words).unwrap();
        let mistake = Mistake {
            span: at..at + words.len(),
            message: "no scale is called dorain".to_owned(),
            help: "write dorian".to_owned(),
        };
        let console = Console {
            renderer: Renderer::plain(),
        };
        assert_eq!(console.draw(Path::new("a.toml"), text, &mistake), expected);
    }

    #[test]
    fn a_mistake_shows_file_line_column_words_and_help() {
        check(
            "[scale]\nname = \"dorain\"\n",
            "dorain",
            "mistake: no scale is called dorain\n \
             --> a.toml:2:9\n  \
             |\n\
             2 | name = \"dorain\"\n  \
             |         ^^^^^^\n  \
             |\n  \
             = help: write dorian",
        );
    }

    #[test]
    fn a_mistake_at_the_end_of_a_file_has_a_place_too() {
        let mistake = Mistake {
            span: 7..7,
            message: "ends".to_owned(),
            help: String::new(),
        };
        let console = Console {
            renderer: Renderer::plain(),
        };
        assert!(
            console
                .draw(Path::new("a.toml"), "[scale]", &mistake)
                .contains("a.toml:1:8")
        );
    }
}
