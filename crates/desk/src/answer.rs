//! Answers, and what every one of them says to the browser.

use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::Response;
use serde_json::{Value, json};

/// Everything comes from here, nothing inline; pages may be shown nowhere
/// else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; \
                      img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; \
                      frame-ancestors 'none'";

pub(crate) fn of(status: StatusCode, kind: &'static str, body: impl Into<Body>) -> Response {
    let mut answer = Response::new(body.into());
    *answer.status_mut() = status;
    let headers = answer.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    answer
}

pub(crate) fn plain(status: StatusCode, words: &str) -> Response {
    of(status, "text/plain; charset=utf-8", words.to_owned())
}

pub(crate) fn json(value: &Value) -> Response {
    with(StatusCode::OK, value)
}

pub(crate) fn with(status: StatusCode, value: &Value) -> Response {
    of(status, "application/json", value.to_string())
}

/// A sentence for the teacher that says why not.
pub(crate) fn refused(status: StatusCode, why: &str) -> Response {
    with(status, &json!({ "why": why }))
}

/// With the headers that keep other pages out.
pub(crate) fn sealed(mut answer: Response) -> Response {
    let headers = answer.headers_mut();
    let all = [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::CACHE_CONTROL, "no-store"),
    ];
    for (name, value) in all {
        headers.insert(name, HeaderValue::from_static(value));
    }
    for name in ["cross-origin-resource-policy", "cross-origin-opener-policy"] {
        headers.insert(name, HeaderValue::from_static("same-origin"));
    }
    answer
}
