//! One counted thing of a take-off: what, how many, where, and why.
//! Source: the difference of the two pictures and the findings. Pieces, feet, labour units of the price book.

use std::borrow::Cow;

use rulebook::requirement::BoundRequirement;
use serde::Serialize;
use shop::Count;

use crate::facts::Place;

/// A name of the price book.
pub type Name<'a> = Cow<'a, str>;

/// What is counted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PricedThing")]
#[serde(rename_all = "snake_case")]
pub enum What<'a> {
    /// A part, by its name in the parts table.
    Part(Name<'a>),
    /// Work, by its item in the labour table.
    Work(Name<'a>),
    /// A fee that is passed on at cost.
    Fee(Fee),
}

/// What offices ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Fee {
    /// Permit and plan review.
    Permit,
    /// The utility's disconnecting and connecting again.
    Utility,
}

/// Part of the offer that a line belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PriceGroup")]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// Boards and what becomes of old cabinets.
    Boards,
    /// Feeders and service conductors.
    Feeders,
    /// Branch circuits: landed, lengthened, new.
    Circuits,
    /// Breakers.
    Breakers,
    /// Whatever else a requirement asks for.
    Required,
    /// Travel, making safe, tests, records, cleaning up.
    SafetyAndTests,
    /// Permit, inspection, utility.
    Permit,
    /// What the customer chose besides.
    Options,
}

impl Group {
    /// As a heading.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Boards => "Panelboards",
            Self::Feeders => "Feeders and service conductors",
            Self::Circuits => "Branch circuits",
            Self::Breakers => "Breakers and protection",
            Self::Required => "Besides, because the code asks for it",
            Self::SafetyAndTests => "Making safe, tests, records, cleaning up",
            Self::Permit => "Permit, inspection, utility",
            Self::Options => "Options chosen",
        }
    }
}

/// Why a line is there.
#[derive(Clone, Copy, Debug)]
pub enum Because<'a> {
    /// The work itself.
    Work(&'static str),
    /// A requirement that bites.
    Requirement(&'a BoundRequirement),
    /// An option that the customer chose, by name and title.
    Chosen(&'a str, &'a str),
}

impl<'a> Because<'a> {
    /// The requirement's id, where it is one.
    #[must_use]
    pub fn requirement(&self) -> Option<&'a str> {
        match self {
            Self::Requirement(r) => Some(r.requirement().id.as_str()),
            Self::Work(_) | Self::Chosen(..) => None,
        }
    }

    /// In words, with the section where a requirement stands behind it.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Work(words) => (*words).to_owned(),
            Self::Chosen(_, title) => (*title).to_owned(),
            Self::Requirement(r) => match r.cite() {
                Some(cite) => format!("{} ({})", r.requirement().title, cite.section),
                None => r.requirement().title.clone(),
            },
        }
    }

    /// For telling reasons apart and putting them in order.
    pub(crate) fn key(&self) -> (u8, &str) {
        match self {
            Self::Work(words) => (0, words),
            Self::Requirement(r) => (1, r.requirement().id.as_str()),
            Self::Chosen(name, _) => (2, name),
        }
    }
}

impl PartialEq for Because<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.key() == other.key()
    }
}

/// One counted thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<'a> {
    /// Part of the offer.
    pub group: Group,
    /// What.
    pub what: What<'a>,
    /// How many, of the unit that the book gives it.
    pub count: Count,
    /// Where.
    pub place: Place<'a>,
    /// Why.
    pub because: Because<'a>,
    /// First part of the bill it stands on: two requirements with the same first part at one place are answered by one.
    pub(crate) lead: Name<'a>,
}

impl<'a> Line<'a> {
    pub(crate) fn new(
        group: Group,
        what: What<'a>,
        count: Count,
        place: Place<'a>,
        because: Because<'a>,
    ) -> Self {
        let lead = match &what {
            What::Part(name) | What::Work(name) => name.clone(),
            What::Fee(_) => Name::Borrowed(""),
        };
        Self {
            group,
            what,
            count,
            place,
            because,
            lead,
        }
    }

    /// What two lines have in common that are one and the same thing.
    pub(crate) fn key(&self) -> (Name<'a>, What<'a>, Place<'a>) {
        (self.lead.clone(), self.what.clone(), self.place)
    }
}

/// Something that cannot be counted or priced: the total is not complete without it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[schemars(rename = "PriceGap")]
pub struct Gap {
    /// What is not priced.
    pub what: String,
    /// What to do about it: a line of the book or a field of the job file.
    pub advice: String,
}

/// Collects lines for one place and one reason.
pub(crate) struct Lines<'a> {
    pub(crate) all: Vec<Line<'a>>,
    pub(crate) gaps: Vec<Gap>,
}

impl<'a> Lines<'a> {
    pub(crate) const fn new() -> Self {
        Self {
            all: Vec::new(),
            gaps: Vec::new(),
        }
    }

    pub(crate) fn part(
        &mut self,
        at: (Group, Place<'a>, Because<'a>),
        name: impl Into<Name<'a>>,
        count: Count,
    ) {
        self.push(at, What::Part(name.into()), count);
    }

    pub(crate) fn work(
        &mut self,
        at: (Group, Place<'a>, Because<'a>),
        item: impl Into<Name<'a>>,
        count: Count,
    ) {
        self.push(at, What::Work(item.into()), count);
    }

    pub(crate) fn push(
        &mut self,
        (group, place, because): (Group, Place<'a>, Because<'a>),
        what: What<'a>,
        count: Count,
    ) {
        if count > Count::ZERO {
            self.all.push(Line::new(group, what, count, place, because));
        }
    }

    pub(crate) fn gap(&mut self, what: impl Into<String>, advice: impl Into<String>) {
        let gap = Gap {
            what: what.into(),
            advice: advice.into(),
        };
        if !self.gaps.contains(&gap) {
            self.gaps.push(gap);
        }
    }
}
