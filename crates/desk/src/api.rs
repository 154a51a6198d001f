//! What the page may ask. Each handler takes the request apart, hands it on,
//! and says what came of it.

mod files;
mod run;
mod shown;

use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::http::StatusCode;
use axum::middleware;
use axum::response::Response;
use axum::routing::{get, post};
use serde_json::{Value as Json, json};

use crate::answer::{refused, with};
use crate::assets;
use crate::folder::{Folder, Refused};
use crate::guard::{Guard, MOST_BYTES, guard};
use crate::held::Held;
use crate::turns::Turns;
use crate::writing::Writing;

/// What all requests share.
#[derive(Debug)]
pub(crate) struct Shared {
    folder: Folder,
    out: PathBuf,
    soundfont: Option<PathBuf>,
    held: Held,
    writing: Writing,
    /// The choices, written once.
    choices: OnceLock<Json>,
    turns: Turns,
}

type Desk = State<Arc<Shared>>;

impl Shared {
    pub(crate) fn new(
        folder: Folder,
        out: PathBuf,
        soundfont: Option<PathBuf>,
        held: Held,
    ) -> Arc<Shared> {
        Arc::new(Shared {
            folder,
            out,
            soundfont,
            held,
            writing: Writing::default(),
            choices: OnceLock::new(),
            turns: Turns::default(),
        })
    }
}

pub(crate) fn router(shared: Arc<Shared>, guarding: Guard) -> Router {
    Router::new()
        .route("/", get(async || assets::file("")))
        .route(
            "/{name}",
            get(async |Path(name): Path<String>| assets::file(&name)),
        )
        .route(
            "/fonts/{name}",
            get(async |Path(name): Path<String>| assets::font(&name)),
        )
        .route("/api/lessons", get(files::list))
        .route("/api/choices", get(shown::all_choices))
        .route(
            "/api/lesson",
            get(files::open)
                .put(files::save)
                .post(files::create)
                .delete(files::delete),
        )
        .route("/api/name", post(files::rename))
        .route("/api/version", get(files::seen))
        .route("/api/look", post(shown::looked))
        .route("/api/rest", post(shown::rested))
        .route("/api/edit", post(shown::edited))
        .route("/api/play", post(shown::played))
        .route("/api/write", post(run::write))
        .route("/api/writing", get(run::progress))
        .route("/api/stop", post(run::stop))
        .route("/api/open-folder", post(run::open_folder))
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(middleware::from_fn_with_state(guarding, guard))
        .with_state(shared)
}

/// Work that takes more than a moment, away from the server's own thread.
async fn aside(work: impl FnOnce() -> Response + Send + 'static) -> Response {
    let done = tokio::task::spawn_blocking(work).await;
    done.unwrap_or_else(|_| refused(StatusCode::INTERNAL_SERVER_ERROR, "the desk lost its way"))
}

fn told(fault: &Refused) -> Response {
    match fault {
        Refused::Outside => refused(
            StatusCode::FORBIDDEN,
            "the desk reads and writes nothing outside of its folder",
        ),
        Refused::Missing => refused(StatusCode::NOT_FOUND, "the lesson isn't there any more"),
        Refused::Taken => refused(
            StatusCode::CONFLICT,
            "there is a lesson of that name already",
        ),
        Refused::Changed(text, version) => with(
            StatusCode::CONFLICT,
            &json!({
                "why": "the lesson was changed elsewhere",
                "text": text,
                "version": version,
            }),
        ),
        Refused::Other(words) => refused(StatusCode::INTERNAL_SERVER_ERROR, words),
    }
}

/// A request's body, or its refusal.
fn body(bytes: &Bytes) -> Result<Json, Box<Response>> {
    serde_json::from_slice(bytes).map_err(|_| unclear())
}

fn unclear() -> Box<Response> {
    Box::new(refused(
        StatusCode::BAD_REQUEST,
        "the desk doesn't understand this",
    ))
}

fn no(fault: Refused) -> Box<Response> {
    Box::new(told(&fault))
}

fn text<'a>(body: &'a Json, key: &str) -> Result<&'a str, Box<Response>> {
    body.get(key).and_then(Json::as_str).ok_or_else(unclear)
}

impl Shared {
    /// Asks a run to stop, and whatever is still shown.
    pub(crate) fn stop(&self) {
        self.writing.stop();
        self.turns.stop();
    }

    /// Whether a run still goes on.
    pub(crate) fn is_writing(&self) -> bool {
        self.writing.goes_on()
    }

    /// Lets go of the folder.
    pub(crate) fn let_go(&self) {
        self.held.let_go();
    }
}
