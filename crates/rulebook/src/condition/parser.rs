//! Does the text make a condition over known facts, words and constants, each of the right kind?
//! Source: `docs/condition-language.md`. Every name is checked here, so that a parsed condition cannot clash.

use super::constants::{Constants, Value};
use super::expression::{Expression, List, Relation, Term};
use super::lexer::{Placed, Token, tokens};
use super::{ConditionError, MAX_DEPTH, MAX_TEXT};
use crate::facts::{FactDictionary, FactEntry, FactId, FactKind};
use model::nearest;

type Parsed<T> = Result<T, ConditionError>;

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

struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Placed<'a>>,
    next: usize,
    depth: usize,
    facts: &'a FactDictionary,
    constants: &'a Constants,
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

    fn about(&mut self, fact: FactId, at: Placed<'a>) -> Parsed<Expression> {
        let Some(entry) = self.facts.get(fact) else {
            return Err(self.refuse(at, "a fact", "start a part with a fact"));
        };
        match entry.kind {
            FactKind::Bool => self.flag(fact, entry),
            FactKind::Word => self.word(fact, entry),
            FactKind::Set => self.set(fact, entry),
            FactKind::Number if self.accept_name("IN") => {
                let list = self.list(entry)?;
                Ok(Expression::In { fact, list })
            }
            FactKind::Number => {
                let term = self.times(fact)?;
                self.comparison(term)
            }
        }
    }

    fn flag(&mut self, fact: FactId, entry: &FactEntry) -> Parsed<Expression> {
        let next = self.peek();
        let compared = matches!(
            next.token,
            Token::Sign("=" | "!=" | "<" | "<=" | ">" | ">=" | "*")
                | Token::Name("IN" | "HAS" | "HAS_ANY")
        );
        if compared {
            let help = format!("write `{0}` or `NOT {0}`", entry.name);
            return Err(self.refuse(next, "no comparison: the fact is true or false", &help));
        }
        Ok(Expression::Flag(fact))
    }

    fn word(&mut self, fact: FactId, entry: &FactEntry) -> Parsed<Expression> {
        let at = self.take();
        match at.token {
            Token::Sign(sign @ ("=" | "!=")) => {
                let word = self.one_word(entry)?;
                let is = sign == "=";
                Ok(Expression::Word { fact, is, word })
            }
            Token::Name("IN") => {
                let list = self.list(entry)?;
                Ok(Expression::In { fact, list })
            }
            _ => {
                let help = format!("`{}` is {}", entry.name, entry.takes());
                Err(self.refuse(at, "`=`, `!=` or IN", &help))
            }
        }
    }

    fn set(&mut self, fact: FactId, entry: &FactEntry) -> Parsed<Expression> {
        let at = self.take();
        match at.token {
            Token::Name("HAS") => {
                let word = self.one_word(entry)?;
                Ok(Expression::Has { fact, word })
            }
            Token::Name("HAS_ANY") => {
                let list = self.list(entry)?;
                Ok(Expression::HasAny { fact, list })
            }
            _ => {
                let help = format!("`{}` holds any number of words", entry.name);
                Err(self.refuse(at, "HAS or HAS_ANY", &help))
            }
        }
    }

    fn comparison(&mut self, left: Term) -> Parsed<Expression> {
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

    fn times(&mut self, fact: FactId) -> Parsed<Term> {
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

    fn list(&mut self, entry: &FactEntry) -> Parsed<List> {
        let at = self.take();
        match at.token {
            Token::Sign("[") if entry.kind == FactKind::Number => {
                Ok(List::Numbers(self.items(|p, item| match item.token {
                    Token::Number(n) => Ok(n),
                    _ => Err(p.refuse(item, "a number", "list numbers: the fact is one")),
                })?))
            }
            Token::Sign("[") => Ok(List::Words(self.items(|p, item| p.word_of(entry, item))?)),
            Token::Name(name) => self.list_constant(name, entry, at),
            _ => Err(self.refuse(
                at,
                "a list in `[ ]` or the name of a constant",
                "write the list, for example [a, b]",
            )),
        }
    }

    fn items<T>(&mut self, item: impl Fn(&Self, Placed<'a>) -> Parsed<T>) -> Parsed<Vec<T>> {
        let mut items = Vec::new();
        loop {
            let at = self.take();
            items.push(item(self, at)?);
            if !self.accept_sign(",") {
                break;
            }
        }
        self.expect_sign("]", "`,` or `]`")?;
        Ok(items)
    }

    fn list_constant(&self, name: &str, entry: &FactEntry, at: Placed<'a>) -> Parsed<List> {
        let Some(constant) = self.constants.find(name) else {
            return Err(self.unknown_constant(name, at));
        };
        constant.suits(entry).map_err(|(expected, found, help)| {
            self.clash(at, &expected, &format!("`{name}`: {found}"), &help)
        })?;
        Ok(List::Constant(name.to_owned()))
    }

    fn one_word(&mut self, entry: &FactEntry) -> Parsed<u16> {
        let at = self.take();
        self.word_of(entry, at)
    }

    fn word_of(&self, entry: &FactEntry, at: Placed<'a>) -> Parsed<u16> {
        let expected = format!("a word of `{}`", entry.name);
        let Token::Name(word) = at.token else {
            return Err(self.refuse(at, &expected, &entry.takes()));
        };
        entry.word_index(word).ok_or_else(|| {
            let words = entry.words.iter().map(String::as_str);
            let help = nearest::advice(word, words, &entry.takes());
            self.refuse(at, &expected, &help)
        })
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

    fn peek(&self) -> Placed<'a> {
        let last = self.tokens.len().saturating_sub(1);
        self.tokens
            .get(self.next.min(last))
            .copied()
            .unwrap_or(Placed {
                token: Token::End,
                at: self.text.len(),
            })
    }

    fn take(&mut self) -> Placed<'a> {
        let token = self.peek();
        self.next += 1;
        token
    }

    fn accept(&mut self, token: Token<'_>) -> bool {
        let there = self.peek().token == token;
        self.next += usize::from(there);
        there
    }

    fn accept_name(&mut self, name: &str) -> bool {
        self.accept(Token::Name(name))
    }

    fn accept_sign(&mut self, sign: &'static str) -> bool {
        self.accept(Token::Sign(sign))
    }

    fn expect_sign(&mut self, sign: &'static str, expected: &str) -> Parsed<()> {
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

    fn unknown_constant(&self, name: &str, at: Placed<'a>) -> ConditionError {
        let otherwise = "constants are declared in constants.toml";
        let help = nearest::advice(name, self.constants.names(), otherwise);
        self.refuse(at, "the name of a constant", &help)
    }

    fn refuse(&self, at: Placed<'a>, expected: &str, help: &str) -> ConditionError {
        let found = match at.token {
            Token::Name(name) => format!("`{name}`"),
            Token::Number(n) => format!("`{n}`"),
            Token::Sign(sign) => format!("`{sign}`"),
            Token::End => "the end of the condition".to_owned(),
        };
        self.clash(at, expected, &found, help)
    }

    fn clash(&self, at: Placed<'a>, expected: &str, found: &str, help: &str) -> ConditionError {
        ConditionError::at(self.text, at.at, expected, found, help)
    }
}
