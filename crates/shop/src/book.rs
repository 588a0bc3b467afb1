//! The whole book: every table read, and every name that one table uses looked up in the other.
//! Source: the files; see `docs/shop-book.md`. No units of its own.

use std::collections::BTreeSet;

use model::nearest;

use crate::bill::Counted;
use crate::identity::{self, Identity};
use crate::labour::{self, Labour};
use crate::mistake::Mistake;
use crate::offer::{self, Allowance, Term};
use crate::options::{self, Options};
use crate::parts::{self, Parts};
use crate::rates::{self, Rates};
use crate::remedies::{self, Remedies};

/// A whole price book.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Book {
    /// The shop on paper.
    pub identity: Identity,
    /// Minutes by counted item.
    pub labour: Labour,
    /// What parts cost.
    pub parts: Parts,
    /// Wages, overhead, markup, tax, fees.
    pub rates: Rates,
    /// What is done about each requirement.
    pub remedies: Remedies,
    /// What the customer may add.
    pub options: Options,
    /// Unit prices for what nobody can see yet.
    pub allowances: Vec<Allowance>,
    /// What the price does not include, in words.
    pub exclusions: Vec<String>,
    /// What states ask of the contract.
    pub terms: Vec<Term>,
}

/// The tables that the program carries: file name and text.
pub const BUILT_IN: &[(&str, &str)] = &[
    (identity::FILE, include_str!("../data/shop.csv")),
    (labour::FILE, include_str!("../data/labour.csv")),
    (parts::FILE, include_str!("../data/parts.csv")),
    (rates::FILE, include_str!("../data/rates.csv")),
    (remedies::FILE, include_str!("../data/remedies.csv")),
    (options::FILE, include_str!("../data/options.csv")),
    (offer::ALLOWANCES, include_str!("../data/allowances.csv")),
    (offer::EXCLUSIONS, include_str!("../data/exclusions.csv")),
    (offer::TERMS, include_str!("../data/terms.csv")),
];

impl Book {
    /// The book that the program carries. Its figures are invented for the demo jobs unless a line names its source.
    ///
    /// # Errors
    /// Every mistake in it.
    pub fn built_in() -> Result<Self, Vec<Mistake>> {
        Self::read([])
    }

    /// A book of these files, name and text of each; a table that is not among them is the built-in one.
    ///
    /// # Errors
    /// Every mistake in the files.
    pub fn read<'f>(
        files: impl IntoIterator<Item = (&'f str, &'f str)>,
    ) -> Result<Self, Vec<Mistake>> {
        let files: Vec<(&str, &str)> = files.into_iter().collect();
        let mut mistakes: Vec<Mistake> = files
            .iter()
            .filter(|(name, _)| BUILT_IN.iter().all(|(known, _)| known != name))
            .map(|(name, _)| no_such_file(name))
            .collect();
        let text = |wanted: &str| {
            let own = files.iter().find(|(name, _)| *name == wanted);
            let built_in = || BUILT_IN.iter().find(|(name, _)| *name == wanted);
            own.or_else(built_in).map_or("", |(_, text)| *text)
        };
        let book = Self {
            identity: Identity::read(text(identity::FILE), &mut mistakes),
            labour: Labour::read(text(labour::FILE), &mut mistakes),
            parts: Parts::read(text(parts::FILE), &mut mistakes),
            rates: Rates::read(text(rates::FILE), &mut mistakes),
            remedies: Remedies::read(text(remedies::FILE), &mut mistakes),
            options: Options::read(text(options::FILE), &mut mistakes),
            allowances: offer::allowances(text(offer::ALLOWANCES), &mut mistakes),
            exclusions: offer::exclusions(text(offer::EXCLUSIONS), &mut mistakes),
            terms: offer::terms(text(offer::TERMS), &mut mistakes),
        };
        // A line that could not be read would be missed by every line that names it: those come when the tables read well.
        if mistakes.is_empty() {
            book.look_up(&mut mistakes);
        }
        if mistakes.is_empty() {
            Ok(book)
        } else {
            Err(mistakes)
        }
    }

    /// Every part and task that another table names, with the place that names it.
    fn bills(&self) -> impl Iterator<Item = (&'static str, u64, &[Counted], &[Counted])> {
        let remedies = self.remedies.iter().map(|(_, r)| {
            let (parts, labour) = (r.parts.as_slice(), r.labour.as_slice());
            (remedies::FILE, r.line, parts, labour)
        });
        let options = self.options.iter().map(|o| {
            let (parts, labour) = (o.parts.as_slice(), o.labour.as_slice());
            (options::FILE, o.line, parts, labour)
        });
        let allowances = self.allowances.iter().map(|a| {
            let (parts, labour) = (a.parts.as_slice(), a.labour.as_slice());
            (offer::ALLOWANCES, a.line, parts, labour)
        });
        remedies.chain(options).chain(allowances)
    }

    /// Names that no table has, and lines that nothing can ever count.
    fn look_up(&self, mistakes: &mut Vec<Mistake>) {
        let mut used_parts = BTreeSet::new();
        let mut used_labour = BTreeSet::new();
        let parts = || self.parts.iter().map(|(name, _)| name);
        let tasks = || self.labour.iter().map(|(name, _)| name);
        for (file, line, of_parts, of_labour) in self.bills() {
            let mut unknown = |column: &str, item: &str, wanted: &str, advice: String| {
                mistakes.push(Mistake {
                    file: file.to_owned(),
                    line,
                    column: column.to_owned(),
                    found: format!("`{item}`"),
                    expected: format!("a name that {wanted} has"),
                    advice,
                });
            };
            for one in of_parts {
                used_parts.insert(one.item.as_str());
                if self.parts.get(&one.item).is_none() {
                    let otherwise = format!("add a line for it to {}", parts::FILE);
                    let advice = nearest::advice(&one.item, parts(), &otherwise);
                    unknown("parts", &one.item, parts::FILE, advice);
                }
            }
            for one in of_labour {
                used_labour.insert(one.item.as_str());
                if self.labour.task(&one.item).is_err() {
                    let otherwise = format!("add a line for it to {}", labour::FILE);
                    let advice = nearest::advice(&one.item, tasks(), &otherwise);
                    unknown("labour", &one.item, labour::FILE, advice);
                }
            }
        }
        let mut idle = |file: &str, line, column: &str, item: &str, known: Vec<&str>| {
            mistakes.push(Mistake {
                file: file.to_owned(),
                line,
                column: column.to_owned(),
                found: format!("`{item}`, which nothing counts"),
                expected: "an item that a calculation, remedy, option or allowance names"
                    .to_owned(),
                advice: nearest::advice(
                    item,
                    known,
                    "take the line out, or name it in another table",
                ),
            });
        };
        for (name, part) in self.parts.iter() {
            if !used_parts.contains(name) && !parts::is_named(name) {
                let known = parts::NAMED.iter().filter(|n| !n.ends_with('*')).copied();
                let known = known.chain(used_parts.iter().copied()).collect();
                idle(parts::FILE, part.line, "part", name, known);
            }
        }
        for (name, task) in self.labour.iter() {
            let counted = labour::COUNTED.iter().any(|(item, _)| *item == name);
            if !counted && !used_labour.contains(name) {
                let known = labour::COUNTED.iter().map(|(item, _)| *item);
                let known = known.chain(used_labour.iter().copied()).collect();
                idle(labour::FILE, task.line, "item", name, known);
            }
        }
    }
}

fn no_such_file(name: &str) -> Mistake {
    let known = || BUILT_IN.iter().map(|(known, _)| *known);
    Mistake {
        file: name.to_owned(),
        line: 0,
        column: String::new(),
        found: format!("a file called `{name}`"),
        expected: format!("files called {}", nearest::list(known())),
        advice: nearest::advice(name, known(), "rename it or take it out"),
    }
}
