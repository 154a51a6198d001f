//! Who may ask: one layer before the router, which handlers know nothing of.
//!
//! `Host` comes first. A page elsewhere that gives its own name this
//! machine's address is of the same origin as the server it reaches, so that
//! its reads carry no `Origin`; its `Host` still says whose name it used. Then
//! `Origin`, where there is one, and under `/api/` the token.

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;

use crate::answer::{plain, sealed};
use crate::token::Token;

/// The header that carries the token.
pub(crate) const TOKEN: HeaderName = HeaderName::from_static("x-desk-token");

/// Bytes that a request's body may have: a lesson is at most a megabyte, a
/// little more where every sign of it is escaped.
pub(crate) const MOST_BYTES: usize = 4 * 1024 * 1024;

/// What is let in.
#[derive(Debug, Clone)]
pub(crate) struct Guard {
    hosts: Vec<String>,
    token: Token,
}

impl Guard {
    pub(crate) fn new(port: u16, token: Token) -> Guard {
        let hosts = ["127.0.0.1", "localhost", "[::1]"];
        Guard {
            hosts: hosts.iter().map(|host| format!("{host}:{port}")).collect(),
            token,
        }
    }

    /// Why a request is refused, if it is.
    fn refuses(&self, path: &str, headers: &HeaderMap) -> Option<(StatusCode, &'static str)> {
        let mut hosts = headers.get_all(header::HOST).iter();
        let host = hosts.next().and_then(|host| host.to_str().ok());
        let ours = |host: &str| self.hosts.iter().any(|own| own.eq_ignore_ascii_case(host));
        if !host.is_some_and(ours) || hosts.next().is_some() {
            return Some((
                StatusCode::MISDIRECTED_REQUEST,
                "this desk answers to 127.0.0.1 and localhost only",
            ));
        }
        let from_us = |origin: &str| origin.strip_prefix("http://").is_some_and(ours);
        for origin in headers.get_all(header::ORIGIN) {
            if !origin.to_str().is_ok_and(from_us) {
                return Some((StatusCode::FORBIDDEN, "this page is not the desk's"));
            }
        }
        if path.starts_with("/api/") {
            let said = headers.get(TOKEN).map(|token| token.as_bytes());
            if !said.is_some_and(|said| self.token.is(said)) {
                return Some((
                    StatusCode::UNAUTHORIZED,
                    "open the desk by the address that it printed when it started",
                ));
            }
        }
        None
    }
}

/// Refuses, or lets through; every answer is sealed against other pages.
pub(crate) async fn guard(
    State(guard): State<Guard>,
    request: Request<Body>,
    next: Next,
) -> Response {
    let refused = guard.refuses(request.uri().path(), request.headers());
    let answer = match refused {
        Some((status, words)) => plain(status, words),
        None => next.run(request).await,
    };
    sealed(answer)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(path: &str, headers: &[(&str, &str)], expected: Option<u16>) {
        let token = Token::new().unwrap();
        let guard = Guard::new(4712, token.clone());
        let mut map = HeaderMap::new();
        for (name, value) in headers {
            let value = value.replace("TOKEN", token.as_str());
            map.append(
                HeaderName::from_bytes(name.as_bytes()).unwrap(),
                value.parse().unwrap(),
            );
        }
        let refused = guard.refuses(path, &map).map(|(status, _)| status.as_u16());
        assert_eq!(refused, expected, "{path} {headers:?}");
    }

    #[test]
    fn hosts_then_origins_then_the_token() {
        let host = ("host", "127.0.0.1:4712");
        check("/", &[host], None);
        check("/", &[("host", "LOCALHOST:4712")], None);
        check("/", &[("host", "[::1]:4712")], None);
        check("/", &[], Some(421));
        check("/", &[("host", "127.0.0.1")], Some(421));
        check("/", &[("host", "127.0.0.1:4713")], Some(421));
        check("/", &[("host", "lessons.example:4712")], Some(421));
        check("/", &[("host", "127.0.0.1:4712.example")], Some(421));
        check("/", &[host, ("host", "lessons.example")], Some(421));
        check("/", &[host, ("origin", "http://127.0.0.1:4712")], None);
        check("/", &[host, ("origin", "http://localhost:4712")], None);
        check(
            "/",
            &[host, ("origin", "https://127.0.0.1:4712")],
            Some(403),
        );
        check("/", &[host, ("origin", "http://127.0.0.1:4713")], Some(403));
        check("/", &[host, ("origin", "null")], Some(403));
        check("/api/lessons", &[host], Some(401));
        check("/api/lessons", &[host, ("x-desk-token", "")], Some(401));
        check("/api/lessons", &[host, ("x-desk-token", "TOKEN")], None);
        check(
            "/api/lessons",
            &[host, ("x-desk-token", "TOKEN0")],
            Some(401),
        );
        let foreign = ("origin", "http://lessons.example");
        check(
            "/api/lessons",
            &[host, foreign, ("x-desk-token", "TOKEN")],
            Some(403),
        );
        let rebound = ("host", "lessons.example:4712");
        check(
            "/api/lessons",
            &[rebound, ("x-desk-token", "TOKEN")],
            Some(421),
        );
    }
}
