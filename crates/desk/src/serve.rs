//! The server: on this machine only, until it is stopped.

use std::io;
use std::net::{Ipv4Addr, Ipv6Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::Router;
use tokio::net::TcpListener;

use crate::folder::Folder;
use crate::guard::Guard;
use crate::hold::FolderHold;
use crate::token::Token;
use crate::{DeskError, api, browser};

/// The port where none is said; if it is taken, the next.
const PORT: u16 = 4712;
const TRIED: u16 = 20;
/// How long a run that is asked to stop is waited for.
const A_MOMENT: Duration = Duration::from_millis(200);

/// What a desk is set up with.
#[derive(Debug, Clone)]
pub struct Desk {
    /// A folder of lessons, or one lesson in it.
    pub place: PathBuf,
    /// The port, if one is said.
    pub port: Option<u16>,
    /// Where sheets go; else `out` in the folder.
    pub out: Option<PathBuf>,
    /// A SoundFont that plays audio files.
    pub soundfont: Option<PathBuf>,
    /// Whether the page is opened in a browser.
    pub opens: bool,
}

/// Sets up a desk and serves it until the process is asked to stop. `told`
/// hears what the person at the terminal should know.
///
/// # Errors
/// Whatever keeps it from being set up.
pub fn run(desk: &Desk, told: impl Fn(&str)) -> Result<(), DeskError> {
    let (folder, lesson) = place(&desk.place);
    let opened = Folder::open(&folder).map_err(|error| DeskError::Folder { folder, error })?;
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()?;
    let served = runtime.block_on(serve(desk, opened, lesson, told));
    // Nobody waits for an answer any more.
    runtime.shutdown_background();
    served
}

/// The folder, and the lesson to be opened in it.
fn place(place: &Path) -> (PathBuf, Option<String>) {
    if place.extension().is_some_and(|ending| ending == "toml") && !place.is_dir() {
        let folder = match place.parent() {
            Some(parent) if parent != Path::new("") => parent.to_owned(),
            _ => PathBuf::from("."),
        };
        let name = place
            .file_name()
            .map(|name| name.to_string_lossy().into_owned());
        (folder, name)
    } else {
        (place.to_owned(), None)
    }
}

async fn serve(
    desk: &Desk,
    folder: Folder,
    lesson: Option<String>,
    told: impl Fn(&str),
) -> Result<(), DeskError> {
    let (listener, port) = listener(desk.port).await?;
    let token = Token::new()?;
    let held = FolderHold::new(folder.path());
    if held.elsewhere {
        told("another desk is open on this folder; whichever saves later is told what changed");
    }
    let out = desk
        .out
        .clone()
        .unwrap_or_else(|| folder.path().join("out"));
    let mut address = format!("http://127.0.0.1:{port}/#token={}", token.as_str());
    if let Some(lesson) = &lesson {
        address.push_str("&lesson=");
        address.push_str(&percent(lesson));
    }
    told(&format!("the desk is open at {address}"));
    told("stop it with Ctrl-C");
    let shared = api::DeskState::new(folder, out, desk.soundfont.clone(), held);
    let router = api::router(Arc::clone(&shared), Guard::new(port, token));
    if desk.opens && !browser::open(address.as_ref()) {
        told("no browser could be opened: open that address in one");
    }
    // Some browsers take localhost to be this one first.
    let second = TcpListener::bind(SocketAddr::from((Ipv6Addr::LOCALHOST, port))).await;
    let ended = tokio::select! {
        ended = answering(listener, router.clone()) => ended,
        ended = answering_too(second.ok(), router) => ended,
        stopped = stopped() => stopped,
    };
    // Files are whole through any end: a run is given a moment to leave no
    // half-made ones behind, and not more.
    shared.stop();
    let asked = Instant::now();
    while shared.is_writing() && asked.elapsed() < A_MOMENT {
        tokio::time::sleep(A_MOMENT / 20).await;
    }
    shared.let_go();
    Ok(ended?)
}

async fn answering(listener: TcpListener, router: Router) -> io::Result<()> {
    axum::serve(listener, router).await
}

/// The same where there is a second listener; else for ever nothing.
async fn answering_too(listener: Option<TcpListener>, router: Router) -> io::Result<()> {
    match listener {
        Some(listener) => answering(listener, router).await,
        None => std::future::pending().await,
    }
}

/// Until the process is asked to stop.
#[cfg(unix)]
async fn stopped() -> io::Result<()> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut ended = signal(SignalKind::terminate())?;
    tokio::select! {
        stopped = tokio::signal::ctrl_c() => stopped,
        _ = ended.recv() => Ok(()),
    }
}

/// Until the process is asked to stop.
#[cfg(not(unix))]
async fn stopped() -> io::Result<()> {
    tokio::signal::ctrl_c().await
}

async fn listener(port: Option<u16>) -> Result<(TcpListener, u16), DeskError> {
    let at = |port| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    let first = port.unwrap_or(PORT);
    let last = if port.is_some() { first } else { PORT + TRIED };
    let mut fault = io::Error::from(io::ErrorKind::AddrInUse);
    for port in first..=last {
        match at(port).await {
            Ok(listener) => {
                let port = listener.local_addr()?.port();
                return Ok((listener, port));
            }
            Err(error) => fault = error,
        }
    }
    Err(DeskError::Port {
        port: first,
        error: fault,
    })
}

/// A name as it stands in an address.
fn percent(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.');
    name.bytes()
        .map(|byte| match byte {
            byte if plain(byte) => char::from(byte).to_string(),
            byte => format!("%{byte:02X}"),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lesson_is_opened_in_its_folder() {
        let check = |said: &str, folder: &str, lesson: Option<&str>| {
            let expected = (PathBuf::from(folder), lesson.map(str::to_owned));
            assert_eq!(place(Path::new(said)), expected);
        };
        check("lessons", "lessons", None);
        check("lessons/a.toml", "lessons", Some("a.toml"));
        check("a.toml", ".", Some("a.toml"));
        assert_eq!(percent("a b&c=ü.toml"), "a%20b%26c%3D%C3%BC.toml");
    }
}
