//! What would make the load of a board fit what its devices hold it to? Every change is made on a copy of the picture after the work and
//! worked out anew; only what then fits is named, with what it does to every other calculation.
//! Sources: standard ratings (240.6), energy management (750.30; 220.70 in 2023, 120.7 in 2026), the methods of [`crate::load`]. Amperes.

use model::Fact;
use model::house::{House, Load, LoadKind, MainKind, UTILITY};
use model::id::LoadId;
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn, flag};
use rulebook::{Check, Cite};
use serde::Serialize;

use super::larger::NewRating;
use super::load::{self, BoardLoad};
use super::turned::{Turned, turned};
use super::{Depth, Sheets, all};
use crate::conductor::Verdict;
use crate::load::{Method, Standing};
use crate::tree::{Role, SupplyTree};

/// Least setting of a vehicle charger that is offered: what the control pilot of SAE J1772 can tell a car. From memory, no source.
const LEAST_SETTING: f64 = 6.0;

/// One change that makes the load of a board fit.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LoadChange")]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// Another method, whose conditions are met too.
    OtherMethod(Method),
    /// A vehicle charger of the change under a listed energy management system: the largest setting that fits.
    Setting {
        /// The charger.
        load: LoadId,
        /// Setting of one.
        amperes: Amperes,
    },
    /// Loads of the change left for later; one that was there before stays as it was.
    LeftOut {
        /// The loads.
        loads: Vec<LoadId>,
    },
    /// The next standard rating for what holds the load, with what has to go with it.
    LargerRating(NewRating),
}

impl Change {
    /// The picture after the work with this change made. `before`: the picture whose loads stay as they were.
    pub(super) fn make(&self, board: &str, house: &mut House, before: Option<&House>) {
        match self {
            Self::OtherMethod(_) => {}
            Self::Setting { load, amperes } => {
                if let Some(load) = house.loads.get_mut(load) {
                    load.managed_limit = Fact::derived(*amperes);
                }
            }
            Self::LeftOut { loads } => {
                for id in loads {
                    let was = before.and_then(|b| b.loads.get(id));
                    match (was, house.loads.get_mut(id)) {
                        (Some(was), Some(load)) => load.clone_from(was),
                        (None, Some(load)) => load.future = true,
                        (_, None) => {}
                    }
                }
            }
            Self::LargerRating(rating) => rating.make(board, house),
        }
    }

    fn describe(&self, board: &str, house: &House, before: Option<&House>) -> String {
        match self {
            Self::OtherMethod(method) => format!(
                "build on the {method}, whose conditions are met too, where the authority accepts it"
            ),
            Self::Setting { load, amperes } => {
                let each = match house.loads.get(load) {
                    Some(load) if load.count > 1 => "each ",
                    _ => "",
                };
                format!(
                    "`{load}` under a listed energy management system, {each}set to {amperes} at most"
                )
            }
            Self::LeftOut { loads } => {
                let stays = |id: &&LoadId| before.is_some_and(|b| b.loads.contains_key(*id));
                let names = |of: Vec<&LoadId>| {
                    let each = of.into_iter().map(|id| format!("`{id}`"));
                    each.collect::<Vec<_>>().join(", ")
                };
                let (old, new): (Vec<_>, Vec<_>) = loads.iter().partition(stays);
                let old = (!old.is_empty()).then(|| format!("{} as it was", names(old)));
                let new = (!new.is_empty()).then(|| format!("{} left for later", names(new)));
                new.into_iter().chain(old).collect::<Vec<_>>().join(", ")
            }
            Self::LargerRating(rating) => rating.describe(board, house),
        }
    }
}

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
        let tried = self
            .settings(load)
            .into_iter()
            .chain(self.left_out(load))
            .chain(self.larger_rating(load));
        methods
            .into_iter()
            .chain(tried.filter_map(|change| self.tried(load, change)))
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

    fn larger_rating(&self, load: &BoardLoad<'_>) -> Option<Change> {
        let node = self.tree.node(load.board)?;
        let rating = load.outcome()?.rating.exact()?;
        let mut new = NewRating::of(node, rating, self.before)?;
        // Legs first, then neutral and ground by what the legs have become.
        for _ in 0..2 {
            let mut house = self.house.clone();
            new.make(load.board, &mut house);
            let tree = SupplyTree::of(&house);
            let sheets = all(&house, self.before, &tree, Depth::Verdicts, self.book);
            if !new.take_conductors(&sheets, self.book) {
                break;
            }
        }
        Some(Change::LargerRating(new))
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

/// Whether a breaker of the board itself stands ahead of its bus.
pub(super) fn has_own_main(main: &Fact<MainKind>) -> bool {
    matches!(
        main.get(),
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker)
    )
}

/// The device at the supply end of a feeder; service conductors have none.
pub(super) fn device_ahead(feeder: &model::house::Feeder) -> Option<Amperes> {
    feeder.breaker.get().filter(|_| feeder.from != UTILITY)
}
