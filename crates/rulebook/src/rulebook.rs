//! What binds one job: one edition, with the amendments in force on the permit's date.
//! Source: a [`Library`]. Made once per edition and place, then only read; cheap to clone and to share between threads.

use std::sync::Arc;

use model::{Date, Edition};

use crate::LoadError;
use crate::adoption::Adoption;
use crate::amendment::{self, Amendment, Standing, StandingOf};
use crate::condition::Constants;
use crate::facts::FactDictionary;
use crate::library::Library;
use crate::requirement::{BoundRequirement, Requirement};
use crate::tables::{Tables, TablesIn};

/// The requirements and tables of one edition, as amended.
#[derive(Clone, Debug)]
pub struct Rulebook {
    edition: Edition,
    facts: Arc<FactDictionary>,
    constants: Arc<Constants>,
    requirements: Arc<[BoundRequirement]>,
    switched_off: Arc<[SwitchedOff]>,
    standings: Arc<[StandingOf]>,
    adoption: Arc<Adoption>,
    tables: Arc<Tables>,
}

/// A requirement that an amendment in force takes away.
#[derive(Clone, Debug)]
pub struct SwitchedOff {
    /// The requirement.
    pub requirement: Arc<Requirement>,
    /// Title of the amendment.
    pub by: Arc<str>,
    /// Its reason.
    pub because: String,
}

impl Library {
    /// Binds the library to one edition and lays on the amendments that are in force on the permit's date. An amendment for another
    /// edition or another time is not applied, nor is one when the date is unknown: [`Rulebook::amendments`] says which and why.
    ///
    /// # Errors
    /// When amendments in force contradict each other or the library.
    pub fn rulebook(
        &self,
        edition: Edition,
        amendments: &[Amendment],
        permit: Option<Date>,
    ) -> Result<Rulebook, Vec<LoadError>> {
        let mut draft = amendment::Draft::new(&self.rules);
        let mut errors = Vec::new();
        let mut standings = Vec::new();
        for amendment in amendments {
            let standing = amendment.standing(edition, permit);
            if standing == Standing::InForce
                && let Err(more) = amendment.apply(&mut draft)
            {
                errors.extend(more);
            }
            standings.push(StandingOf {
                title: Arc::clone(&amendment.title),
                standing,
            });
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let (rules, switched_off) = draft.finish();
        let bind = |requirement: &Arc<Requirement>| {
            BoundRequirement::new(
                Arc::clone(requirement),
                Arc::clone(&rules.facts),
                Arc::clone(&rules.constants),
                edition,
            )
        };
        Ok(Rulebook {
            edition,
            requirements: rules.requirements.iter().map(bind).collect(),
            switched_off: switched_off.into(),
            standings: standings.into(),
            facts: rules.facts,
            constants: rules.constants,
            adoption: Arc::clone(&self.adoption),
            tables: Arc::clone(&self.tables),
        })
    }
}

impl Rulebook {
    /// The edition.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// The published tables of the edition.
    #[must_use]
    pub fn tables(&self) -> TablesIn<'_> {
        self.tables.edition(self.edition)
    }

    /// All facts that conditions may read; amendments may have added some at the end.
    #[must_use]
    pub fn facts(&self) -> &Arc<FactDictionary> {
        &self.facts
    }

    /// All constants, as amended.
    #[must_use]
    pub fn constants(&self) -> &Arc<Constants> {
        &self.constants
    }

    /// All requirements, in a fixed order; those that the edition does not have are among them and are never required.
    #[must_use]
    pub fn requirements(&self) -> &[BoundRequirement] {
        &self.requirements
    }

    /// A requirement by its id.
    #[must_use]
    pub fn requirement(&self, id: &str) -> Option<&BoundRequirement> {
        self.requirements.iter().find(|r| r.requirement().id == id)
    }

    /// The valid id most like a wrong one.
    #[must_use]
    pub fn nearest(&self, id: &str) -> Option<&str> {
        model::nearest::nearest(
            id,
            self.requirements
                .iter()
                .map(|r| r.requirement().id.as_str()),
        )
    }

    /// Requirements that amendments in force take away.
    #[must_use]
    pub fn switched_off(&self) -> &[SwitchedOff] {
        &self.switched_off
    }

    /// Every amendment that was handed in, and whether it is in force.
    #[must_use]
    pub fn amendments(&self) -> &[StandingOf] {
        &self.standings
    }

    /// What published lists say about the states. Advice only.
    #[must_use]
    pub fn adoption(&self) -> &Adoption {
        &self.adoption
    }
}
