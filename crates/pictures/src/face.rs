//! A board before and after the work, side by side and to scale: which circuit sits where, on which leg, and what moved.
//! Source: the layout of [`engine::face`] and the picture before the work. Inches.

use drawing::look::{FAINT, FIRST, INK, MARK, PAPER, QUIET, SECOND};
use drawing::{Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, legend};
use engine::check::Report;
use engine::face::Face;
use model::house::{Board, Leg, Numbering};

/// Width of a breaker and of the gap between the columns, inches.
const BREAKER: f64 = 3.0;
const GAP: f64 = 0.6;
/// Room for words beside a cabinet.
const WORDS: f64 = 9.5;
const HEAD: f64 = 3.2;

/// One breaker or circuit in one space.
struct Cell {
    column: u32,
    row: u32,
    number: u32,
    leg: Option<Leg>,
    words: Vec<String>,
    /// Joined to the space below.
    joined: bool,
    changed: bool,
}

/// One board to draw.
struct Panel {
    title: String,
    width: f64,
    height: f64,
    rows: u32,
    cells: Vec<Cell>,
}

/// The drawing.
#[must_use]
pub fn draw(report: &Report<'_>, face: &Face) -> String {
    let before = before(report, face);
    let after = after(report, face);
    let panels: Vec<&Panel> = before.iter().chain([&after]).collect();
    let each = |p: &Panel| p.width + 2.0 * WORDS;
    let width: f64 = panels.iter().map(|p| each(p)).sum();
    let tall = panels.iter().map(|p| p.height).fold(0.0, f64::max);
    let view = Area::new(0.0, 0.0, width, HEAD + tall + 7.5);
    let board = &face.prepared.problem.board;
    let title = format!("Board {board}, before and after");
    let mut svg = Svg::new(&format!("face-{board}"), &title, view, 1280);
    svg.describe(&words(face));
    svg.hatch_step(0.45);
    svg.rect(view, &Style::fill(Fill::Plain(PAPER)));
    let mut left = 0.0;
    for panel in panels {
        draw_panel(&mut svg, panel, left);
        left += each(panel);
    }
    key(&mut svg, Spot::new(WORDS, HEAD + tall + 0.8), width - WORDS);
    svg.finish()
}

/// The drawing in words.
fn words(face: &Face) -> String {
    let moved = face
        .occupants()
        .iter()
        .flatten()
        .filter(|o| o.stays == Some(false) && o.width.is_some())
        .count();
    match (&face.layout, face.after) {
        (Ok(_), Some(legs)) => format!(
            "Leg A carries {} VA and leg B {} VA; {moved} breakers change their position.",
            legs.load[0], legs.load[1]
        ),
        _ => "There is no layout that fits.".to_owned(),
    }
}

fn size(board: &Board, rows: u32) -> (f64, f64) {
    let width = board.cabinet.width.get().map_or(14.25, |w| w.0);
    let height = board
        .cabinet
        .height
        .get()
        .map_or(f64::from(rows) + 12.0, |h| h.0);
    (
        width.max(2.0 * BREAKER + GAP + 1.0),
        height.max(f64::from(rows) + 2.0),
    )
}

fn after(report: &Report<'_>, face: &Face) -> Panel {
    let problem = &face.prepared.problem;
    let cells: Vec<Cell> = problem
        .spaces
        .iter()
        .zip(face.occupants())
        .map(|(space, occupants)| Cell {
            column: u32::from(space.column),
            row: u32::from(space.row),
            number: space.number,
            leg: Some(space.leg),
            joined: occupants.iter().any(|o| o.width.is_some_and(|w| w > 1)),
            changed: occupants.iter().any(|o| o.stays == Some(false)),
            words: occupants
                .iter()
                .map(|o| match (o.stays, o.old.as_slice()) {
                    (None, _) => format!("{} (new)", o.name),
                    (Some(false), old) => format!("{} (was {})", o.name, list(old)),
                    (Some(true), _) => o.name.clone(),
                })
                .collect(),
        })
        .collect();
    let rows = cells.iter().map(|c| c.row + 1).max().unwrap_or(1);
    let board = report.job.after.boards.get(problem.board.as_str());
    let (width, height) = board.map_or((14.25, 30.0), |b| size(b, rows));
    Panel {
        title: "after".to_owned(),
        width,
        height,
        rows,
        cells,
    }
}

fn before(report: &Report<'_>, face: &Face) -> Option<Panel> {
    let name = face.prepared.problem.board.as_str();
    let house = &report.job.before;
    let board = house.boards.get(name)?;
    let count = board.spaces.get().filter(|n| (1..=200).contains(n))?;
    let rows = count.div_ceil(2);
    let mut cells: Vec<Cell> = (1..=count)
        .map(|number| {
            let (column, row) = match board.numbering {
                Numbering::Across => ((number - 1) % 2, (number - 1) / 2),
                Numbering::Down => ((number - 1) / rows, (number - 1) % rows),
            };
            Cell {
                column,
                row,
                number,
                leg: board.leg_rows.known().map(|l| l.of_row(row as usize)),
                words: Vec::new(),
                joined: false,
                changed: false,
            }
        })
        .collect();
    let mut put = |name: &str, numbers: &[u32]| {
        for number in numbers {
            if let Some(cell) = cells.iter_mut().find(|c| c.number == *number) {
                cell.words.push(name.to_owned());
                let below = match board.numbering {
                    Numbering::Across => number + 2,
                    Numbering::Down => number + 1,
                };
                cell.joined |= numbers.contains(&below);
            }
        }
    };
    for (id, circuit) in house.circuits.iter().filter(|(_, c)| c.board == name) {
        let numbers: Vec<u32> = circuit
            .spaces
            .known()
            .into_iter()
            .flatten()
            .filter_map(|s| s.trim_end_matches(['A', 'B']).parse().ok())
            .collect();
        put(id.as_str(), &numbers);
    }
    for (id, feeder) in house.feeders.iter().filter(|(_, f)| f.from == name) {
        put(
            id.as_str(),
            feeder.spaces.known().map_or(&[], Vec::as_slice),
        );
    }
    for (id, source) in house.sources.iter().filter(|(_, s)| s.board == name) {
        put(
            id.as_str(),
            source.spaces.known().map_or(&[], Vec::as_slice),
        );
    }
    for (id, device) in &board.devices {
        put(
            id.as_str(),
            device.spaces.known().map_or(&[], Vec::as_slice),
        );
    }
    let (width, height) = size(board, rows);
    Some(Panel {
        title: "before".to_owned(),
        width,
        height,
        rows,
        cells,
    })
}

fn draw_panel(svg: &mut Svg, panel: &Panel, left: f64) {
    let cabinet = Area::new(left + WORDS, HEAD, panel.width, panel.height);
    let heading = Spot::new(cabinet.middle().x, HEAD - 1.0);
    svg.text(heading, &panel.title, Lettering::new(1.2).middle().bold());
    let box_style = Style::fill(Fill::Plain(PAPER)).outlined(Stroke::ink(0.15));
    svg.rect(cabinet, &box_style.rounded(0.3));
    let top = cabinet.y + (panel.height - f64::from(panel.rows)) / 2.0;
    let first = cabinet.middle().x - BREAKER - GAP / 2.0;
    for cell in &panel.cells {
        let is_left = cell.column == 0;
        let x = if is_left {
            first
        } else {
            first + BREAKER + GAP
        };
        let area = Area::new(x, top + f64::from(cell.row), BREAKER, 1.0);
        draw_cell(svg, cell, area, is_left, &cabinet);
    }
}

fn draw_cell(svg: &mut Svg, cell: &Cell, area: Area, is_left: bool, cabinet: &Area) {
    let joined = if cell.joined { 2.0 } else { 1.0 };
    let empty = cell.words.is_empty();
    let fill = match (empty, cell.leg) {
        (true, _) => Fill::Plain(FAINT),
        (false, Some(Leg::A)) => Fill::Plain(FIRST),
        (false, Some(Leg::B)) => Fill::Hatched(Hatch::Rising, SECOND),
        (false, None) => Fill::Plain(PAPER),
    };
    let all = cell.words.join(" / ");
    svg.group(&format!("space {}: {all}", cell.number), |svg| {
        svg.rect(area, &Style::fill(fill).outlined(Stroke::of(QUIET, 0.06)));
        let base = area.y + 0.7;
        let letters = Lettering::new(0.62);
        svg.text(
            Spot::new(area.x + 0.2, base),
            &cell.number.to_string(),
            letters,
        );
        let leg = match cell.leg {
            Some(Leg::A) => "A",
            Some(Leg::B) => "B",
            None => "?",
        };
        svg.text(
            Spot::new(area.x + BREAKER - 0.2, base),
            leg,
            letters.end().bold(),
        );
        if cell.joined {
            let tie = Area::new(area.middle().x - 0.25, area.y + 0.35, 0.5, joined - 0.7);
            svg.rect(tie, &Style::fill(Fill::Plain(INK)).rounded(0.1));
        }
        if cell.changed {
            svg.rect(area.inset(0.06), &Style::line(Stroke::of(MARK, 0.14)));
        }
        let color = if cell.changed { MARK } else { INK };
        let letters = Lettering::new(0.68).color(color);
        let (spot, letters) = if is_left {
            (Spot::new(cabinet.x - 0.4, base), letters.end())
        } else {
            (Spot::new(cabinet.x + cabinet.width + 0.4, base), letters)
        };
        svg.text_in(spot, &all, WORDS - 0.8, letters);
    });
}

fn key(svg: &mut Svg, at: Spot, room: f64) {
    let outline = Stroke::of(QUIET, 0.06);
    let entries = [
        Entry::new(
            Style::fill(Fill::Plain(FIRST)).outlined(outline),
            "on leg A",
        )
        .letter("A"),
        Entry::new(
            Style::fill(Fill::Hatched(Hatch::Rising, SECOND)).outlined(outline),
            "on leg B",
        )
        .letter("B"),
        Entry::new(Style::fill(Fill::Plain(FAINT)).outlined(outline), "free"),
        Entry::new(
            Style::line(Stroke::of(MARK, 0.14)),
            "changes its position: (was ...)",
        ),
    ];
    legend(svg, at, room, &entries, Lettering::new(0.8));
    let below = Spot::new(at.x, at.y + 6.2);
    svg.text_in(
        below,
        "A dark bar ties two poles. Legs are a fact of the board: check them on its label before anything is landed.",
        room,
        Lettering::new(0.7).color(QUIET),
    );
}

fn list(numbers: &[u32]) -> String {
    let each: Vec<String> = numbers.iter().map(u32::to_string).collect();
    each.join(", ")
}
