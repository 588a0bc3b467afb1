//! The files of the web app: media types, tags, compression where it was prepared. A path without a dot is a screen of the app.

use std::borrow::Cow;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};

use crate::app::App;
use crate::problem::Problem;

const START: &str = "index.html";

pub(crate) async fn file(
    State(app): State<Arc<App>>,
    method: Method,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let path = uri.path().trim_start_matches('/');
    if !matches!(method, Method::GET | Method::HEAD) {
        return Err(wrong_method().await);
    }
    let is_plain = path.split('/').all(|part| !part.starts_with('.'))
        && !path.contains(['%', '\\', ':'])
        && path != "api"
        && !path.starts_with("api/");
    if !is_plain {
        return Err(Problem::not_found("such path"));
    }
    let is_screen = !path.rsplit('/').next().unwrap_or("").contains('.');
    let name = if is_screen { START } else { path };
    let asset = (app.plugs.assets)(name).ok_or_else(|| Problem::not_found("such file"))?;
    let takes = |encoding| takes(said(&headers, header::ACCEPT_ENCODING), encoding);
    let (bytes, encoding) = match (asset.brotli, asset.gzip) {
        (Some(brotli), _) if takes("br") => (brotli, Some("br")),
        (_, Some(gzip)) if takes("gzip") => (gzip, Some("gzip")),
        _ => (asset.bytes, None),
    };
    Ok(respond(name, bytes, encoding, &headers))
}

/// Does this `Accept-Encoding` name the encoding, other than to refuse it?
fn takes(accepted: &str, encoding: &str) -> bool {
    accepted.split(',').any(|each| {
        let mut parts = each.split(';').map(str::trim);
        let is_named = parts
            .next()
            .is_some_and(|e| e.eq_ignore_ascii_case(encoding));
        let weight = parts.find_map(|p| p.strip_prefix("q="));
        is_named && weight.is_none_or(|q| q.parse::<f32>().is_ok_and(|q| q > 0.0))
    })
}

/// The path is right, the method is not.
pub(crate) async fn wrong_method() -> Problem {
    Problem::new(
        StatusCode::METHOD_NOT_ALLOWED,
        "This path does not take this method.",
        "a method that /api/v1/openapi.json lists for the path",
        "Correct the request; nothing was changed.",
    )
}

fn respond(
    name: &str,
    bytes: Cow<'static, [u8]>,
    encoding: Option<&'static str>,
    headers: &HeaderMap,
) -> Response {
    let mut hasher = DefaultHasher::new();
    bytes.hash(&mut hasher);
    let tag = format!("\"{:016x}\"", hasher.finish());
    let is_same = has_tag(headers, &tag);
    let mut response = if is_same {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        Body::from(match bytes {
            Cow::Borrowed(bytes) => axum::body::Bytes::from_static(bytes),
            Cow::Owned(bytes) => axum::body::Bytes::from(bytes),
        })
        .into_response()
    };
    let out = response.headers_mut();
    if let Ok(tag) = HeaderValue::try_from(tag) {
        out.insert(header::ETAG, tag);
    }
    out.insert(
        header::CONTENT_TYPE,
        HeaderValue::from_static(media_type(name)),
    );
    out.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    // Kept, but asked after each time: the tag makes that cheap, and a new version is seen at once.
    out.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    if let Some(encoding) = encoding.filter(|_| !is_same) {
        out.insert(header::CONTENT_ENCODING, HeaderValue::from_static(encoding));
    }
    response
}

/// Does the asker have this already, by `If-None-Match`?
pub(crate) fn has_tag(headers: &HeaderMap, tag: &str) -> bool {
    said(headers, header::IF_NONE_MATCH)
        .split(',')
        .any(|t| t.trim().trim_start_matches("W/") == tag)
}

fn said(headers: &HeaderMap, name: header::HeaderName) -> &str {
    headers
        .get(name)
        .and_then(|v| v.to_str().ok())
        .unwrap_or("")
}

fn media_type(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or("") {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "json" | "map" => "application/json",
        "webmanifest" => "application/manifest+json",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "ico" => "image/x-icon",
        "woff2" => "font/woff2",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::takes;

    #[test]
    fn an_encoding_is_taken_when_it_is_named_and_not_refused() {
        for (accepted, taken) in [
            ("gzip, deflate, br", true),
            ("BR;q=0.5", true),
            ("br;q=0", false),
            ("br; q=0.0, gzip", false),
            ("gzip, brotli", false),
            ("", false),
        ] {
            assert_eq!(takes(accepted, "br"), taken, "{accepted}");
        }
    }
}
