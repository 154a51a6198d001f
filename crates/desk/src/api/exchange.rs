//! Taking a request apart, and saying what came of it.

use axum::body::Bytes;
use axum::http::StatusCode;
use axum::response::Response;
use serde_json::{Value as Json, json};

use crate::answer::{refused, with};
use crate::folder::FolderFault;

/// Work that takes more than a moment, away from the server's own thread.
pub(super) async fn aside(work: impl FnOnce() -> Response + Send + 'static) -> Response {
    let done = tokio::task::spawn_blocking(work).await;
    done.unwrap_or_else(|_| refused(StatusCode::INTERNAL_SERVER_ERROR, "the desk lost its way"))
}

pub(super) fn told(fault: &FolderFault) -> Response {
    match fault {
        FolderFault::Outside => refused(
            StatusCode::FORBIDDEN,
            "the desk reads and writes nothing outside of its folder",
        ),
        FolderFault::Missing => refused(StatusCode::NOT_FOUND, "the lesson isn't there any more"),
        FolderFault::Taken => refused(
            StatusCode::CONFLICT,
            "there is a lesson of that name already",
        ),
        FolderFault::Changed(text, version) => with(
            StatusCode::CONFLICT,
            &json!({
                "why": "the lesson was changed elsewhere",
                "text": text,
                "version": version,
            }),
        ),
        FolderFault::Other(words) => refused(StatusCode::INTERNAL_SERVER_ERROR, words),
    }
}

/// A request's body, or its refusal.
pub(super) fn body(bytes: &Bytes) -> Result<Json, Box<Response>> {
    serde_json::from_slice(bytes).map_err(|_| unclear())
}

pub(super) fn unclear() -> Box<Response> {
    Box::new(refused(
        StatusCode::BAD_REQUEST,
        "the desk doesn't understand this",
    ))
}

pub(super) fn no(fault: FolderFault) -> Box<Response> {
    Box::new(told(&fault))
}

pub(super) fn text<'a>(body: &'a Json, key: &str) -> Result<&'a str, Box<Response>> {
    body.get(key).and_then(Json::as_str).ok_or_else(unclear)
}
