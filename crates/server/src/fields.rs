//! Takes the entries of a JSON object one by one; each wrong one is told by its name, and so is each that nobody asked for.

use model::{Date, Dollars};
use serde_json::{Map, Value};
use store::{JobId, PriceRange, Stage};

use crate::problem::Problem;

/// Amounts up to this many dollars are taken.
const MOST_DOLLARS: f64 = 1e9;

/// The entries that are not taken yet.
pub(crate) struct Fields {
    rest: Map<String, Value>,
    asked: Vec<&'static str>,
}

impl Fields {
    pub(crate) const fn new(map: Map<String, Value>) -> Self {
        Self {
            rest: map,
            asked: Vec::new(),
        }
    }

    fn take(&mut self, name: &'static str) -> Option<Value> {
        self.asked.push(name);
        self.rest.remove(name)
    }

    /// A text of at most `most` characters; `None` when it is not there. `null` stands for the empty text.
    pub(crate) fn line(
        &mut self,
        name: &'static str,
        most: usize,
    ) -> Result<Option<String>, Problem> {
        match self.take(name) {
            None => Ok(None),
            Some(Value::Null) => Ok(Some(String::new())),
            Some(Value::String(text))
                if text.chars().count() <= most && !text.chars().any(char::is_control) =>
            {
                Ok(Some(text))
            }
            Some(_) => Err(wrong(
                name,
                &format!("one line of text of at most {most} characters"),
            )),
        }
    }

    /// The text of a job, which must be there.
    pub(crate) fn job_text(&mut self) -> Result<String, Problem> {
        match self.take("text") {
            Some(Value::String(text)) => Ok(text),
            _ => Err(wrong("text", "the job file as a text")),
        }
    }

    /// The number of a revision, which must be there.
    pub(crate) fn revision(&mut self, name: &'static str) -> Result<u32, Problem> {
        self.take(name)
            .as_ref()
            .and_then(Value::as_u64)
            .and_then(|n| u32::try_from(n).ok())
            .filter(|n| *n > 0)
            .ok_or_else(|| wrong(name, "the number of a revision, from 1"))
    }

    pub(crate) fn id(&mut self) -> Result<Option<JobId>, Problem> {
        let expected = "a UUID in lower case, made for this job alone";
        match self.take("id") {
            None | Some(Value::Null) => Ok(None),
            Some(Value::String(text)) => text.parse().map(Some).map_err(|_| wrong("id", expected)),
            Some(_) => Err(wrong("id", expected)),
        }
    }

    pub(crate) fn stage(&mut self) -> Result<Option<Stage>, Problem> {
        let Some(value) = self.take("stage") else {
            return Ok(None);
        };
        value
            .as_str()
            .and_then(Stage::from_word)
            .map(Some)
            .ok_or_else(|| {
                let words = Stage::ALL.map(Stage::word).join(", ");
                wrong("stage", &format!("one of {words}"))
            })
    }

    /// A day; the inner `None` is `null`, which takes the day away.
    pub(crate) fn day(&mut self, name: &'static str) -> Result<Option<Option<Date>>, Problem> {
        let expected = "a day as 2026-11-25, or null";
        match self.take(name) {
            None => Ok(None),
            Some(Value::Null) => Ok(Some(None)),
            Some(Value::String(text)) => text
                .parse()
                .map(|day| Some(Some(day)))
                .map_err(|_| wrong(name, expected)),
            Some(_) => Err(wrong(name, expected)),
        }
    }

    /// A price; the inner `None` is `null`, which takes the price away.
    pub(crate) fn price(&mut self) -> Result<Option<Option<PriceRange>>, Problem> {
        match self.take("price") {
            None => Ok(None),
            Some(Value::Null) => Ok(Some(None)),
            Some(value) => range(&value).map(|r| Some(Some(r))).ok_or_else(|| {
                wrong(
                    "price",
                    "{ \"low\": dollars, \"high\": dollars }, low not above high, or null",
                )
            }),
        }
    }

    /// Everything was taken.
    pub(crate) fn finish(self) -> Result<(), Problem> {
        match self.rest.keys().next() {
            None => Ok(()),
            Some(name) => {
                let shown: String = name.chars().take(40).filter(|c| !c.is_control()).collect();
                Err(Problem::bad(
                    format!("`{shown}` is not known here."),
                    format!("only {}", self.asked.join(", ")),
                ))
            }
        }
    }
}

fn range(value: &Value) -> Option<PriceRange> {
    let map = value.as_object().filter(|m| m.len() == 2)?;
    let amount = |name: &str| {
        let dollars = map.get(name)?.as_f64()?;
        (0.0..=MOST_DOLLARS)
            .contains(&dollars)
            .then(|| Dollars::from_amount(dollars))
            .flatten()
    };
    let (low, high) = (amount("low")?, amount("high")?);
    (low <= high).then_some(PriceRange { low, high })
}

fn wrong(name: &str, expected: &str) -> Problem {
    Problem::bad(format!("`{name}` is missing or wrong."), expected)
}
