//! Reads the body of a write: JSON, one object, at most [`LARGEST_BODY`] bytes.

use std::pin::Pin;

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::Request;
use axum::http::{HeaderMap, StatusCode, header};
use serde_json::Value;

use crate::fields::Fields;
use crate::problem::Problem;

/// Largest body that is read, in bytes.
pub(crate) const LARGEST_BODY: usize = 2_000_000;

/// How much more is read and thrown away, so that the sender comes to hear why it is refused.
pub(crate) const LARGEST_WASTE: usize = 16_000_000;

/// The object in the body.
pub(crate) async fn object(request: Request) -> Result<Fields, Problem> {
    let (parts, body) = request.into_parts();
    if !is_json(&parts.headers) {
        return Err(Problem::new(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "The body is not said to be JSON.",
            "the header `Content-Type: application/json`",
            "Send the body as JSON and say so; nothing was changed.",
        ));
    }
    let bytes = all(body).await?;
    let value: Value = serde_json::from_slice(&bytes).map_err(|why| {
        let (line, column) = (why.line(), why.column());
        Problem::bad(
            format!("The body is not JSON: it breaks at line {line}, column {column}."),
            "one JSON object",
        )
    })?;
    match value {
        Value::Object(map) => Ok(Fields::new(map)),
        _ => Err(Problem::bad(
            "The body is JSON, but no object.",
            "one JSON object",
        )),
    }
}

fn is_json(headers: &HeaderMap) -> bool {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|v| v.to_str().ok())
        .and_then(|v| v.split(';').next())
        .is_some_and(|v| v.trim().eq_ignore_ascii_case("application/json"))
}

/// The next part of a body.
pub(crate) async fn next(body: &mut Body) -> Option<Result<Bytes, Problem>> {
    loop {
        let frame = std::future::poll_fn(|cx| Pin::new(&mut *body).poll_frame(cx)).await?;
        match frame.map(|frame| frame.into_data()) {
            Ok(Ok(data)) => return Some(Ok(data)),
            Ok(Err(_)) => {}
            Err(_) => return Some(Err(Problem::bad("The body breaks off.", "the whole body"))),
        }
    }
}

async fn all(mut body: Body) -> Result<Vec<u8>, Problem> {
    let mut bytes = Vec::new();
    let mut seen = 0;
    while let Some(data) = next(&mut body).await {
        let data = data?;
        seen += data.len();
        if seen <= LARGEST_BODY {
            bytes.extend_from_slice(&data);
        } else if seen > LARGEST_WASTE {
            break;
        } else {
            bytes = Vec::new();
        }
    }
    if seen > LARGEST_BODY {
        return Err(Problem::new(
            StatusCode::PAYLOAD_TOO_LARGE,
            "The body is too large.",
            format!("at most {LARGEST_BODY} bytes"),
            "Send less; nothing was changed.",
        ));
    }
    Ok(bytes)
}
