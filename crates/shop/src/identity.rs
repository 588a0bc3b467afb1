//! Who is the shop, as its papers say it?
//! Source: `shop.csv` of the book. What is left empty leaves a line to be written on by hand.

use crate::mistake::Mistake;
use crate::reader::Table;

/// Name of the table.
pub const FILE: &str = "shop.csv";
const HEADER: &[&str] = &["field", "value"];
/// Fields that papers use.
pub const FIELDS: &[&str] = &[
    "name", "licence", "address", "phone", "email", "payment", "warranty",
];

/// The shop on paper.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct Identity {
    /// Name of the business.
    pub name: String,
    /// Licence, as the state numbers it.
    pub licence: String,
    /// Postal address.
    pub address: String,
    /// Telephone.
    pub phone: String,
    /// Electronic mail.
    pub email: String,
    /// How payments are taken.
    pub payment: String,
    /// What the shop stands for after the work, and for how long.
    pub warranty: String,
}

impl Identity {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let rows = table.rows(text, |row| {
            let name = row.text("field").to_owned();
            if FIELDS.contains(&name.as_str()) {
                return Some((name, row.text("value").to_owned()));
            }
            row.wrong(
                "field",
                format!("`{name}`"),
                format!("one of {}", FIELDS.join(", ")),
                "take the line out, or name a field that papers use",
            );
            None
        });
        let mut identity = Self::default();
        for (_, (field, value)) in rows {
            match field.as_str() {
                "name" => identity.name = value,
                "licence" => identity.licence = value,
                "address" => identity.address = value,
                "phone" => identity.phone = value,
                "email" => identity.email = value,
                "payment" => identity.payment = value,
                _ => identity.warranty = value,
            }
        }
        identity
    }
}
