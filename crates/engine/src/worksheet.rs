//! A calculation as a list of lines, each with its inputs, value, unit, section and check status.
//! Every number the engine returns to a reader stands on such a line; screen, paper and tests read the same one.

use std::borrow::Cow;
use std::fmt::{self, Write as _};

use model::Edition;
use model::units::Unit;
use rulebook::{Check, Cite, NoValue, Sourced};
use serde::Serialize;

/// Text that is usually a constant of the program.
pub type Text = Cow<'static, str>;

/// A number with its unit, ready to print.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Quantity {
    /// The bare number in `unit`.
    pub value: f64,
    /// Symbol, for example `VA`; empty for a pure number.
    pub unit: &'static str,
}

impl<U: Unit> From<U> for Quantity {
    fn from(quantity: U) -> Self {
        Self {
            value: quantity.get(),
            unit: U::SYMBOL,
        }
    }
}

impl Quantity {
    /// A pure number: a count or a factor.
    #[must_use]
    pub const fn number(value: f64) -> Self {
        Self { value, unit: "" }
    }
}

impl fmt::Display for Quantity {
    /// With its unit, thousands set apart, no idle decimals: `12,500 VA`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plain = format!("{:.3}", self.value);
        let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, ""));
        let (sign, digits) = match whole.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", whole),
        };
        f.write_str(sign)?;
        for (i, digit) in digits.chars().enumerate() {
            if i > 0 && (digits.len() - i).is_multiple_of(3) {
                f.write_char(',')?;
            }
            f.write_char(digit)?;
        }
        let decimals = decimals.trim_end_matches('0');
        if !decimals.is_empty() {
            write!(f, ".{decimals}")?;
        }
        if !self.unit.is_empty() {
            write!(f, " {}", self.unit)?;
        }
        Ok(())
    }
}

/// What stands in a line's value column.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LineValue")]
#[serde(rename_all = "snake_case")]
pub enum Value {
    /// A quantity.
    Number(Quantity),
    /// A size, name or sentence.
    Text(Text),
    /// A yes-or-no question answered; `true` is good.
    Passes(bool),
    /// Cannot be told: what is missing, in words, with the section to look up or the fact to find out.
    CannotTell(Text),
}

/// A named input of a line.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LineInput")]
pub struct Input {
    /// What it is.
    pub name: Text,
    /// What it came to.
    pub value: Value,
}

/// One step of a calculation.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "WorksheetLine")]
pub struct Line {
    /// What the step works out, in the words of the hand calculation.
    pub label: Text,
    /// The formula in words or symbols, empty when the value is an input itself.
    pub how: Text,
    /// What went in.
    pub inputs: Vec<Input>,
    /// What came out.
    pub value: Value,
    /// Section in the job's edition, when the step rests on one.
    pub cite: Option<Cite>,
    /// Weakest check status among the published values the step uses.
    pub check: Check,
    /// A reading taken, a caution, or why a value is safe.
    pub note: Option<Text>,
}

impl Line {
    /// A line of arithmetic; add to it with the other builders.
    pub fn new(label: impl Into<Text>, value: Value) -> Self {
        Self {
            label: label.into(),
            how: Text::Borrowed(""),
            inputs: Vec::new(),
            value,
            cite: None,
            check: Check::Arithmetic,
            note: None,
        }
    }

    /// A line whose value is a quantity.
    pub fn number(label: impl Into<Text>, value: impl Into<Quantity>) -> Self {
        Self::new(label, Value::Number(value.into()))
    }

    /// A line whose value is a size, name or sentence.
    pub fn text(label: impl Into<Text>, value: impl Into<Text>) -> Self {
        Self::new(label, Value::Text(value.into()))
    }

    /// A line that answers a yes-or-no question.
    pub fn passes(label: impl Into<Text>, passes: bool) -> Self {
        Self::new(label, Value::Passes(passes))
    }

    /// A line that cannot be worked out, and why.
    pub fn cannot_tell(label: impl Into<Text>, why: impl Into<Text>) -> Self {
        Self::new(label, Value::CannotTell(why.into()))
    }

    /// A line that fails because a table gave no value.
    pub fn no_value(label: impl Into<Text>, why: &NoValue) -> Self {
        let (NoValue::NotFound { cite, .. } | NoValue::NoEntry { cite, .. }) = why;
        let mut line = Self::cannot_tell(label, why.to_string());
        line.check = Check::NotFound;
        line.cite = Some(cite.clone());
        line
    }

    /// Says how the value is worked out.
    #[must_use]
    pub fn how(mut self, how: impl Into<Text>) -> Self {
        self.how = how.into();
        self
    }

    /// Adds a named input.
    #[must_use]
    pub fn input(mut self, name: impl Into<Text>, value: impl Into<Quantity>) -> Self {
        self.inputs.push(Input {
            name: name.into(),
            value: Value::Number(value.into()),
        });
        self
    }

    /// Adds a named input that is a size, name or sentence.
    #[must_use]
    pub fn input_text(mut self, name: impl Into<Text>, value: impl Into<Text>) -> Self {
        self.inputs.push(Input {
            name: name.into(),
            value: Value::Text(value.into()),
        });
        self
    }

    /// Names the section the step rests on; the check status takes the weaker of both.
    #[must_use]
    pub fn cite(mut self, cite: Cite) -> Self {
        self.check = self.check.min(cite.check);
        self.cite = Some(cite);
        self
    }

    /// Weakens the check status to that of a published value the step uses.
    #[must_use]
    pub fn checked(mut self, check: Check) -> Self {
        self.check = self.check.min(check);
        self
    }

    /// Takes section and check status from a table value.
    #[must_use]
    pub fn source<T>(self, value: &Sourced<T>) -> Self {
        self.checked(value.check).cite(value.cite.clone())
    }

    /// Adds a remark.
    #[must_use]
    pub fn note(mut self, note: impl Into<Text>) -> Self {
        self.note = Some(note.into());
        self
    }
}

/// A whole calculation.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Worksheet {
    /// Stable name for look-ups, for example `load.standard` or `feeder.f1.ampacity`.
    pub id: String,
    /// Title as printed.
    pub title: String,
    /// Edition the sections belong to.
    pub edition: Edition,
    /// Steps, in the order of the hand calculation.
    pub lines: Vec<Line>,
}

/// Room that most calculations need, taken at once.
const USUAL_LINES: usize = 16;

impl Worksheet {
    /// An empty worksheet.
    pub fn new(id: impl Into<String>, title: impl Into<String>, edition: Edition) -> Self {
        Self {
            id: id.into(),
            title: title.into(),
            edition,
            lines: Vec::with_capacity(USUAL_LINES),
        }
    }

    /// Adds a step.
    pub fn push(&mut self, line: Line) {
        self.lines.push(line);
    }

    /// Weakest check status of all steps.
    #[must_use]
    pub fn check(&self) -> Check {
        self.lines
            .iter()
            .map(|l| l.check)
            .min()
            .unwrap_or(Check::Arithmetic)
    }

    /// Everything that could not be told, in order.
    pub fn missing(&self) -> impl Iterator<Item = &Line> {
        self.lines
            .iter()
            .filter(|l| matches!(l.value, Value::CannotTell(_)))
    }

    /// The number on the first line with this label, for cross-checks between papers.
    #[must_use]
    pub fn number(&self, label: &str) -> Option<f64> {
        self.lines
            .iter()
            .find(|l| l.label == label)
            .and_then(|l| match &l.value {
                Value::Number(q) => Some(q.value),
                _ => None,
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check_number(value: f64, unit: &'static str, expected: &str) {
        assert_eq!(Quantity { value, unit }.to_string(), expected);
    }

    #[test]
    fn numbers_are_set_apart_by_thousands_and_keep_no_idle_decimals() {
        check_number(12500.0, "VA", "12,500 VA");
        check_number(0.83, "", "0.83");
        check_number(-1234567.5, "W", "-1,234,567.5 W");
        check_number(90.0, "A", "90 A");
        check_number(0.0004, "ohm", "0 ohm");
    }
}
