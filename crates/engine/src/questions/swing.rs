//! How much money hangs on a question?
//! Source: the requirements that depend on it, judged again under every answer. US dollars of material, high end of the remedy.

use model::Dollars;
use rulebook::requirement::Verdict;
use rulebook::{Datum, FactEntry};

use super::{Open, answers};
use crate::facts::Bound;
use crate::findings::is_open;

/// Remedies under the dearest answer less those under the cheapest. Two sums are held apart, what is required for certain and what is
/// still possible, since another unknown fact may stand beside this one; the larger of the two differences counts.
pub(super) fn of(bound: &mut Bound<'_>, entry: &FactEntry, open: &[Open<'_>]) -> Dollars {
    if open.iter().all(|o| high_cost(o) == Dollars::ZERO) {
        return Dollars::ZERO;
    }
    let answers = answers::to_try(bound, entry, open);
    if answers.is_empty() {
        // Held against numbers that nobody knows either: all of it may hang on this one.
        return open.iter().map(high_cost).sum();
    }
    let mut certain = Span::default();
    let mut possible = Span::default();
    for answer in answers {
        let (mut sure, mut maybe) = (Dollars::ZERO, Dollars::ZERO);
        for one in open {
            let cost = high_cost(one);
            if cost == Dollars::ZERO {
                continue;
            }
            let verdict = under(bound, one, answer);
            if verdict == Verdict::Required {
                sure += cost;
            }
            if verdict == Verdict::Required || is_open(verdict) {
                maybe += cost;
            }
        }
        certain.add(sure);
        possible.add(maybe);
    }
    certain.width().max(possible.width())
}

/// Some answer makes the requirement bite, or leaves it open.
pub(super) fn matters(bound: &mut Bound<'_>, entry: &FactEntry, open: &Open<'_>) -> bool {
    let answers = answers::to_try(bound, entry, std::slice::from_ref(open));
    answers.is_empty()
        || answers.into_iter().any(|answer| {
            let verdict = under(bound, open, answer);
            verdict == Verdict::Required || is_open(verdict)
        })
}

/// The verdict if the answer were known.
fn under(bound: &mut Bound<'_>, open: &Open<'_>, answer: Datum) -> Verdict {
    let slots = bound.slots_mut(open.row);
    let at = open.fact.index();
    let before = slots.get_mut(at).and_then(|slot| slot.replace(answer));
    let verdict = open.requirement.judge(slots).verdict;
    if let Some(slot) = slots.get_mut(at) {
        *slot = before;
    }
    verdict
}

fn high_cost(open: &Open<'_>) -> Dollars {
    let cost = open.requirement.requirement().cost.as_ref();
    cost.map_or(Dollars::ZERO, |c| c.high)
}

/// Lowest and highest of what was added.
#[derive(Default)]
struct Span(Option<(Dollars, Dollars)>);

impl Span {
    fn add(&mut self, sum: Dollars) {
        let (low, high) = self.0.unwrap_or((sum, sum));
        self.0 = Some((low.min(sum), high.max(sum)));
    }

    fn width(&self) -> Dollars {
        self.0.map_or(Dollars::ZERO, |(low, high)| high - low)
    }
}
