//! Lessons of the folder: listed, read, saved, made, named, deleted.

use axum::body::Bytes;
use axum::extract::{RawQuery, State};
use axum::http::StatusCode;
use axum::response::Response;
use serde_json::{Value as Json, json};

use super::exchange::{aside, body, no, text, told};
use super::state::Desk;
use crate::answer::{json as answered, refused};
use crate::folder::FolderFault;
use crate::lessons;

pub(super) async fn list(State(desk): Desk) -> Response {
    aside(move || match desk.folder.names() {
        Ok(names) => {
            let (mut lessons, mut courses) = (Vec::new(), Vec::new());
            for name in &names {
                let text = desk.folder.read(name).map(|(text, _)| text);
                let text = text.unwrap_or_default();
                if lesson_text::is_course(&text) {
                    courses.push(json!(name));
                } else {
                    lessons.push(json!({ "file": name, "title": lessons::title(&text) }));
                }
            }
            answered(&json!({
                "lessons": lessons,
                "courses": courses,
                "folder": desk.folder.path().display().to_string(),
                "out": desk.out.display().to_string(),
                "elsewhere": desk.held.elsewhere,
            }))
        }
        Err(error) => refused(StatusCode::INTERNAL_SERVER_ERROR, &error.to_string()),
    })
    .await
}

/// The lesson that a query names: `file=a.toml`.
fn named(query: Option<String>) -> String {
    let query = query.unwrap_or_default();
    let file = query.split('&').find_map(|part| part.strip_prefix("file="));
    unescaped(file.unwrap_or_default())
}

fn unescaped(said: &str) -> String {
    let mut bytes = Vec::with_capacity(said.len());
    let mut rest = said.as_bytes();
    while let [first, after @ ..] = rest {
        let code = (*first == b'%')
            .then(|| after.get(..2))
            .flatten()
            .and_then(|two| std::str::from_utf8(two).ok())
            .and_then(|two| u8::from_str_radix(two, 16).ok());
        match code {
            Some(code) => {
                bytes.push(code);
                rest = &after[2..];
            }
            None => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

pub(super) async fn open(State(desk): Desk, RawQuery(query): RawQuery) -> Response {
    let name = named(query);
    aside(move || match desk.folder.read(&name) {
        Ok((text, version)) => answered(&json!({ "file": name, "text": text, "version": version })),
        Err(fault) => told(&fault),
    })
    .await
}

pub(super) async fn seen(State(desk): Desk, RawQuery(query): RawQuery) -> Response {
    let name = named(query);
    aside(move || match desk.folder.read(&name) {
        Ok((_, version)) => answered(&json!({ "version": version })),
        Err(FolderFault::Missing) => answered(&json!({ "version": null })),
        Err(fault) => told(&fault),
    })
    .await
}

pub(super) async fn save(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let saved = body(&bytes).and_then(|body| {
            let seen = body.get("version").and_then(Json::as_str);
            desk.folder
                .save(text(&body, "file")?, text(&body, "text")?, seen)
                .map_err(no)
        });
        saved.map_or_else(
            |fault| *fault,
            |version| answered(&json!({ "version": version })),
        )
    })
    .await
}

pub(super) async fn create(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let created = body(&bytes).and_then(|body| {
            let file = file_name(text(&body, "name")?)?;
            let version = desk
                .folder
                .create(&file, text(&body, "text")?)
                .map_err(no)?;
            Ok(json!({ "file": file, "version": version }))
        });
        created.map_or_else(|fault| *fault, |made| answered(&made))
    })
    .await
}

/// A file's name from what somebody calls a lesson.
fn file_name(name: &str) -> Result<String, Box<Response>> {
    let stem = name.strip_suffix(".toml").unwrap_or(name);
    let slug: String = lesson::slug(stem).chars().take(60).collect();
    if slug.is_empty() {
        return Err(Box::new(refused(
            StatusCode::BAD_REQUEST,
            "a lesson needs a name with a letter or a digit in it",
        )));
    }
    Ok(format!("{slug}.toml"))
}

pub(super) async fn rename(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let renamed = body(&bytes).and_then(|body| {
            let to = file_name(text(&body, "name")?)?;
            desk.folder
                .rename(text(&body, "file")?, &to, text(&body, "version")?)
                .map_err(no)?;
            Ok(json!({ "file": to }))
        });
        renamed.map_or_else(|fault| *fault, |made| answered(&made))
    })
    .await
}

pub(super) async fn delete(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let deleted = body(&bytes).and_then(|body| {
            desk.folder
                .delete(text(&body, "file")?, text(&body, "version")?)
                .map_err(no)
        });
        deleted.map_or_else(|fault| *fault, |()| answered(&json!({})))
    })
    .await
}
