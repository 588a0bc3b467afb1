//! Where the job is, and which code rules there.
//! Source: the permit office. The edition is named by the user; the state list of the rulebook is only a hint.

use serde::{Deserialize, Serialize};

use crate::date::Date;
use crate::edition::Edition;
use crate::house::StatedFacts;

/// Address-level facts: state, authority, edition in force.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Two-letter state code.
    pub state: String,
    /// Street address, for papers.
    #[serde(default)]
    pub address: String,
    /// Who the customer is, for the offer and the hand-over; never on a directory.
    #[serde(default)]
    pub customer: String,
    /// City or county.
    #[serde(default)]
    pub city: String,
    /// Authority having jurisdiction, as it calls itself.
    #[serde(default)]
    pub authority: String,
    /// Edition adopted at the address. There is no default.
    pub edition: Edition,
    /// Date of the permit application, which commonly fixes edition and amendments.
    #[serde(default)]
    pub permit_date: Option<Date>,
    /// Number of the permit, once there is one.
    #[serde(default)]
    pub permit_number: String,
    /// Names of amendment files that apply here.
    #[serde(default)]
    pub amendments: Vec<String>,
    /// Electric utility.
    #[serde(default)]
    pub utility: String,
    /// Facts about the job and its place by their full dictionary name, for example `job.ahj_measures_outside_only`.
    #[serde(default)]
    pub facts: StatedFacts,
}
