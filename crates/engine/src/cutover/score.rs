//! How much darkness does a plan bring, and how little could it be? Seconds times weight; hours only when shown.
//! Source: sums of the diary; bounds of [`super::order`], [`super::share`] and [`super::split`].

use serde::Serialize;

/// Weighted dark time: seconds times weight, summed over circuits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Score {
    /// Of this plan.
    pub dark: u64,
    /// No plan of this approach, crew and day can have less.
    pub least: u64,
    /// Why.
    pub proof: Proof,
}

/// Why no order can be better, or how near the best this one is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "CutoverProof")]
#[serde(rename_all = "snake_case")]
pub enum Proof {
    /// Length of the dead period is given; the order of switching on is the best there is.
    Order,
    /// Every choice of what is landed first was weighed.
    AllChoices,
    /// Each circuit is dark for its own transfer alone.
    OwnTime,
    /// The bound takes the work as shared evenly.
    Shared,
    /// Too many choices to weigh them all.
    #[default]
    None,
}

/// Weighted seconds by which the plan may be from the best, and why no more.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slack(pub(super) u64, pub(super) Proof);

impl Score {
    /// Nothing can be better.
    #[must_use]
    pub fn is_optimal(&self) -> bool {
        self.dark == self.least && self.proof != Proof::None
    }

    /// Weighted hours.
    #[must_use]
    pub fn dark_hours(&self) -> f64 {
        self.dark as f64 / 3600.0
    }

    /// Weighted hours that no plan can be below.
    #[must_use]
    pub fn least_hours(&self) -> f64 {
        self.least as f64 / 3600.0
    }

    /// How far this plan may be from the best, as a share of the best.
    #[must_use]
    pub fn gap(&self) -> f64 {
        if self.least == 0 {
            0.0
        } else {
            (self.dark - self.least) as f64 / self.least as f64
        }
    }
}
