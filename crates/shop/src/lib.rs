//! A shop's own figures: what an hour costs, how long each counted thing takes, what parts cost.
//!
//! A book is a folder of comma-separated files, described in `docs/shop-book.md`. The program carries one whose figures are invented for
//! the demo jobs, except where a line names its source; a shop lays its own files over it by name.
//!
//! - [`labour`]: minutes of one person by counted item; [`rates`]: wages, overhead, markup, tax, fees;
//! - [`parts`]: what parts cost; [`remedies`]: what is done about each requirement; [`options`]: what the customer may add;
//! - [`offer`]: allowances, exclusions, terms of the state; [`identity`]: the shop on paper;
//! - [`amount`]: exact minutes, counts and shares; [`bill`]: so many of a thing; [`mistake`]: what is wrong with a file, and where.

pub mod amount;
pub mod bill;
mod book;
pub mod identity;
pub mod labour;
pub mod mistake;
pub mod offer;
pub mod options;
pub mod parts;
pub mod rates;
mod reader;
pub mod remedies;

pub use amount::{Count, Minutes, Share};
pub use bill::Counted;
pub use book::{BUILT_IN, Book};
pub use identity::Identity;
pub use labour::Labour;
pub use mistake::{Missing, Mistake};
pub use options::{AskedBy, ShopOption};
pub use parts::Parts;
pub use rates::{Rates, TaxOn};
pub use remedies::{Does, Remedy};
