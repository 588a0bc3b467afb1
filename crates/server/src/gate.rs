//! What every request goes through before anything looks at it: is it meant for this machine, may this page write,
//! does it end in time; and what every answer carries.
//! Sources: Fetch standard (`Origin`, `Sec-Fetch-Site`), Content Security Policy level 3, RFC 9110 (`Host`).

use std::sync::Arc;
use std::time::{Duration, Instant};

use axum::extract::{MatchedPath, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::app::App;
use crate::problem::Problem;

/// Longest time for one request, with its body.
const LONGEST: Duration = Duration::from_secs(30);

/// Names this machine has for itself; any other name in `Host` is a page elsewhere that made its own name point here.
const OWN_NAMES: [&str; 3] = ["localhost", "127.0.0.1", "[::1]"];

/// Scripts, styles and pictures only from here and none inline; the engine is WebAssembly.
const CONTENT_POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
     img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; \
     frame-src blob:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const HEADERS: [(&str, &str); 6] = [
    ("content-security-policy", CONTENT_POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("x-frame-options", "DENY"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

pub(crate) async fn pass(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    let start = Instant::now();
    let method = known(request.method());
    let route = request
        .extensions()
        .get::<MatchedPath>()
        .map_or_else(|| "other".to_owned(), |path| path.as_str().to_owned());
    let mut response = match check(request.method(), request.headers()) {
        Err(problem) => problem.into_response(),
        Ok(()) => tokio::time::timeout(LONGEST, next.run(request))
            .await
            .unwrap_or_else(|_| too_slow().into_response()),
    };
    for (name, value) in HEADERS {
        response
            .headers_mut()
            .insert(name, HeaderValue::from_static(value));
    }
    response
        .headers_mut()
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    app.metrics
        .answered(method, &route, response.status().as_u16(), start.elapsed());
    response
}

fn check(method: &Method, headers: &HeaderMap) -> Result<(), Problem> {
    let mut hosts = headers.get_all(header::HOST).iter();
    let host = hosts.next().and_then(|h| h.to_str().ok()).unwrap_or("");
    if hosts.next().is_some() || !OWN_NAMES.contains(&name_of(host).to_ascii_lowercase().as_str()) {
        return Err(Problem::new(
            StatusCode::MISDIRECTED_REQUEST,
            "The request is addressed to another machine.",
            "the address the program shows, as http://127.0.0.1:PORT",
            "Open the app at that address.",
        ));
    }
    if matches!(*method, Method::GET | Method::HEAD | Method::OPTIONS) {
        return Ok(());
    }
    let site = headers.get("sec-fetch-site").map(HeaderValue::as_bytes);
    let is_same_site = matches!(site, None | Some(b"same-origin" | b"none"));
    let is_same_origin = headers.get(header::ORIGIN).is_none_or(|origin| {
        origin
            .to_str()
            .ok()
            .and_then(|o| o.strip_prefix("http://"))
            .is_some_and(|o| o.eq_ignore_ascii_case(host))
    });
    if is_same_site && is_same_origin {
        return Ok(());
    }
    Err(Problem::new(
        StatusCode::FORBIDDEN,
        "Another web page tried to change something here.",
        "changes from the app's own pages, or from programs that send no `Origin`",
        "Use the app at the address the program shows; nothing was changed.",
    ))
}

/// The host without its port.
fn name_of(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|b| b.is_ascii_digit()) => name,
        _ => host,
    }
}

/// Only names that exist are counted by name.
fn known(method: &Method) -> &'static str {
    match *method {
        Method::GET => "GET",
        Method::HEAD => "HEAD",
        Method::POST => "POST",
        Method::PUT => "PUT",
        Method::DELETE => "DELETE",
        _ => "OTHER",
    }
}

fn too_slow() -> Problem {
    Problem::new(
        StatusCode::SERVICE_UNAVAILABLE,
        format!("This took longer than {} s.", LONGEST.as_secs()),
        "",
        "Read the job to see whether the change arrived; then try again.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_host_is_taken_apart_at_its_port_only() {
        for (host, name) in [
            ("localhost:8080", "localhost"),
            ("[::1]:8080", "[::1]"),
            ("[::1]", "[::1]"),
            ("127.0.0.1", "127.0.0.1"),
            ("a.example:80:x", "a.example:80:x"),
        ] {
            assert_eq!(name_of(host), name);
        }
    }
}
