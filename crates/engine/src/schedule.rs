//! What stands in which space of a board: the panel schedule, before the work or after it, with the load on each leg.
//! Source: positions of the survey, or the layout of [`crate::face`] for a board that is laid out anew; loads as the face takes them. Whole VA.

use std::collections::BTreeMap;

use model::House;
use model::house::{Board, Circuit, Device, Feeder, Leg, Numbering, Source};
use rulebook::tables::TablesIn;

use crate::face::{
    CircuitLoad, Face, Form, Legs, Space, WholeVa, legs_of, loads_of, spaces_of_board,
};

/// A board's schedule.
#[derive(Clone, Debug)]
pub struct Schedule<'j> {
    /// The board.
    pub board: &'j str,
    /// Where the positions come from.
    pub by: Positions,
    /// A row for each pole in its space and for each empty space, by number of the space.
    pub rows: Vec<Row<'j>>,
    /// Circuits of the board whose place is not known.
    pub unplaced: Vec<&'j str>,
    /// Circuits and feeders whose load is not known, and counts as none.
    pub no_load: Vec<&'j str>,
    /// Load on each leg; `None` where the legs of the board are not known.
    pub legs: Option<Legs>,
    /// Load of everything on it, whether its place is known or not.
    pub total: WholeVa,
}

/// Where positions come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Positions {
    /// The job states them.
    Stated,
    /// They are laid out.
    LaidOut,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row<'j> {
    /// Number of the space.
    pub number: u32,
    /// Column from the left and row from the top, each from 0; `None` where the numbering leaves it open.
    pub at: Option<(u32, u32)>,
    /// Which half of a tandem breaker.
    pub half: Option<char>,
    /// Leg of the space, where it is known.
    pub leg: Option<Leg>,
    /// What is in it.
    pub what: What<'j>,
    /// Which pole of it, from 1; 0 for an empty space.
    pub pole: usize,
    /// Load on this pole.
    pub load: WholeVa,
}

/// What a space holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum What<'j> {
    /// Nothing.
    Free,
    /// A branch circuit.
    Circuit(&'j str, &'j Circuit),
    /// A feeder to another board.
    Feeder(&'j str, &'j Feeder),
    /// Another source.
    Source(&'j str, &'j Source),
    /// A surge protector, monitor, back-fed main.
    Device(&'j str, &'j Device),
}

impl Row<'_> {
    /// The space as a schedule writes it: `14`, or `14A` for half of a tandem breaker.
    #[must_use]
    pub fn space(&self) -> String {
        match self.half {
            Some(half) => format!("{}{half}", self.number),
            None => self.number.to_string(),
        }
    }
}

/// Load of every circuit of a picture by name, and where it comes from: what the schedules print.
#[must_use]
pub fn loads(house: &House, book: &TablesIn<'_>) -> BTreeMap<String, CircuitLoad> {
    loads_of(house, book)
}

/// The schedule of a board as the picture states it.
#[must_use]
pub fn stated<'j>(house: &'j House, board: &str, book: &TablesIn<'_>) -> Option<Schedule<'j>> {
    let (board, facts) = house.boards.get_key_value(board)?;
    let board = board.as_str();
    let mut schedule = Schedule::new(board, Positions::Stated);
    let legs = spaces_of_board(facts);
    let loads = loads_of(house, book);
    for (id, circuit) in house
        .circuits
        .iter()
        .filter(|(_, c)| c.board == board && !c.gone)
    {
        let load = loads.get(id.as_str()).map_or(WholeVa(0), |l| l.load);
        schedule.total.0 += load.0;
        if load.0 == 0 {
            schedule.no_load.push(id.as_str());
        }
        let spaces = circuit.spaces.known().map_or(&[][..], Vec::as_slice);
        let parsed: Option<Vec<(u32, Option<char>)>> = spaces.iter().map(|s| parse(s)).collect();
        match parsed.filter(|all| !all.is_empty()) {
            Some(all) => schedule.place(What::Circuit(id.as_str(), circuit), &all, load, &legs),
            None => schedule.unplaced.push(id.as_str()),
        }
    }
    let plain = |numbers: &[u32]| numbers.iter().map(|n| (*n, None)).collect::<Vec<_>>();
    for (id, feeder) in house.feeders.iter().filter(|(_, f)| f.from == board) {
        schedule.no_load.push(id.as_str());
        match feeder.spaces.known().filter(|s| !s.is_empty()) {
            Some(numbers) => schedule.place(
                What::Feeder(id.as_str(), feeder),
                &plain(numbers),
                WholeVa(0),
                &legs,
            ),
            None => schedule.unplaced.push(id.as_str()),
        }
    }
    for (id, source) in house
        .sources
        .iter()
        .filter(|(_, s)| s.board == board && !s.gone)
    {
        match source.spaces.known().filter(|s| !s.is_empty()) {
            Some(numbers) => schedule.place(
                What::Source(id.as_str(), source),
                &plain(numbers),
                WholeVa(0),
                &legs,
            ),
            None => schedule.unplaced.push(id.as_str()),
        }
    }
    for (id, device) in facts
        .devices
        .iter()
        .filter(|(_, d)| !d.gone && d.takes() > 0)
    {
        match device.spaces.known().filter(|s| !s.is_empty()) {
            Some(numbers) => schedule.place(
                What::Device(id.as_str(), device),
                &plain(numbers),
                WholeVa(0),
                &legs,
            ),
            None => schedule.unplaced.push(id.as_str()),
        }
    }
    schedule.finish(facts, &legs);
    Some(schedule)
}

/// The schedule of a board that is laid out anew; `None` when nothing fits.
#[must_use]
pub fn laid_out<'j>(house: &'j House, face: &Face) -> Option<Schedule<'j>> {
    let problem = &face.prepared.problem;
    let layout = face.layout.as_ref().ok()?;
    let (board, facts) = house.boards.get_key_value(problem.board.as_str())?;
    let mut schedule = Schedule::new(board.as_str(), Positions::LaidOut);
    for (item, seat) in problem.items.iter().zip(&layout.seats) {
        for (pole, space) in legs_of(problem, item, *seat) {
            let name = item.poles[pole].circuit.as_str();
            let load = item.poles[pole].load;
            schedule.total.0 += load.0;
            let Some(what) = named(house, facts, name) else {
                continue;
            };
            if load.0 == 0
                && !matches!(what, What::Device(..))
                && let Some(id) = what.id()
            {
                schedule.no_load.push(id);
            }
            let tied = item.form == Form::Tied;
            schedule.rows.push(Row {
                number: problem.spaces[space].number,
                at: None,
                half: None,
                leg: Some(problem.spaces[space].leg),
                what,
                pole: if tied { 1 } else { pole + 1 },
                load,
            });
        }
    }
    // Halves of one tandem breaker share a space: the first is A, the second B.
    schedule.rows.sort_by_key(|r| r.number);
    for i in 1..schedule.rows.len() {
        if schedule.rows[i - 1].number == schedule.rows[i].number {
            schedule.rows[i - 1].half = Some('A');
            schedule.rows[i].half = Some('B');
        }
    }
    schedule.no_load.dedup();
    schedule.finish(facts, &problem.spaces);
    Some(schedule)
}

fn named<'j>(house: &'j House, board: &'j Board, name: &str) -> Option<What<'j>> {
    let circuit = house.circuits.get_key_value(name);
    let feeder = || house.feeders.get_key_value(name);
    let source = || house.sources.get_key_value(name);
    let device = || board.devices.get_key_value(name);
    circuit
        .map(|(id, c)| What::Circuit(id.as_str(), c))
        .or_else(|| feeder().map(|(id, f)| What::Feeder(id.as_str(), f)))
        .or_else(|| source().map(|(id, s)| What::Source(id.as_str(), s)))
        .or_else(|| device().map(|(id, d)| What::Device(id.as_str(), d)))
}

fn parse(space: &str) -> Option<(u32, Option<char>)> {
    let half = space.chars().last().filter(|c| matches!(c, 'A' | 'B'));
    let digits = space.trim_end_matches(['A', 'B']);
    Some((digits.parse().ok()?, half))
}

impl<'j> What<'j> {
    /// Its name in the job; `None` for an empty space.
    #[must_use]
    pub const fn id(&self) -> Option<&'j str> {
        match self {
            Self::Free => None,
            Self::Circuit(id, _)
            | Self::Feeder(id, _)
            | Self::Source(id, _)
            | Self::Device(id, _) => Some(id),
        }
    }
}

impl<'j> Schedule<'j> {
    const fn new(board: &'j str, by: Positions) -> Self {
        Self {
            board,
            by,
            rows: Vec::new(),
            unplaced: Vec::new(),
            no_load: Vec::new(),
            legs: None,
            total: WholeVa(0),
        }
    }

    /// Puts a breaker down, its load divided over its poles; the first poles carry what does not divide.
    fn place(
        &mut self,
        what: What<'j>,
        spaces: &[(u32, Option<char>)],
        load: WholeVa,
        legs: &[Space],
    ) {
        let count = spaces.len() as i64;
        for (i, (number, half)) in spaces.iter().enumerate() {
            let more = i64::from((i as i64) < load.0 % count);
            let space = legs.iter().find(|s| s.number == *number);
            self.rows.push(Row {
                number: *number,
                at: None,
                half: *half,
                leg: space.map(|s| s.leg),
                what,
                pole: i + 1,
                load: WholeVa(load.0 / count + more),
            });
        }
    }

    /// Adds the empty spaces and the sums.
    fn finish(&mut self, board: &Board, spaces: &[Space]) {
        let count = board.spaces.get().unwrap_or(0);
        for number in 1..=count.min(crate::face::MOST_SPACES as u32) {
            if self.rows.iter().all(|r| r.number != number) {
                let leg = spaces.iter().find(|s| s.number == number).map(|s| s.leg);
                self.rows.push(Row {
                    number,
                    at: None,
                    half: None,
                    leg,
                    what: What::Free,
                    pole: 0,
                    load: WholeVa(0),
                });
            }
        }
        self.rows.sort_by_key(|r| (r.number, r.half));
        for row in &mut self.rows {
            row.at = column_and_row(board, row.number);
        }
        if self.rows.iter().all(|r| r.leg.is_some() || r.load.0 == 0) {
            let mut legs = Legs::default();
            for row in &self.rows {
                let at = usize::from(row.leg == Some(Leg::B));
                legs.load[at] += row.load.0;
            }
            self.legs = Some(legs);
        }
    }
}

/// Where a space is. Numbered downwards, the number of spaces must be known.
fn column_and_row(board: &Board, number: u32) -> Option<(u32, u32)> {
    let at = number.checked_sub(1)?;
    match board.numbering {
        Numbering::Across => Some((at % 2, at / 2)),
        Numbering::Down => {
            let rows = board.spaces.get()?.div_ceil(2).max(1);
            Some((at / rows, at % rows))
        }
    }
}
