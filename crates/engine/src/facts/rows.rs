//! Fills the slots: the job's first, then each board's on top of them, then sources, circuits and outlets on top of their board's.
//! Source: the tables of the sibling modules and the job's stated facts. Units as the dictionary names them.

use model::house::{Board, OldCabinet, Purpose, StatedFacts, UTILITY};
use model::scope::{BoardChange, Change, CircuitChange, Scope};
use model::{Fact, Job, Said};
use rulebook::{Datum, FactDictionary, FactId};

use super::calculated::{Calculated, OfBoard};
use super::place::{Place, Subject};
use super::plan::Plan;
use super::{Bound, Disagreement, Row, Subjects};
use super::{board, circuit, feeder, job, outlet, source, stated};

/// Binds a job to the facts of a rulebook: one row of slots for the job and for each board, source, circuit and outlet.
#[must_use]
pub fn bind<'j>(
    job: &'j Job,
    scope: &Scope,
    numbers: &Calculated<'j>,
    facts: &FactDictionary,
) -> Bound<'j> {
    let after = &job.after;
    let plan = Plan::of(facts);
    let most = 1
        + after.boards.len()
        + job.before.boards.len()
        + after.sources.len()
        + after.circuits.len()
        + after.outlets.len();
    let mut filler = Filler {
        job,
        scope,
        numbers,
        facts,
        plan,
        bound: Bound {
            rows: Vec::with_capacity(most),
            width: facts.len(),
            slots: Vec::with_capacity(most * facts.len()),
            said: Vec::with_capacity(most * facts.len()),
            subjects: Subjects::of(facts),
            disagreements: Vec::new(),
        },
    };
    filler.job();
    filler.boards();
    filler.removed_boards();
    filler.sources();
    filler.circuits();
    filler.outlets();
    filler.bound
}

struct Filler<'j, 'f> {
    job: &'j Job,
    scope: &'f Scope,
    numbers: &'f Calculated<'j>,
    facts: &'f FactDictionary,
    plan: Plan<'f>,
    bound: Bound<'j>,
}

const JOB_ROW: Row<'static> = Row {
    place: Place::Job,
    board: None,
    feeder: None,
    old: None,
    building: None,
    circuit: None,
    parent: 0,
    touched: false,
};

impl<'j> Filler<'j, '_> {
    /// Starts a row as a copy of an earlier one.
    fn start(&mut self, row: Row<'j>, from: Option<usize>) -> usize {
        let width = self.bound.width;
        let index = self.bound.rows.len();
        match from {
            Some(from) => {
                let range = from * width..(from + 1) * width;
                self.bound.slots.extend_from_within(range.clone());
                self.bound.said.extend_from_within(range);
            }
            None => {
                self.bound.slots.resize((index + 1) * width, None);
                self.bound.said.resize((index + 1) * width, None);
            }
        }
        self.bound.rows.push(row);
        index
    }

    fn put(&mut self, row: usize, fact: FactId, told: Option<(Datum, Said)>) {
        let at = row * self.bound.width + fact.index();
        let slots = (self.bound.slots.get_mut(at), self.bound.said.get_mut(at));
        if let (Some(slot), Some(said)) = slots {
            *slot = told.map(|(datum, _)| datum);
            *said = told.map(|(_, by)| by);
        }
    }

    /// Lays stated facts over a row: they fill what is unknown, and are compared with what is derived.
    fn state(&mut self, row: usize, place: Place<'j>, stated: &StatedFacts, subjects: &[Subject]) {
        for (key, fact) in stated {
            let Fact::Known { is, by } = fact else {
                continue;
            };
            let facts = self.facts;
            let mut first = true;
            for id in stated::facts_of(key, subjects, facts) {
                let datum = facts.get(id).and_then(|e| stated::datum(e, is).ok());
                let Some(datum) = datum else { continue };
                match self.bound.value(row, id) {
                    None => self.put(row, id, Some((datum, *by))),
                    Some(derived) if derived.0 != datum && first => {
                        self.bound.disagreements.push(Disagreement {
                            fact: id,
                            place,
                            stated: (datum, *by),
                            derived,
                        });
                    }
                    Some(_) => {}
                }
                first = false;
            }
        }
    }

    fn job(&mut self) {
        let after = &self.job.after;
        let mut row = JOB_ROW;
        row.touched = !self.scope.is_empty();
        let row = self.start(row, None);
        let view = job::View {
            job: self.job,
            scope: self.scope,
            numbers: self.numbers,
        };
        for i in 0..self.plan.job.len() {
            let slot = &self.plan.job[i];
            let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
            self.put(row, fact, told);
        }
        self.state(row, Place::Job, &self.job.place.facts, stated::PLACE);
        self.state(row, Place::Job, &after.supply.facts, stated::SUPPLY);
        self.state(row, Place::Job, &after.grounding.facts, stated::GROUNDING);
    }

    fn boards(&mut self) {
        let job = self.job;
        let none = OfBoard::default();
        for (id, board) in &job.after.boards {
            let numbers = self.numbers.boards.get(id.as_str()).unwrap_or(&none);
            let place = Place::Board(id);
            let feeder_id = numbers.feeder.and_then(|(name, feeder)| {
                let (id, _) = job.after.feeders.get_key_value(name)?;
                (feeder.from != UTILITY).then_some(id)
            });
            let change = self.scope.board(id.as_str()).unwrap_or(BoardChange {
                change: Change::Kept,
                relocated: false,
                interior_only: false,
            });
            let row = Row {
                place,
                board: Some(place),
                feeder: feeder_id.map(Place::Feeder),
                old: Some(Place::OldCabinet(id)),
                building: board.building.as_ref().map(Place::Building),
                circuit: None,
                parent: 0,
                touched: board_touched(change, numbers, self.scope, feeder_id),
            };
            let row = self.start(row, Some(0));
            let building = board
                .building
                .as_ref()
                .and_then(|b| job.after.buildings.get(b));
            let view = board::View {
                id: id.as_str(),
                board,
                building,
                change,
                after: &job.after,
                numbers,
            };
            for i in 0..self.plan.board.len() {
                let slot = &self.plan.board[i];
                let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
                self.put(row, fact, told);
            }
            self.feeder(row, feeder_id, numbers);
            self.state(row, place, &board.facts, stated::BOARD);
            if let (Some(building), Some(id)) = (building, &board.building) {
                self.state(row, Place::Building(id), &building.facts, stated::BUILDING);
            }
        }
    }

    fn feeder(&mut self, row: usize, id: Option<&'j model::id::FeederId>, numbers: &OfBoard<'j>) {
        let Some((id, feeder)) = id.and_then(|id| self.job.after.feeders.get_key_value(id)) else {
            if board::feeder_exists(numbers) == Some(false)
                && let Some(fact) = self.facts.find("feeder.exists")
            {
                self.put(row, fact, Some((Datum::Bool(false), Said::Derived)));
                self.no_feeder_work(row);
            }
            return;
        };
        let view = feeder::View {
            feeder,
            change: self.scope.feeder(id.as_str()).unwrap_or(Change::Kept),
            numbers: self
                .numbers
                .feeders
                .get(id.as_str())
                .copied()
                .unwrap_or_default(),
        };
        for i in 0..self.plan.feeder.len() {
            let slot = &self.plan.feeder[i];
            let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
            self.put(row, fact, told);
        }
        self.state(row, Place::Feeder(id), &feeder.facts, stated::FEEDER);
    }

    /// Where there is no feeder, none is new, none is a tap, none carries the dwelling.
    fn no_feeder_work(&mut self, row: usize) {
        let none = [
            "feeder.new_or_replaced",
            "feeder.is_tap",
            "feeder.interior",
            "feeder.outside",
            "panel.feeder_carries_whole_dwelling",
        ];
        for name in none {
            if let Some(fact) = self.facts.find(name) {
                self.put(row, fact, Some((Datum::Bool(false), Said::Derived)));
            }
        }
    }

    /// A board that is taken out leaves a cabinet, and what becomes of it is asked of that cabinet alone.
    fn removed_boards(&mut self) {
        let job = self.job;
        for (id, change) in &self.scope.boards {
            let Some((id, board)) = job.before.boards.get_key_value(id) else {
                continue;
            };
            if change.change != Change::Removed {
                continue;
            }
            let place = Place::OldCabinet(id);
            let mut row = JOB_ROW;
            row.place = place;
            row.old = Some(place);
            row.touched = true;
            let row = self.start(row, Some(0));
            self.old_cabinet(row, board);
            self.state(row, place, &board.facts, &[Subject::Old]);
        }
    }

    fn old_cabinet(&mut self, row: usize, board: &Board) {
        let stays = board.old_cabinet.map(|o| *o == OldCabinet::SpliceBox);
        if let (Fact::Known { is, by }, Some(fact)) =
            (stays, self.facts.find("old.left_as_junction_box"))
        {
            self.put(row, fact, Some((Datum::Bool(is), by)));
        }
    }

    fn sources(&mut self) {
        let job = self.job;
        for (id, source) in &job.after.sources {
            let place = Place::Source(id);
            let board = self.board_row(&source.board);
            let mut row = self.bound.rows[board];
            row.place = place;
            row.parent = board;
            row.touched |= self.scope.sources_added.contains(id);
            let row = self.start(row, Some(board));
            let view = source::View {
                source,
                board: self.numbers.boards.get(source.board.as_str()),
            };
            for i in 0..self.plan.source.len() {
                let slot = &self.plan.source[i];
                let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
                self.put(row, fact, told);
            }
            self.state(row, place, &source.facts, stated::SOURCE);
        }
    }

    /// Row of a board, of the job where there is no such board.
    fn board_row(&self, board: &str) -> usize {
        let is = |row: &Row<'_>| matches!(row.place, Place::Board(id) if id.as_str() == board);
        self.bound.rows.iter().position(is).unwrap_or(0)
    }

    fn circuits(&mut self) {
        let job = self.job;
        let unchanged = CircuitChange {
            change: Change::Kept,
            other_board: false,
            added_outside: Fact::Unknown,
            added_total: Fact::Unknown,
            extended: Fact::Unknown,
            cut_shorter: Fact::Unknown,
        };
        // Circuits and their changes stand in the same order of names, so that no change is searched for.
        let mut changes = self.scope.circuits.iter();
        for (id, circuit) in &job.after.circuits {
            if circuit.purpose == Purpose::Spare {
                continue;
            }
            let place = Place::Circuit(id);
            let change = changes.find(|(c, _)| c == id).map(|(_, change)| change);
            let board = self.board_row(&circuit.board);
            let mut row = self.bound.rows[board];
            row.place = place;
            row.circuit = Some(place);
            row.parent = board;
            row.touched =
                hardware_touched(self.scope.board(&circuit.board)) || circuit_touched(change);
            let old = self.old_board_of(id.as_str());
            row.old = old.map(|(id, _)| Place::OldCabinet(id)).or(row.old);
            let row = self.start(row, Some(board));
            self.left_cabinet(row, board, old.map(|(_, row)| row));
            let view = circuit::View {
                id: id.as_str(),
                circuit,
                change: change.unwrap_or(&unchanged),
                board: job.after.boards.get(circuit.board.as_str()),
                after: &job.after,
                before: &job.before,
                numbers: self.numbers,
            };
            for i in 0..self.plan.circuit.len() {
                let slot = &self.plan.circuit[i];
                let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
                self.put(row, fact, told);
            }
            self.state(row, place, &circuit.facts, stated::CIRCUIT);
            if let Some(board) = view.board {
                self.state_of_all(row, &board.circuit_facts, &circuit.facts);
            }
        }
    }

    /// What is stated of every circuit of a board fills what nobody else speaks of.
    fn state_of_all(&mut self, row: usize, of_all: &StatedFacts, own: &StatedFacts) {
        for (key, fact) in of_all {
            let Fact::Known { is, by } = fact else {
                continue;
            };
            if own.contains_key(key) {
                continue;
            }
            let facts = self.facts;
            for id in stated::facts_of(key, stated::CIRCUIT, facts) {
                let datum = facts.get(id).and_then(|e| stated::datum(e, is).ok());
                if datum.is_some() && self.bound.value(row, id).is_none() {
                    self.put(row, id, datum.map(|d| (d, *by)));
                }
            }
        }
    }

    /// The board that a circuit left, when its cabinet has a row: it moves, or it is taken out.
    fn old_board_of(&self, circuit: &str) -> Option<(&'j model::id::BoardId, usize)> {
        let before = self.job.before.circuits.get(circuit)?;
        let (id, _) = self
            .job
            .before
            .boards
            .get_key_value(before.board.as_str())?;
        let row = self.bound.rows.iter().position(|r| match r.place {
            Place::Board(b) | Place::OldCabinet(b) => b == id,
            _ => false,
        })?;
        Some((id, row))
    }

    /// Facts about the cabinet a circuit left: those of its old board, or none left for a circuit that is new.
    fn left_cabinet(&mut self, row: usize, board: usize, old: Option<usize>) {
        if old == Some(board) {
            return;
        }
        let width = self.bound.width;
        let cabinet: Vec<FactId> = self.bound.subjects.facts(&[Subject::Old]).iter().collect();
        for fact in cabinet {
            let from = old.map(|old| old * width + fact.index());
            let told = from.and_then(|at| Some((self.bound.slots[at]?, self.bound.said[at]?)));
            self.put(row, fact, told);
        }
        if old.is_none()
            && let Some(fact) = self.facts.find("old.left_as_junction_box")
        {
            self.put(row, fact, Some((Datum::Bool(false), Said::Derived)));
        }
    }

    fn outlets(&mut self) {
        let job = self.job;
        for (id, outlet) in &job.after.outlets {
            let place = Place::Outlet(id);
            let is = |row: &Row<'_>| matches!(row.place, Place::Circuit(c) if c.as_str() == outlet.circuit);
            let from = self.bound.rows.iter().position(is).unwrap_or(0);
            let mut row = self.bound.rows[from];
            row.place = place;
            row.parent = from;
            row.touched |= outlet.replaced || !job.before.outlets.contains_key(id);
            let row = self.start(row, Some(from));
            let circuit = job.after.circuits.get(outlet.circuit.as_str());
            let change = self.scope.circuit(&outlet.circuit);
            let view = outlet::View {
                outlet,
                circuit: circuit.zip(change),
                added: !job.before.outlets.contains_key(id),
            };
            for i in 0..self.plan.outlet.len() {
                let slot = &self.plan.outlet[i];
                let (fact, told) = (slot.fact, slot.datum((slot.rule.tell)(&view)));
                self.put(row, fact, told);
            }
            self.state(row, place, &outlet.facts, stated::OUTLET);
        }
    }
}

/// The board itself is exchanged or moved.
fn hardware_touched(change: Option<BoardChange>) -> bool {
    change.is_some_and(|c| c.change != Change::Kept || c.relocated || c.interior_only)
}

/// The board, its feeder or its standing changes.
fn board_touched(
    change: BoardChange,
    numbers: &OfBoard<'_>,
    scope: &Scope,
    feeder: Option<&model::id::FeederId>,
) -> bool {
    let feeder = feeder.and_then(|id| scope.feeder(id.as_str()));
    hardware_touched(Some(change))
        || feeder.is_some_and(|f| f != Change::Kept)
        || numbers.standing != numbers.before
}

/// The circuit is new, rewired, lengthened or cut, or may be.
fn circuit_touched(change: Option<&CircuitChange>) -> bool {
    change.is_none_or(|c| {
        c.change != Change::Kept
            || c.other_board
            || c.extended.get() != Some(false)
            || c.cut_shorter.get() != Some(false)
    })
}
