//! What may a condition say about a fact of each kind, and does the vocabulary hold the words it uses?
//! Source: `docs/condition-language.md`. Numbers are in the fact's unit.

use model::nearest;

use super::expression::{Expression, List};
use super::lexer::{Placed, Token};
use super::parser::{Parsed, Parser};
use crate::facts::{FactEntry, FactId, FactKind};

impl<'a> Parser<'a> {
    /// What may follow a fact depends on its kind.
    pub(super) fn about(&mut self, fact: FactId, at: Placed<'a>) -> Parsed<Expression> {
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
}
