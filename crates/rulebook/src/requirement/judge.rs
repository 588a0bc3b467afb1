//! Does a requirement bind this job, and is it met?
//! Source: the requirement's own conditions, in one edition. No units.

use std::sync::Arc;

use model::Edition;

use super::Requirement;
use super::words::{Kind, Outcome};
use crate::condition::{Compiled, Constants, Explanation, Kleene};
use crate::facts::{Datum, FactDictionary, FactId, FactSet};
use crate::source::Cite;

/// What a requirement comes to for the facts at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// The edition has no such requirement, it does not apply, or it is the record of a common but wrong belief.
    NotRequired,
    /// It applies and is not met, or only a person can tell whether it is.
    Required,
    /// It applies and is met.
    Met,
    /// It applies; whether it is met depends on missing facts.
    CannotTellIfMet,
    /// Whether it applies depends on missing facts.
    CannotTellIfApplies,
}

impl Verdict {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::NotRequired,
        Self::Required,
        Self::Met,
        Self::CannotTellIfMet,
        Self::CannotTellIfApplies,
    ];

    /// As data files and people write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NotRequired => "not required",
            Self::Required => "required",
            Self::Met => "met",
            Self::CannotTellIfMet => "cannot tell if met",
            Self::CannotTellIfApplies => "cannot tell if it applies",
        }
    }

    /// One letter for tables: N, R, M, V (applies, cannot tell if met), U (cannot tell if it applies).
    #[must_use]
    pub const fn code(self) -> char {
        match self {
            Self::NotRequired => 'N',
            Self::Required => 'R',
            Self::Met => 'M',
            Self::CannotTellIfMet => 'V',
            Self::CannotTellIfApplies => 'U',
        }
    }

    /// Which of the three ends it is; something already met is none of them.
    #[must_use]
    pub const fn outcome(self) -> Option<Outcome> {
        match self {
            Self::NotRequired => Some(Outcome::NotRequired),
            Self::Required => Some(Outcome::Required),
            Self::Met => None,
            Self::CannotTellIfMet | Self::CannotTellIfApplies => Some(Outcome::CannotTell),
        }
    }
}

impl std::fmt::Display for Verdict {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

impl serde::Serialize for Verdict {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.name())
    }
}

impl schemars::JsonSchema for Verdict {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "FindingVerdict".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let names = Self::ALL.map(Self::name);
        schemars::json_schema!({ "type": "string", "enum": names })
    }
}

/// A verdict with the facts behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// Facts that would have to be known to tell; none when it can be told.
    pub missing: FactSet,
    /// Facts that were looked at.
    pub read: FactSet,
}

/// A requirement bound to one edition.
#[derive(Clone, Debug)]
pub struct BoundRequirement {
    requirement: Arc<Requirement>,
    edition: Edition,
    applies: Compiled,
    satisfied: Option<Compiled>,
    reads: FactSet,
    facts: Arc<FactDictionary>,
    constants: Arc<Constants>,
}

/// Why a requirement came to its verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct Reasons {
    /// The verdict and the facts behind it.
    pub judgement: Judgement,
    /// The section in the edition; `None` where the requirement does not exist.
    pub cite: Option<Cite>,
    /// Why it applies or does not.
    pub applies: Explanation,
    /// Why it is met or not; `None` when only a person can tell.
    pub satisfied: Option<Explanation>,
}

impl BoundRequirement {
    pub(crate) fn new(
        requirement: Arc<Requirement>,
        facts: Arc<FactDictionary>,
        constants: Arc<Constants>,
        edition: Edition,
    ) -> Self {
        let compile = |condition: &crate::Condition| condition.compile(&facts, &constants, edition);
        Self {
            applies: compile(&requirement.applies),
            satisfied: requirement.satisfied.as_ref().map(compile),
            reads: requirement.facts(),
            requirement,
            edition,
            facts,
            constants,
        }
    }

    /// The requirement in all editions.
    #[must_use]
    pub fn requirement(&self) -> &Arc<Requirement> {
        &self.requirement
    }

    /// Its section in this edition; `None` where it does not exist.
    #[must_use]
    pub fn cite(&self) -> Option<Cite> {
        self.requirement.cite(self.edition).cloned()
    }

    /// The edition it is bound to.
    #[must_use]
    pub fn edition(&self) -> Edition {
        self.edition
    }

    /// All facts that its conditions can read, in any edition.
    #[must_use]
    pub fn facts(&self) -> FactSet {
        self.reads
    }

    /// Numbers that the fact is held against in this edition, ascending, in the fact's unit.
    #[must_use]
    pub fn thresholds(&self, fact: FactId) -> Vec<f64> {
        let mut all = self.applies.thresholds(fact);
        if let Some(satisfied) = &self.satisfied {
            all.extend(satisfied.thresholds(fact));
        }
        all.sort_by(f64::total_cmp);
        all.dedup();
        all
    }

    /// Sets of words that a set fact is held against in this edition, as bits, ascending.
    #[must_use]
    pub fn masks(&self, fact: FactId) -> Vec<u64> {
        let satisfied = self.satisfied.iter().flat_map(|s| s.masks(fact));
        let mut all: Vec<u64> = self.applies.masks(fact).chain(satisfied).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Judges the facts at hand: one slot per fact of the dictionary, `None` is unknown. Allocates nothing.
    #[must_use]
    pub fn judge(&self, slots: &[Option<Datum>]) -> Judgement {
        if self.requirement.cite(self.edition).is_none() {
            return Judgement {
                verdict: Verdict::NotRequired,
                missing: FactSet::EMPTY,
                read: FactSet::EMPTY,
            };
        }
        let applies = self.applies.eval(slots);
        let judged = |verdict, missing, read| Judgement {
            verdict,
            missing,
            read,
        };
        match applies.truth {
            Kleene::False => judged(Verdict::NotRequired, FactSet::EMPTY, applies.read),
            Kleene::Unknown => judged(Verdict::CannotTellIfApplies, applies.missing, applies.read),
            // A record that a common belief is wrong: where it applies, it says that nothing is asked.
            Kleene::True if self.requirement.kind == Kind::NotTriggered => {
                judged(Verdict::NotRequired, FactSet::EMPTY, applies.read)
            }
            Kleene::True => {
                let Some(satisfied) = &self.satisfied else {
                    return judged(Verdict::Required, FactSet::EMPTY, applies.read);
                };
                let met = satisfied.eval(slots);
                let verdict = match met.truth {
                    Kleene::True => Verdict::Met,
                    Kleene::False => Verdict::Required,
                    Kleene::Unknown => Verdict::CannotTellIfMet,
                };
                judged(verdict, met.missing, applies.read.union(&met.read))
            }
        }
    }

    /// The same judgement with every part of both conditions in words.
    #[must_use]
    pub fn explain(&self, slots: &[Option<Datum>]) -> Reasons {
        let explain = |condition: &crate::Condition| {
            condition.explain(slots, &self.facts, &self.constants, self.edition)
        };
        Reasons {
            judgement: self.judge(slots),
            cite: self.cite(),
            applies: explain(&self.requirement.applies),
            satisfied: self.requirement.satisfied.as_ref().map(explain),
        }
    }
}
