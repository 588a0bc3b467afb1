//! What is a job called? A text that sorts by time and that nobody else makes.
//! Source: RFC 9562, UUID version 7 (48 bits of milliseconds since 1970 UTC, 74 random bits).

use std::fmt;
use std::str::FromStr;

use crate::error::Error;
use crate::job::Moment;

/// The id of a job: a UUID in lower case with hyphens.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobId(String);

impl JobId {
    /// A new id, made at this moment.
    ///
    /// # Errors
    /// When the system gives no random bytes.
    pub fn new(at: Moment) -> Result<Self, Error> {
        let mut bytes = [0_u8; 16];
        getrandom::fill(&mut bytes).map_err(|why| Error::NoRandom(why.to_string()))?;
        bytes[..6].copy_from_slice(&at.0.max(0).to_be_bytes()[2..]);
        bytes[6] = 0x70 | (bytes[6] & 0x0f);
        bytes[8] = 0x80 | (bytes[8] & 0x3f);
        let mut text = String::with_capacity(36);
        for (i, byte) in bytes.iter().enumerate() {
            if matches!(i, 4 | 6 | 8 | 10) {
                text.push('-');
            }
            text.push_str(&format!("{byte:02x}"));
        }
        Ok(Self(text))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for JobId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The text is no id of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "not an id of a job: expected a UUID in lower case, as 0197a0c4-5b1e-7c3d-9a2f-1b2c3d4e5f60"
)]
pub struct BadId;

impl FromStr for JobId {
    type Err = BadId;

    fn from_str(text: &str) -> Result<Self, BadId> {
        let right = text.len() == 36
            && text.bytes().enumerate().all(|(i, b)| match i {
                8 | 13 | 18 | 23 => b == b'-',
                _ => matches!(b, b'0'..=b'9' | b'a'..=b'f'),
            });
        right.then(|| Self(text.to_owned())).ok_or(BadId)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of RFC 9562, appendix A.6: 0x017F22E279B0 is 2022-02-22 19:22:22 UTC.
    #[test]
    fn an_id_starts_with_its_moment_and_carries_version_and_variant() {
        let id = JobId::new(Moment(1_645_557_742_000)).unwrap();
        assert!(id.as_str().starts_with("017f22e2-79b0-7"), "{id}");
        assert!(matches!(
            id.as_str().as_bytes()[19],
            b'8' | b'9' | b'a' | b'b'
        ));
        assert_eq!(id.as_str().parse::<JobId>(), Ok(id));
    }

    #[test]
    fn ids_of_one_moment_differ_and_later_ones_sort_later() {
        let ids: Vec<JobId> = (0..100).map(|at| JobId::new(Moment(at)).unwrap()).collect();
        assert!(ids.is_sorted());
        assert_ne!(
            JobId::new(Moment(5)).unwrap(),
            JobId::new(Moment(5)).unwrap()
        );
    }

    #[test]
    fn what_is_no_id_is_refused() {
        for text in [
            "",
            "../../etc",
            "017F22E2-79B0-7CC3-98C4-DC0C0C07398F",
            "017f22e279b07cc398c4dc0c0c07398f",
        ] {
            assert_eq!(text.parse::<JobId>(), Err(BadId));
        }
    }
}
