//! A shop's own figures: what an hour costs, how long each counted thing takes, what parts cost.
//!
//! A book is a folder of comma-separated files, described in `docs/shop-book.md`. The program carries one whose figures are invented for
//! the demo jobs, except where a line names its source; a shop lays its own files over it by name.
//!
//! - [`labour`]: minutes of one person by counted item; [`rates`]: wages, overhead, markup, tax, fees;
//! - [`amount`]: exact minutes, counts and shares; [`mistake`]: what is wrong with a file, and where.

pub mod amount;
pub mod labour;
pub mod mistake;
pub mod rates;
mod reader;

pub use amount::{Count, Minutes, Share};
pub use labour::Labour;
pub use mistake::{Missing, Mistake};
pub use rates::{Rates, TaxOn};

/// A whole price book.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Book {
    /// Minutes by counted item.
    pub labour: Labour,
    /// Wages, overhead, markup, tax, fees.
    pub rates: Rates,
}

/// The tables that the program carries: file name and text.
pub const BUILT_IN: &[(&str, &str)] = &[
    (labour::FILE, include_str!("../data/labour.csv")),
    (rates::FILE, include_str!("../data/rates.csv")),
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
        let mut mistakes = Vec::new();
        let files: Vec<(&str, &str)> = files.into_iter().collect();
        for (name, _) in &files {
            if !BUILT_IN.iter().any(|(known, _)| known == name) {
                let known = || BUILT_IN.iter().map(|(known, _)| *known);
                mistakes.push(Mistake {
                    file: (*name).to_owned(),
                    line: 0,
                    column: String::new(),
                    found: format!("a file called `{name}`"),
                    expected: format!("files called {}", model::nearest::list(known())),
                    advice: model::nearest::advice(name, known(), "rename it or take it out"),
                });
            }
        }
        let text = |wanted: &str| {
            let own = files.iter().find(|(name, _)| *name == wanted);
            let built_in = || BUILT_IN.iter().find(|(name, _)| *name == wanted);
            own.or_else(built_in).map_or("", |(_, text)| *text)
        };
        let book = Self {
            labour: Labour::read(text(labour::FILE), &mut mistakes),
            rates: Rates::read(text(rates::FILE), &mut mistakes),
        };
        if mistakes.is_empty() {
            Ok(book)
        } else {
            Err(mistakes)
        }
    }
}
