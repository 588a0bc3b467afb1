//! The highest 15-minute demand in a meter's interval record.
//! NFPA 70 220.87 (2014-2023), 120.87 (2026). Kilowatt-hours of equal intervals in, kilowatts out.

use crate::worksheet::{Line, Quantity};

/// The highest average power that interval data shows, in kilowatts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// Highest of the intervals as recorded.
    pub recorded_kw: f64,
    /// What a 15-minute average that does not start on the clock could at most have been.
    pub sliding_bound_kw: f64,
}

/// Finds the peak in a record of equal intervals: energy of each in kilowatt-hours, their length in minutes.
/// Intervals longer than 15 minutes hide the peak, so they give none; shorter ones are put together.
#[must_use]
pub fn peak(energy_kwh: &[f64], minutes: u32) -> Option<Peak> {
    const QUARTER_HOUR: u32 = 15;
    if minutes == 0 || !QUARTER_HOUR.is_multiple_of(minutes) || energy_kwh.is_empty() {
        return None;
    }
    if energy_kwh.iter().any(|kwh| !kwh.is_finite() || *kwh < 0.0) {
        return None;
    }
    let per_quarter = (QUARTER_HOUR / minutes) as usize;
    let highest = |width: usize| {
        energy_kwh
            .windows(width.min(energy_kwh.len()))
            .map(|w| w.iter().sum::<f64>())
            .fold(0.0, f64::max)
    };
    let quarters_per_hour = f64::from(60 / QUARTER_HOUR);
    Some(Peak {
        recorded_kw: highest(per_quarter) * quarters_per_hour,
        sliding_bound_kw: highest(per_quarter + 1) * quarters_per_hour,
    })
}

/// The line that tells how far a sliding interval could lie above the recorded one.
#[must_use]
pub fn lines(peak: &Peak) -> Vec<Line> {
    let kw = |value| Quantity { value, unit: "kW" };
    vec![
        Line::number("Highest recorded interval", kw(peak.recorded_kw))
            .how("kilowatt-hours of 15 minutes x 4"),
        Line::number(
            "Bound for an interval that starts off the clock",
            kw(peak.sliding_bound_kw),
        )
        .how("largest sum of two neighbours x 4"),
    ]
}
