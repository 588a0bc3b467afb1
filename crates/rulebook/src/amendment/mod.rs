//! What does a state, county or city change, and is it in force on the permit's date?
//! Source: an amendment file, `docs/add-a-rule.md` describes the form. Applied only when its edition and dates fit.

mod draft;

use std::sync::Arc;

use model::{Date, Edition};

use crate::LoadError;
use crate::library::Library;
use crate::reader::{Fields, Source};
use crate::source::Check;

pub(crate) use draft::Draft;
use draft::{Origin, body};

/// An amendment file, checked against a library.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amendment {
    /// Its title.
    pub title: Arc<str>,
    /// Who made it.
    pub authority: String,
    /// Two letters of the state it belongs to.
    pub state: String,
    /// Editions it was written on.
    pub editions: Vec<Edition>,
    /// First day it is in force.
    pub from: Date,
    /// Last day it is in force; `None` while nobody knows an end.
    pub to: Option<Date>,
    /// How far it was checked.
    pub check: Check,
    /// A remark.
    pub note: Option<String>,
    file: String,
    text: String,
}

/// Whether an amendment binds a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
#[schemars(rename = "AmendmentStanding")]
#[serde(rename_all = "snake_case", tag = "standing")]
pub enum Standing {
    /// It does, and is applied.
    InForce,
    /// It was written on other editions.
    OtherEdition,
    /// The permit is older.
    NotYet {
        /// First day it is in force.
        from: Date,
    },
    /// The permit is younger.
    Over {
        /// Last day it was in force.
        to: Date,
    },
    /// Nobody knows the permit's date, so nobody can tell. Not applied.
    DateUnknown,
}

/// An amendment by title, and whether it binds.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
#[schemars(rename = "AmendmentStands")]
pub struct StandingOf {
    /// Title of the amendment.
    #[serde(serialize_with = "crate::source::as_text")]
    #[schemars(with = "String")]
    pub title: Arc<str>,
    /// Whether it binds.
    #[serde(flatten)]
    pub standing: Standing,
}

impl Amendment {
    /// Reads an amendment and tries it on the library.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn parse(file: &str, text: &str, library: &Library) -> Result<Self, Vec<LoadError>> {
        let source = Source { file, text };
        let mut draft = Draft::new(&library.rules);
        let read = source.read("an amendment", |root| {
            let header = header(root, library, &source);
            let origin = header.as_ref().map(Amendment::origin).unwrap_or_default();
            body(root, &origin, &mut draft);
            header
        })?;
        read.ok_or_else(|| {
            vec![source.error(
                0,
                "a whole amendment",
                "less than that",
                "complete its first lines",
            )]
        })
    }

    /// Whether it binds a job of that edition and permit date.
    #[must_use]
    pub fn standing(&self, edition: Edition, permit: Option<Date>) -> Standing {
        if !self.editions.contains(&edition) {
            return Standing::OtherEdition;
        }
        match (permit, self.to) {
            (None, _) => Standing::DateUnknown,
            (Some(day), _) if day < self.from => Standing::NotYet { from: self.from },
            (Some(day), Some(to)) if day > to => Standing::Over { to },
            _ => Standing::InForce,
        }
    }

    /// Lays it on what is there already.
    pub(crate) fn apply(&self, draft: &mut Draft) -> Result<(), Vec<LoadError>> {
        let source = Source {
            file: &self.file,
            text: &self.text,
        };
        source.read("an amendment", |root| {
            for key in HEADER {
                root.allow(key);
            }
            body(root, &self.origin(), draft);
        })
    }

    fn origin(&self) -> Origin {
        Origin {
            title: Arc::clone(&self.title),
            check: self.check,
        }
    }
}

const HEADER: [&str; 8] = [
    "title",
    "authority",
    "state",
    "editions",
    "from",
    "to",
    "check",
    "note",
];

fn header(root: &mut Fields<'_>, library: &Library, source: &Source<'_>) -> Option<Amendment> {
    let title = root.text("title");
    let authority = root.text("authority");
    let state = root.located("state");
    if let Some(state) = state
        && let Err(unknown) = library.adoption.state(state.text)
    {
        let found = format!("`{}`", state.text);
        root.fail(
            state.start,
            "the two letters of a state",
            &found,
            &unknown.help,
        );
    }
    let editions = root.editions("editions");
    if editions.is_empty() {
        let at = root.place("editions");
        let help = "add the editions it was written on, for example editions = [2023]";
        root.fail(at, "at least one edition", "none", help);
    }
    let from = root.optional_date("from");
    if !root.has("from") {
        let at = root.start();
        root.fail(
            at,
            "`from` in an amendment",
            "none",
            "add the first day it is in force",
        );
    }
    let to = root.optional_date("to");
    if let (Some(from), Some(to)) = (from, to)
        && to < from
    {
        let at = root.place("to");
        let expected = format!("a day not before {from}");
        root.fail(at, &expected, &to.to_string(), "swap `from` and `to`");
    }
    let check = root.check("check");
    let note = root.optional_text("note");
    Some(Amendment {
        title: title?.into(),
        authority: authority?,
        state: state?.text.to_owned(),
        editions,
        from: from?,
        to,
        check: check?,
        note,
        file: source.file.to_owned(),
        text: source.text.to_owned(),
    })
}
