//! What a text says, shows and sounds, and its changes.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use copyist::{CopyError, Stop};
use serde_json::{Value as Json, json};

use super::exchange::{aside, body, text, unclear};
use super::state::{Desk, DeskState};
use crate::answer::{json as answered, of, refused};
use crate::look::{View, look, rest};
use crate::{choices, json, play};

pub(super) async fn all_choices(State(desk): Desk) -> Response {
    aside(move || answered(desk.choices.get_or_init(choices::choices))).await
}

/// Does the work for a text that is shown, unless a newer one comes from the
/// same tab before it is done.
async fn for_shown(
    desk: Arc<DeskState>,
    bytes: Bytes,
    work: impl FnOnce(&DeskState, &View, &Stop) -> Result<Response, CopyError> + Send + 'static,
) -> Response {
    let body = match body(&bytes) {
        Ok(body) => body,
        Err(fault) => return *fault,
    };
    let Some(shown) = View::of(&body) else {
        return refused(StatusCode::BAD_REQUEST, "the desk doesn't understand this");
    };
    let turn = body.get("turn").and_then(Json::as_u64).unwrap_or(u64::MAX);
    let tab = body.get("tab").and_then(Json::as_str).unwrap_or_default();
    let Some(stop) = desk.turns.take(tab, turn) else {
        return passed();
    };
    aside(move || {
        let done = stop.check().and_then(|()| work(&desk, &shown, &stop));
        done.unwrap_or_else(|_| passed())
    })
    .await
}

/// Nobody waits for this answer any more.
fn passed() -> Response {
    refused(StatusCode::GONE, "a newer text has come")
}

pub(super) async fn looked(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown, stop| {
        Ok(answered(&look(&desk.folder, shown, stop)?))
    })
    .await
}

pub(super) async fn rested(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown, stop| {
        Ok(answered(&rest(&desk.folder, shown, stop)?))
    })
    .await
}

pub(super) async fn played(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown, stop| {
        Ok(match play::play(&desk.folder, shown, stop)? {
            Ok(events) => of(StatusCode::OK, "application/json", events),
            Err(why) => refused(StatusCode::UNPROCESSABLE_ENTITY, &why),
        })
    })
    .await
}

/// Changes of a text one after another: the new text, or why not.
pub(super) async fn edited(bytes: Bytes) -> Response {
    aside(move || {
        let edited = body(&bytes).and_then(|body| {
            let mut now = text(&body, "text")?.to_owned();
            let changes = body.get("changes").and_then(Json::as_array);
            for change in changes.into_iter().flatten() {
                let edit = json::edit(change).ok_or_else(unclear)?;
                now = lesson_text::edit::edit(&now, &edit)
                    .map_err(|why| Box::new(refused(StatusCode::UNPROCESSABLE_ENTITY, &why.0)))?;
            }
            Ok(now)
        });
        edited.map_or_else(|fault| *fault, |text| answered(&json!({ "text": text })))
    })
    .await
}
