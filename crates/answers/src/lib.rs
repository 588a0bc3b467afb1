//! Every answer about a job in its documented JSON form (`docs/json-output.md`), for whoever asks: command line, server, browser.
//!
//! - [`call`]: asks by name, text in and text out: the one door of the engine in the browser and of the server;
//! - [`head`], [`whole`]: how an answer begins, and the whole report; [`scope`], [`supply`], [`load`], [`conductors`], [`fault`], [`findings`]: its parts;
//! - [`edits`]: reading a job for a screen, and changing it;
//! - [`face`], [`cutover`], [`price`]: the decisions; the move is the engine's own value as it is.

pub mod call;
pub mod conductors;
pub mod cutover;
pub mod edits;
pub mod face;
pub mod fault;
pub mod findings;
pub mod head;
pub mod load;
pub mod price;
pub mod scope;
pub mod supply;
pub mod whole;

use serde_json::Value;

/// What every report ends with, whatever it found: one sentence each.
pub const CAUTIONS: [&str; 4] = [
    "De-energize, lock out, and test dead: tester on a live source, then the work, then the live source again.",
    "Line-side conductors stay live when the main is off; only the utility can kill them.",
    "Verify every result against the adopted code and with the authority having jurisdiction.",
    "Licensed practice decides. This report supports that judgement and does not replace it.",
];

/// Adds the entries of one JSON object to another.
pub fn merge(into: &mut Value, from: Value) {
    if let (Value::Object(into), Value::Object(from)) = (into, from) {
        into.extend(from);
    }
}
