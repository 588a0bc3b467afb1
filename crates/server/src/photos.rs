//! The photos of a job: the list, one of them, a new one, a removal. Sizes in bytes, times in milliseconds since 1970 UTC.
//! Sources: RFC 9110 (`ETag`, `If-None-Match`, `If-Match`), RFC 6266 (`Content-Disposition`).

use std::sync::Arc;

use axum::Json;
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, Uri, header};
use axum::response::{IntoResponse, Response};
use serde_json::{Map, Value, json};
use store::{NewPhoto, Photo, PhotoName, Sha256};

use crate::app::{App, At, now, query};
use crate::assets::has_tag;
use crate::file_body::FileBody;
use crate::photo_body;
use crate::problem::Problem;

pub(crate) async fn list(
    State(app): State<Arc<App>>,
    at: At,
    uri: Uri,
) -> Result<Json<Value>, Problem> {
    let all = match only(query(&uri)?, "all")?.as_deref() {
        None | Some("false") => false,
        Some("true") => true,
        Some(_) => return Err(Problem::bad("`all` is wrong.", "true or false")),
    };
    let photos = app.store.photos(&at.id).await?;
    let shown = photos.iter().filter(|photo| all || photo.removed.is_none());
    let shown: Vec<Value> = shown.map(shape).collect();
    Ok(Json(json!({ "photos": shown })))
}

pub(crate) async fn get(
    State(app): State<Arc<App>>,
    at: At,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let name = named(&at.name)?;
    let photo = match only(query(&uri)?, "number")? {
        None => app.store.photo(&at.id, &name).await?,
        Some(text) => {
            let number = text
                .parse()
                .map_err(|_| Problem::bad("`number` is wrong.", "the number of a photo, from 1"))?;
            let photo = app.store.photo_numbered(&at.id, number).await?;
            if photo.name != name {
                return Err(store::Error::NoSuchPhoto.into());
            }
            photo
        }
    };
    let file = app.store.open_photo(&photo).await?;
    let tag = format!("\"{}\"", photo.sha256);
    let mut response = if has_tag(&headers, &tag) {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        Body::new(FileBody::new(file, photo.bytes)).into_response()
    };
    let out = response.headers_mut();
    // Kept by the browser alone, and asked after each time: another photo may have taken the name.
    out.insert(
        header::CACHE_CONTROL,
        HeaderValue::from_static("private, no-cache"),
    );
    out.insert(
        header::CONTENT_TYPE,
        HeaderValue::from_static(photo.kind.media_type()),
    );
    for (name, value) in [
        (header::ETAG, tag),
        (header::CONTENT_DISPOSITION, disposition(&photo)),
    ] {
        let value = HeaderValue::try_from(value).map_err(|_| Problem::internal())?;
        out.insert(name, value);
    }
    Ok(response)
}

pub(crate) async fn put(
    State(app): State<Arc<App>>,
    at: At,
    request: Request,
) -> Result<Response, Problem> {
    let (parts, body) = request.into_parts();
    let asked = async {
        let name = named(&at.name)?;
        let kind = photo_body::declared(&parts.headers)?;
        // Asked again with the commit; here only so that nothing is received in vain.
        if app.store.listed(&at.id).await?.is_removed {
            return Err(store::Error::Removed.into());
        }
        Ok((name, kind))
    };
    let (name, kind) = match asked.await {
        Ok(asked) => asked,
        Err(problem) => return Err(photo_body::waste(body, problem).await),
    };
    let bytes = photo_body::receive(&app.store, body, kind).await?;
    let new = NewPhoto {
        name,
        kind,
        at: now(),
    };
    let photo = app.store.keep_photo(&at.id, new, bytes).await?;
    Ok(tagged(&photo))
}

pub(crate) async fn remove(
    State(app): State<Arc<App>>,
    at: At,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    let name = named(&at.name)?;
    let expected = seen_last(&headers)?;
    let photo = app
        .store
        .remove_photo(&at.id, &name, expected.as_ref(), now())
        .await?;
    Ok(tagged(&photo))
}

/// How a photo looks as JSON.
pub(crate) fn shape(photo: &Photo) -> Value {
    json!({
        "number": photo.number,
        "name": photo.name.as_str(),
        "kind": photo.kind.media_type(),
        "bytes": photo.bytes,
        "sha256": photo.sha256.as_str(),
        "at": photo.at.0,
        "removed": photo.removed.map(|at| at.0),
    })
}

fn tagged(photo: &Photo) -> Response {
    let mut response = Json(shape(photo)).into_response();
    if let Ok(tag) = HeaderValue::try_from(format!("\"{}\"", photo.sha256)) {
        response.headers_mut().insert(header::ETAG, tag);
    }
    response
}

fn named(text: &str) -> Result<PhotoName, Problem> {
    text.parse().map_err(|_| {
        Problem::bad(
            "This cannot be the name of a photo.",
            "one line of at most 200 characters, with a letter or a digit in it and no space at either end",
        )
    })
}

/// The one entry that the query may have.
fn only(mut query: Map<String, Value>, name: &str) -> Result<Option<String>, Problem> {
    let value = match query.remove(name) {
        Some(Value::String(text)) => Some(text),
        _ => None,
    };
    match query.keys().next() {
        None => Ok(value),
        Some(other) => {
            let shown: String = other.chars().take(40).collect();
            Err(Problem::bad(
                format!("`{shown}` is not known here."),
                format!("only {name}"),
            ))
        }
    }
}

/// The bytes that the caller knows under this name, from `If-Match`.
fn seen_last(headers: &HeaderMap) -> Result<Option<Sha256>, Problem> {
    let Some(value) = headers.get(header::IF_MATCH) else {
        return Ok(None);
    };
    value
        .to_str()
        .ok()
        .and_then(|v| v.trim().trim_matches('"').parse().ok())
        .map(Some)
        .ok_or_else(|| {
            Problem::bad(
                "`If-Match` is no tag of a photo.",
                "the `ETag` of the photo, or no such header",
            )
        })
}

/// Shown in its place; saved under a name that every file system takes.
fn disposition(photo: &Photo) -> String {
    let plain: String = photo
        .name
        .as_str()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    format!(
        "inline; filename=\"{}-{}.{}\"",
        plain.trim_matches('-'),
        photo.number,
        photo.kind.ending()
    )
}
