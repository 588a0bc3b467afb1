//! Which papers there are.

use std::fmt;

/// A paper of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paper {
    /// For the customer, before signing.
    Proposal,
    /// For the permit office.
    Permit,
    /// For the people who do the work.
    Crew,
    /// For the day of the inspection.
    Inspection,
    /// For the door of each panel.
    Directory,
    /// For the customer, when all is done.
    HandOver,
    /// For the shop alone.
    Cost,
}

impl Paper {
    /// All of them, in the order of the job.
    pub const ALL: [Self; 7] = [
        Self::Proposal,
        Self::Permit,
        Self::Crew,
        Self::Inspection,
        Self::Directory,
        Self::HandOver,
        Self::Cost,
    ];

    /// Name on the command line, and of its file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Proposal => "proposal",
            Self::Permit => "permit",
            Self::Crew => "crew",
            Self::Inspection => "inspection",
            Self::Directory => "directory",
            Self::HandOver => "hand-over",
            Self::Cost => "cost",
        }
    }

    /// The paper of this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.name() == name)
    }

    /// How long it takes beside the others, roughly: its usual pages.
    pub(crate) const fn weight(self) -> u8 {
        match self {
            Self::Permit => 16,
            Self::Crew => 15,
            Self::HandOver => 9,
            Self::Inspection => 8,
            Self::Proposal => 7,
            Self::Cost => 6,
            Self::Directory => 2,
        }
    }

    /// Its template.
    pub(crate) const fn template(self) -> &'static str {
        match self {
            Self::Proposal => "proposal.typ",
            Self::Permit => "permit.typ",
            Self::Crew => "crew.typ",
            Self::Inspection => "inspection.typ",
            Self::Directory => "directory.typ",
            Self::HandOver => "hand-over.typ",
            Self::Cost => "cost.typ",
        }
    }
}

impl fmt::Display for Paper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
