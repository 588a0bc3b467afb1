//! How is a moment of the cut-over shown? As a time of day where the plan says when the crew arrives, else as hours and minutes from arrival.

use model::plan::ClockTime;

use super::{Dark, Seconds, words};
use crate::saying::Saying;

/// A moment as it is shown.
#[derive(Clone, Copy, Debug)]
pub struct Clock(pub Option<ClockTime>);

impl Clock {
    /// Time of day, with the day where it is not the first; hours and minutes from arrival where nobody said when that is.
    #[must_use]
    pub fn at(self, moment: Seconds) -> String {
        self.saying(moment).to_string()
    }

    /// The same, to be said in any language.
    #[must_use]
    pub fn saying(self, moment: Seconds) -> Saying {
        match self.day_and_time(moment) {
            (1, time) => words::TIME.with("time", time),
            (day, time) => words::TIME_OF_DAY.with("day", day).with("time", time),
        }
    }

    /// The day, from 1, and the time of it; the first day and the time from arrival where nobody said when that is.
    #[must_use]
    pub fn day_and_time(self, moment: Seconds) -> (u64, String) {
        let Some(start) = self.0 else {
            let minutes = moment.minutes();
            return (1, format!("+{}:{:02}", minutes / 60, minutes % 60));
        };
        let minutes = u64::from(start.minutes()) + moment.minutes();
        let (day, minutes) = (minutes / 1440 + 1, minutes % 1440);
        (day, format!("{:02}:{:02}", minutes / 60, minutes % 60))
    }

    /// From when to when.
    #[must_use]
    pub fn span(self, dark: &Dark) -> String {
        self.span_saying(dark).to_string()
    }

    /// The same, to be said in any language.
    #[must_use]
    pub fn span_saying(self, dark: &Dark) -> Saying {
        let from = self.saying(dark.from);
        let span = Saying::from(words::SPAN).with_saying("from", from);
        span.with_saying("to", self.saying(dark.to))
    }

    /// All of them.
    #[must_use]
    pub fn spans(self, dark: &[Dark]) -> String {
        let all: Vec<String> = dark.iter().map(|d| self.span(d)).collect();
        all.join("; ")
    }
}
