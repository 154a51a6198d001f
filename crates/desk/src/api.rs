//! What the page may ask. Each handler takes the request apart, hands it on,
//! and says what came of it.

mod exchange;
mod files;
mod run;
mod state;
mod view;

use std::sync::Arc;

use axum::Router;
use axum::extract::{DefaultBodyLimit, Path};
use axum::middleware;
use axum::routing::{get, post};

use crate::assets;
use crate::guard::{Guard, MOST_BYTES, guard};

pub(crate) use state::DeskState;

pub(crate) fn router(shared: Arc<DeskState>, guarding: Guard) -> Router {
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
        .route("/api/choices", get(view::all_choices))
        .route(
            "/api/lesson",
            get(files::open)
                .put(files::save)
                .post(files::create)
                .delete(files::delete),
        )
        .route("/api/name", post(files::rename))
        .route("/api/version", get(files::seen))
        .route("/api/look", post(view::looked))
        .route("/api/rest", post(view::rested))
        .route("/api/edit", post(view::edited))
        .route("/api/play", post(view::played))
        .route("/api/write", post(run::write))
        .route("/api/writing", get(run::progress))
        .route("/api/stop", post(run::stop))
        .route("/api/open-folder", post(run::open_folder))
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(middleware::from_fn_with_state(guarding, guard))
        .with_state(shared)
}
