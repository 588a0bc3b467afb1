//! Receives the bytes of a photo, part by part: is it one, is it what it is said to be, is it small enough?
//! What is not kept is still read for a while, so that the sender comes to hear why it is refused.

use axum::body::Body;
use axum::http::{HeaderMap, StatusCode, header};
use store::{Incoming, Kind, Store};

use crate::body::{LARGEST_WASTE, next};
use crate::problem::Problem;

/// Largest photo, in bytes.
pub(crate) const LARGEST_PHOTO: usize = 25 * 1024 * 1024;

/// The kind that the sender says it is.
pub(crate) fn declared(headers: &HeaderMap) -> Result<Kind, Problem> {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|v| v.to_str().ok())
        .and_then(|v| Kind::of_media_type(v.trim()))
        .ok_or_else(|| wrong_kind("The body is not said to be a photo."))
}

/// The bytes on the disk, not yet a photo of any job.
pub(crate) async fn receive(
    store: &Store,
    mut body: Body,
    declared: Kind,
) -> Result<Incoming, Problem> {
    let mut head = Vec::with_capacity(Kind::HEAD);
    let mut incoming: Option<Incoming> = None;
    while let Some(data) = next(&mut body).await {
        let data = data?;
        let bytes = match &mut incoming {
            Some(incoming) => {
                incoming.write(&data).await?;
                incoming.bytes()
            }
            None => {
                head.extend_from_slice(&data);
                if head.len() < Kind::HEAD {
                    continue;
                }
                if let Err(problem) = agrees(&head, declared) {
                    return Err(waste(body, problem).await);
                }
                let mut first = store.new_photo().await?;
                first.write(&head).await?;
                head = Vec::new();
                incoming.insert(first).bytes()
            }
        };
        if bytes > LARGEST_PHOTO as u64 {
            drop(incoming);
            return Err(waste(body, too_large()).await);
        }
    }
    incoming.ok_or_else(|| wrong_kind("The body is too short for a photo."))
}

/// Reads on and throws away what is read; gives back the reason.
pub(crate) async fn waste(mut body: Body, problem: Problem) -> Problem {
    let mut seen = 0;
    while let Some(Ok(data)) = next(&mut body).await {
        seen += data.len();
        if seen > LARGEST_PHOTO + LARGEST_WASTE {
            break;
        }
    }
    problem
}

fn agrees(head: &[u8], declared: Kind) -> Result<(), Problem> {
    match Kind::told_by(head) {
        Some(found) if found == declared => Ok(()),
        Some(found) => Err(wrong_kind(format!(
            "The body is said to be {}, but begins as {} does.",
            declared.media_type(),
            found.media_type()
        ))),
        None => Err(wrong_kind(format!(
            "The body is said to be {}, but does not begin as a photo does.",
            declared.media_type()
        ))),
    }
}

fn wrong_kind(error: impl Into<String>) -> Problem {
    let kinds = Kind::ALL.map(Kind::media_type).join(", ");
    Problem::new(
        StatusCode::UNSUPPORTED_MEDIA_TYPE,
        error,
        format!("a photo, and the header `Content-Type` with what it is: one of {kinds}"),
        "Send the photo as the camera wrote it; nothing was changed.",
    )
}

fn too_large() -> Problem {
    Problem::new(
        StatusCode::PAYLOAD_TOO_LARGE,
        "The photo is too large.",
        format!("at most {LARGEST_PHOTO} bytes (25 MB)"),
        "Take it with fewer pixels, or save a smaller copy; nothing was changed.",
    )
}
