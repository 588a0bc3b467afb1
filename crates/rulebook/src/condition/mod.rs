//! The condition language: text to a checked tree, compiled for one edition, evaluated in three values.
//! Source: `docs/condition-language.md`. Numbers are in the unit of the fact they stand beside.
//!
//! Text goes through [`Condition::parse`]; [`Condition::compile`] gives what the hot path evaluates; [`Condition::explain`]
//! gives the same answer as a tree in words.

mod about;
mod compile;
mod compiled;
mod constants;
mod explain;
mod expression;
mod kleene;
mod lexer;
mod parser;

use model::Edition;

use crate::facts::{Datum, FactDictionary, FactSet};
use crate::load_error::line_and_column;
use expression::Expression;

pub use compiled::Compiled;
pub use constants::{Constant, Constants, Value};
pub(crate) use constants::{load as load_constants, read_value};
pub use explain::Explanation;
pub use kleene::Kleene;
pub(crate) use parser::KEYWORDS;

/// The longest condition, bytes.
pub const MAX_TEXT: usize = 10_000;
/// The deepest nesting of parentheses and NOTs.
pub const MAX_DEPTH: usize = 50;

/// A condition over facts, checked against a dictionary and constants.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition(Expression);

/// What a condition comes to for the facts at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Evaluation {
    /// The truth.
    pub truth: Kleene,
    /// Facts that would have to be known to tell; none when it is decided.
    pub missing: FactSet,
    /// Facts that were looked at.
    pub read: FactSet,
}

impl Condition {
    /// Reads a condition and checks every name, word and kind in it.
    ///
    /// # Errors
    /// The first mistake, with its place in the text.
    pub fn parse(
        text: &str,
        facts: &FactDictionary,
        constants: &Constants,
    ) -> Result<Self, ConditionError> {
        parser::parse(text, facts, constants).map(Self)
    }

    /// Readies the condition for many evaluations in one edition. Takes the dictionary and constants it was parsed with.
    #[must_use]
    pub fn compile(
        &self,
        facts: &FactDictionary,
        constants: &Constants,
        edition: Edition,
    ) -> Compiled {
        compile::compile(&self.0, facts, constants, edition)
    }

    /// The condition as text, in canonical form: it parses back to the same condition.
    #[must_use]
    pub fn print(&self, facts: &FactDictionary) -> String {
        expression::print(&self.0, facts)
    }

    /// Every part in words with its truth and the facts it read. Slow beside [`Compiled::eval`]; never different from it.
    #[must_use]
    pub fn explain(
        &self,
        slots: &[Option<Datum>],
        facts: &FactDictionary,
        constants: &Constants,
        edition: Edition,
    ) -> Explanation {
        explain::explain(&self.0, slots, facts, constants, edition)
    }

    /// Facts that are looked for in a named constant, with its name.
    pub(crate) fn lists(&self) -> Vec<(crate::FactId, String)> {
        let mut found = Vec::new();
        explain::lists(&self.0, &mut found);
        found
    }

    /// All facts that the condition may read.
    #[must_use]
    pub fn facts(&self) -> FactSet {
        let mut set = FactSet::EMPTY;
        explain::collect(&self.0, &mut set);
        set
    }
}

/// What is wrong with a condition's text, and where.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, column {column}: expected {expected}, found {found}; {help}")]
pub struct ConditionError {
    /// Byte offset in the text.
    pub offset: usize,
    /// Line of the text, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What belongs there.
    pub expected: String,
    /// What is there.
    pub found: String,
    /// What to do about it.
    pub help: String,
}

impl ConditionError {
    fn at(text: &str, offset: usize, expected: &str, found: &str, help: &str) -> Self {
        let (line, column) = line_and_column(text, offset);
        Self {
            offset,
            line,
            column,
            expected: expected.to_owned(),
            found: found.to_owned(),
            help: help.to_owned(),
        }
    }
}
