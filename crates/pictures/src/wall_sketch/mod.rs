//! Where do the boards stand? The walls from above, and each wall with a board on it from the front, to scale.
//! Source: walls and positions of the job; working space by the tables of the edition. Inches.

mod elevation;
mod plan;

use drawing::{Entry, Fill, Hatch, Stroke, Style, legend_height, look};
use engine::check::Report;
use engine::relocate::tape;
use model::House;
use model::house::{Board, Point};
use model::units::{Inches, Volts};
use rulebook::tables::{Opposite, limit};

pub use elevation::{Elevation, elevations};
pub use plan::plan;

/// Taken for a cabinet whose size nobody knows, and said.
const CABINET: (f64, f64) = (14.25, 30.0);
/// Height drawn for a wall whose height nobody knows.
const USUAL_HEIGHT: f64 = 96.0;

/// A board on a wall.
struct Stand<'j> {
    id: &'j str,
    board: &'j Board,
    at: &'j Point,
    is_old: bool,
}

impl Stand<'_> {
    fn size(&self) -> (f64, f64) {
        let cabinet = &self.board.cabinet;
        let of = |fact: Option<Inches>, usual: f64| fact.map_or(usual, |i| i.0);
        (
            of(cabinet.width.get(), CABINET.0),
            of(cabinet.height.get(), CABINET.1),
        )
    }

    fn words(&self) -> String {
        let taken = if self.board.cabinet.width.is_unknown() {
            "; size of the cabinet not known"
        } else {
            ""
        };
        let word = if self.is_old {
            "as it was"
        } else {
            "after the work"
        };
        format!(
            "{} {word}: left edge {} from the left end, lower edge {} above the floor{taken}",
            self.id,
            tape(self.at.x),
            tape(self.at.y)
        )
    }
}

/// Boards with a place, those of before only where they do not stay.
fn stands<'j>(report: &Report<'j>) -> Vec<Stand<'j>> {
    let of = |house: &'j House, is_old: bool| {
        let boards = house.boards.iter().filter(|(_, b)| !b.gone);
        boards.filter_map(move |(id, board)| {
            let at = board.position.as_ref()?;
            Some(Stand {
                id: id.as_str(),
                board,
                at,
                is_old,
            })
        })
    };
    let after: Vec<Stand<'j>> = of(&report.job.after, false).collect();
    let mut all: Vec<Stand<'j>> = of(&report.job.before, true)
        .filter(|old| !after.iter().any(|new| new.id == old.id && new.at == old.at))
        .collect();
    all.extend(after);
    all
}

/// Width and depth that the edition asks to be clear before a board, where its tables tell.
fn working_space(report: &Report<'_>, stand: &Stand<'_>) -> (Option<f64>, Option<f64>) {
    let tables = report.book.tables();
    let width = tables.limit(limit::WORKING_SPACE_WIDTH).ok();
    let depth = tables
        .working_space_depth(Volts(120.0), Opposite::Grounded)
        .ok();
    (
        width.map(|w| w.value.0.max(stand.size().0)),
        depth.map(|d| d.value.0 * 12.0),
    )
}

/// The space need not be centered; it is drawn so as far as the wall goes.
fn space_from(stand: &Stand<'_>, width: f64, length: f64) -> f64 {
    let middle = stand.at.x.0 + stand.size().0 / 2.0;
    (middle - width / 2.0).min(length - width).max(0.0)
}

/// Size of letters, and height of the legend, so that both read where the drawing has so many inches of paper, across and down.
fn letters(room: (f64, f64), width: f64, height: f64, entries: usize) -> (f64, f64) {
    const LETTERS: f64 = 0.1;
    let below = |size: f64| legend_height(entries, size) + size * 2.5;
    let mut size = 0.0;
    for _ in 0..6 {
        let scale = (room.0 / width).min(room.1 / (height + below(size)));
        size = LETTERS / scale;
    }
    (size, below(size))
}

fn key() -> Vec<Entry> {
    vec![
        Entry::new(cabinet(false), "board after the work"),
        Entry::new(cabinet(true), "board as it was"),
        Entry::new(space(), "clear space asked for in front"),
        Entry::new(obstacle(), "in the way"),
    ]
}

const fn cabinet(is_old: bool) -> Style {
    if is_old {
        Style::fill(Fill::Plain(look::SECOND)).outlined(Stroke::ink(0.5).dashed(1.5))
    } else {
        Style::fill(Fill::Plain(look::FIRST)).outlined(Stroke::ink(1.0))
    }
}

const fn obstacle() -> Style {
    Style::fill(Fill::Hatched(Hatch::Rising, look::FAINT)).outlined(Stroke::of(look::QUIET, 0.4))
}

const fn space() -> Style {
    Style::line(Stroke::of(look::KEPT, 0.8).dashed(2.0))
}
