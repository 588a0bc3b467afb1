//! Requirements: what a panel job can make the contractor do, and whether it does so for the facts at hand.
//! Source: the files under `data/requirements/`, one each; every field says how it was checked. Costs in US dollars.

mod case;
mod judge;
mod load;
mod words;

use std::sync::Arc;

use model::{Dollars, Edition};

use crate::condition::Condition;
use crate::facts::FactSet;
use crate::source::{Check, Cite};

pub use case::{Case, Unreachable};
pub use judge::{BoundRequirement, Judgement, Reasons, Verdict};
pub(crate) use load::{Known, condition, file, inline};
pub use words::{Bites, Kind, Outcome, Topic};

/// One requirement in all editions, as its file says it.
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement {
    /// Name of its file, and how everything refers to it.
    pub id: String,
    /// What it asks, in a line.
    pub title: String,
    /// Why it exists, in a sentence.
    pub why: String,
    /// Its subject: the folder of its file.
    pub subject: Topic,
    /// What makes it bite: new work, replacement, extension and so on.
    pub kind: Kind,
    /// Kinds of work that bring it up, as `data/triggers.toml` names them.
    pub triggers: Vec<String>,
    /// Section by edition, in order of [`Edition::ALL`]; `None` where the requirement does not exist.
    pub sections: [Option<Cite>; 5],
    /// When it applies.
    pub applies: Condition,
    /// When it is met; `None` when only a person can tell.
    pub satisfied: Option<Condition>,
    /// What satisfies it, in words.
    pub satisfied_by: Vec<String>,
    /// Exceptions, in words.
    pub exceptions: Vec<String>,
    /// What changed between editions.
    pub changes: Option<String>,
    /// Where readings differ.
    pub interpretation: Option<String>,
    /// A practical note.
    pub note: Option<String>,
    /// What is usually done about it.
    pub remedy: String,
    /// What the material for it costs; `None` when nobody gave a figure.
    pub cost: Option<Cost>,
    /// What the inspector looks for.
    pub inspector: Option<String>,
    /// By when it must have been seen, at the latest.
    pub bites: Bites,
    /// The project's own judgement of shock and fire danger when it is missed: 0 none to 3 grave.
    pub danger: u8,
    /// How far the substance was checked.
    pub check: Check,
    /// Published sources, as `data/sources.toml` names them.
    pub sources: Vec<String>,
    /// Examples that prove the conditions.
    pub cases: Vec<Case>,
    /// Outcomes that no facts can bring about, with the reason.
    pub unreachable: Vec<Unreachable>,
    /// File it came from.
    pub file: String,
    /// What amendments changed in it.
    pub amended: Vec<Amended>,
}

/// A range of material cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cost {
    /// Low end.
    pub low: Dollars,
    /// High end.
    pub high: Dollars,
    /// For one of what.
    pub per: String,
    /// How far it was checked.
    pub check: Check,
}

/// A change that an amendment made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amended {
    /// Title of the amendment.
    pub by: Arc<str>,
    /// Its reason.
    pub because: String,
}

impl Requirement {
    /// Its conditions: when it applies and, if told, when it is met.
    pub fn conditions(&self) -> impl Iterator<Item = &Condition> {
        std::iter::once(&self.applies).chain(&self.satisfied)
    }

    /// Its section in an edition; `None` where it does not exist.
    #[must_use]
    pub fn section(&self, edition: Edition) -> Option<&str> {
        self.sections[edition.index()]
            .as_ref()
            .map(|cite| &*cite.section)
    }

    /// The same with the edition and how far the number was checked.
    #[must_use]
    pub fn cite(&self, edition: Edition) -> Option<&Cite> {
        self.sections[edition.index()].as_ref()
    }

    /// All facts that its conditions can read.
    #[must_use]
    pub fn facts(&self) -> FactSet {
        self.conditions()
            .fold(FactSet::EMPTY, |all, one| all.union(&one.facts()))
    }
}
