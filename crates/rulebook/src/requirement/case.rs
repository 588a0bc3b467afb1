//! Do a requirement's own examples come out as its file says?
//! Source: the `[[case]]` tables of the requirement's file. Facts are in the units of the dictionary.

use std::sync::Arc;

use model::Edition;
use toml::Spanned;
use toml::de::DeValue;

use super::Requirement;
use super::judge::{BoundRequirement, Judgement, Verdict};
use super::words::Outcome;
use crate::condition::Constants;
use crate::facts::{Datum, FactDictionary, FactEntry, FactId, FactKind, FactSet};
use crate::reader::{Fields, describe, number};

/// Facts, and the verdict they must lead to.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// The edition it is judged in.
    pub edition: Edition,
    /// The facts that are known; all others are not.
    pub facts: Vec<(FactId, Datum)>,
    /// The verdict it must come to.
    pub verdict: Verdict,
    /// The facts that must be reported missing.
    pub missing: FactSet,
    /// Line in the file.
    pub line: usize,
}

/// An outcome that no facts in any edition can bring about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unreachable {
    /// Which one.
    pub outcome: Outcome,
    /// Why not.
    pub because: String,
}

impl Requirement {
    /// Every case that does not come out as the file says, with what came out instead.
    #[must_use]
    pub fn failing_cases(
        self: &Arc<Self>,
        facts: &Arc<FactDictionary>,
        constants: &Arc<Constants>,
    ) -> Vec<(&Case, Judgement)> {
        self.cases
            .iter()
            .filter_map(|case| {
                let rule = BoundRequirement::new(
                    Arc::clone(self),
                    Arc::clone(facts),
                    Arc::clone(constants),
                    case.edition,
                );
                let judged = rule.judge(&case.slots(facts));
                let right = judged.verdict == case.verdict && judged.missing == case.missing;
                (!right).then_some((case, judged))
            })
            .collect()
    }
}

impl Case {
    /// The case's facts, one slot per fact of the dictionary.
    #[must_use]
    pub fn slots(&self, facts: &FactDictionary) -> Vec<Option<Datum>> {
        let mut slots = vec![None; facts.len()];
        for (fact, datum) in &self.facts {
            if let Some(slot) = slots.get_mut(fact.index()) {
                *slot = Some(*datum);
            }
        }
        slots
    }
}

/// Reads the `[[case]]` tables.
pub(super) fn cases(fields: &mut Fields<'_>, dictionary: &FactDictionary) -> Vec<Case> {
    let mut cases = Vec::new();
    for mut case in fields.tables("case") {
        let choices = Verdict::ALL.map(|v| (v.name(), v));
        let verdict = case.one_of("verdict", &choices);
        let edition = case.edition("edition");
        let missing = case.optional_texts("missing");
        let at = case.place("missing");
        let missing = missing
            .iter()
            .filter_map(|name| find(&mut case, name, at, dictionary))
            .collect();
        let line = case.line();
        let mut facts = Vec::new();
        if let Some(mut inner) = case.table("facts") {
            for (subject, mut names) in inner.every_table() {
                for (name, at, value) in names.every() {
                    let full = format!("{subject}.{name}");
                    facts.extend(fact(&mut names, &full, at, value, dictionary));
                }
                inner.absorb(names);
            }
            case.absorb(inner);
        }
        fields.absorb(case);
        if let (Some(verdict), Some(edition)) = (verdict, edition) {
            cases.push(Case {
                edition,
                facts,
                verdict,
                missing,
                line,
            });
        }
    }
    cases
}

/// Reads the `[[unreachable]]` tables.
pub(super) fn unreachable(fields: &mut Fields<'_>) -> Vec<Unreachable> {
    let mut found = Vec::new();
    for mut one in fields.tables("unreachable") {
        let outcome = one.one_of("outcome", &Outcome::choices());
        let because = one.text("because");
        fields.absorb(one);
        if let (Some(outcome), Some(because)) = (outcome, because) {
            found.push(Unreachable { outcome, because });
        }
    }
    found
}

fn find(
    fields: &mut Fields<'_>,
    name: &str,
    at: usize,
    dictionary: &FactDictionary,
) -> Option<FactId> {
    let found = dictionary.find(name);
    if found.is_none() {
        let help = match dictionary.nearest(name) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "facts are declared in facts.toml".to_owned(),
        };
        fields.fail(at, "the name of a fact", &format!("`{name}`"), &help);
    }
    found
}

fn fact(
    fields: &mut Fields<'_>,
    name: &str,
    at: usize,
    value: &Spanned<DeValue<'_>>,
    dictionary: &FactDictionary,
) -> Option<(FactId, Datum)> {
    let id = find(fields, name, at, dictionary)?;
    let entry = dictionary.get(id)?;
    let datum = datum(entry, value.get_ref());
    if datum.is_none() {
        let found = match value.get_ref() {
            DeValue::Array(items) => items
                .iter()
                .filter_map(|i| i.get_ref().as_str())
                .find(|w| entry.word_index(w).is_none())
                .map_or_else(|| "a list".to_owned(), |word| format!("`{word}`")),
            other => describe(other),
        };
        let expected = format!("`{name}` to be {}", entry.takes());
        fields.fail(value.span().start, &expected, &found, "correct the value");
    }
    Some((id, datum?))
}

fn datum(entry: &FactEntry, value: &DeValue<'_>) -> Option<Datum> {
    match (entry.kind, value) {
        (FactKind::Bool, DeValue::Boolean(truth)) => Some(Datum::Bool(*truth)),
        (FactKind::Number, value) => number(value).map(Datum::Number),
        (FactKind::Word, DeValue::String(word)) => entry.word(word).ok(),
        (FactKind::Set, DeValue::Array(items)) => {
            let words: Option<Vec<&str>> = items.iter().map(|i| i.get_ref().as_str()).collect();
            entry.set(words?).ok()
        }
        _ => None,
    }
}
