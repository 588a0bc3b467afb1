//! What does a condition come down to in one edition?
//! Source: the parsed tree and the edition's constants, both folded in. Lists become bit masks or runs of numbers.

use model::Edition;

use super::compiled::{Compiled, Node, Operand, Span};
use super::constants::{Constants, Value};
use super::expression::{Expression, List, Relation, Term};
use crate::facts::{FactDictionary, FactId};

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
