//! Writing a lesson's files, and where they are.

use axum::body::Bytes;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use serde_json::{Value as Json, json};

use super::exchange::{aside, body, no, text};
use super::state::{Desk, DeskState};
use crate::answer::{json as answered, refused};
use crate::writing::{WriteRequest, format};
use crate::{browser, lessons};

/// Writes the files of a lesson as it is saved.
pub(super) async fn write(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let begun = body(&bytes).and_then(|body| {
            let asked = asked(&desk, &body)?;
            desk.writing
                .begin(asked)
                .map_err(|why| Box::new(refused(StatusCode::CONFLICT, &why)))
        });
        begun.map_or_else(|fault| *fault, |()| answered(&json!({})))
    })
    .await
}

fn asked(desk: &DeskState, body: &Json) -> Result<WriteRequest, Box<Response>> {
    let file = text(body, "file")?;
    let (words, _) = desk.folder.read(file).map_err(no)?;
    let lesson = lessons::read(&desk.folder, file, &words).map_err(|_| {
        Box::new(refused(
            StatusCode::UNPROCESSABLE_ENTITY,
            "the lesson has a mistake: mend it first",
        ))
    })?;
    let formats = body.get("formats").and_then(Json::as_array);
    let formats: Option<Vec<_>> = formats
        .into_iter()
        .flatten()
        .map(|word| word.as_str().and_then(format))
        .collect();
    let formats = formats
        .filter(|formats| !formats.is_empty())
        .ok_or_else(|| {
            Box::new(refused(
                StatusCode::BAD_REQUEST,
                "choose what is to be written",
            ))
        })?;
    let only = body.get("player").and_then(Json::as_u64).and_then(|place| {
        let player = lesson.players.get(usize::try_from(place).ok()?)?;
        let name = player
            .name
            .clone()
            .unwrap_or_else(|| player.instrument.id.to_string());
        let key = body.get("key").and_then(Json::as_str).map(str::to_owned);
        Some((name, key))
    });
    Ok(WriteRequest {
        source: copyist::LessonSource {
            path: desk.folder.path().join(file),
            lesson,
            warnings: Vec::new(),
        },
        out: desk.out.clone(),
        soundfont: desk.soundfont.clone(),
        formats,
        only,
        replace: false,
    })
}

pub(super) async fn progress(State(desk): Desk) -> Response {
    answered(&desk.writing.progress())
}

pub(super) async fn stop(State(desk): Desk) -> Response {
    desk.writing.stop();
    answered(&json!({}))
}

/// Opens the folder of what was written, or the one that holds it.
pub(super) async fn open_folder(State(desk): Desk) -> Response {
    aside(move || {
        let folder: &std::path::Path = if desk.out.is_dir() {
            &desk.out
        } else {
            desk.folder.path()
        };
        if browser::open(folder.as_os_str()) {
            answered(&json!({ "folder": folder.display().to_string() }))
        } else {
            refused(
                StatusCode::INTERNAL_SERVER_ERROR,
                &format!(
                    "the folder can't be opened from here: it is {}",
                    folder.display()
                ),
            )
        }
    })
    .await
}
