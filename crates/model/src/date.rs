//! Is a date inside a range? A plain calendar day, since permits and amendments need no more.
//! Source: ISO 8601 calendar date, proleptic Gregorian, years 1900 to 2999.

use std::fmt;
use std::str::FromStr;

/// A calendar day. Ordered by time.
///
/// ```
/// let day: model::Date = "2026-11-25".parse()?;
/// assert!(day < "2026-12-01".parse()?);
/// # Ok::<(), model::BadDate>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// A day that exists, or `None`.
    #[must_use]
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let exists = (1900..=2999).contains(&year) && (1..=days_in(year, month)).contains(&day);
        exists.then_some(Self { year, month, day })
    }

    /// The day so many days after 1970-01-01; the last day known where that is beyond the year 2999.
    #[must_use]
    pub fn of_day(days: u64) -> Self {
        let (mut year, mut left) = (1970u16, days);
        loop {
            let length = if days_in(year, 2) == 29 { 366 } else { 365 };
            if left < length || year == 2999 {
                break;
            }
            (year, left) = (year + 1, left - length);
        }
        let mut month = 1;
        while month < 12 && left >= u64::from(days_in(year, month)) {
            left -= u64::from(days_in(year, month));
            month += 1;
        }
        let day = left.min(u64::from(days_in(year, month)) - 1) as u8 + 1;
        Self { year, month, day }
    }

    /// The day so many days later; the last day known where that is beyond the year 2999.
    #[must_use]
    pub fn later(self, days: u64) -> Self {
        let (mut year, mut month) = (self.year, self.month);
        // Counted from the first of the month.
        let mut left = days.saturating_add(u64::from(self.day) - 1);
        loop {
            let length = u64::from(days_in(year, month));
            if left < length {
                break;
            }
            left -= length;
            (year, month) = match month {
                12 if year == 2999 => {
                    return Self {
                        year,
                        month,
                        day: 31,
                    };
                }
                12 => (year + 1, 1),
                _ => (year, month + 1),
            };
        }
        Self {
            year,
            month,
            day: left as u8 + 1,
        }
    }

    /// Year, month from 1, day from 1.
    #[must_use]
    pub const fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.day)
    }
}

fn days_in(year: u16, month: u8) -> u8 {
    match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => {
            29
        }
        2 => 28,
        _ => 0,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// The text is no calendar day.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a date: expected year-month-day, for example 2026-11-25")]
pub struct BadDate(pub String);

impl FromStr for Date {
    type Err = BadDate;

    fn from_str(text: &str) -> Result<Self, BadDate> {
        let bad = || BadDate(text.to_owned());
        let mut parts = text.trim().splitn(3, '-');
        let mut part = |digits: usize| {
            parts
                .next()
                .filter(|p| p.len() == digits && p.bytes().all(|b| b.is_ascii_digit()))
                .and_then(|p| p.parse::<u16>().ok())
                .ok_or_else(bad)
        };
        let (year, month, day) = (part(4)?, part(2)?, part(2)?);
        Self::new(year, month as u8, day as u8).ok_or_else(bad)
    }
}

impl schemars::JsonSchema for Date {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Date".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "type": "string", "format": "date", "examples": ["2026-11-25"] })
    }
}

impl serde::Serialize for Date {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Date {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        String::deserialize(d)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, exists: bool) {
        assert_eq!(text.parse::<Date>().is_ok(), exists, "{text}");
    }

    #[test]
    fn only_days_that_exist_are_dates() {
        check("2026-11-25", true);
        check("2028-02-29", true);
        check("2026-02-29", false);
        check("2026-13-01", false);
        check("2026-1-1", false);
        check("26-01-01", false);
        check("2026-11-25-", false);
        check("", false);
    }

    #[test]
    fn days_are_counted_as_the_system_clock_counts_them() {
        // `date -u -d @SECONDS` of GNU coreutils.
        for (days, expected) in [
            (0, "1970-01-01"),
            (58, "1970-02-28"),
            (59, "1970-03-01"),
            (11_016, "2000-02-29"),
            (20_782, "2026-11-25"),
            (u64::MAX, "2999-12-31"),
        ] {
            assert_eq!(Date::of_day(days).to_string(), expected);
        }
    }

    #[test]
    fn days_later_are_those_of_the_calendar() {
        // `date -d "DAY + N days"` of GNU coreutils.
        for (day, days, expected) in [
            ("2026-11-25", 30, "2026-12-25"),
            ("2026-12-15", 30, "2027-01-14"),
            ("2028-02-28", 1, "2028-02-29"),
            ("1999-12-31", 366, "2000-12-31"),
            ("2026-11-25", 0, "2026-11-25"),
            ("2999-12-01", u64::MAX, "2999-12-31"),
        ] {
            let day: Date = day.parse().unwrap();
            assert_eq!(day.later(days).to_string(), expected);
        }
    }

    #[test]
    fn a_date_prints_as_it_was_written() {
        let day: Date = "2027-03-09".parse().unwrap();
        assert_eq!(day.to_string(), "2027-03-09");
    }
}
