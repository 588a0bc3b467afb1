//! Adds up lines and trees of lines, and remembers what has no price.
//! Source: the price book. US dollars.

use std::collections::BTreeSet;

use model::Dollars;
use shop::Missing;

use super::cost::Pricer;
use super::line::{Gap, Line};
use super::open::{Answer, Tree};

/// Sums prices, and remembers what had none.
pub(super) struct Sum<'p, 'b> {
    pricer: &'p Pricer<'b>,
    pub(super) missing: BTreeSet<Missing>,
}

impl<'p, 'b> Sum<'p, 'b> {
    pub(super) const fn new(pricer: &'p Pricer<'b>) -> Self {
        Self {
            pricer,
            missing: BTreeSet::new(),
        }
    }

    pub(super) fn line(&mut self, line: &Line<'_>) -> Dollars {
        match self.pricer.cost(line) {
            Ok(cost) => cost.price(),
            Err(missing) => {
                self.missing.insert(missing);
                Dollars::ZERO
            }
        }
    }

    fn lines(&mut self, lines: &[Line<'_>]) -> Dollars {
        lines.iter().map(|line| self.line(line)).sum()
    }

    /// Least and most of a tree; with one unknown answered, where `given` says so.
    pub(super) fn tree(
        &mut self,
        tree: &Tree<'_>,
        given: Option<(usize, Answer)>,
    ) -> (Dollars, Dollars) {
        match tree {
            Tree::Lines(lines) => {
                let sum = self.lines(lines);
                (sum, sum)
            }
            Tree::Between(least, most) => {
                let (one, other) = (self.lines(least), self.lines(most));
                (one.min(other), one.max(other))
            }
            Tree::All(trees) => {
                let (mut low, mut high) = (Dollars::ZERO, Dollars::ZERO);
                for tree in trees {
                    let (least, most) = self.tree(tree, given);
                    low += least;
                    high += most;
                }
                (low, high)
            }
            Tree::By(unknown, branches) => {
                let open =
                    |answer: &Answer| given.is_none_or(|(u, a)| u != *unknown || a == *answer);
                let mut span: Option<(Dollars, Dollars)> = None;
                for (answer, branch) in branches {
                    if !open(answer) {
                        continue;
                    }
                    let (least, most) = self.tree(branch, given);
                    let (low, high) = span.unwrap_or((least, most));
                    span = Some((low.min(least), high.max(most)));
                }
                span.unwrap_or_default()
            }
        }
    }
}

pub(super) fn gap_of(missing: &Missing) -> Gap {
    let (what, advice) = match missing.line {
        0 => (
            format!("{} has no line for `{}`", missing.file, missing.item),
            "add the line".to_owned(),
        ),
        line => (
            format!(
                "{} line {line}: `{}` has no price",
                missing.file, missing.item
            ),
            "write its price there".to_owned(),
        ),
    };
    Gap { what, advice }
}
