//! Every answer about a job in its documented JSON form (`docs/json-output.md`), for whoever asks: command line, server, browser.
//!
//! - [`call`]: asks by name, text in and text out: the one door of the engine in the browser and of the server;
//! - [`head`], [`whole`]: how an answer begins, and the whole report; [`scope`], [`supply`], [`load`], [`conductors`], [`fault`], [`findings`]: its parts;
//! - [`edits`]: reading a job for a screen, and changing it;
//! - [`face`], [`relocate`], [`cutover`], [`price`]: the decisions;
//! - [`question`]: what can be asked; [`wrong`]: what is answered when something is wrong; [`text`]: an answer as JSON text;
//! - [`schema`]: the JSON Schema of questions and answers, from these same types; [`typescript`]: the same for the front end.

pub mod call;
pub mod conductors;
pub mod cutover;
#[cfg(feature = "decisions")]
mod decisions;
pub mod edits;
pub mod face;
pub mod fault;
pub mod findings;
pub mod head;
#[cfg(feature = "decisions")]
mod layout;
pub mod load;
pub mod price;
pub mod question;
mod reading;
pub mod relocate;
pub mod schema;
pub mod scope;
pub mod supply;
pub mod text;
pub mod typescript;
pub mod whole;
pub mod wrong;

pub use editing::question::Desk;
pub use head::{Answer, Cautioned, Drawn};
pub use text::pretty;

/// Number of the form of every answer.
pub const FORMAT: u32 = 1;

/// What every report ends with, whatever it found: one sentence each.
pub const CAUTIONS: [&str; 4] = [
    "De-energize, lock out, and test dead: tester on a live source, then the work, then the live source again.",
    "Line-side conductors stay live when the main is off; only the utility can kill them.",
    "Verify every result against the adopted code and with the authority having jurisdiction.",
    "Licensed practice decides. This report supports that judgement and does not replace it.",
];
