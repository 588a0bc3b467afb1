//! What would make the load of a board fit what its devices hold it to? Every change is made on a copy of the picture after the work and
//! worked out anew; only what then fits is named, with what it does to every other calculation.
//! Sources: standard ratings (240.6), energy management (750.30; 220.70 in 2023, 120.7 in 2026), the methods of [`crate::load`]. Amperes.

use model::house::{House, Load, LoadKind};
use model::id::LoadId;
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn, flag};
use rulebook::{Check, Cite};
use serde::Serialize;

pub use super::change::Change;
use super::larger::NewRating;
use super::load::{self, BoardLoad};
use super::turned::{Turned, turned};
use super::{Depth, Sheets, all};
use crate::conductor::Verdict;
use crate::load::{Method, Standing};
use crate::tree::{Role, SupplyTree};

/// Least setting of a vehicle charger that is offered: what the control pilot of SAE J1772 can tell a car. From memory, no source.
const LEAST_SETTING: f64 = 6.0;

/// A change that was tried, and what it comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// The change.
    pub change: Change,
    /// In words.
    pub text: String,
    /// What it comes to.
    pub comes_to: ComesTo,
    /// What has to be seen to beside it.
    pub notes: Vec<String>,
    /// Sections it rests on.
    pub cites: Vec<Cite>,
    /// How far what it rests on was checked.
    pub check: Check,
    /// Other boards whose load does not fit even so.
    pub still_over: Vec<String>,
    /// Calculations that end otherwise with it.
    pub verdicts: Vec<Turned>,
}

/// The load of a board as it stands, and with the change.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LoadComesTo")]
pub struct ComesTo {
    /// Method it is then built on.
    pub method: Method,
    /// Load as planned, in whole amperes.
    pub load_now_a: Amperes,
    /// What holds it as planned.
    pub held_to_now_a: Amperes,
    /// Load with the change, in whole amperes.
    pub load_a: Amperes,
    /// What holds it with the change.
    pub held_to_a: Amperes,
}

/// What every trial needs.
struct Desk<'a, 'j> {
    house: &'j House,
    before: Option<&'a House>,
    sheets: &'a Sheets<'j>,
    tree: &'a SupplyTree<'j>,
    book: &'a TablesIn<'a>,
}

/// Remedies for each board of `sheets`, in its order; none for a board whose load fits, or of which that cannot be told.
pub(super) fn of_boards(
    house: &House,
    before: Option<&House>,
    sheets: &Sheets<'_>,
    tree: &SupplyTree<'_>,
    book: &TablesIn<'_>,
) -> Vec<Vec<Remedy>> {
    let desk = Desk {
        house,
        before,
        sheets,
        tree,
        book,
    };
    let over = |load: &BoardLoad<'_>| load.fits() == Verdict::Fail;
    sheets
        .loads
        .iter()
        .map(|l| {
            if over(l) {
                desk.remedies(l)
            } else {
                Vec::new()
            }
        })
        .collect()
}

impl Desk<'_, '_> {
    fn remedies(&self, load: &BoardLoad<'_>) -> Vec<Remedy> {
        let methods = self.other_methods(load);
        let changes = self.settings(load).into_iter().chain(self.left_out(load));
        methods
            .into_iter()
            .chain(changes.filter_map(|change| self.tried(load, change)))
            .chain(self.larger_rating(load))
            .collect()
    }

    /// Makes a change and works everything out anew; nothing when the load does not fit then.
    fn tried(&self, load: &BoardLoad<'_>, change: Change) -> Option<Remedy> {
        let mut house = self.house.clone();
        change.make(load.board, &mut house, self.before);
        let tree = SupplyTree::of(&house);
        let sheets = all(&house, self.before, &tree, Depth::Verdicts, self.book);
        let then = sheets.load(load.board)?;
        if then.fits() != Verdict::Pass {
            return None;
        }
        let outcome = then.outcome()?;
        let method = outcome.method;
        let still_over = sheets
            .loads
            .iter()
            .filter(|l| l.board != load.board && l.fits() == Verdict::Fail);
        let (mut cites, check) = self.rests_on(&change);
        cites.push(self.book.cite(method.subject()));
        Some(Remedy {
            text: change.describe(load.board, &house, self.before),
            comes_to: ComesTo {
                method,
                load_now_a: load.outcome()?.rounded.lower_bound(),
                held_to_now_a: load.held_to.get()?,
                load_a: then.amperes()?,
                held_to_a: then.held_to.get()?,
            },
            notes: self.notes(load, &change),
            cites,
            check: check.min(outcome.worksheet.check()),
            still_over: still_over.map(|l| l.board.to_owned()).collect(),
            verdicts: turned(self.sheets, &sheets, load.board),
            change,
        })
    }

    /// Methods that may be used too and come to less. Nothing of the house changes.
    fn other_methods(&self, load: &BoardLoad<'_>) -> Vec<Remedy> {
        let (Some(held_to), Some(now)) = (load.held_to.get(), load.outcome()) else {
            return Vec::new();
        };
        let others = load.comparison.outcomes.iter().filter(|o| {
            let fits = o.rounded.exact().is_some_and(|a| a <= held_to);
            o.method != now.method && o.standing == Standing::Applies && fits
        });
        others
            .map(|other| {
                let change = Change::OtherMethod(other.method);
                Remedy {
                    text: change.describe(load.board, self.house, self.before),
                    comes_to: ComesTo {
                        method: other.method,
                        load_now_a: now.rounded.lower_bound(),
                        held_to_now_a: held_to,
                        load_a: other.rounded.lower_bound(),
                        held_to_a: held_to,
                    },
                    notes: self.notes(load, &change),
                    cites: vec![self.book.cite(other.method.subject())],
                    check: other.worksheet.check(),
                    still_over: Vec::new(),
                    verdicts: Vec::new(),
                    change,
                }
            })
            .collect()
    }

    /// Loads that the work brings, or makes others than they were.
    fn of_the_change(&self) -> impl Iterator<Item = (&LoadId, &Load)> {
        let all = self.house.loads.iter();
        all.filter(|(id, load)| {
            let is_new = self.before.is_some_and(|b| b.loads.get(*id) != Some(*load));
            is_new && !load.future && load.count > 0
        })
    }

    /// Only of a vehicle charger the current itself can be set; other loads are switched, and what a switched load counts for is not
    /// confirmed for any edition.
    fn settings(&self, load: &BoardLoad<'_>) -> Vec<Change> {
        let stands_for_load = self.book.flag(flag::EMS_SETTING_IS_LOAD);
        if !stands_for_load.is_ok_and(|named| named.value) {
            return Vec::new();
        }
        let chargers = self
            .of_the_change()
            .filter(|(_, l)| l.kind == LoadKind::VehicleCharger);
        chargers
            .filter_map(|(id, charger)| {
                let current = current(charger, self.house)?;
                let set = |amperes: u32| Change::Setting {
                    load: id.clone(),
                    amperes: Amperes(f64::from(amperes)),
                };
                let most = (current.0.ceil() - 1.0).clamp(0.0, 1000.0) as u32;
                // The load never falls when the setting rises: the largest that fits is found by halving.
                let (mut fits, mut over) = (LEAST_SETTING as u32, most + 1);
                if fits > most || !self.load_fits(load, &set(fits)) {
                    return None;
                }
                while fits + 1 < over {
                    let middle = fits.midpoint(over);
                    if self.load_fits(load, &set(middle)) {
                        fits = middle;
                    } else {
                        over = middle;
                    }
                }
                Some(set(fits))
            })
            .collect()
    }

    /// Each load of the change alone; where none is enough, all of them.
    fn left_out(&self, load: &BoardLoad<'_>) -> Vec<Change> {
        let new: Vec<&LoadId> = self.of_the_change().map(|(id, _)| id).collect();
        let one = |loads: &[&LoadId]| Change::LeftOut {
            loads: loads.iter().map(|id| (*id).clone()).collect(),
        };
        let singly: Vec<Change> = new
            .iter()
            .map(|id| one(&[id]))
            .filter(|change| self.load_fits(load, change))
            .collect();
        if singly.is_empty() && new.len() > 1 {
            return vec![one(&new)];
        }
        singly
    }

    /// Whether the load of the board fits with a change, without the rest of the picture.
    fn load_fits(&self, load: &BoardLoad<'_>, change: &Change) -> bool {
        let mut house = self.house.clone();
        change.make(load.board, &mut house, self.before);
        let tree = SupplyTree::of(&house);
        let then = load::of_one(load.board, &house, self.before, &tree, self.book);
        then.is_some_and(|l| l.fits() == Verdict::Pass)
    }

    /// The smallest rating asked for, or one of the next where another method is taken once it is larger.
    fn larger_rating(&self, load: &BoardLoad<'_>) -> Option<Remedy> {
        let least = load.outcome()?.rating.exact()?;
        let ratings = self.book.standard_ratings().filter(|r| *r >= least);
        ratings.take(3).find_map(|rating| {
            let change = self.new_rating(load.board, rating)?;
            self.tried(load, Change::LargerRating(change))
        })
    }

    fn new_rating(&self, board: &str, rating: Amperes) -> Option<NewRating> {
        let mut new = NewRating::of(self.tree.node(board)?, rating, self.before)?;
        // Legs first, then neutral and ground by what the legs have become.
        for _ in 0..2 {
            let mut house = self.house.clone();
            new.make(board, &mut house);
            let tree = SupplyTree::of(&house);
            let sheets = all(&house, self.before, &tree, Depth::Verdicts, self.book);
            if !new.take_conductors(&sheets, self.book) {
                break;
            }
        }
        Some(new)
    }

    fn rests_on(&self, change: &Change) -> (Vec<Cite>, Check) {
        match change {
            Change::OtherMethod(_) | Change::LeftOut { .. } => (Vec::new(), Check::Arithmetic),
            Change::Setting { .. } => match self.book.flag(flag::EMS_SETTING_IS_LOAD) {
                Ok(named) => (vec![named.cite], named.check),
                Err(_) => (vec![self.book.cite(Subject::Ems)], Check::NotFound),
            },
            Change::LargerRating(new) => match self.book.next_standard_rating(new.rating) {
                Ok(found) => (vec![found.cite], found.check),
                Err(_) => (
                    vec![self.book.cite(Subject::StandardRatings)],
                    Check::NotFound,
                ),
            },
        }
    }

    fn notes(&self, load: &BoardLoad<'_>, change: &Change) -> Vec<String> {
        match change {
            Change::OtherMethod(_) => Vec::new(),
            Change::Setting { .. } => vec![
                "the system has to be listed for it, and only qualified people may reach the setting"
                    .to_owned(),
            ],
            Change::LeftOut { loads } => {
                let circuits = self.house.circuits.iter();
                let carrying: Vec<String> = circuits
                    .filter(|(_, c)| c.loads.iter().any(|l| loads.contains(l)))
                    .map(|(id, _)| format!("`{id}`"))
                    .collect();
                if carrying.is_empty() {
                    return Vec::new();
                }
                let which = carrying.join(", ");
                vec![format!(
                    "the plan still holds {which}: take it out as well, or leave it dead and marked"
                )]
            }
            Change::LargerRating(new) => {
                let mut notes = Vec::new();
                let node = self.tree.node(load.board);
                if node.is_some_and(|n| n.role == Role::Service) {
                    notes.push(
                        "ask the utility: its conductors and the meter equipment have to carry it too"
                            .to_owned(),
                    );
                }
                if node.is_some_and(|n| n.board.bus.is_unknown()) && new.bus.is_none() {
                    notes.push(format!(
                        "the bus rating of `{}` is not known: it has to be {} or more",
                        load.board, new.rating
                    ));
                }
                notes
            }
        }
    }
}

/// Current of one, by its plate.
fn current(load: &Load, house: &House) -> Option<Amperes> {
    load.amps.get().or_else(|| {
        let volts = load.volts.get();
        let volts = volts.unwrap_or_else(|| super::system(house).line_to_line());
        Some(load.nameplate().get()? / volts)
    })
}
