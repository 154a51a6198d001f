//! The page's own files. They are public and hold nothing of the user's.

use axum::http::StatusCode;
use axum::response::Response;

use crate::answer::{of, plain};

const HTML: &str = "text/html; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const PICTURE: &str = "image/svg+xml";
const SCRIPT: &str = "text/javascript; charset=utf-8";

macro_rules! page {
    ($($name:literal $kind:expr),* $(,)?) => {
        &[$(($name, $kind, include_str!(concat!("../page/", $name)))),*]
    };
}

const FILES: &[(&str, &str, &str)] = page! {
    "desk.html" HTML,
    "desk.css" CSS,
    "desk.js" SCRIPT,
    "ask.js" SCRIPT,
    "cards.js" SCRIPT,
    "changes.js" SCRIPT,
    "chips.js" SCRIPT,
    "dialog.js" SCRIPT,
    "draft.js" SCRIPT,
    "editor.js" SCRIPT,
    "element.js" SCRIPT,
    "field.js" SCRIPT,
    "figure.js" SCRIPT,
    "head.js" SCRIPT,
    "history.js" SCRIPT,
    "icon.svg" PICTURE,
    "keys.js" SCRIPT,
    "lessons.js" SCRIPT,
    "plain_words.js" SCRIPT,
    "players.js" SCRIPT,
    "search.js" SCRIPT,
    "sheet.js" SCRIPT,
    "small_table.js" SCRIPT,
    "staff.js" SCRIPT,
    "tracks.js" SCRIPT,
    "transport.js" SCRIPT,
    "versions.js" SCRIPT,
    "write.js" SCRIPT,
};

/// A font that pages are set in, by its name.
pub(crate) fn font(name: &str) -> Response {
    match engrave::font_files().find(|font| font.name == name) {
        Some(font) => of(StatusCode::OK, "font/otf", font.bytes),
        None => plain(StatusCode::NOT_FOUND, "there is nothing here"),
    }
}

/// The style that says where each font is.
fn font_style() -> String {
    engrave::font_files()
        .map(|font| {
            let style = if font.italic { "italic" } else { "normal" };
            format!(
                "@font-face{{font-family:\"{}\";font-weight:{};font-style:{style};\
                 src:url(\"/fonts/{}\")}}\n",
                font.family, font.weight, font.name
            )
        })
        .collect()
}

/// A file by its name; the page itself has none.
pub(crate) fn file(name: &str) -> Response {
    let name = if name.is_empty() { "desk.html" } else { name };
    if name == "sound.js" {
        return of(StatusCode::OK, SCRIPT, practice::PLAYER);
    }
    if name == "fonts.css" {
        return of(StatusCode::OK, CSS, font_style());
    }
    match FILES.iter().find(|(own, ..)| *own == name) {
        Some((_, kind, text)) => of(StatusCode::OK, kind, *text),
        None => plain(StatusCode::NOT_FOUND, "there is nothing here"),
    }
}
