//! Does the text make a condition over known facts, words and constants, each of the right kind?
//! Source: `docs/condition-language.md`. Every name is checked here, so that a parsed condition cannot clash.

use super::constants::{Constants, Value};
use super::expression::{Expression, Relation, Term};
use super::lexer::{Placed, Token, tokens};
use super::{ConditionError, MAX_DEPTH, MAX_TEXT};
use crate::facts::{FactDictionary, FactId, FactKind};
use model::nearest;

pub(super) type Parsed<T> = Result<T, ConditionError>;

/// The words of the language itself; no fact's word may be one of them.
pub(crate) const KEYWORDS: [&str; 9] = [
    "AND", "OR", "NOT", "IN", "HAS", "HAS_ANY", "TRUE", "FALSE", "edition",
];

/// Parses and checks a condition.
pub(crate) fn parse(
    text: &str,
    facts: &FactDictionary,
    constants: &Constants,
) -> Parsed<Expression> {
    if text.len() > MAX_TEXT {
        let expected = format!("a condition of at most {MAX_TEXT} bytes");
        let found = format!("{} bytes", text.len());
        let help = "split it into two requirements";
        return Err(ConditionError::at(text, 0, &expected, &found, help));
    }
    let mut parser = Parser {
        text,
        tokens: tokens(text)?,
        next: 0,
        depth: 0,
        facts,
        constants,
    };
    let expression = parser.any()?;
    match parser.peek().token {
        Token::End => Ok(expression),
        Token::Sign(")") => Err(parser.refuse(
            parser.peek(),
            "the end of the condition",
            "remove this `)` or open it earlier",
        )),
        _ => Err(parser.refuse(
            parser.peek(),
            "AND, OR or the end of the condition",
            "join the two parts",
        )),
    }
}

pub(super) struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Placed<'a>>,
    next: usize,
    depth: usize,
    pub(super) facts: &'a FactDictionary,
    pub(super) constants: &'a Constants,
}

impl<'a> Parser<'a> {
    fn any(&mut self) -> Parsed<Expression> {
        self.joined("OR", Self::all, Expression::Any)
    }

    fn all(&mut self) -> Parsed<Expression> {
        self.joined("AND", Self::not, Expression::All)
    }

    fn joined(
        &mut self,
        joint: &str,
        part: impl Fn(&mut Self) -> Parsed<Expression>,
        join: impl Fn(Vec<Expression>) -> Expression,
    ) -> Parsed<Expression> {
        let first = part(self)?;
        if !self.accept_name(joint) {
            return Ok(first);
        }
        let mut parts = vec![first, part(self)?];
        while self.accept_name(joint) {
            parts.push(part(self)?);
        }
        Ok(join(parts))
    }

    fn not(&mut self) -> Parsed<Expression> {
        let at = self.peek();
        if !self.accept_name("NOT") {
            return self.atom();
        }
        self.deeper(at, |p| Ok(Expression::Not(Box::new(p.not()?))))
    }

    fn atom(&mut self) -> Parsed<Expression> {
        let at = self.take();
        match at.token {
            Token::Sign("(") => self.deeper(at, |p| {
                let inner = p.any()?;
                p.expect_sign(")", "`)` to close the one opened before")?;
                Ok(inner)
            }),
            Token::Name("TRUE") => Ok(Expression::Truth(true)),
            Token::Name("FALSE") => Ok(Expression::Truth(false)),
            Token::Name("edition") => self.comparison(Term::Edition),
            Token::Number(n) => self.comparison(Term::Number(n)),
            Token::Name(name) if KEYWORDS.contains(&name) => Err(self.refuse(
                at,
                "a fact",
                "write a fact before and after the joining words",
            )),
            Token::Name(name) => match self.facts.find(name) {
                Some(fact) => self.about(fact, at),
                None if self.constants.find(name).is_some() => {
                    let term = self.number_constant(name, at)?;
                    self.comparison(term)
                }
                None => Err(self.unknown_fact(name, at)),
            },
            _ => Err(self.refuse(at, "a fact", "start a part with a fact, NOT or `(`")),
        }
    }

    pub(super) fn comparison(&mut self, left: Term) -> Parsed<Expression> {
        let at = self.take();
        let relation = match at.token {
            Token::Sign("=") => Relation::Equal,
            Token::Sign("!=") => Relation::Unequal,
            Token::Sign("<") => Relation::Less,
            Token::Sign("<=") => Relation::AtMost,
            Token::Sign(">") => Relation::Greater,
            Token::Sign(">=") => Relation::AtLeast,
            _ => {
                return Err(self.refuse(
                    at,
                    "one of = != < <= > >= after a number",
                    "compare the number with another",
                ));
            }
        };
        let right = self.term()?;
        Ok(Expression::Compare {
            left,
            relation,
            right,
        })
    }

    fn term(&mut self) -> Parsed<Term> {
        let at = self.take();
        match at.token {
            Token::Number(n) => Ok(Term::Number(n)),
            Token::Name("edition") => Ok(Term::Edition),
            Token::Name(name) => match self.facts.find(name) {
                Some(fact) => {
                    let entry = self.facts.get(fact);
                    if let Some(entry) = entry.filter(|e| e.kind != FactKind::Number) {
                        let found = format!("`{name}`, which is {}", entry.takes());
                        let help = "compare numbers with numbers";
                        return Err(self.clash(at, "a number", &found, help));
                    }
                    self.times(fact)
                }
                None if name.contains('.') => Err(self.unknown_fact(name, at)),
                None => self.number_constant(name, at),
            },
            _ => Err(self.refuse(at, "a number or a fact", "compare the number with another")),
        }
    }

    pub(super) fn times(&mut self, fact: FactId) -> Parsed<Term> {
        if !self.accept_sign("*") {
            return Ok(Term::Fact { fact, times: 1.0 });
        }
        let at = self.take();
        match at.token {
            Token::Number(times) => Ok(Term::Fact { fact, times }),
            _ => Err(self.refuse(
                at,
                "a number after `*`",
                "multiply a fact by a plain number",
            )),
        }
    }

    fn number_constant(&self, name: &str, at: Placed<'a>) -> Parsed<Term> {
        match self.constants.find(name).map(|c| c.sample()) {
            Some(Value::Number(_)) => Ok(Term::Constant(name.to_owned())),
            Some(_) => Err(self.clash(
                at,
                "a number",
                &format!("`{name}`, which is a list"),
                "use a list after IN or HAS_ANY",
            )),
            None => Err(self.unknown_constant(name, at)),
        }
    }

    fn deeper<T>(
        &mut self,
        at: Placed<'a>,
        body: impl FnOnce(&mut Self) -> Parsed<T>,
    ) -> Parsed<T> {
        self.depth += 1;
        if self.depth > MAX_DEPTH {
            let expected = format!("at most {MAX_DEPTH} nested parentheses and NOTs");
            return Err(self.refuse(at, &expected, "flatten the condition"));
        }
        let result = body(self);
        self.depth -= 1;
        result
    }

    pub(super) fn peek(&self) -> Placed<'a> {
        let last = self.tokens.len().saturating_sub(1);
        self.tokens
            .get(self.next.min(last))
            .copied()
            .unwrap_or(Placed {
                token: Token::End,
                at: self.text.len(),
            })
    }

    pub(super) fn take(&mut self) -> Placed<'a> {
        let token = self.peek();
        self.next += 1;
        token
    }

    fn accept(&mut self, token: Token<'_>) -> bool {
        let there = self.peek().token == token;
        self.next += usize::from(there);
        there
    }

    pub(super) fn accept_name(&mut self, name: &str) -> bool {
        self.accept(Token::Name(name))
    }

    pub(super) fn accept_sign(&mut self, sign: &'static str) -> bool {
        self.accept(Token::Sign(sign))
    }

    pub(super) fn expect_sign(&mut self, sign: &'static str, expected: &str) -> Parsed<()> {
        if self.accept_sign(sign) {
            return Ok(());
        }
        Err(self.refuse(
            self.peek(),
            expected,
            &format!("add `{sign}` here or before"),
        ))
    }

    fn unknown_fact(&self, name: &str, at: Placed<'a>) -> ConditionError {
        let help = match self.facts.nearest(name) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "facts are declared in facts.toml".to_owned(),
        };
        self.refuse(at, "the name of a fact", &help)
    }

    pub(super) fn unknown_constant(&self, name: &str, at: Placed<'a>) -> ConditionError {
        let otherwise = "constants are declared in constants.toml";
        let help = nearest::advice(name, self.constants.names(), otherwise);
        self.refuse(at, "the name of a constant", &help)
    }

    pub(super) fn refuse(&self, at: Placed<'a>, expected: &str, help: &str) -> ConditionError {
        let found = match at.token {
            Token::Name(name) => format!("`{name}`"),
            Token::Number(n) => format!("`{n}`"),
            Token::Sign(sign) => format!("`{sign}`"),
            Token::End => "the end of the condition".to_owned(),
        };
        self.clash(at, expected, &found, help)
    }

    pub(super) fn clash(
        &self,
        at: Placed<'a>,
        expected: &str,
        found: &str,
        help: &str,
    ) -> ConditionError {
        ConditionError::at(self.text, at.at, expected, found, help)
    }
}
