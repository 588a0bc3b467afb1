//! What the work is: the difference of the two pictures, never entered by hand.
//! Source: the job's before and after. Lengths in inches along framing.

use crate::fact::Fact;
use crate::house::{Board, Circuit, Feeder, House, OldCabinet};
use crate::id::{BoardId, CircuitId, FeederId, LoadId, SourceId};
use crate::job::Job;
use crate::map::Map;
use crate::units::Inches;

/// The scope of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scope {
    /// What happens to each board of either picture.
    pub boards: Vec<(BoardId, BoardChange)>,
    /// What happens to each feeder of either picture.
    pub feeders: Vec<(FeederId, Change)>,
    /// What happens to each circuit of either picture.
    pub circuits: Vec<(CircuitId, CircuitChange)>,
    /// Loads that are new. The customer's mere wishes are none of the work.
    pub loads_added: Vec<LoadId>,
    /// Loads that go.
    pub loads_removed: Vec<LoadId>,
    /// Sources that are new.
    pub sources_added: Vec<SourceId>,
}

/// Added, changed, kept or taken out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, schemars::JsonSchema)]
#[schemars(rename = "ScopeChange")]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// In both pictures, untouched.
    Kept,
    /// In both pictures, new in substance.
    Replaced,
    /// Only in the after picture.
    New,
    /// Only in the before picture.
    Removed,
}

/// What happens to a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoardChange {
    /// Kept, replaced, new or removed.
    pub change: Change,
    /// It moves to another place.
    pub relocated: bool,
    /// Only the interior is new.
    pub interior_only: bool,
}

/// What happens to a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitChange {
    /// Kept, replaced (rewired), new or removed.
    pub change: Change,
    /// It starts in another board than before.
    pub other_board: bool,
    /// Length added outside enclosures; zero when it reaches as it is.
    pub added_outside: Fact<Inches>,
    /// Length added in all.
    pub added_total: Fact<Inches>,
    /// Its conductors are lengthened.
    pub extended: Fact<bool>,
    /// It is only cut shorter.
    pub cut_shorter: Fact<bool>,
}

impl Scope {
    /// Works out the difference.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let (before, after) = (&job.before, &job.after);
        let mut scope = Self {
            boards: both(&before.boards, &after.boards, board_change),
            feeders: both(&before.feeders, &after.feeders, feeder_change),
            circuits: Vec::new(),
            loads_added: after
                .loads
                .iter()
                .filter(|(id, load)| !load.future && !before.loads.contains_key(*id))
                .map(|(id, _)| id.clone())
                .collect(),
            loads_removed: before
                .loads
                .keys()
                .filter(|l| !after.loads.contains_key(*l))
                .cloned()
                .collect(),
            sources_added: after
                .sources
                .keys()
                .filter(|s| !before.sources.contains_key(*s))
                .cloned()
                .collect(),
        };
        scope.circuits = both(&before.circuits, &after.circuits, |b, a| {
            circuit_change(b, a, before, after)
        });
        scope
    }

    /// True when nothing is to be done.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let kept = |c: &CircuitChange| {
            c.change == Change::Kept
                && !c.other_board
                && c.extended.get() != Some(true)
                && c.cut_shorter.get() != Some(true)
        };
        self.boards
            .iter()
            .all(|(_, b)| b.change == Change::Kept && !b.relocated)
            && self.feeders.iter().all(|(_, f)| *f == Change::Kept)
            && self.circuits.iter().all(|(_, c)| kept(c))
            && self.loads_added.is_empty()
            && self.loads_removed.is_empty()
            && self.sources_added.is_empty()
    }

    /// What happens to a board.
    #[must_use]
    pub fn board(&self, id: &str) -> Option<BoardChange> {
        self.boards
            .iter()
            .find(|(b, _)| b.as_str() == id)
            .map(|(_, c)| *c)
    }

    /// What happens to a feeder.
    #[must_use]
    pub fn feeder(&self, id: &str) -> Option<Change> {
        self.feeders
            .iter()
            .find(|(f, _)| f.as_str() == id)
            .map(|(_, c)| *c)
    }

    /// What happens to a circuit.
    #[must_use]
    pub fn circuit(&self, id: &str) -> Option<&CircuitChange> {
        self.circuits
            .iter()
            .find(|(c, _)| c.as_str() == id)
            .map(|(_, c)| c)
    }
}

/// One entry per name of either picture, in order of names.
fn both<K: Ord + Clone, V, C>(
    before: &Map<K, V>,
    after: &Map<K, V>,
    change: impl Fn(Option<&V>, Option<&V>) -> C,
) -> Vec<(K, C)> {
    let mut entries: Vec<(K, C)> = before
        .iter()
        .map(|(k, b)| (k.clone(), change(Some(b), after.get(k))))
        .collect();
    entries.extend(
        after
            .iter()
            .filter(|(k, _)| !before.contains_key(*k))
            .map(|(k, a)| (k.clone(), change(None, Some(a)))),
    );
    entries.sort_by(|x, y| x.0.cmp(&y.0));
    entries
}

fn board_change(before: Option<&Board>, after: Option<&Board>) -> BoardChange {
    let change = match (before, after) {
        (Some(_), None) => Change::Removed,
        (None, _) => Change::New,
        (Some(b), Some(a)) if a.replaced || a.interior_only || hardware_differs(b, a) => {
            Change::Replaced
        }
        _ => Change::Kept,
    };
    let relocated = match (before, after) {
        (Some(b), Some(a)) => {
            a.route_from_old.get().is_some_and(|r| r.0 > 0.0)
                || (b.position.is_some() && a.position.is_some() && b.position != a.position)
                || (a.old_cabinet.known().is_some() && b.old_cabinet.is_unknown())
        }
        _ => false,
    };
    BoardChange {
        change,
        relocated,
        interior_only: after.is_some_and(|a| a.interior_only),
    }
}

/// Two boards with one name are different hardware when a rating or count that both know differs.
fn hardware_differs(before: &Board, after: &Board) -> bool {
    differs(&before.bus, &after.bus)
        || differs(&before.spaces, &after.spaces)
        || differs(&before.main, &after.main)
}

/// Both pictures know the fact, and not the same.
fn differs<T: PartialEq>(b: &Fact<T>, a: &Fact<T>) -> bool {
    matches!((b.known(), a.known()), (Some(b), Some(a)) if b != a)
}

fn feeder_change(before: Option<&Feeder>, after: Option<&Feeder>) -> Change {
    match (before, after) {
        (Some(_), None) => Change::Removed,
        (None, _) => Change::New,
        (Some(b), Some(a))
            if a.replaced
                || differs(&b.wire, &a.wire)
                || differs(&b.method, &a.method)
                || differs(&b.wires, &a.wires) =>
        {
            Change::Replaced
        }
        _ => Change::Kept,
    }
}

fn circuit_change(
    before: Option<&Circuit>,
    after: Option<&Circuit>,
    house_before: &House,
    house_after: &House,
) -> CircuitChange {
    let none = || Fact::derived(Inches::ZERO);
    let plain = |change| CircuitChange {
        change,
        other_board: false,
        added_outside: none(),
        added_total: none(),
        extended: Fact::derived(false),
        cut_shorter: Fact::derived(false),
    };
    let (before, after) = match (before, after) {
        (_, None) => return plain(Change::Removed),
        (None, _) => return plain(Change::New),
        (Some(b), Some(a)) => (b, a),
    };
    let rewired = matches!((before.wire.known(), after.wire.known()), (Some(b), Some(a)) if b != a)
        || matches!((before.method.known(), after.method.known()), (Some(b), Some(a)) if b != a);
    let (added_outside, added_total) = added(before, after, house_before, house_after);
    let extended = match (added_outside.get(), added_total.get()) {
        (Some(outside), total) if outside.0 > 0.0 || total.is_some_and(|t| t.0 > 0.0) => {
            Fact::derived(true)
        }
        (_, Some(total)) => Fact::derived(total.0 > 0.0),
        (Some(_), None) | (None, None) => Fact::Unknown,
    };
    let cut_shorter = match (&after.cut_shorter, extended.get()) {
        (_, Some(true)) => Fact::derived(false),
        (stated @ Fact::Known { .. }, _) => stated.clone(),
        (Fact::Unknown, _)
            if before.board == after.board && !moves(before, house_before, house_after) =>
        {
            Fact::derived(false)
        }
        _ => Fact::Unknown,
    };
    CircuitChange {
        change: if rewired {
            Change::Replaced
        } else {
            Change::Kept
        },
        other_board: before.board != after.board,
        added_outside,
        added_total,
        extended,
        cut_shorter,
    }
}

fn moves(circuit: &Circuit, before: &House, after: &House) -> bool {
    board_change(
        before.boards.get(circuit.board.as_str()),
        after.boards.get(circuit.board.as_str()),
    )
    .relocated
}

/// Length added outside enclosures, and in all.
/// Measured values win; then the old cabinet as splice box; then cables pulled back and run on, less their slack.
fn added(
    before: &Circuit,
    after: &Circuit,
    house_before: &House,
    house_after: &House,
) -> (Fact<Inches>, Fact<Inches>) {
    if !after.added_outside.is_unknown() || !after.added_total.is_unknown() {
        return (after.added_outside.clone(), after.added_total.clone());
    }
    let zero = || (Fact::derived(Inches::ZERO), Fact::derived(Inches::ZERO));
    if before.board != after.board {
        let known = after.cut_shorter.get() == Some(true);
        return if known {
            zero()
        } else {
            (Fact::Unknown, Fact::Unknown)
        };
    }
    let (Some(old), Some(new)) = (
        house_before.boards.get(before.board.as_str()),
        house_after.boards.get(after.board.as_str()),
    ) else {
        return zero();
    };
    if !board_change(Some(old), Some(new)).relocated {
        return zero();
    }
    if after.cut_shorter.get() == Some(true) {
        return zero();
    }
    let Some(route) = route(before, old, new, house_after) else {
        return (Fact::Unknown, Fact::Unknown);
    };
    match new.old_cabinet.get() {
        Some(OldCabinet::SpliceBox) => {
            let total = match new.make_up.get() {
                Some(make_up) => Fact::derived((route + make_up).to_the_millionth()),
                None => Fact::Unknown,
            };
            (Fact::derived(route), total)
        }
        Some(OldCabinet::Removed) | None => match before.slack.get() {
            Some(slack) => {
                let more = (route - slack).max(Inches::ZERO).to_the_millionth();
                (Fact::derived(more), Fact::derived(more))
            }
            None if route.0 <= 0.0 => zero(),
            None => (Fact::Unknown, Fact::Unknown),
        },
    }
}

/// Extra length a cable needs to reach the new place: by its home run where both positions are known, else from cabinet to cabinet.
fn route(circuit: &Circuit, old: &Board, new: &Board, house: &House) -> Option<Inches> {
    let by_home_run = || {
        let run = circuit.home_run.as_ref()?;
        let (from, to) = (old.position.as_ref()?, new.position.as_ref()?);
        Some(house.path(run, to)? - house.path(run, from)?)
    };
    let spliced_in_old = new.old_cabinet.get() == Some(OldCabinet::SpliceBox);
    let between = || {
        new.route_from_old
            .get()
            .or_else(|| house.path(old.position.as_ref()?, new.position.as_ref()?))
    };
    if spliced_in_old {
        between()
    } else {
        by_home_run().or_else(between)
    }
}

/// Extra length that one circuit's cable needs to reach its board's new place, spare length not counted; negative where that is nearer.
#[must_use]
pub fn extra_route(job: &Job, circuit: &str) -> Option<Inches> {
    let before = job.before.circuits.get(circuit)?;
    let old = job.before.boards.get(before.board.as_str())?;
    let new = job.after.boards.get(before.board.as_str())?;
    route(before, old, new, &job.after)
}

/// Length that the work adds to one circuit, outside enclosures and in all, as [`Scope::of`] has it; nothing where it is not in both pictures.
#[must_use]
pub fn added_lengths(job: &Job, circuit: &str) -> Option<(Fact<Inches>, Fact<Inches>)> {
    let (before, after) = (
        job.before.circuits.get(circuit)?,
        job.after.circuits.get(circuit)?,
    );
    Some(added(before, after, &job.before, &job.after))
}

/// The most that the work can add to a circuit of which only the slack is unknown; nothing where the length is known, or nobody can tell
/// even that much.
#[must_use]
pub fn most_added(job: &Job, circuit: &str) -> Option<Inches> {
    let (before, after) = (
        job.before.circuits.get(circuit)?,
        job.after.circuits.get(circuit)?,
    );
    let (outside, _) = added(before, after, &job.before, &job.after);
    let same_board = before.board == after.board;
    if !outside.is_unknown() || !same_board || !before.slack.is_unknown() {
        return None;
    }
    let old = job.before.boards.get(before.board.as_str())?;
    let new = job.after.boards.get(after.board.as_str())?;
    route(before, old, new, &job.after).map(|route| route.max(Inches::ZERO))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::JobFile;

    const HOUSE: &str = r#"
format = 1
title = "scope"
[place]
state = "OH"
edition = "2023"
[before.boards.P]
position = { wall = "w", x = 10, y = 40 }
[before.circuits]
a = { board = "P", slack = 6, home_run = { wall = "w", x = 10, y = 96 } }
b = { board = "P" }
"#;

    fn check(after: &str, look: impl FnOnce(&Scope)) {
        match JobFile::read(&format!("{HOUSE}{after}")) {
            Ok(file) => look(&Scope::of(&file.job)),
            Err(mistakes) => panic!("{mistakes}"),
        }
    }

    fn outside(scope: &Scope, circuit: &str) -> Option<Inches> {
        scope.circuit(circuit).and_then(|c| c.added_outside.get())
    }

    #[test]
    fn the_same_house_twice_is_no_work() {
        check("", |scope| assert!(scope.is_empty()));
    }

    #[test]
    fn a_wish_for_later_is_no_work() {
        check(
            "[after.loads.charger]\nkind = 'vehicle_charger'\nfuture = true\n",
            |scope| assert!(scope.is_empty()),
        );
        check(
            "[after.loads.charger]\nkind = 'vehicle_charger'\n",
            |scope| assert!(!scope.is_empty()),
        );
    }

    #[test]
    fn a_splice_box_adds_the_route_and_the_make_up_to_every_circuit() {
        let after =
            "[after.boards.P]\nold_cabinet = 'splice_box'\nroute_from_old = 70\nmake_up = 14\n";
        check(after, |scope| {
            assert!(scope.board("P").is_some_and(|b| b.relocated));
            let a = scope.circuit("a").unwrap();
            assert_eq!(
                (a.added_outside.get(), a.added_total.get()),
                (Some(Inches(70.0)), Some(Inches(84.0)))
            );
            assert_eq!(a.extended.get(), Some(true));
        });
    }

    #[test]
    fn a_cable_pulled_back_gains_its_slack_and_the_rest_is_unknown_without_it() {
        let after = "[after.boards.P]\nold_cabinet = 'removed'\nposition = { x = 40 }\n";
        check(after, |scope| {
            // 30 in further along the framing than before, of which 6 in are there.
            assert_eq!(outside(scope, "a"), Some(Inches(24.0)));
            assert_eq!(outside(scope, "b"), None);
            assert!(scope.circuit("b").unwrap().extended.is_unknown());
        });
    }

    #[test]
    fn a_measured_length_wins_over_a_drawn_one() {
        let after = "[after.boards.P]\nold_cabinet = 'splice_box'\nroute_from_old = 70\n[after.circuits.b]\nadded_outside = 75\n";
        check(after, |scope| {
            assert_eq!(outside(scope, "b"), Some(Inches(75.0)));
        });
    }

    #[test]
    fn a_circuit_that_changes_boards_says_nothing_of_its_length() {
        let after = "[after.boards.R]\n[after.circuits.a]\nboard = 'R'\n";
        check(after, |scope| {
            let a = scope.circuit("a").unwrap();
            assert!(a.other_board && a.extended.is_unknown());
        });
    }
}
