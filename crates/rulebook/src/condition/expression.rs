//! What a condition says, as a tree, and how the tree is written back as text.
//! Source: `docs/condition-language.md`. Numbers are in the unit of the fact beside them.

use std::fmt::Write as _;

use crate::facts::{FactDictionary, FactId};

/// A condition, checked against the dictionary.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Expression {
    Truth(bool),
    Flag(FactId),
    Compare {
        left: Term,
        relation: Relation,
        right: Term,
    },
    /// A word fact is, or is not, one word.
    Word {
        fact: FactId,
        is: bool,
        word: u16,
    },
    In {
        fact: FactId,
        list: List,
    },
    Has {
        fact: FactId,
        word: u16,
    },
    HasAny {
        fact: FactId,
        list: List,
    },
    Not(Box<Self>),
    All(Vec<Self>),
    Any(Vec<Self>),
}

/// One side of a comparison of numbers.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Term {
    Number(f64),
    Edition,
    Constant(String),
    Fact { fact: FactId, times: f64 },
}

/// What a fact's value is looked for in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum List {
    Words(Vec<u16>),
    Numbers(Vec<f64>),
    Constant(String),
}

/// How two numbers compare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Relation {
    Equal,
    Unequal,
    Less,
    AtMost,
    Greater,
    AtLeast,
}

impl Relation {
    pub(crate) const fn sign(self) -> &'static str {
        match self {
            Self::Equal => "=",
            Self::Unequal => "!=",
            Self::Less => "<",
            Self::AtMost => "<=",
            Self::Greater => ">",
            Self::AtLeast => ">=",
        }
    }

    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Equal => "is",
            Self::Unequal => "is not",
            Self::Less => "is less than",
            Self::AtMost => "is at most",
            Self::Greater => "is more than",
            Self::AtLeast => "is at least",
        }
    }

    /// `None` when a side is not a number that can be compared.
    pub(crate) fn holds(self, left: f64, right: f64) -> Option<bool> {
        let order = left.partial_cmp(&right)?;
        Some(match self {
            Self::Equal => order.is_eq(),
            Self::Unequal => order.is_ne(),
            Self::Less => order.is_lt(),
            Self::AtMost => order.is_le(),
            Self::Greater => order.is_gt(),
            Self::AtLeast => order.is_ge(),
        })
    }
}

/// Writes a condition in its canonical form, which parses back to the same tree.
pub(crate) fn print(expression: &Expression, facts: &FactDictionary) -> String {
    let mut out = String::new();
    write_expression(&mut out, expression, facts);
    out
}

fn write_expression(out: &mut String, expression: &Expression, facts: &FactDictionary) {
    let word = |fact: FactId, i: u16| {
        facts
            .get(fact)
            .and_then(|e| e.words.get(usize::from(i)))
            .map_or("?", String::as_str)
    };
    match expression {
        Expression::Truth(truth) => out.push_str(if *truth { "TRUE" } else { "FALSE" }),
        Expression::Flag(fact) => out.push_str(facts.name(*fact)),
        Expression::Compare {
            left,
            relation,
            right,
        } => {
            write_term(out, left, facts);
            let _ = write!(out, " {} ", relation.sign());
            write_term(out, right, facts);
        }
        Expression::Word { fact, is, word: w } => {
            let sign = if *is { "=" } else { "!=" };
            let _ = write!(out, "{} {sign} {}", facts.name(*fact), word(*fact, *w));
        }
        Expression::In { fact, list } => {
            let _ = write!(out, "{} IN ", facts.name(*fact));
            write_list(out, list, |w| word(*fact, w));
        }
        Expression::Has { fact, word: w } => {
            let _ = write!(out, "{} HAS {}", facts.name(*fact), word(*fact, *w));
        }
        Expression::HasAny { fact, list } => {
            let _ = write!(out, "{} HAS_ANY ", facts.name(*fact));
            write_list(out, list, |w| word(*fact, w));
        }
        Expression::Not(inner) => {
            out.push_str("NOT ");
            write_part(out, inner, facts);
        }
        Expression::All(parts) => write_parts(out, parts, " AND ", facts),
        Expression::Any(parts) => write_parts(out, parts, " OR ", facts),
    }
}

fn write_parts(out: &mut String, parts: &[Expression], joint: &str, facts: &FactDictionary) {
    for (i, part) in parts.iter().enumerate() {
        if i > 0 {
            out.push_str(joint);
        }
        write_part(out, part, facts);
    }
}

fn write_part(out: &mut String, part: &Expression, facts: &FactDictionary) {
    let joined = matches!(part, Expression::All(_) | Expression::Any(_));
    if joined {
        out.push('(');
    }
    write_expression(out, part, facts);
    if joined {
        out.push(')');
    }
}

fn write_term(out: &mut String, term: &Term, facts: &FactDictionary) {
    let _ = match term {
        Term::Number(n) => write!(out, "{n}"),
        Term::Edition => write!(out, "edition"),
        Term::Constant(name) => write!(out, "{name}"),
        Term::Fact { fact, times } if *times == 1.0 => write!(out, "{}", facts.name(*fact)),
        Term::Fact { fact, times } => write!(out, "{} * {times}", facts.name(*fact)),
    };
}

fn write_list<'a>(out: &mut String, list: &List, word: impl Fn(u16) -> &'a str) {
    let items: Vec<String> = match list {
        List::Constant(name) => {
            out.push_str(name);
            return;
        }
        List::Words(words) => words.iter().map(|w| word(*w).to_owned()).collect(),
        List::Numbers(numbers) => numbers.iter().map(f64::to_string).collect(),
    };
    let _ = write!(out, "[{}]", items.join(", "));
}
