//! Why is a condition true, false or unknown? The same tree in words, each part with its truth and facts.
//! Source: meanings in `data/facts.toml`. Values are printed with their units.

use model::Edition;

use super::Kleene;
use super::compile::{bit, mask, number, numbers};
use super::constants::Constants;
use super::expression::{Expression, List, Relation, Term, print};
use crate::facts::{Datum, FactDictionary, FactEntry, FactId, FactSet};

/// One part of a condition, in words, with what it came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The part in words, for example `Breaker rating is at most 20 A`.
    pub text: String,
    /// The part as the data file writes it.
    pub condition: String,
    /// What it came to.
    pub truth: Kleene,
    /// Facts that this part itself reads, not those of its parts, with their values; `None` when nobody knows.
    pub facts: Vec<(FactId, Option<Datum>)>,
    /// The parts it is made of.
    pub children: Vec<Self>,
}

/// Explains without short circuit, so that every part shows its truth.
pub(crate) fn explain(
    expression: &Expression,
    slots: &[Option<Datum>],
    facts: &FactDictionary,
    constants: &Constants,
    edition: Edition,
) -> Explanation {
    Explainer {
        slots,
        facts,
        constants,
        edition,
    }
    .part(expression)
}

/// Adds every fact of the expression to the set.
pub(crate) fn collect(expression: &Expression, set: &mut FactSet) {
    match expression {
        Expression::Truth(_) => {}
        Expression::Flag(fact)
        | Expression::Word { fact, .. }
        | Expression::In { fact, .. }
        | Expression::Has { fact, .. }
        | Expression::HasAny { fact, .. } => set.insert(*fact),
        Expression::Compare { left, right, .. } => {
            for term in [left, right] {
                if let Term::Fact { fact, .. } = term {
                    set.insert(*fact);
                }
            }
        }
        Expression::Not(inner) => collect(inner, set),
        Expression::All(parts) | Expression::Any(parts) => {
            parts.iter().for_each(|part| collect(part, set));
        }
    }
}

/// Adds every fact that is looked for in a named constant.
pub(crate) fn lists(expression: &Expression, found: &mut Vec<(FactId, String)>) {
    match expression {
        Expression::In { fact, list } | Expression::HasAny { fact, list } => {
            if let List::Constant(name) = list {
                found.push((*fact, name.clone()));
            }
        }
        Expression::Not(inner) => lists(inner, found),
        Expression::All(parts) | Expression::Any(parts) => {
            parts.iter().for_each(|part| lists(part, found));
        }
        _ => {}
    }
}

struct Explainer<'a> {
    slots: &'a [Option<Datum>],
    facts: &'a FactDictionary,
    constants: &'a Constants,
    edition: Edition,
}

impl Explainer<'_> {
    fn part(&self, expression: &Expression) -> Explanation {
        let parts = match expression {
            Expression::Not(inner) => vec![self.part(inner)],
            Expression::All(parts) | Expression::Any(parts) => {
                parts.iter().map(|part| self.part(part)).collect()
            }
            _ => Vec::new(),
        };
        let mut own = FactSet::EMPTY;
        if parts.is_empty() {
            collect(expression, &mut own);
        }
        let (words, truth) = match expression {
            Expression::Truth(true) => ("always".to_owned(), Kleene::True),
            Expression::Truth(false) => ("never".to_owned(), Kleene::False),
            Expression::Not(_) => {
                let inner = parts.first().map_or(Kleene::Unknown, |p| p.truth);
                ("not so:".to_owned(), !inner)
            }
            Expression::All(_) => {
                let truth = parts.iter().fold(Kleene::True, |t, p| t.and(p.truth));
                ("all of these:".to_owned(), truth)
            }
            Expression::Any(_) => {
                let truth = parts.iter().fold(Kleene::False, |t, p| t.or(p.truth));
                ("at least one of these:".to_owned(), truth)
            }
            Expression::Compare {
                left,
                relation,
                right,
            } => self.compare(left, *relation, right),
            Expression::Flag(fact) => (self.meaning(*fact).to_owned(), self.test(*fact, flag)),
            Expression::Word { fact, is, word } => {
                let mask = if *is { bit(*word) } else { !bit(*word) };
                let verb = if *is { "is" } else { "is not" };
                let words = format!("{} {verb} {}", self.meaning(*fact), self.word(*fact, *word));
                (words, self.test(*fact, |d| in_words(d, mask)))
            }
            Expression::Has { fact, word } => {
                let words = format!(
                    "{}: includes {}",
                    self.meaning(*fact),
                    self.word(*fact, *word)
                );
                (words, self.test(*fact, |d| shares(d, bit(*word))))
            }
            Expression::HasAny { fact, list } => {
                let mask = self.mask(*fact, list);
                let words = format!(
                    "{}: includes any of {}",
                    self.meaning(*fact),
                    self.words_of(*fact, mask)
                );
                (words, self.test(*fact, |d| shares(d, mask)))
            }
            Expression::In { fact, list } => self.one_of(*fact, list),
        };
        Explanation {
            text: words,
            condition: print(expression, self.facts),
            truth,
            facts: own.iter().map(|fact| (fact, self.reading(fact))).collect(),
            children: parts,
        }
    }

    fn compare(&self, left: &Term, relation: Relation, right: &Term) -> (String, Kleene) {
        let truth = self
            .value(left)
            .zip(self.value(right))
            .and_then(|(l, r)| relation.holds(l, r))
            .into();
        let unit = |term: &Term| match term {
            Term::Fact { fact, .. } => self.facts.get(*fact).and_then(|e| e.unit.clone()),
            _ => None,
        };
        let unit = unit(left).or_else(|| unit(right));
        let words = format!(
            "{} {} {}",
            self.term(left, unit.as_deref()),
            relation.words(),
            self.term(right, unit.as_deref())
        );
        (words, truth)
    }

    fn one_of(&self, fact: FactId, list: &List) -> (String, Kleene) {
        let meaning = self.meaning(fact);
        if let Some(numbers) = numbers(list, self.constants, self.edition) {
            let entry = self.facts.get(fact);
            let all: Vec<String> = numbers
                .iter()
                .map(|n| entry.map_or_else(|| n.to_string(), |e| e.print(Datum::Number(*n))))
                .collect();
            let truth = self.test(fact, |d| match d {
                Datum::Number(n) if n.is_finite() => Some(numbers.contains(&n)),
                _ => None,
            });
            return (format!("{meaning} is one of {}", all.join(", ")), truth);
        }
        let mask = self.mask(fact, list);
        let words = format!("{meaning} is one of {}", self.words_of(fact, mask));
        (words, self.test(fact, |d| in_words(d, mask)))
    }

    fn term(&self, term: &Term, unit: Option<&str>) -> String {
        match term {
            Term::Edition => "the edition".to_owned(),
            Term::Fact { fact, times } if *times == 1.0 => self.meaning(*fact).to_owned(),
            Term::Fact { fact, times } => format!("{times} times {}", self.meaning(*fact)),
            other => {
                let n = number(other, self.constants, self.edition);
                unit.map_or_else(|| n.to_string(), |unit| format!("{n} {unit}"))
            }
        }
    }

    fn value(&self, term: &Term) -> Option<f64> {
        match term {
            Term::Fact { fact, times } => match self.slot(*fact)? {
                Datum::Number(n) => Some(n * times).filter(|n| n.is_finite()),
                _ => None,
            },
            other => Some(number(other, self.constants, self.edition)),
        }
    }

    fn test(&self, fact: FactId, holds: impl Fn(Datum) -> Option<bool>) -> Kleene {
        self.slot(fact).and_then(holds).into()
    }

    /// A value of the wrong kind reads as unknown, as it does when evaluating.
    fn reading(&self, fact: FactId) -> Option<Datum> {
        let entry = self.facts.get(fact)?;
        self.slot(fact).filter(|datum| entry.kind == datum.kind())
    }

    fn slot(&self, fact: FactId) -> Option<Datum> {
        self.slots.get(fact.index()).copied().flatten()
    }

    fn mask(&self, fact: FactId, list: &List) -> u64 {
        mask(fact, list, self.facts, self.constants, self.edition)
    }

    fn meaning(&self, fact: FactId) -> &str {
        self.facts.get(fact).map_or("?", |e: &FactEntry| &e.meaning)
    }

    fn word(&self, fact: FactId, word: u16) -> String {
        self.words_of(fact, bit(word))
    }

    fn words_of(&self, fact: FactId, mask: u64) -> String {
        self.facts
            .get(fact)
            .map_or_else(|| "?".to_owned(), |e| e.print(Datum::Set(mask)))
    }
}

fn flag(datum: Datum) -> Option<bool> {
    match datum {
        Datum::Bool(truth) => Some(truth),
        _ => None,
    }
}

fn in_words(datum: Datum, mask: u64) -> Option<bool> {
    match datum {
        Datum::Word(word) => Some(mask & bit(word) != 0),
        _ => None,
    }
}

fn shares(datum: Datum, mask: u64) -> Option<bool> {
    match datum {
        Datum::Set(bits) => Some(bits & mask != 0),
        _ => None,
    }
}
