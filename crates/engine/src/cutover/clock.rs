//! How is a moment of the cut-over shown? As a time of day where the plan says when the crew arrives, else as hours and minutes from arrival.

use model::plan::ClockTime;

use super::{Dark, Seconds};

/// A moment as it is shown.
#[derive(Clone, Copy, Debug)]
pub struct Clock(pub Option<ClockTime>);

impl Clock {
    /// Time of day, with the day where it is not the first; hours and minutes from arrival where nobody said when that is.
    #[must_use]
    pub fn at(self, moment: Seconds) -> String {
        let Some(start) = self.0 else {
            let minutes = moment.minutes();
            return format!("+{}:{:02}", minutes / 60, minutes % 60);
        };
        let minutes = u64::from(start.minutes()) + moment.minutes();
        let (day, minutes) = (minutes / 1440 + 1, minutes % 1440);
        let time = format!("{:02}:{:02}", minutes / 60, minutes % 60);
        if day > 1 {
            format!("day {day} {time}")
        } else {
            time
        }
    }

    /// From when to when.
    #[must_use]
    pub fn span(self, dark: &Dark) -> String {
        format!("{} to {}", self.at(dark.from), self.at(dark.to))
    }

    /// All of them.
    #[must_use]
    pub fn spans(self, dark: &[Dark]) -> String {
        let all: Vec<String> = dark.iter().map(|d| self.span(d)).collect();
        all.join("; ")
    }
}
