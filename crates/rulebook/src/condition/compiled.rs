//! Is the condition true, false or unknown for these facts, in the edition it was compiled for?
//! Source: `docs/condition-language.md`. No allocation per evaluation: facts are slots, lists are bit masks, names are gone.

use super::expression::Relation;
use super::{Evaluation, Kleene};
use crate::facts::{Datum, FactId, FactSet};

/// A condition ready to be evaluated in one edition.
#[derive(Clone, Debug, PartialEq)]
pub struct Compiled {
    pub(super) nodes: Box<[Node]>,
    pub(super) parts: Box<[u32]>,
    pub(super) numbers: Box<[f64]>,
    pub(super) root: u32,
}

/// One step; indices are places in the compiled condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Node {
    Truth(bool),
    Flag(FactId),
    Compare(Operand, Relation, Operand),
    /// A word fact within the mask.
    Word(FactId, u64),
    /// A set fact that shares a word with the mask.
    Set(FactId, u64),
    Number(FactId, Span),
    Not(u32),
    All(Span),
    Any(Span),
}

/// One side of a comparison: a number, or a fact with what it is multiplied by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Operand {
    Number(f64),
    Fact(FactId, f64),
}

/// A run of `parts` or `numbers`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Span {
    pub(super) first: u32,
    pub(super) end: u32,
}

impl Span {
    fn of<T>(self, items: &[T]) -> &[T] {
        items
            .get(self.first as usize..self.end as usize)
            .unwrap_or_default()
    }
}

impl Compiled {
    /// Evaluates with the facts at hand, one slot per fact of the dictionary; `None` is unknown.
    /// A slot beyond the slice, of the wrong kind or not finite reads as unknown.
    #[must_use]
    pub fn eval(&self, slots: &[Option<Datum>]) -> Evaluation {
        let mut run = Run {
            code: self,
            slots,
            read: FactSet::EMPTY,
            missing: FactSet::EMPTY,
        };
        let truth = run.node(self.root);
        Evaluation {
            truth,
            missing: run.missing,
            read: run.read,
        }
    }
}

impl Compiled {
    /// Numbers that the fact is held against, in its unit and in no order.
    pub(crate) fn thresholds(&self, fact: FactId) -> Vec<f64> {
        let mut found = Vec::new();
        for node in &self.nodes {
            match *node {
                Node::Compare(Operand::Fact(one, times), _, Operand::Number(n))
                | Node::Compare(Operand::Number(n), _, Operand::Fact(one, times))
                    if one == fact && times != 0.0 =>
                {
                    found.push(n / times);
                }
                Node::Number(one, list) if one == fact => found.extend(list.of(&self.numbers)),
                _ => {}
            }
        }
        found.retain(|n| n.is_finite());
        found
    }

    /// Sets of words that a set fact is held against, as bits.
    pub(crate) fn masks(&self, fact: FactId) -> impl Iterator<Item = u64> {
        self.nodes.iter().filter_map(move |node| match *node {
            Node::Set(one, mask) if one == fact => Some(mask),
            _ => None,
        })
    }
}

struct Run<'a> {
    code: &'a Compiled,
    slots: &'a [Option<Datum>],
    read: FactSet,
    missing: FactSet,
}

impl Run<'_> {
    fn node(&mut self, index: u32) -> Kleene {
        let Some(node) = self.code.nodes.get(index as usize).copied() else {
            return Kleene::Unknown;
        };
        match node {
            Node::Truth(truth) => truth.into(),
            Node::Flag(fact) => self.test(fact, |datum| match datum {
                Datum::Bool(truth) => Some(truth),
                _ => None,
            }),
            Node::Word(fact, mask) => self.test(fact, |datum| match datum {
                Datum::Word(w) => Some(mask.checked_shr(w.into()).is_some_and(|m| m & 1 == 1)),
                _ => None,
            }),
            Node::Set(fact, mask) => self.test(fact, |datum| match datum {
                Datum::Set(bits) => Some(bits & mask != 0),
                _ => None,
            }),
            Node::Number(fact, list) => {
                let numbers = list.of(&self.code.numbers);
                self.test(fact, |datum| match datum {
                    Datum::Number(n) if n.is_finite() => Some(numbers.contains(&n)),
                    _ => None,
                })
            }
            Node::Compare(left, relation, right) => {
                let (left, right) = (self.operand(left), self.operand(right));
                left.zip(right)
                    .and_then(|(l, r)| relation.holds(l, r))
                    .into()
            }
            Node::Not(inner) => !self.node(inner),
            Node::All(parts) => self.joined(parts, Kleene::False),
            Node::Any(parts) => self.joined(parts, Kleene::True),
        }
    }

    /// Stops at the first part that settles the whole; what was missing before then no longer matters.
    fn joined(&mut self, parts: Span, settles: Kleene) -> Kleene {
        let before = self.missing;
        let mut whole = !settles;
        for part in parts.of(&self.code.parts) {
            let truth = self.node(*part);
            if truth == settles {
                self.missing = before;
                return settles;
            }
            if truth == Kleene::Unknown {
                whole = Kleene::Unknown;
            }
        }
        whole
    }

    fn test(&mut self, fact: FactId, holds: impl Fn(Datum) -> Option<bool>) -> Kleene {
        self.read.insert(fact);
        let truth = self.slot(fact).and_then(holds);
        if truth.is_none() {
            self.missing.insert(fact);
        }
        truth.into()
    }

    fn operand(&mut self, operand: Operand) -> Option<f64> {
        let (fact, times) = match operand {
            Operand::Number(n) => return Some(n),
            Operand::Fact(fact, times) => (fact, times),
        };
        self.read.insert(fact);
        match self.slot(fact) {
            Some(Datum::Number(n)) if (n * times).is_finite() => Some(n * times),
            _ => {
                self.missing.insert(fact);
                None
            }
        }
    }

    fn slot(&self, fact: FactId) -> Option<Datum> {
        self.slots.get(fact.index()).copied().flatten()
    }
}
