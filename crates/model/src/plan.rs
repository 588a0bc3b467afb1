//! How the work is to be done: crew, approach, hours, what must not be dark. The order itself is worked out, never entered.
//! Source: the contractor's plan. Hours of work, times of day as `HH:MM`; weights are pure numbers of our own judgement.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::id::CircuitId;
use crate::map::Map;
use crate::units::Hours;

/// Most people a plan can use.
pub const MOST_WORKERS: u8 = 3;

/// The plan of the cut-over.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Plan {
    /// People at work, 1 to 3.
    pub workers: u8,
    /// One shutdown, or the new panel alive beside the old one first.
    pub approach: Approach,
    /// Time of day the crew arrives. Left out, the plan counts hours from arrival.
    pub start: Option<ClockTime>,
    /// Hours the crew works on one day, counted from `start`.
    pub shift: Hours,
    /// Between which times the utility disconnects and reconnects. Only a job that needs the utility uses it.
    pub utility_window: Option<Window>,
    /// Circuits whose loads get power from elsewhere while the panel is dead.
    pub temporary_power: Vec<CircuitId>,
    /// New panel first: a second feeder, or a temporary one, can run beside the old one.
    pub second_feeder: Fact<bool>,
    /// New panel first: where a circuit is taken over.
    pub transfer: Fact<Transfer>,
    /// One shutdown: split it in two, with at least this pause between, in which the circuits landed so far are live.
    pub restore_round: Option<Hours>,
    /// A circuit whose breaker closes only after that of another: `alarm-panel = "router"`.
    pub follows: Map<CircuitId, CircuitId>,
    /// What an hour of darkness weighs, by kind of circuit.
    pub weights: Weights,
    /// What an hour of darkness weighs for single circuits, in place of its kind's.
    pub weight_of: Map<CircuitId, u32>,
}

impl Default for Plan {
    fn default() -> Self {
        Self {
            workers: 2,
            approach: Approach::InPlace,
            start: None,
            shift: Hours(8.0),
            utility_window: None,
            temporary_power: Vec::new(),
            second_feeder: Fact::Unknown,
            transfer: Fact::Unknown,
            restore_round: None,
            follows: Map::new(),
            weights: Weights::default(),
            weight_of: Map::new(),
        }
    }
}

/// How the panel is changed over.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Approach {
    /// One shutdown: everything is dark from lock-out until the new panel is proven.
    #[default]
    InPlace,
    /// The new panel stands elsewhere and is proven and energized first; circuits follow.
    NewPanelFirst,
}

/// Where a circuit is taken over from the old panel to the new one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Transfer {
    /// Its cable is cut outside the old cabinet, in a box of its own, with its breaker locked off.
    OwnBox,
    /// Its cable is lifted out of the old cabinet, which must be dead for it.
    OldCabinet,
}

/// What an hour of darkness weighs. Our own judgement; no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Weights {
    /// A circuit named as critical.
    pub critical: u32,
    /// Smoke alarms.
    pub alarms: u32,
    /// What keeps food, heat or water: refrigerator, pumps, blower, heat.
    pub keeping: u32,
    /// Everything else.
    pub ordinary: u32,
    /// Vehicle charging, spa, and circuits kept for later.
    pub can_wait: u32,
}

impl Default for Weights {
    fn default() -> Self {
        Self {
            critical: 10,
            alarms: 6,
            keeping: 4,
            ordinary: 2,
            can_wait: 1,
        }
    }
}

/// A span of a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Window {
    /// From.
    pub from: ClockTime,
    /// To.
    pub to: ClockTime,
}

/// A time of day, to the minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ClockTime(u16);

impl ClockTime {
    /// Minutes after midnight.
    #[must_use]
    pub const fn minutes(self) -> u16 {
        self.0
    }
}

impl fmt::Display for ClockTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

/// The text is no time of day.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a time of day: expected hours and minutes, for example \"07:30\"")]
pub struct BadClockTime(pub String);

impl FromStr for ClockTime {
    type Err = BadClockTime;

    fn from_str(text: &str) -> Result<Self, BadClockTime> {
        let bad = || BadClockTime(text.to_owned());
        let (hours, minutes) = text.split_once(':').ok_or_else(bad)?;
        let number = |part: &str, below: u16| {
            let digits = part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit());
            let number = digits.then(|| part.parse::<u16>().ok()).flatten();
            number.filter(|n| *n < below).ok_or_else(bad)
        };
        Ok(Self(number(hours, 24)? * 60 + number(minutes, 60)?))
    }
}

impl Serialize for ClockTime {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ClockTime {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

impl schemars::JsonSchema for ClockTime {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ClockTime".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$",
            "examples": ["07:30"],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_times_that_a_clock_shows_are_times_of_day() {
        for (text, minutes) in [
            ("00:00", Some(0)),
            ("07:30", Some(450)),
            ("23:59", Some(1439)),
        ] {
            assert_eq!(
                text.parse::<ClockTime>().ok().map(ClockTime::minutes),
                minutes
            );
        }
        for text in ["24:00", "7:30", "07:60", "0730", "", "-1:00", "07:30:00"] {
            assert!(text.parse::<ClockTime>().is_err(), "{text}");
        }
    }
}
