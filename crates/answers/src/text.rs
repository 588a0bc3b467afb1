//! An answer as JSON text, in one line or laid out for reading.

use serde::Serialize;

use crate::wrong::Wrong;

/// Room that the answer about a whole house takes, in bytes.
const USUAL_ANSWER: usize = 1 << 18;

/// In one line, as programs exchange it.
#[must_use]
pub fn written(answer: &impl Serialize) -> String {
    let mut text = Vec::with_capacity(USUAL_ANSWER);
    let done = serde_json::to_writer(&mut text, answer);
    finished(text, done)
}

/// One entry a line, with a line end, as the command line prints it.
#[must_use]
pub fn pretty(answer: &impl Serialize) -> String {
    let mut text = Vec::with_capacity(USUAL_ANSWER);
    let done = serde_json::to_writer_pretty(&mut text, answer);
    text.push(b'\n');
    finished(text, done)
}

/// An answer cannot be written when a map has names that are no text: none has, and if one had, it would be said.
fn finished(text: Vec<u8>, done: Result<(), serde_json::Error>) -> String {
    let why = match (done, String::from_utf8(text)) {
        (Ok(()), Ok(text)) => return text,
        (Err(why), _) => why.to_string(),
        (_, Err(why)) => why.to_string(),
    };
    let wrong = Wrong::with(
        format!("the answer cannot be written: {why}"),
        "a whole program",
    );
    serde_json::to_string(&wrong).unwrap_or_default()
}
