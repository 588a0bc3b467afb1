//! What can be asked: a command by its name, the job, and what the command takes besides.

use std::borrow::Cow;

use model::Edition;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::{Map, Value};

use crate::wrong::Wrong;

/// Names of the commands, each a type of its own, so that an answer says by its type which question it answers.
pub mod name {
    macro_rules! names {
        ($($(#[$doc:meta])* $name:ident $text:literal;)*) => {$(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
            #[schemars(inline)]
            pub enum $name {
                #[doc = concat!("`", $text, "`.")]
                #[serde(rename = $text)]
                $name,
            }
        )*};
    }

    names! {
        /// The whole report.
        Check "check";
        /// Which circuit goes in which space.
        Face "face";
        /// Where to put the new panel.
        Move "move";
        /// The order of work.
        Cutover "cutover";
        /// What the job is offered for.
        Price "price";
        /// Something is wrong.
        Error "error";
    }
}

/// A question.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(tag = "command", rename_all = "snake_case")]
#[schemars(rename = "JobQuestion")]
pub enum Question {
    /// The whole report of a job.
    Check(AboutJob),
    /// Which circuit goes in which space of a board.
    Face(AboutJob),
    /// Where to put the new panel.
    Move(AboutJob),
    /// The order of work with the least dark time.
    Cutover(AboutJob),
    /// What the job costs and what it is offered for.
    Price(AboutJob),
}

/// A job, and what is to be looked at.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AboutJob {
    /// The job.
    pub job: JobText,
    /// Another edition than the job's.
    #[serde(default)]
    pub edition: Option<Edition>,
    /// Of a face or a move: the board.
    #[serde(default)]
    pub board: Option<String>,
    /// Of a face: most steps of search.
    #[serde(default)]
    pub effort: Option<u32>,
    /// Of a move: step along a wall, inches.
    #[serde(default)]
    pub step_in: Option<f64>,
    /// Of a price: the customer's view, without cost.
    #[serde(default)]
    pub customer: bool,
    /// The drawing as well, where there is one.
    #[serde(default)]
    pub drawing: bool,
}

/// A job as it is handed in.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum JobText {
    /// Text of a job file.
    Text(String),
    /// The same as an object; what is `null` in it counts as left out.
    Object(Map<String, Value>),
}

impl JobText {
    /// The job file's text. An object is written as one.
    ///
    /// # Errors
    /// What the text of a job file cannot hold.
    pub fn text(&self) -> Result<Cow<'_, str>, Wrong> {
        match self {
            Self::Text(text) => Ok(Cow::Borrowed(text)),
            Self::Object(object) => {
                let mut value = Value::Object(object.clone());
                leave_out_nulls(&mut value);
                let text = toml::to_string(&value).map_err(|why| {
                    Wrong::with(
                        format!("the job cannot be written as a file: {why}"),
                        "objects, lists, texts, numbers",
                    )
                })?;
                Ok(Cow::Owned(text))
            }
        }
    }
}

fn leave_out_nulls(value: &mut Value) {
    match value {
        Value::Object(entries) => {
            entries.retain(|_, v| !v.is_null());
            entries.values_mut().for_each(leave_out_nulls);
        }
        Value::Array(all) => {
            all.retain(|v| !v.is_null());
            all.iter_mut().for_each(leave_out_nulls);
        }
        _ => {}
    }
}
