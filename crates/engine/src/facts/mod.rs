//! From a job to the facts that requirements are judged by: what is so, who said it, and what nobody knows.
//! Source: both pictures, their difference, supply tree and worksheets, and the `facts` tables of the job file. Units as the dictionary names them.
//!
//! A fact that the model can tell is *derived*; the rest is *stated* by its dictionary name. Derived wins; where both are known and differ,
//! a [`Disagreement`] says so. What neither tells is unknown, never false. The picture itself proves a "no" only here:
//!
//! | taken as complete | therefore |
//! | --- | --- |
//! | boards, feeders, circuits, sources and loads listed in a picture | no source listed: the job has none; no load of a kind on a circuit: it serves none |
//! | fields that cannot be unknown: `shared_with`, `building`, `poles`, `purpose`, `kind`, `replaced` | a circuit that names no partner shares no neutral; a board that names no building is in the main one |
//! | the plan: what the after picture does not add or change, the job does not add or change | a circuit is not new, rewired or given outlets unless the after picture says so |
//! | purpose of a circuit | no fire alarm panel and no welder where it is anything but `smoke_alarms` or `individual` |
//! | a load that asks for it | a circuit without a vehicle charger manages no charger |
//!
//! A spare circuit is a place kept for later: it has no wiring, so nothing is asked of it. Nothing else is taken as complete: outlets listed are those that matter by themselves, electrodes listed are those in use, hazards
//! listed are those seen. A hazard not listed, an electrode not in use, a facts key not given stays unknown.

mod board;
mod calculated;
mod circuit;
mod feeder;
mod job;
mod outlet;
mod place;
mod plan;
mod rows;
mod source;
mod stated;
mod told;

use model::Said;
use rulebook::{Datum, FactDictionary, FactId, FactSet};

pub use calculated::{Calculated, OfBoard, OfFeeder, OfService, Standing};
pub use place::{Place, Subject};
pub use rows::bind;
pub use stated::check_stated;

/// How one fact is told, and the field that answers it, below the thing it is about; empty when it only follows from others.
pub(crate) struct Rule<F> {
    pub(crate) fact: &'static str,
    pub(crate) field: &'static str,
    pub(crate) tell: F,
}

/// Every fact of every instance: a row of slots for each.
#[derive(Clone, Debug)]
pub struct Bound<'j> {
    rows: Vec<Row<'j>>,
    width: usize,
    slots: Vec<Option<Datum>>,
    said: Vec<Option<Said>>,
    subjects: Subjects,
    /// Facts that are both stated and derived, and differ.
    pub disagreements: Vec<Disagreement<'j>>,
}

/// One instance: what it is, and what it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Row<'j> {
    pub(crate) place: Place<'j>,
    pub(crate) board: Option<Place<'j>>,
    pub(crate) feeder: Option<Place<'j>>,
    pub(crate) old: Option<Place<'j>>,
    pub(crate) building: Option<Place<'j>>,
    pub(crate) circuit: Option<Place<'j>>,
    /// Row of what it hangs on: a circuit's board, an outlet's circuit, else the job.
    pub(crate) parent: usize,
    /// The job works on it.
    pub(crate) touched: bool,
}

/// What each fact is about.
#[derive(Clone, Debug, Default)]
pub(crate) struct Subjects {
    pub(crate) of: Vec<Subject>,
    sets: [FactSet; Subject::ALL.len()],
}

/// A fact that the job file states and the pictures contradict. The derived value is the one in use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Disagreement<'j> {
    /// The fact.
    pub fact: FactId,
    /// What it is about.
    pub place: Place<'j>,
    /// As stated, and by whom.
    pub stated: (Datum, Said),
    /// As the pictures have it, and who said what it follows from.
    pub derived: (Datum, Said),
}

impl Subjects {
    fn of(facts: &FactDictionary) -> Self {
        let mut all = Self::default();
        for (id, entry) in facts.iter() {
            let subject = Subject::of_fact(&entry.name);
            all.of.push(subject);
            all.sets[subject as usize].insert(id);
        }
        all
    }

    /// Facts of these subjects.
    pub(crate) fn facts(&self, subjects: &[Subject]) -> FactSet {
        subjects
            .iter()
            .fold(FactSet::EMPTY, |all, s| all.union(&self.sets[*s as usize]))
    }

    /// What a fact is about; one that nobody knows counts as the job's.
    pub(crate) fn subject(&self, fact: FactId) -> Subject {
        self.of.get(fact.index()).copied().unwrap_or(Subject::Job)
    }
}

impl<'j> Bound<'j> {
    /// How many instances there are: the job, boards, old cabinets, sources, circuits, outlets.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Never: the job itself is an instance.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// What the instance is.
    #[must_use]
    pub fn place(&self, row: usize) -> Place<'j> {
        self.rows.get(row).map_or(Place::Job, |r| r.place)
    }

    /// The instance that is this place.
    #[must_use]
    pub fn row_of(&self, place: Place<'_>) -> Option<usize> {
        self.rows.iter().position(|r| r.place == place)
    }

    /// The instance that knows most about a place: a feeder, an old cabinet or a building is known with its board.
    #[must_use]
    pub fn row_at(&self, place: Place<'_>) -> Option<usize> {
        self.row_of(place).or_else(|| {
            let some = Some(place);
            self.rows.iter().position(|r| {
                matches!(r.place, Place::Board(_))
                    && (r.feeder == some || r.old == some || r.building == some)
            })
        })
    }

    /// Facts of an instance, a slot for each; `None` is unknown.
    #[must_use]
    pub fn slots(&self, row: usize) -> &[Option<Datum>] {
        let start = row * self.width;
        self.slots.get(start..start + self.width).unwrap_or(&[])
    }

    /// Value of a fact at an instance, and who said it.
    #[must_use]
    pub fn value(&self, row: usize, fact: FactId) -> Option<(Datum, Said)> {
        let datum = (*self.slots(row).get(fact.index())?)?;
        let said = self.said.get(row * self.width + fact.index()).copied()??;
        Some((datum, said))
    }

    /// The thing that a fact is about, seen from an instance: for a circuit and a fact of panels, its board.
    #[must_use]
    pub fn owner(&self, row: usize, fact: FactId) -> Place<'j> {
        let Some(row) = self.rows.get(row) else {
            return Place::Job;
        };
        let own = Some(row.place);
        match self.subjects.subject(fact) {
            Subject::Job | Subject::Service | Subject::Ground | Subject::Local => Some(Place::Job),
            Subject::Panel | Subject::Limited => row.board,
            Subject::Old => row.old.or(row.board),
            Subject::Feeder => row.feeder.or(row.board),
            Subject::Building => row.building.or(row.board),
            Subject::Source | Subject::Receptacle | Subject::Outlet => own,
            Subject::Circuit | Subject::Ev => row.circuit,
        }
        .unwrap_or(row.place)
    }

    /// Where in the job file the answer to an unknown fact goes, for example `boards.P.working_space.depth`.
    #[must_use]
    pub fn answer_path(&self, row: usize, fact: FactId, facts: &FactDictionary) -> String {
        plan::answer_path(self.owner(row, fact), facts.name(fact))
    }

    /// Row of what an instance hangs on; the job hangs on nothing.
    pub(crate) fn parent(&self, row: usize) -> Option<usize> {
        (row > 0).then(|| self.rows.get(row).map_or(0, |r| r.parent))
    }

    pub(crate) fn rows(&self) -> &[Row<'j>] {
        &self.rows
    }

    pub(crate) fn subjects(&self) -> &Subjects {
        &self.subjects
    }

    /// Every slot of an instance, for trying answers. Whoever changes one puts it back.
    pub(crate) fn slots_mut(&mut self, row: usize) -> &mut [Option<Datum>] {
        let start = row * self.width;
        self.slots
            .get_mut(start..start + self.width)
            .unwrap_or(&mut [])
    }
}
