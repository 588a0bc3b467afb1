//! Against which numbers are lengths held, and where does a length stand among them?
//! Source: the conditions of every requirement in the job's edition. Inches.

use model::units::Inches;
use rulebook::Rulebook;

/// Numbers that some requirement of the edition holds an added length against; 0 decides whether a circuit is lengthened at all.
pub(super) struct Limits {
    pub(super) outside: Vec<Inches>,
    pub(super) total: Vec<Inches>,
    /// Both, without 0.
    pub(super) all: Vec<Inches>,
}

impl Limits {
    pub(super) fn of(book: &Rulebook) -> Self {
        let of = |fact: &str| {
            let id = book.facts().find(fact);
            let mut all: Vec<Inches> = book
                .requirements()
                .iter()
                .filter(|r| r.cite().is_some())
                .flat_map(|r| id.map(|id| r.thresholds(id)).unwrap_or_default())
                .map(Inches)
                .chain([Inches::ZERO])
                .collect();
            all.sort_by(|a, b| a.0.total_cmp(&b.0));
            all.dedup();
            all
        };
        let (outside, total) = (of("circuit.ext_outside_in"), of("circuit.ext_total_in"));
        let mut all: Vec<Inches> = outside.iter().chain(&total).copied().collect();
        all.retain(|l| l.0 > 0.0);
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all.dedup();
        Self {
            outside,
            total,
            all,
        }
    }
}

/// Where a length stands among limits: below, at or beyond each. Requirements can tell no more of it.
pub(super) fn class(length: Option<Inches>, limits: &[Inches]) -> u64 {
    length.map_or(u64::MAX, |length| {
        let below = limits.iter().filter(|l| **l < length).count();
        let at = limits.contains(&length);
        (2 * below + usize::from(at)) as u64
    })
}
