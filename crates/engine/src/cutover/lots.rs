//! Which circuits are landed together, and what does each lot take? Shared neutrals go together; what hangs below an opened board goes dark with it.
//! Source: the two pictures and the shop's labour table. Seconds of one person.

use std::collections::{BTreeMap, BTreeSet};

use model::Job;
use model::house::{Circuit, House, Protection};
use model::plan::Plan;
use model::scope::{Change, CircuitChange, Scope};

use super::time::{Seconds, Times};
use super::weight::weight;
use super::words;
use super::work::Panel;
use crate::saying::Saying;
use crate::tree::SupplyTree;

/// Circuits that are landed together, or that merely go dark with the panel.
#[derive(Clone, Debug)]
pub(super) struct Lot<'j> {
    pub(super) name: String,
    pub(super) circuits: Vec<&'j str>,
    /// Board whose circuits it stands for, all carried along together.
    pub(super) along: Option<&'j str>,
    /// Board it is landed on; none when it is only carried along.
    pub(super) board: Option<&'j str>,
    /// It is live before the work.
    pub(super) live_before: bool,
    pub(super) temporary: bool,
    pub(super) weight: u64,
    pub(super) limit: Option<Seconds>,
    /// The lot that comes back before this one.
    pub(super) follows: Option<usize>,
    /// Work before the shutdown.
    pub(super) prepare: Seconds,
    /// Work while dead.
    pub(super) land: Seconds,
    /// Share of the torque pass while dead.
    pub(super) torque: Seconds,
    /// New panel first: work before its transfer.
    pub(super) prepare_first: Seconds,
    /// New panel first: joining it while it is dark.
    pub(super) take_over: Seconds,
    pub(super) restore: Seconds,
    /// The picture shows it reaching without an extension, or does not tell.
    pub(super) extended: Option<bool>,
}

impl Lot<'_> {
    /// What its darkness weighs in the choice of an order; loads on temporary power are not dark.
    pub(super) fn dark_weight(&self) -> u64 {
        if self.live_before && !self.temporary {
            self.weight
        } else {
            0
        }
    }
}

/// What is looked at to tell one lot.
pub(super) struct Look<'a, 'j> {
    pub(super) job: &'j Job,
    pub(super) plan: &'a Plan,
    pub(super) times: &'a Times,
    pub(super) scope: &'a Scope,
    pub(super) panels: &'a [Panel<'j>],
    pub(super) opened: &'a BTreeSet<&'j str>,
    pub(super) tree: &'a SupplyTree<'j>,
}

impl<'j> Look<'_, 'j> {
    pub(super) fn lots(
        &self,
        touched: &BTreeSet<&'j str>,
        notices: &mut Vec<Saying>,
    ) -> Vec<Lot<'j>> {
        let mut lots = Vec::new();
        let mut seen = BTreeSet::new();
        for &id in touched {
            let after = self.job.after.circuits.get(id);
            if after.is_none() || !seen.insert(id) {
                continue;
            }
            let mut circuits = vec![id];
            let partner = self.partner(id).filter(|p| touched.contains(p));
            if let Some(partner) = partner.filter(|p| self.job.after.circuits.contains_key(*p))
                && seen.insert(partner)
            {
                circuits.push(partner);
            }
            lots.push(self.landed(circuits));
        }
        let mut carried: BTreeMap<&'j str, Vec<&'j str>> = BTreeMap::new();
        for (id, circuit) in &self.job.before.circuits {
            if touched.contains(id.as_str()) {
                continue;
            }
            match self.carrier(&circuit.board) {
                Some(at) if self.opened.contains(at) => {
                    lots.push(self.carried(vec![id.as_str()], None));
                }
                Some(at) => carried.entry(at).or_default().push(id.as_str()),
                None => {}
            }
        }
        for (board, circuits) in carried {
            lots.push(self.carried(circuits, Some(board)));
        }
        lots.sort_by(|a, b| a.name.cmp(&b.name));
        self.chain(&mut lots);
        let unsure: Vec<&str> = lots
            .iter()
            .filter(|l| l.board.is_some() && l.extended.is_none())
            .map(|l| l.name.as_str())
            .collect();
        if !unsure.is_empty() {
            notices.push(words::EXTENDED_UNKNOWN.with("circuits", unsure.join(", ")));
        }
        lots
    }

    fn partner(&self, id: &str) -> Option<&'j str> {
        let pictures = [&self.job.after, &self.job.before];
        let partner = pictures
            .iter()
            .find_map(|h| h.circuits.get(id).and_then(|c| c.shared_with.as_ref()))?;
        Some(partner.as_str())
    }

    /// The opened board a dark board is, or the highest unopened board that hangs below an opened one; none when it stays live.
    fn carrier(&self, board: &str) -> Option<&'j str> {
        let at = self.tree.nodes.iter().position(|n| n.id == board)?;
        let chain = self.tree.chain(at);
        let ids: Vec<&'j str> = chain.iter().map(|i| self.tree.nodes[*i].id).collect();
        let lowest = ids.iter().rposition(|id| self.opened.contains(id))?;
        Some(ids.get(lowest + 1).copied().unwrap_or(ids[lowest]))
    }

    fn picture(&self, id: &str) -> Option<(&'j Circuit, &'j House)> {
        let pictures = [&self.job.before, &self.job.after];
        pictures
            .into_iter()
            .find_map(|h| Some((h.circuits.get(id)?, h)))
    }

    fn weight(&self, circuits: &[&str]) -> u64 {
        let each = circuits.iter().filter_map(|id| {
            let (circuit, house) = self.picture(id)?;
            Some(weight(id, circuit, house, self.plan))
        });
        each.sum()
    }

    fn limit(&self, circuits: &[&str]) -> Option<Seconds> {
        let limits = circuits.iter().filter_map(|id| {
            let critical = self.picture(id)?.0.critical.as_ref()?;
            critical.longest_dark.get().map(Seconds::of)
        });
        limits.min()
    }

    fn temporary(&self, circuits: &[&str]) -> bool {
        let on = |id: &&str| self.plan.temporary_power.iter().any(|t| t.as_str() == *id);
        circuits.iter().all(on)
    }

    fn carried(&self, circuits: Vec<&'j str>, board: Option<&'j str>) -> Lot<'j> {
        let name = match board {
            Some(board) => format!("board {board}"),
            None => circuits.join(" + "),
        };
        Lot {
            name,
            along: board,
            board: None,
            live_before: true,
            temporary: self.temporary(&circuits),
            weight: self.weight(&circuits),
            limit: self.limit(&circuits),
            follows: None,
            prepare: Seconds::ZERO,
            land: Seconds::ZERO,
            torque: Seconds::ZERO,
            prepare_first: Seconds::ZERO,
            take_over: match board {
                Some(_) => self.times.supply_end + self.times.dead_test,
                None => Seconds::ZERO,
            },
            restore: self.times.restore,
            extended: Some(false),
            circuits,
        }
    }

    fn landed(&self, circuits: Vec<&'j str>) -> Lot<'j> {
        let (times, job) = (self.times, self.job);
        let n = circuits.len() as u64;
        let after = || {
            circuits
                .iter()
                .filter_map(move |id| job.after.circuits.get(*id))
        };
        let first = circuits.first().and_then(|id| job.after.circuits.get(*id));
        let board = first.map(|c| c.board.as_str());
        let panel = self.panels.iter().find(|p| Some(p.id) == board);
        let changes = circuits.iter().filter_map(|id| self.scope.circuit(id));
        let extended = extended(changes, after());
        let devices = after()
            .filter(|c| c.protection.get().is_some_and(|p| p != Protection::None))
            .count() as u64;
        let two_pole = after().filter(|c| c.poles == 2).count() as u64 + u64::from(n > 1);
        let terminations = terminations(after());
        let extras =
            times.arc_fault * devices.min(if n > 1 { 1 } else { n }) + times.two_pole * two_pole;
        let landing = times.reland * n + extras;
        let torque = times.torque * terminations;
        let join = times.join * n + times.splice_set * n + times.dead_test * n;
        let run = (times.extend - times.join) * n;
        let long = extended != Some(false);
        let ahead = long && panel.is_some_and(|p| p.apart);
        let (prepare, land) = match (ahead, long) {
            (true, _) => (run + landing + torque, join),
            (false, true) => (Seconds::ZERO, run + landing + join),
            (false, false) => (Seconds::ZERO, landing + times.dead_test * n),
        };
        let live_before = circuits
            .iter()
            .any(|id| self.job.before.circuits.contains_key(*id));
        Lot {
            name: circuits.join(" + "),
            along: None,
            board,
            live_before,
            temporary: self.temporary(&circuits),
            weight: self.weight(&circuits),
            limit: self.limit(&circuits),
            follows: None,
            prepare,
            land,
            torque: if ahead { Seconds::ZERO } else { torque },
            prepare_first: if live_before {
                run + landing + torque
            } else {
                landing + times.dead_test * n + torque
            },
            take_over: join,
            restore: times.restore * n,
            extended,
            circuits,
        }
    }

    /// Which lot comes back before which, as the plan says of circuits.
    fn chain(&self, lots: &mut [Lot<'j>]) {
        let lot_of =
            |lots: &[Lot<'_>], id: &str| lots.iter().position(|l| l.circuits.contains(&id));
        for (later, earlier) in &self.plan.follows {
            if let (Some(later), Some(earlier)) =
                (lot_of(lots, later.as_str()), lot_of(lots, earlier.as_str()))
                && later != earlier
                && !reaches(lots, earlier, later)
            {
                lots[later].follows = Some(earlier);
            }
        }
    }
}

/// From `at` along `follows` one comes to `goal`.
fn reaches(lots: &[Lot<'_>], at: usize, goal: usize) -> bool {
    let mut at = Some(at);
    for _ in 0..=lots.len() {
        match at {
            Some(here) if here == goal => return true,
            Some(here) => at = lots[here].follows,
            None => return false,
        }
    }
    false
}

/// Rewired circuits are not lengthened: their cable is new.
fn extended<'c>(
    changes: impl Iterator<Item = &'c CircuitChange>,
    after: impl Iterator<Item = &'c Circuit>,
) -> Option<bool> {
    let short = after.into_iter().all(|c| c.cut_shorter.get() == Some(true));
    let mut all = Some(false);
    for change in changes {
        let long = match change.change {
            Change::New | Change::Replaced => Some(false),
            _ => change.extended.get(),
        };
        all = match (all, long) {
            (Some(true), _) | (_, Some(true)) => Some(true),
            (None, _) | (_, None) => None,
            _ => Some(false),
        };
    }
    if all.is_none() && short {
        Some(false)
    } else {
        all
    }
}

/// Hots, one neutral, one ground where there is one; a shared-neutral set has one neutral.
fn terminations<'c>(circuits: impl Iterator<Item = &'c Circuit>) -> u64 {
    let (mut hots, mut ground) = (0, false);
    for circuit in circuits {
        hots += u64::from(circuit.poles);
        ground |= circuit.ground.get() != Some(false);
    }
    hots + 1 + u64::from(ground)
}
