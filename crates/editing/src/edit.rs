//! What may be changed in a job file, and how is a list of changes made?
//! Source: the job file as it reads. No units of its own; values are in the units of the job file.

use model::{JobFile, Mistake, Mistakes};
use rulebook::Rulebook;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::place::PanelPlace;
use crate::{copy, names, place, remove, set};

/// One change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(
    untagged,
    deny_unknown_fields,
    expecting = "an edit: `at` (a path of the job file) with one of `to`, `rename`, `copy`, `place`"
)]
pub enum Edit {
    /// Puts a value at a path; `null` takes out what is there.
    Set {
        /// Path of the job file, for example `["before", "circuits", "fridge", "amps"]`. Places in lists count from 0.
        at: Vec<String>,
        /// The value: bare, `{ is, by }`, or `"unknown"`.
        to: Value,
    },
    /// Gives a thing another name, in both pictures and wherever it is named.
    Rename {
        /// Path of the thing.
        at: Vec<String>,
        /// Its new name.
        rename: String,
    },
    /// Makes a second thing like this one; spaces are not taken over.
    Copy {
        /// Path of the thing.
        at: Vec<String>,
        /// Name of the second.
        copy: String,
    },
    /// Puts a panel at a place along a wall, with all that follows from it.
    Place {
        /// Path of the board.
        at: Vec<String>,
        /// The place.
        place: PanelPlace,
    },
}

impl Edit {
    /// Puts a value at a path.
    pub fn set<const N: usize>(at: [&str; N], to: impl Into<Value>) -> Self {
        Self::Set {
            at: at.map(str::to_owned).to_vec(),
            to: to.into(),
        }
    }
}

/// Why an edit cannot be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// What was asked or found.
    pub found: String,
    /// What was expected, or what to do.
    pub expected: String,
    /// The text does not read at all: where and why.
    pub mistakes: Option<Mistakes>,
}

impl Refused {
    pub(crate) fn new(found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self {
            found: found.into(),
            expected: expected.into(),
            mistakes: None,
        }
    }

    pub(crate) fn unreadable(mistakes: &Mistakes) -> Self {
        Self {
            mistakes: Some(mistakes.clone()),
            ..Self::new("the job does not read", "")
        }
    }

    /// As mistakes of the text.
    #[must_use]
    pub fn into_mistakes(self, text: &str) -> Mistakes {
        let Self {
            found,
            expected,
            mistakes,
        } = self;
        mistakes.unwrap_or_else(|| Mistake::new(0..0, found, expected).alone(text))
    }
}

/// Hands over the rulebook that a job is under, for edits that follow from it.
pub type Books<'b> = dyn Fn(&JobFile) -> Option<Rulebook> + 'b;

/// The text with every edit made, one after the other, and the job it then reads as.
///
/// # Errors
/// When an edit cannot be made, or when the text would not read as a job afterwards; nothing is changed then.
pub fn apply(text: &str, edits: &[Edit], books: &Books<'_>) -> Result<JobFile, Mistakes> {
    // What is no TOML is refused by its reader, which says where.
    let mut edited = text.to_owned();
    for edit in edits {
        edited = one(&edited, edit, books).map_err(|refused| match JobFile::read(text) {
            Err(mistakes) if refused.mistakes.is_none() => mistakes,
            _ => refused.into_mistakes(&edited),
        })?;
    }
    JobFile::read(&edited)
}

fn one(text: &str, edit: &Edit, books: &Books<'_>) -> Result<String, Refused> {
    match edit {
        Edit::Set {
            at,
            to: Value::Null,
        } => remove::remove(text, at),
        Edit::Set { at, to } => set::set(text, at, to, None),
        Edit::Rename { at, rename } => names::rename(text, at, rename),
        Edit::Copy { at, copy } => copy::copy(text, at, copy),
        Edit::Place { at, place } => {
            let file = JobFile::read(text).map_err(|m| Refused::unreadable(&m))?;
            match (at.as_slice(), books(&file)) {
                ([picture, sort, id], Some(book)) if picture == "after" && sort == "boards" => {
                    place::place(text, id, place, &book)
                }
                _ => Err(Refused::new(
                    format!("`{}` cannot be put on a wall", at.join(".")),
                    "a board of the picture after the work, for example `after.boards.P`",
                )),
            }
        }
    }
}
