//! Is the condition true, false or unknown for these facts, in the edition it was compiled for?
//! Source: `docs/condition-language.md`. No allocation per evaluation: facts are slots, lists are bit masks, names are gone.

use model::Edition;

use super::constants::{Constants, Value};
use super::expression::{Expression, List, Relation, Term};
use super::{Evaluation, Kleene};
use crate::facts::{Datum, FactDictionary, FactId, FactSet};

/// A condition ready to be evaluated in one edition.
#[derive(Clone, Debug, PartialEq)]
pub struct Compiled {
    nodes: Box<[Node]>,
    parts: Box<[u32]>,
    numbers: Box<[f64]>,
    root: u32,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Node {
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

#[derive(Clone, Copy, Debug, PartialEq)]
enum Operand {
    Number(f64),
    Fact(FactId, f64),
}

/// A run of `parts` or `numbers`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Span {
    first: u32,
    end: u32,
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

/// Compiles for one edition: its number and constants are folded in.
pub(crate) fn compile(
    expression: &Expression,
    facts: &FactDictionary,
    constants: &Constants,
    edition: Edition,
) -> Compiled {
    let mut compiler = Compiler {
        facts,
        constants,
        edition,
        nodes: Vec::new(),
        parts: Vec::new(),
        numbers: Vec::new(),
    };
    let node = compiler.node(expression);
    let root = compiler.push(node);
    Compiled {
        nodes: compiler.nodes.into(),
        parts: compiler.parts.into(),
        numbers: compiler.numbers.into(),
        root,
    }
}

struct Compiler<'a> {
    facts: &'a FactDictionary,
    constants: &'a Constants,
    edition: Edition,
    nodes: Vec<Node>,
    parts: Vec<u32>,
    numbers: Vec<f64>,
}

impl Compiler<'_> {
    fn node(&mut self, expression: &Expression) -> Node {
        match expression {
            Expression::Truth(truth) => Node::Truth(*truth),
            Expression::Flag(fact) => Node::Flag(*fact),
            Expression::Compare {
                left,
                relation,
                right,
            } => self.compare(left, *relation, right),
            Expression::Word { fact, is, word } => {
                let mask = bit(*word);
                Node::Word(*fact, if *is { mask } else { !mask })
            }
            Expression::Has { fact, word } => Node::Set(*fact, bit(*word)),
            Expression::HasAny { fact, list } => Node::Set(*fact, self.mask(*fact, list)),
            Expression::In { fact, list } => match self.list_of_numbers(list) {
                Some(span) => Node::Number(*fact, span),
                None => Node::Word(*fact, self.mask(*fact, list)),
            },
            Expression::Not(inner) => match self.node(inner) {
                Node::Truth(truth) => Node::Truth(!truth),
                inner => Node::Not(self.push(inner)),
            },
            Expression::All(parts) => self.joined(parts, false, Node::All),
            Expression::Any(parts) => self.joined(parts, true, Node::Any),
        }
    }

    /// A part that the edition already settles goes away, or settles the whole.
    fn joined(&mut self, parts: &[Expression], settles: bool, join: fn(Span) -> Node) -> Node {
        let mut nodes = Vec::with_capacity(parts.len());
        for part in parts {
            match self.node(part) {
                Node::Truth(truth) if truth == settles => return Node::Truth(settles),
                Node::Truth(_) => {}
                node => nodes.push(node),
            }
        }
        match nodes.as_slice() {
            [] => Node::Truth(!settles),
            [only] => *only,
            _ => {
                let indices: Vec<u32> = nodes.into_iter().map(|n| self.push(n)).collect();
                let first = self.parts.len() as u32;
                self.parts.extend(indices);
                join(Span {
                    first,
                    end: self.parts.len() as u32,
                })
            }
        }
    }

    fn compare(&self, left: &Term, relation: Relation, right: &Term) -> Node {
        let (left, right) = (self.operand(left), self.operand(right));
        if let (Operand::Number(l), Operand::Number(r)) = (left, right)
            && let Some(truth) = relation.holds(l, r)
        {
            return Node::Truth(truth);
        }
        Node::Compare(left, relation, right)
    }

    fn operand(&self, term: &Term) -> Operand {
        match term {
            Term::Fact { fact, times } => Operand::Fact(*fact, *times),
            other => Operand::Number(number(other, self.constants, self.edition)),
        }
    }

    fn list_of_numbers(&mut self, list: &List) -> Option<Span> {
        let numbers = numbers(list, self.constants, self.edition)?;
        let first = self.numbers.len() as u32;
        self.numbers.extend(numbers);
        let end = self.numbers.len() as u32;
        Some(Span { first, end })
    }

    fn mask(&self, fact: FactId, list: &List) -> u64 {
        mask(fact, list, self.facts, self.constants, self.edition)
    }

    fn push(&mut self, node: Node) -> u32 {
        self.nodes.push(node);
        (self.nodes.len() - 1) as u32
    }
}

/// Value of a term that reads no fact. Not a number when the constant is gone, which then reads as unknown.
pub(crate) fn number(term: &Term, constants: &Constants, edition: Edition) -> f64 {
    match term {
        Term::Number(n) => *n,
        Term::Edition => edition.year().into(),
        Term::Constant(name) => match constants.find(name).map(|c| c.value(edition)) {
            Some(Value::Number(n)) => *n,
            _ => f64::NAN,
        },
        Term::Fact { .. } => f64::NAN,
    }
}

/// The numbers of a list, or `None` when it is one of words.
pub(crate) fn numbers<'a>(
    list: &'a List,
    constants: &'a Constants,
    edition: Edition,
) -> Option<&'a [f64]> {
    match list {
        List::Numbers(numbers) => Some(numbers),
        List::Words(_) => None,
        List::Constant(name) => match constants.find(name)?.value(edition) {
            Value::Numbers(numbers) => Some(numbers),
            _ => None,
        },
    }
}

/// The words of a list as bits of the fact's vocabulary.
pub(crate) fn mask(
    fact: FactId,
    list: &List,
    facts: &FactDictionary,
    constants: &Constants,
    edition: Edition,
) -> u64 {
    match list {
        List::Words(words) => words.iter().fold(0, |mask, word| mask | bit(*word)),
        List::Numbers(_) => 0,
        List::Constant(name) => match constants.find(name).map(|c| c.value(edition)) {
            Some(Value::Words(words)) => words
                .iter()
                .filter_map(|word| facts.get(fact)?.word_index(word))
                .fold(0, |mask, word| mask | bit(word)),
            _ => 0,
        },
    }
}

pub(crate) fn bit(word: u16) -> u64 {
    1u64.checked_shl(word.into()).unwrap_or(0)
}
