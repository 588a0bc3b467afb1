//! A job: one house before the work and after it, at one place.
//! Source: the job file. The difference of the two pictures is the scope; see [`crate::scope`].

use serde::{Deserialize, Serialize};

use crate::candidates::Candidates;
use crate::house::House;
use crate::offer::Offer;
use crate::place::Place;
use crate::plan::Plan;

/// Format number of the job file that this version reads and writes.
pub const FORMAT: u32 = 1;

/// A panel job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// Format of the file, [`FORMAT`].
    pub format: u32,
    /// One line for lists and papers.
    pub title: String,
    /// Why the customer called.
    pub reason: String,
    /// Where, and under which edition.
    pub place: Place,
    /// How the work is to be done.
    pub plan: Plan,
    /// Where a panel might go.
    #[serde(default)]
    pub candidates: Candidates,
    /// What the offer holds beside the work.
    #[serde(default)]
    pub offer: Offer,
    /// The house as it stands.
    pub before: House,
    /// The house as it will stand.
    pub after: House,
}
