//! Which editions a row holds for, written `2014-2026`, `2020` or `2014 2020-2023`.
//! Source: the editions of NFPA 70 that the tool knows.

use model::Edition;

/// A set of editions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Editions(u8);

impl Editions {
    pub(crate) fn contains(self, edition: Edition) -> bool {
        self.0 & (1 << edition.index()) != 0
    }

    pub(crate) fn overlaps(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Reads years and ranges of years; both ends of a range must be editions.
    pub(crate) fn parse(text: &str) -> Result<Self, String> {
        let mut set = 0;
        for part in text.split_whitespace() {
            let (from, to) = part.split_once('-').unwrap_or((part, part));
            let (from, to) = (edition(from)?, edition(to)?);
            if from > to {
                return Err(format!("`{part}` runs backwards"));
            }
            for edition in Edition::ALL {
                if (from..=to).contains(&edition) {
                    set |= 1 << edition.index();
                }
            }
        }
        if set == 0 {
            return Err("nothing".to_owned());
        }
        Ok(Self(set))
    }
}

fn edition(text: &str) -> Result<Edition, String> {
    let year: Option<u16> = text.parse().ok();
    Edition::ALL
        .into_iter()
        .find(|e| Some(e.year()) == year)
        .ok_or_else(|| model::edition::UnknownEdition(text.to_owned()).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: Result<&[u16], ()>) {
        let got = Editions::parse(text).map_err(|_| ()).map(|set| {
            Edition::ALL
                .into_iter()
                .filter(|e| set.contains(*e))
                .map(Edition::year)
                .collect::<Vec<_>>()
        });
        assert_eq!(got, expected.map(<[u16]>::to_vec), "{text}");
    }

    #[test]
    fn a_range_takes_every_edition_between_its_ends() {
        check("2014-2026", Ok(&[2014, 2017, 2020, 2023, 2026]));
        check("2014 2020-2023", Ok(&[2014, 2020, 2023]));
    }

    #[test]
    fn a_year_that_is_no_edition_is_refused() {
        check("2015", Err(()));
        check("2020-2014", Err(()));
        check("", Err(()));
    }
}
