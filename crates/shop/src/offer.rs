//! What does the shop say beside the price: unit prices for what nobody can see yet, what is not included, what the state asks of the contract?
//! Sources: `allowances.csv`, `exclusions.csv`, `terms.csv` of the book. Terms are published facts with their source; verify them with the state.

use model::Dollars;

use crate::amount::{Count, Share};
use crate::bill::{self, Counted};
use crate::mistake::Mistake;
use crate::reader::Table;

/// Name of the allowances table.
pub const ALLOWANCES: &str = "allowances.csv";
const ALLOWANCES_HEADER: &[&str] = &["allowance", "unit", "parts", "labour", "hazard", "what"];
/// Name of the exclusions table.
pub const EXCLUSIONS: &str = "exclusions.csv";
const EXCLUSIONS_HEADER: &[&str] = &["exclusion", "text"];
/// Name of the terms table.
pub const TERMS: &str = "terms.csv";
const TERMS_HEADER: &[&str] = &[
    "term", "state", "kind", "over_usd", "percent", "usd", "days", "text", "source", "check",
    "caveat",
];

/// A unit price for what is unknown until the cover is off.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Allowance {
    /// Its name in the book.
    pub name: String,
    /// One of what.
    pub unit: String,
    /// Parts of one.
    pub parts: Vec<Counted>,
    /// Work of one.
    pub labour: Vec<Counted>,
    /// The hazard of a circuit that makes it likely; empty when none does.
    pub hazard: String,
    /// As the customer reads it.
    pub what: String,
    /// Line in the file.
    pub line: u64,
}

/// Sorts of terms.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum TermKind {
    /// Largest payment on signing.
    DepositCap,
    /// Days to cancel.
    Cancel,
    /// A written contract is asked.
    Written,
}

/// What a state asks of the contract.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
#[schemars(rename = "StateTerm")]
pub struct Term {
    /// Its name in the book.
    pub name: String,
    /// Two letters of the state.
    pub state: String,
    /// Sort.
    pub kind: TermKind,
    /// Only above this price.
    pub over: Option<Dollars>,
    /// Cap as a share of the price.
    pub percent: Option<Share>,
    /// Cap as an amount; with a share as well, the lesser of both.
    pub amount: Option<Dollars>,
    /// Days.
    pub days: Option<Count>,
    /// In words.
    pub text: String,
    /// Where it was published.
    pub source: String,
    /// How far it was checked.
    pub check: String,
    /// What may be otherwise.
    pub caveat: String,
}

impl Term {
    /// Largest payment on signing for a contract of this price; `None` where this term sets none.
    #[must_use]
    pub fn cap(&self, price: Dollars) -> Option<Dollars> {
        if self.kind != TermKind::DepositCap || self.over.is_some_and(|over| price <= over) {
            return None;
        }
        // Rounded down: a cap may not be passed by half a cent.
        let share = self.percent.map(|p| {
            let product = i128::from(price.cents()) * i128::from(p.hundredths());
            Dollars::from_cents((product / 10_000) as i64)
        });
        [share, self.amount].into_iter().flatten().min()
    }
}

pub(crate) fn allowances(text: &str, mistakes: &mut Vec<Mistake>) -> Vec<Allowance> {
    let table = Table {
        file: ALLOWANCES,
        header: ALLOWANCES_HEADER,
        mistakes,
    };
    let rows = table.rows(text, |row| {
        let unit = row.needed("unit");
        let parts = bill::read(row, "parts");
        let labour = bill::read(row, "labour");
        let what = row.needed("what");
        Some(Allowance {
            name: row.text("allowance").to_owned(),
            unit: unit?,
            parts: parts?,
            labour: labour?,
            hazard: row.text("hazard").to_owned(),
            what: what?,
            line: row.line,
        })
    });
    rows.into_iter().map(|(_, one)| one).collect()
}

pub(crate) fn exclusions(text: &str, mistakes: &mut Vec<Mistake>) -> Vec<String> {
    let table = Table {
        file: EXCLUSIONS,
        header: EXCLUSIONS_HEADER,
        mistakes,
    };
    let rows = table.rows(text, |row| row.needed("text"));
    rows.into_iter().map(|(_, one)| one).collect()
}

pub(crate) fn terms(text: &str, mistakes: &mut Vec<Mistake>) -> Vec<Term> {
    let table = Table {
        file: TERMS,
        header: TERMS_HEADER,
        mistakes,
    };
    let kinds = [
        ("deposit-cap", TermKind::DepositCap),
        ("cancel", TermKind::Cancel),
        ("written", TermKind::Written),
    ];
    let rows = table.rows(text, |row| {
        let kind = row.one_of("kind", &kinds);
        let over = row.dollars("over_usd");
        let over = row.unless_wrong("over_usd", over);
        let percent = row.hundredths("percent", "per cent");
        let percent = row.unless_wrong("percent", percent);
        let amount = row.dollars("usd");
        let amount = row.unless_wrong("usd", amount);
        let days = row.hundredths("days", "days");
        let days = row.unless_wrong("days", days);
        let (text, source, check) = (
            row.needed("text"),
            row.needed("source"),
            row.needed("check"),
        );
        let state = row.text("state").to_owned();
        if state.len() != 2 || !state.bytes().all(|b| b.is_ascii_uppercase()) {
            row.wrong(
                "state",
                format!("`{state}`"),
                "two capital letters",
                "correct the state",
            );
            return None;
        }
        let (percent, amount) = (percent?, amount?);
        if kind? == TermKind::DepositCap && percent.is_none() && amount.is_none() {
            row.wrong(
                "percent",
                "nothing",
                "a share or an amount",
                "write the cap",
            );
            return None;
        }
        Some(Term {
            name: row.text("term").to_owned(),
            state,
            kind: kind?,
            over: over?,
            percent: percent.map(Share::from_hundredths),
            amount,
            days: days?.map(Count::from_hundredths),
            text: text?,
            source: source?,
            check: check?,
            caveat: row.text("caveat").to_owned(),
        })
    });
    rows.into_iter().map(|(_, one)| one).collect()
}
