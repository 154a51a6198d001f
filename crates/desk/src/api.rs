//! What the page may ask. Each handler takes the request apart, hands it on,
//! and says what came of it.

use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, OnceLock};

use axum::Router;
use axum::body::Bytes;
use axum::extract::{DefaultBodyLimit, Path, RawQuery, State};
use axum::http::StatusCode;
use axum::middleware;
use axum::response::Response;
use axum::routing::{get, post};
use serde_json::{Value as Json, json};

use crate::answer::{json as answered, of, refused, with};
use crate::folder::{Folder, Refused};
use crate::guard::{Guard, MOST_BYTES, guard};
use crate::held::Held;
use crate::look::{Shown, look, rest};
use crate::writing::{Asked, Writing, format};
use crate::{assets, browser, choices, json, lessons, play};

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
    /// The number of the newest look of each tab.
    newest: Mutex<std::collections::BTreeMap<String, Arc<AtomicU64>>>,
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
            newest: Mutex::default(),
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
        .route("/api/lessons", get(list))
        .route("/api/choices", get(all_choices))
        .route(
            "/api/lesson",
            get(open).put(save).post(create).delete(delete),
        )
        .route("/api/name", post(rename))
        .route("/api/version", get(seen))
        .route("/api/look", post(looked))
        .route("/api/rest", post(rested))
        .route("/api/edit", post(edited))
        .route("/api/play", post(played))
        .route("/api/write", post(write))
        .route("/api/writing", get(progress))
        .route("/api/stop", post(stop))
        .route("/api/open-folder", post(open_folder))
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
fn body(bytes: &Bytes) -> Result<Json, Response> {
    serde_json::from_slice(bytes)
        .map_err(|_| refused(StatusCode::BAD_REQUEST, "the desk doesn't understand this"))
}

fn text<'a>(body: &'a Json, key: &str) -> Result<&'a str, Response> {
    body.get(key)
        .and_then(Json::as_str)
        .ok_or_else(|| refused(StatusCode::BAD_REQUEST, "the desk doesn't understand this"))
}

async fn list(State(desk): Desk) -> Response {
    aside(move || match desk.folder.names() {
        Ok(names) => {
            let lessons: Vec<Json> = names
                .iter()
                .map(|name| {
                    let read = desk.folder.read(name);
                    let title = read.ok().and_then(|(text, _)| lessons::title(&text));
                    json!({ "file": name, "title": title })
                })
                .collect();
            answered(&json!({
                "lessons": lessons,
                "folder": desk.folder.path().display().to_string(),
                "out": desk.out.display().to_string(),
                "elsewhere": desk.held.elsewhere,
            }))
        }
        Err(error) => refused(StatusCode::INTERNAL_SERVER_ERROR, &error.to_string()),
    })
    .await
}

async fn all_choices(State(desk): Desk) -> Response {
    aside(move || answered(desk.choices.get_or_init(choices::choices))).await
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

async fn open(State(desk): Desk, RawQuery(query): RawQuery) -> Response {
    let name = named(query);
    aside(move || match desk.folder.read(&name) {
        Ok((text, version)) => answered(&json!({ "file": name, "text": text, "version": version })),
        Err(fault) => told(&fault),
    })
    .await
}

async fn seen(State(desk): Desk, RawQuery(query): RawQuery) -> Response {
    let name = named(query);
    aside(move || match desk.folder.read(&name) {
        Ok((_, version)) => answered(&json!({ "version": version })),
        Err(Refused::Missing) => answered(&json!({ "version": null })),
        Err(fault) => told(&fault),
    })
    .await
}

async fn save(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let saved = body(&bytes).and_then(|body| {
            let seen = body.get("version").and_then(Json::as_str);
            desk.folder
                .save(text(&body, "file")?, text(&body, "text")?, seen)
                .map_err(|fault| told(&fault))
        });
        saved.map_or_else(
            |fault| fault,
            |version| answered(&json!({ "version": version })),
        )
    })
    .await
}

async fn create(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let created = body(&bytes).and_then(|body| {
            let file = file_name(text(&body, "name")?)?;
            let version = desk
                .folder
                .create(&file, text(&body, "text")?)
                .map_err(|fault| told(&fault))?;
            Ok(json!({ "file": file, "version": version }))
        });
        created.map_or_else(|fault| fault, |made| answered(&made))
    })
    .await
}

/// A file's name from what somebody calls a lesson.
fn file_name(name: &str) -> Result<String, Response> {
    let stem = name.strip_suffix(".toml").unwrap_or(name);
    let slug: String = lesson::slug(stem).chars().take(60).collect();
    if slug.is_empty() {
        return Err(refused(
            StatusCode::BAD_REQUEST,
            "a lesson needs a name with a letter or a digit in it",
        ));
    }
    Ok(format!("{slug}.toml"))
}

async fn rename(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let renamed = body(&bytes).and_then(|body| {
            let to = file_name(text(&body, "name")?)?;
            desk.folder
                .rename(text(&body, "file")?, &to, text(&body, "version")?)
                .map_err(|fault| told(&fault))?;
            Ok(json!({ "file": to }))
        });
        renamed.map_or_else(|fault| fault, |made| answered(&made))
    })
    .await
}

async fn delete(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let deleted = body(&bytes).and_then(|body| {
            desk.folder
                .delete(text(&body, "file")?, text(&body, "version")?)
                .map_err(|fault| told(&fault))
        });
        deleted.map_or_else(|fault| fault, |()| answered(&json!({})))
    })
    .await
}

/// Does the work for a text that is shown, unless a newer one has come from
/// the same tab by the time it is its turn.
async fn for_shown(
    desk: Arc<Shared>,
    bytes: Bytes,
    work: impl FnOnce(&Shared, &Shown) -> Response + Send + 'static,
) -> Response {
    let body = match body(&bytes) {
        Ok(body) => body,
        Err(fault) => return fault,
    };
    let Some(shown) = Shown::of(&body) else {
        return refused(StatusCode::BAD_REQUEST, "the desk doesn't understand this");
    };
    let turn = body.get("turn").and_then(Json::as_u64).unwrap_or(u64::MAX);
    let tab = body.get("tab").and_then(Json::as_str).unwrap_or_default();
    let newest = desk.newest(tab);
    newest.fetch_max(turn, Ordering::Relaxed);
    aside(move || {
        if newest.load(Ordering::Relaxed) > turn {
            return refused(StatusCode::GONE, "a newer text has come");
        }
        work(&desk, &shown)
    })
    .await
}

impl Shared {
    /// The newest turn of a tab.
    fn newest(&self, tab: &str) -> Arc<AtomicU64> {
        const TABS: usize = 256;
        let mut tabs = self
            .newest
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        if tabs.len() >= TABS {
            tabs.clear();
        }
        let tab: String = tab.chars().take(40).collect();
        Arc::clone(tabs.entry(tab).or_default())
    }
}

async fn looked(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown| {
        answered(&look(&desk.folder, shown))
    })
    .await
}

async fn rested(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown| {
        answered(&rest(&desk.folder, shown))
    })
    .await
}

async fn played(State(desk): Desk, bytes: Bytes) -> Response {
    for_shown(desk, bytes, |desk, shown| {
        match play::play(&desk.folder, shown) {
            Ok(events) => of(StatusCode::OK, "application/json", events),
            Err(why) => refused(StatusCode::UNPROCESSABLE_ENTITY, &why),
        }
    })
    .await
}

/// Changes of a text one after another: the new text, or why not.
async fn edited(bytes: Bytes) -> Response {
    aside(move || {
        let edited = body(&bytes).and_then(|body| {
            let mut now = text(&body, "text")?.to_owned();
            let changes = body.get("changes").and_then(Json::as_array);
            for change in changes.into_iter().flatten() {
                let edit = json::edit(change).ok_or_else(|| {
                    refused(StatusCode::BAD_REQUEST, "the desk doesn't understand this")
                })?;
                now = lesson_text::edit::edit(&now, &edit)
                    .map_err(|why| refused(StatusCode::UNPROCESSABLE_ENTITY, &why.0))?;
            }
            Ok(now)
        });
        edited.map_or_else(|fault| fault, |text| answered(&json!({ "text": text })))
    })
    .await
}

/// Writes the files of a lesson as it is saved.
async fn write(State(desk): Desk, bytes: Bytes) -> Response {
    aside(move || {
        let begun = body(&bytes).and_then(|body| {
            let asked = asked(&desk, &body)?;
            desk.writing
                .begin(asked)
                .map_err(|why| refused(StatusCode::CONFLICT, &why))
        });
        begun.map_or_else(|fault| fault, |()| answered(&json!({})))
    })
    .await
}

fn asked(desk: &Shared, body: &Json) -> Result<Asked, Response> {
    let file = text(body, "file")?;
    let (words, _) = desk.folder.read(file).map_err(|fault| told(&fault))?;
    let lesson = lessons::read(&desk.folder, file, &words).map_err(|_| {
        refused(
            StatusCode::UNPROCESSABLE_ENTITY,
            "the lesson has a mistake: mend it first",
        )
    })?;
    let formats = body.get("formats").and_then(Json::as_array);
    let formats: Option<Vec<_>> = formats
        .into_iter()
        .flatten()
        .map(|word| word.as_str().and_then(format))
        .collect();
    let formats = formats
        .filter(|formats| !formats.is_empty())
        .ok_or_else(|| refused(StatusCode::BAD_REQUEST, "choose what is to be written"))?;
    let only = body.get("player").and_then(Json::as_u64).and_then(|place| {
        let player = lesson.players.get(usize::try_from(place).ok()?)?;
        let name = player
            .name
            .clone()
            .unwrap_or_else(|| player.instrument.id.to_string());
        let key = body.get("key").and_then(Json::as_str).map(str::to_owned);
        Some((name, key))
    });
    Ok(Asked {
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

async fn progress(State(desk): Desk) -> Response {
    answered(&desk.writing.progress())
}

async fn stop(State(desk): Desk) -> Response {
    desk.writing.stop();
    answered(&json!({}))
}

/// Opens the folder of what was written, or the one that holds it.
async fn open_folder(State(desk): Desk) -> Response {
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
