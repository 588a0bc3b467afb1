//! The JSON Schema of the job file, generated from the types.
//! Source: JSON Schema 2020-12. Editors use it to complete and check job files.

use schemars::{JsonSchema, Schema, SchemaGenerator};

use crate::candidates::Candidates;
use crate::house::House;
use crate::offer::Offer;
use crate::place::Place;
use crate::plan::Plan;

/// The job file as it is written: `after` holds only what changes.
#[derive(JsonSchema)]
#[schemars(title = "Lugwright job", deny_unknown_fields)]
#[expect(dead_code, reason = "only its schema is used")]
struct JobText {
    /// Format number, 1.
    format: u32,
    /// One line for lists and papers.
    title: String,
    /// Why the customer called.
    #[schemars(default)]
    reason: String,
    /// Where, and under which edition.
    place: Place,
    /// How the work is to be done.
    #[schemars(default)]
    plan: Plan,
    /// Where a panel might go.
    #[schemars(default)]
    candidates: Candidates,
    /// What the offer holds beside the work.
    #[schemars(default)]
    offer: Offer,
    /// The house as it stands.
    #[schemars(default)]
    before: House,
    /// What is different when the work is done. Everything not named stays as it was before.
    #[schemars(default)]
    after: House,
}

/// JSON Schema of a job file.
#[must_use]
pub fn schema() -> Schema {
    SchemaGenerator::default().into_root_schema_for::<JobText>()
}
