//! What the store holds of a job: its card for the list, its text, its revisions.
//! Times in milliseconds since 1970 UTC, money in dollars and cents, days as year-month-day.

use std::fmt;
use std::str::FromStr;

use model::{Date, Dollars};

use crate::error::Error;
use crate::id::JobId;

/// A moment: milliseconds since 1970-01-01 UTC.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(pub i64);

/// How far a job has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Looking at the house.
    #[default]
    WalkThrough,
    /// An offer is out.
    Offer,
    /// The customer signed.
    Signed,
    /// The permit is applied for or here.
    Permit,
    /// The day of the work.
    CutOver,
    /// Waiting for, or after, the inspection.
    Inspection,
    /// Handed over.
    HandedOver,
    /// Given up.
    Dropped,
}

impl Stage {
    /// Every stage, in order.
    pub const ALL: [Self; 8] = [
        Self::WalkThrough,
        Self::Offer,
        Self::Signed,
        Self::Permit,
        Self::CutOver,
        Self::Inspection,
        Self::HandedOver,
        Self::Dropped,
    ];

    /// The word it is stored as.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::WalkThrough => "walk_through",
            Self::Offer => "offer",
            Self::Signed => "signed",
            Self::Permit => "permit",
            Self::CutOver => "cut_over",
            Self::Inspection => "inspection",
            Self::HandedOver => "handed_over",
            Self::Dropped => "dropped",
        }
    }

    /// The stage with this word.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.word() == word)
    }
}

/// Between what and what the price lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PriceRange {
    /// At least.
    pub low: Dollars,
    /// At most.
    pub high: Dollars,
}

/// What a list shows of a job. Title and price follow from the text; the rest is about the job itself and is not undone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Card {
    /// Title of the job.
    pub title: String,
    /// Where the house is.
    pub address: String,
    /// Who asked for it.
    pub customer: String,
    /// How far it has come.
    pub stage: Stage,
    /// The next day something is due.
    pub next_date: Option<Date>,
    /// The price, once it was worked out.
    pub price: Option<PriceRange>,
}

/// Who changes something, when, and why.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Change {
    /// When.
    pub at: Moment,
    /// Who.
    pub by: String,
    /// Why, in the author's words; may be empty.
    pub note: String,
}

/// A new text of a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Edit {
    /// Who, when, why.
    pub change: Change,
    /// What lists show from now on.
    pub card: Card,
    /// The text.
    pub text: String,
}

/// Back to an earlier text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Undo {
    /// The revision the author saw last.
    pub based_on: u32,
    /// The revision whose text comes back.
    pub to: u32,
    /// Who, when, why.
    pub change: Change,
}

/// A job as it is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Its entry in the list.
    pub listed: Listed,
    /// Its text.
    pub text: String,
}

/// A job in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Its id.
    pub id: JobId,
    /// What to show.
    pub card: Card,
    /// The newest revision.
    pub revision: u32,
    /// When it was changed last.
    pub updated_at: Moment,
    /// Was it removed?
    pub is_removed: bool,
}

/// A line of a job's history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Counts from 1.
    pub number: u32,
    /// Who, when, why.
    pub change: Change,
    /// Title of the job then.
    pub title: String,
    /// Price then.
    pub price: Option<PriceRange>,
}

/// A text a job once had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// Its line in the history.
    pub entry: Entry,
    /// The text.
    pub text: String,
}

/// A part of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// From the one changed last backwards.
    pub jobs: Vec<Listed>,
    /// Where the next page starts; `None` at the end.
    pub next: Option<Cursor>,
}

/// The place between two jobs of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cursor {
    pub(crate) updated_at: Moment,
    pub(crate) id: JobId,
}

impl fmt::Display for Cursor {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{}", self.updated_at.0, self.id)
    }
}

impl FromStr for Cursor {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let (at, id) = text.split_once('.').ok_or(Error::BadCursor)?;
        Ok(Self {
            updated_at: Moment(at.parse().map_err(|_| Error::BadCursor)?),
            id: id.parse().map_err(|_| Error::BadCursor)?,
        })
    }
}
