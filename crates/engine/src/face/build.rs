//! From a job to the problem of one board: its spaces, everything that needs a place, and what is taken for granted on the way.
//! Source: the picture after the work, and the picture before it for old positions. Whole VA, whole inches.
//!
//! Lengths are estimates: spaces stand 1 in apart in the middle of the cabinet, and a conductor runs square along the gutter of its column.

use std::collections::BTreeMap;

use model::Fact;
use model::house::{
    Board, Circuit, Device, DeviceKind, Entry, LegRows, MainKind, Numbering, Protection, Side,
    Source, SourceKind, Stated,
};
use model::units::Inches;
use serde::Serialize;

use super::loads::{Basis, CircuitLoad, of_house};
use super::problem::{Cable, Form, Item, Pole, Problem, Space, WholeInches, WholeVa};
use crate::check::Report;
use crate::conductor::Verdict;

/// A leg's voltage to neutral, for the share of a breaker that its continuous load takes.
const LINE_TO_NEUTRAL: f64 = 120.0;
/// Cabinet where nobody measured it, inches.
pub(super) const USUAL_WIDTH: f64 = 14.25;
/// Conductor from the gutter to the breaker's terminal, inches.
const TURN_IN: f64 = 3.0;

/// The problem of a board, with what a reader must know about it.
#[derive(Clone, Debug, Serialize)]
pub struct Prepared {
    /// The problem.
    pub problem: Problem,
    /// What each item serves, by the names in its poles.
    pub serves: BTreeMap<String, String>,
    /// Load of each circuit of the board.
    pub loads: BTreeMap<String, CircuitLoad>,
    /// What was taken for granted, and what is not known.
    pub said: Vec<String>,
}

/// Why a board cannot be worked on.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unfit {
    /// No such board.
    #[error("the picture after the work has no board `{0}`")]
    NoBoard(String),
    /// A fact that everything rests on is unknown.
    #[error("`boards.{board}.{fact}` is not known in the picture after the work")]
    Unknown {
        /// The board.
        board: String,
        /// The fact.
        fact: &'static str,
    },
    /// Something cannot stand in a single-phase board.
    #[error("`{0}` has 3 poles; boards with two legs hold 1 and 2 poles")]
    ThreePoles(String),
    /// A space that the board does not have.
    #[error("`{item}` has to be in space {space}, and `{board}` has spaces 1 to {spaces}")]
    NoSpace {
        /// What has to be there.
        item: String,
        /// Where.
        space: String,
        /// The board.
        board: String,
        /// Its spaces.
        spaces: u32,
    },
}

/// Sets up the problem of a board.
///
/// # Errors
///
/// When the board is not there or what everything rests on is unknown.
pub fn prepare(report: &Report<'_>, board: &str) -> Result<Prepared, Unfit> {
    let house = &report.job.after;
    let Some(planned) = house.boards.get(board) else {
        return Err(Unfit::NoBoard(board.to_owned()));
    };
    let unknown = |fact| Unfit::Unknown {
        board: board.to_owned(),
        fact,
    };
    let count = planned
        .spaces
        .get()
        .filter(|n| *n > 0)
        .ok_or(unknown("spaces"))?;
    let legs = planned.leg_rows.known().ok_or(unknown("leg_rows"))?;
    let mut build = Build {
        report,
        board,
        planned,
        rows: count.div_ceil(2),
        prepared: Prepared {
            problem: Problem {
                board: board.to_owned(),
                spaces: spaces(count, planned, legs),
                items: Vec::new(),
                spare: planned.spare_spaces.unwrap_or(0),
            },
            serves: BTreeMap::new(),
            loads: of_house(house, &report.book.tables()),
            said: Vec::new(),
        },
    };
    build.circuits()?;
    build.feeders();
    build.devices()?;
    build.sources()?;
    build.say();
    Ok(build.prepared)
}

/// Column and row of a space, numbered from 1, on a board of so many.
pub(super) const fn place_of(number: u32, count: u32, numbering: Numbering) -> (u8, u16) {
    let rows = count.div_ceil(2);
    let (at, rows) = (number.saturating_sub(1), if rows == 0 { 1 } else { rows });
    let (column, row) = match numbering {
        Numbering::Across => (at % 2, at / 2),
        Numbering::Down => (at / rows, at % rows),
    };
    (column as u8, row as u16)
}

/// The spaces of a board, by column and row.
fn spaces(count: u32, board: &Board, legs: &LegRows) -> Vec<Space> {
    let tandem = board.tandem_spaces.known();
    let mut spaces: Vec<Space> = (1..=count)
        .map(|number| {
            let (column, row) = place_of(number, count, board.numbering);
            Space {
                number,
                column,
                row,
                leg: legs.of_row(usize::from(row)),
                tandem: tandem.is_some_and(|t| t.contains(&number)),
            }
        })
        .collect();
    spaces.sort_by_key(|s| (s.column, s.row));
    spaces
}

struct Build<'r, 'j> {
    report: &'r Report<'j>,
    board: &'r str,
    planned: &'r Board,
    rows: u32,
    prepared: Prepared,
}

impl Build<'_, '_> {
    fn circuits(&mut self) -> Result<(), Unfit> {
        let house = &self.report.job.after;
        let mut full_space = Vec::new();
        for (id, circuit) in house.circuits.iter().filter(|(_, c)| c.board == self.board) {
            let id = id.as_str();
            self.prepared
                .serves
                .insert(id.to_owned(), circuit.serves.clone());
            let partner = circuit.shared_with.as_ref().filter(|_| circuit.poles == 1);
            let partner = partner.and_then(|p| Some((p.as_str(), house.circuits.get(p)?)));
            match (circuit.poles, partner) {
                (3.., _) => return Err(Unfit::ThreePoles(id.to_owned())),
                (2, _) => {
                    let load = self.load(id);
                    let half = Pole {
                        circuit: id.to_owned(),
                        load: WholeVa((load.load.0 + 1) / 2),
                        continuous: WholeVa((load.continuous.0 + 1) / 2),
                    };
                    let item =
                        self.item(id, Form::Double, vec![half.clone(), half], &[(id, circuit)])?;
                    self.prepared.problem.items.push(item);
                }
                (_, Some((other, with))) if with.board == self.board && with.poles == 1 => {
                    if id < other {
                        let poles = vec![self.pole(id), self.pole(other)];
                        let both = [(id, circuit), (other, with)];
                        let item =
                            self.item(&format!("{id} + {other}"), Form::Tied, poles, &both)?;
                        self.prepared.problem.items.push(item);
                    }
                }
                (_, partner) => {
                    if let Some((other, _)) = partner {
                        self.prepared.said.push(format!(
                            "`{id}` shares its neutral with `{other}`, which is not on this board: both belong on one board, on opposite legs"
                        ));
                    }
                    let plain = circuit.protection.get() == Some(Protection::None);
                    let needs_more = self.protection_is_missing(id);
                    let form = if plain && !needs_more {
                        Form::Half
                    } else {
                        Form::Single
                    };
                    if form == Form::Single && circuit.protection.is_unknown() {
                        full_space.push(id.to_owned());
                    }
                    let item = self.item(id, form, vec![self.pole(id)], &[(id, circuit)])?;
                    self.prepared.problem.items.push(item);
                }
            }
        }
        if !full_space.is_empty() {
            self.prepared.said.push(format!(
                "protection not known, taken as a breaker of full width: {}",
                full_space.join(", ")
            ));
        }
        Ok(())
    }

    /// Arc-fault or ground-fault protection is required of this circuit and not planned yet.
    fn protection_is_missing(&self, circuit: &str) -> bool {
        needs_protection(self.report, circuit)
    }

    fn feeders(&mut self) {
        let job = self.report.job;
        for (id, feeder) in job
            .after
            .feeders
            .iter()
            .filter(|(_, f)| f.from == self.board)
        {
            let id = id.as_str();
            let amperes = self
                .report
                .sheets
                .load(&feeder.to)
                .and_then(|l| l.amperes());
            let each = amperes.map_or(0.0, |a| a.0 * LINE_TO_NEUTRAL);
            if amperes.is_none() {
                self.prepared
                    .said
                    .push(format!("load of feeder `{id}` is not known: none is taken"));
            }
            let pole = Pole {
                circuit: id.to_owned(),
                load: WholeVa(each.round().clamp(0.0, 1e6) as i64),
                continuous: WholeVa(0),
            };
            let before = job.before.feeders.get(id).filter(|f| f.from == self.board);
            let cable = Cable {
                old: before
                    .and_then(|f| f.spaces.known().cloned())
                    .unwrap_or_default(),
                ..Cable::default()
            };
            self.prepared
                .serves
                .insert(id.to_owned(), format!("feeder to `{}`", feeder.to));
            self.prepared.problem.items.push(Item {
                id: id.to_owned(),
                form: Form::Double,
                width: 2,
                poles: vec![pole.clone(), pole],
                cables: vec![cable],
                allowed: None,
                heavy: false,
            });
        }
    }

    fn devices(&mut self) -> Result<(), Unfit> {
        let mut has_main = false;
        let devices: Vec<(String, Device)> = self
            .planned
            .devices
            .iter()
            .map(|(id, d)| (id.as_str().to_owned(), d.clone()))
            .collect();
        for (id, device) in &devices {
            has_main |= device.kind == DeviceKind::MainBreaker;
            self.device(id, device)?;
        }
        if self.planned.main.get() == Some(MainKind::BackfedBreaker) && !has_main {
            self.prepared.said.push(
                "the back-fed main with its hold-down is taken to sit at the top; list it under `devices` with its spaces as the label tells".to_owned(),
            );
            self.put(
                "main",
                "main breaker, fed backwards, held down",
                2,
                Some(self.ends(true, 1)),
            );
        }
        let boards = self.report.job.after.boards.values();
        let surge = boards
            .flat_map(|b| b.devices.values())
            .any(|d| d.kind == DeviceKind::SurgeProtector);
        let present = self.report.job.after.supply.facts.get("spd_present");
        let planned = present.and_then(Fact::known) == Some(&Stated::Bool(true));
        if !surge && planned {
            self.prepared.said.push(format!(
                "no space is kept for surge protection: list it under `boards.{}.devices` if it belongs on this board",
                self.board
            ));
        }
        Ok(())
    }

    fn device(&mut self, id: &str, device: &Device) -> Result<(), Unfit> {
        let usual = match device.kind {
            DeviceKind::SurgeProtector => "surge protection",
            DeviceKind::Monitor => "monitor",
            DeviceKind::MainBreaker => "main breaker, fed backwards, held down",
            DeviceKind::Other => "device",
        };
        let name = if device.name.is_empty() {
            usual
        } else {
            &device.name
        };
        let allowed = match device.spaces.known() {
            Some(spaces) if device.pinned || device.kind == DeviceKind::MainBreaker => {
                Some(vec![self.top(id, spaces)?])
            }
            _ if device.kind == DeviceKind::MainBreaker => Some(self.ends(true, 1)),
            _ => None,
        };
        self.put(id, name, device.takes(), allowed);
        Ok(())
    }

    fn put(&mut self, id: &str, name: &str, width: u8, allowed: Option<Vec<u32>>) {
        self.prepared.serves.insert(id.to_owned(), name.to_owned());
        if width == 0 {
            return;
        }
        let pole = Pole {
            circuit: id.to_owned(),
            ..Pole::default()
        };
        let two = width == 2;
        self.prepared.problem.items.push(Item {
            id: id.to_owned(),
            form: if two { Form::Double } else { Form::Module },
            width,
            poles: if two {
                vec![pole.clone(), pole]
            } else {
                Vec::new()
            },
            cables: Vec::new(),
            allowed,
            heavy: false,
        });
    }

    fn sources(&mut self) -> Result<(), Unfit> {
        let job = self.report.job;
        let here = |s: &&Source| s.board == self.board;
        let count = job.after.sources.values().filter(here).count() as u32;
        let needs_end = self.needs_far_end();
        let sources: Vec<_> = job
            .after
            .sources
            .iter()
            .filter(|(_, s)| s.board == self.board)
            .collect();
        for (id, source) in sources {
            let id = id.as_str();
            let name = match source.kind {
                SourceKind::Photovoltaic => "photovoltaic inverter",
                SourceKind::Battery => "battery inverter",
                SourceKind::Generator => "generator",
            };
            let at_end = source.kind != SourceKind::Generator
                && (source.opposite_end.get() == Some(true) || needs_end);
            let allowed = at_end.then(|| self.ends(self.main_is_at_the_foot(), count.div_ceil(2)));
            if at_end {
                self.prepared.said.push(format!(
                    "`{id}` is kept at the end of the bus away from the main, as its busbar calculation needs"
                ));
            }
            self.put(id, name, 2, allowed);
            if let (Some(item), Some(before)) = (
                self.prepared.problem.items.last_mut(),
                job.before.sources.get(id).filter(|s| s.board == self.board),
            ) {
                item.cables = vec![Cable {
                    old: before.spaces.known().cloned().unwrap_or_default(),
                    ..Cable::default()
                }];
            }
        }
        Ok(())
    }

    /// The bus carries its sources only because they sit at the far end.
    fn needs_far_end(&self) -> bool {
        let bus = self
            .report
            .sheets
            .buses
            .iter()
            .find(|b| b.board == self.board);
        bus.is_some_and(|b| {
            let plain = b.check.ways.first().map(|w| w.verdict);
            plain.is_some_and(|v| v != Verdict::Pass)
        })
    }

    fn main_is_at_the_foot(&self) -> bool {
        let mains = self
            .planned
            .devices
            .values()
            .filter(|d| d.kind == DeviceKind::MainBreaker);
        let mut rows = mains.filter_map(|d| {
            let first = *d.spaces.known()?.first()?;
            let space = self
                .prepared
                .problem
                .spaces
                .iter()
                .find(|s| s.number == first)?;
            Some(u32::from(space.row))
        });
        rows.any(|row| row >= self.rows / 2)
    }

    /// Upper spaces of the first (`top`) or last `pairs` pairs of each column.
    fn ends(&self, top: bool, pairs: u32) -> Vec<u32> {
        let spaces = &self.prepared.problem.spaces;
        let each = spaces.iter().enumerate().filter(|(i, s)| {
            let below = self.prepared.problem.below(*i).is_some();
            let row = u32::from(s.row);
            let last = spaces
                .iter()
                .filter(|o| o.column == s.column)
                .map(|o| u32::from(o.row))
                .max();
            let from_end = last.unwrap_or(0) - row;
            below
                && if top {
                    row < 2 * pairs - 1
                } else {
                    from_end < 2 * pairs
                }
        });
        each.map(|(_, s)| s.number).collect()
    }

    fn pole(&self, id: &str) -> Pole {
        let load = self.load(id);
        Pole {
            circuit: id.to_owned(),
            load: load.load,
            continuous: load.continuous,
        }
    }

    fn load(&self, id: &str) -> CircuitLoad {
        let none = CircuitLoad {
            load: WholeVa(0),
            continuous: WholeVa(0),
            basis: Basis::Unknown,
        };
        self.prepared.loads.get(id).copied().unwrap_or(none)
    }

    fn item(
        &self,
        id: &str,
        form: Form,
        poles: Vec<Pole>,
        circuits: &[(&str, &Circuit)],
    ) -> Result<Item, Unfit> {
        let width = if matches!(form, Form::Double | Form::Tied) {
            2
        } else {
            1
        };
        let mut allowed = None;
        for (name, circuit) in circuits {
            if let Some(spaces) = circuit.spaces.known().filter(|_| circuit.pinned) {
                let numbers = self.numbers(name, spaces)?;
                allowed = Some(match form {
                    Form::Tied => self.tops_over(&numbers),
                    _ => vec![self.top(name, &numbers)?],
                });
            }
        }
        let continuous: i64 = poles.iter().map(|p| p.continuous.0).sum();
        let rating = circuits.first().and_then(|(_, c)| c.amps.get());
        let heavy = rating.is_some_and(|a| {
            let current = continuous as f64 / (LINE_TO_NEUTRAL * poles.len() as f64);
            continuous > 0 && current >= a.0 / 2.0
        });
        Ok(Item {
            id: id.to_owned(),
            form,
            width,
            poles,
            cables: circuits.iter().map(|(n, c)| self.cable(n, c)).collect(),
            allowed,
            heavy,
        })
    }

    /// Upper spaces from which a pair covers one of these spaces.
    fn tops_over(&self, numbers: &[u32]) -> Vec<u32> {
        let problem = &self.prepared.problem;
        let mut tops = Vec::new();
        for (i, space) in problem.spaces.iter().enumerate() {
            let Some(below) = problem.below(i) else {
                continue;
            };
            if numbers.contains(&space.number) || numbers.contains(&problem.spaces[below].number) {
                tops.push(space.number);
            }
        }
        tops
    }

    fn numbers(&self, item: &str, spaces: &[String]) -> Result<Vec<u32>, Unfit> {
        spaces
            .iter()
            .map(|s| number(s).ok_or_else(|| self.no_space(item, s)))
            .collect()
    }

    /// The uppermost of these spaces.
    fn top(&self, item: &str, spaces: &[u32]) -> Result<u32, Unfit> {
        let problem = &self.prepared.problem;
        let mut found = Vec::new();
        for number in spaces {
            let index = problem.index(*number);
            let index = index.ok_or_else(|| self.no_space(item, &number.to_string()))?;
            found.push((problem.spaces[index].row, *number));
        }
        let top = found.into_iter().min().map(|(_, number)| number);
        top.ok_or_else(|| self.no_space(item, "(none)"))
    }

    fn no_space(&self, item: &str, space: &str) -> Unfit {
        Unfit::NoSpace {
            item: item.to_owned(),
            space: space.to_owned(),
            board: self.board.to_owned(),
            spaces: self.prepared.problem.spaces.len() as u32,
        }
    }

    fn cable(&self, id: &str, circuit: &Circuit) -> Cable {
        let before = self.report.job.before.circuits.get(id);
        let before = before.filter(|c| c.board == self.board);
        let old = before.and_then(|c| c.spaces.known());
        let old = old.map(|s| s.iter().filter_map(|s| number(s)).collect());
        let distance = circuit.entry.map(|entry| self.distances(entry));
        Cable {
            distance: distance.unwrap_or_default(),
            free: circuit
                .reach
                .get()
                .map(|Inches(i)| WholeInches(i.floor() as i64)),
            old: old.unwrap_or_default(),
        }
    }

    fn distances(&self, entry: Entry) -> Vec<WholeInches> {
        let cabinet = &self.planned.cabinet;
        let width = cabinet.width.get().map_or(USUAL_WIDTH, |w| w.0);
        let rows = f64::from(self.rows);
        let height = cabinet.height.get().map_or(rows + 14.0, |h| h.0);
        let top = ((height - rows) / 2.0).max(0.0);
        let along = entry.along.0;
        let (x, y) = match entry.side {
            Side::Top => (along, 0.0),
            Side::Bottom => (along, height),
            Side::Left => (0.0, along),
            Side::Right => (width, along),
        };
        let each = self.prepared.problem.spaces.iter().map(|s| {
            let gutter = width * if s.column == 0 { 0.2 } else { 0.8 };
            let row = top + f64::from(s.row) + 0.5;
            let length = (x - gutter).abs() + (y - row).abs() + TURN_IN;
            WholeInches(length.round().clamp(0.0, 1e3) as i64)
        });
        each.collect()
    }

    /// What a reader must know of the loads and lengths.
    fn say(&mut self) {
        let mine = |basis: Basis| {
            let circuits = self.report.job.after.circuits.iter();
            let here = circuits.filter(|(_, c)| c.board == self.board);
            let ids: Vec<String> = here
                .map(|(id, _)| id.as_str().to_owned())
                .filter(|id| self.load(id).basis == basis)
                .collect();
            ids
        };
        let (unknown, share) = (mine(Basis::Unknown), mine(Basis::Share));
        let items = &self.prepared.problem.items;
        let cables = || items.iter().flat_map(|i| &i.cables);
        let without = cables().filter(|c| c.distance.is_empty()).count();
        let all = cables().count();
        let said = &mut self.prepared.said;
        if !unknown.is_empty() {
            said.push(format!(
                "load not known, none is taken: {}",
                unknown.join(", ")
            ));
        }
        if !share.is_empty() {
            said.push(format!(
                "the dwelling's unit load is spread over its general circuits by their outlets (common practice, no source): {} circuits here",
                share.len()
            ));
        }
        said.push("continuous load: as stated, else vehicle chargers and water heaters (common practice, no source), else none".to_owned());
        if without > 0 {
            said.push(format!(
                "the entry into the cabinet is not known for {without} of {all} cables: they have no part in the reach"
            ));
        }
        if without < all {
            said.push("reach is an estimate: spaces 1 in apart in the middle of the cabinet, conductors square along the gutter".to_owned());
        }
        if self.planned.tandem_spaces.is_unknown() {
            said.push("where tandem breakers are allowed is not known: none is placed".to_owned());
        }
    }
}

/// The number of a space as a circuit names it: `"14"`, or a tandem half such as `"14A"`.
pub(super) fn number(text: &str) -> Option<u32> {
    text.trim_end_matches(['A', 'B']).parse().ok()
}

/// Arc-fault or ground-fault protection is required of this circuit and not planned yet.
pub(super) fn needs_protection(report: &Report<'_>, circuit: &str) -> bool {
    report.findings.missing().any(|f| {
        let of_breaker = f.id().starts_with("afci-") || f.id().starts_with("gfci-");
        of_breaker
            && f.instances.iter().any(
                |i| matches!(i.place, crate::facts::Place::Circuit(c) if c.as_str() == circuit),
            )
    })
}

/// The fact that a board's picture before the work tells of a space's leg.
pub(super) fn leg_before(board: &Board, number: u32) -> Option<model::house::Leg> {
    let all = spaces_of_board(board);
    all.into_iter().find(|s| s.number == number).map(|s| s.leg)
}

/// Spaces of a board with their legs; none where the number of spaces or the legs of its rows are not known.
pub(crate) fn spaces_of_board(board: &Board) -> Vec<Space> {
    let (Fact::Known { is: count, .. }, Fact::Known { is: legs, .. }) =
        (&board.spaces, &board.leg_rows)
    else {
        return Vec::new();
    };
    spaces(*count, board, legs)
}
