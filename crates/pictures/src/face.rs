//! A board before and after the work, side by side and to scale: which circuit sits where, on which leg, and what moved.
//! Source: the layout of [`engine::face`] and the picture before the work. Inches.

use drawing::look::{FAINT, FIRST, INK, MARK, PAPER, QUIET, SECOND};
use drawing::{Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, legend};
use engine::check::Report;
use engine::face::Face;
use engine::patterns;
use engine::saying::{Words, english};
use model::house::{Board, Leg, Numbering};

/// Width of a breaker and of the gap between the columns, inches.
const BREAKER: f64 = 3.0;
const GAP: f64 = 0.6;
/// Room for words beside a cabinet.
const WORDS: f64 = 11.5;
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

patterns! {
    TITLE "drawn-face-title" "Board {board}, before and after";
    ABOUT "drawn-face-about" "Leg A carries {a} VA and leg B {b} VA; {moved} breakers change their position.";
    NONE "drawn-face-none" "There is no layout that fits.";
    NEW "drawn-face-new" "{name} (new)";
    WAS "drawn-face-was" "{name} (was {spaces})";
    BEFORE "drawn-face-before" "before";
    AFTER "drawn-face-after" "after";
    SPACE "drawn-face-space" "space {number}: {what}";
    LEG_A "drawn-face-leg-a" "on leg A";
    LEG_B "drawn-face-leg-b" "on leg B";
    FREE "drawn-face-free" "free";
    CHANGES "drawn-face-changes" "changes its position: (was ...)";
    NOTE "drawn-face-note" "A dark bar ties two poles. Legs are a fact of the board: check them on its label before anything is landed.";
}

/// The drawing in English.
#[must_use]
pub fn draw(report: &Report<'_>, face: &Face) -> String {
    draw_in(report, face, &english)
}

/// The drawing in a language.
#[must_use]
pub fn draw_in(report: &Report<'_>, face: &Face, words: Words<'_>) -> String {
    let before = before(report, face, words);
    let after = after(report, face, words);
    let panels: Vec<&Panel> = before.iter().chain([&after]).collect();
    let each = |p: &Panel| p.width + 2.0 * WORDS;
    let width: f64 = panels.iter().map(|p| each(p)).sum();
    let tall = panels.iter().map(|p| p.height).fold(0.0, f64::max);
    let view = Area::new(0.0, 0.0, width, HEAD + tall + 7.5);
    let board = &face.prepared.problem.board;
    let title = TITLE.with("board", board).in_words(words);
    let mut svg = Svg::new(&format!("face-{board}"), &title, view, 1280);
    svg.describe(&about(face, words));
    svg.hatch_step(0.45);
    svg.rect(view, &Style::fill(Fill::Plain(PAPER)));
    let mut left = 0.0;
    for panel in panels {
        draw_panel(&mut svg, panel, left, words);
        left += each(panel);
    }
    key(
        &mut svg,
        Spot::new(WORDS, HEAD + tall + 0.8),
        width - WORDS,
        words,
    );
    svg.finish()
}

/// The drawing in words.
#[must_use]
pub fn about(face: &Face, words: Words<'_>) -> String {
    let moved = face
        .occupants()
        .iter()
        .flatten()
        .filter(|o| o.stays == Some(false) && o.width.is_some())
        .count();
    match (&face.layout, face.after) {
        (Ok(_), Some(legs)) => ABOUT
            .with("a", legs.load[0])
            .with("b", legs.load[1])
            .with("moved", moved)
            .in_words(words),
        _ => words(NONE).to_owned(),
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

fn after(report: &Report<'_>, face: &Face, words: Words<'_>) -> Panel {
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
                    (None, _) => NEW.with("name", &o.name).in_words(words),
                    (Some(false), old) => WAS
                        .with("name", &o.name)
                        .with("spaces", list(old))
                        .in_words(words),
                    (Some(true), _) => o.name.clone(),
                })
                .collect(),
        })
        .collect();
    let rows = cells.iter().map(|c| c.row + 1).max().unwrap_or(1);
    let board = report.job.after.boards.get(problem.board.as_str());
    let (width, height) = board.map_or((14.25, 30.0), |b| size(b, rows));
    Panel {
        title: words(AFTER).to_owned(),
        width,
        height,
        rows,
        cells,
    }
}

fn before(report: &Report<'_>, face: &Face, words: Words<'_>) -> Option<Panel> {
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
        title: words(BEFORE).to_owned(),
        width,
        height,
        rows,
        cells,
    })
}

fn draw_panel(svg: &mut Svg, panel: &Panel, left: f64, words: Words<'_>) {
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
        draw_cell(svg, cell, (area, &cabinet), is_left, words);
    }
}

fn draw_cell(
    svg: &mut Svg,
    cell: &Cell,
    (area, cabinet): (Area, &Area),
    is_left: bool,
    words: Words<'_>,
) {
    let joined = if cell.joined { 2.0 } else { 1.0 };
    let empty = cell.words.is_empty();
    let fill = match (empty, cell.leg) {
        (true, _) => Fill::Plain(FAINT),
        (false, Some(Leg::A)) => Fill::Plain(FIRST),
        (false, Some(Leg::B)) => Fill::Hatched(Hatch::Rising, SECOND),
        (false, None) => Fill::Plain(PAPER),
    };
    let all = cell.words.join(" / ");
    let title = SPACE.with("number", cell.number).with("what", &all);
    svg.group(&title.in_words(words), |svg| {
        svg.rect(area, &Style::fill(fill).outlined(Stroke::of(QUIET, 0.06)));
        let base = area.y + 0.7;
        let letters = Lettering::new(0.7);
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
        let letters = Lettering::new(0.82).color(color);
        let (spot, letters) = if is_left {
            (Spot::new(cabinet.x - 0.4, base), letters.end())
        } else {
            (Spot::new(cabinet.x + cabinet.width + 0.4, base), letters)
        };
        svg.text_in(spot, &all, WORDS - 0.8, letters);
    });
}

fn key(svg: &mut Svg, at: Spot, room: f64, words: Words<'_>) {
    let outline = Stroke::of(QUIET, 0.06);
    let entries = [
        Entry::new(
            Style::fill(Fill::Plain(FIRST)).outlined(outline),
            words(LEG_A),
        )
        .letter("A"),
        Entry::new(
            Style::fill(Fill::Hatched(Hatch::Rising, SECOND)).outlined(outline),
            words(LEG_B),
        )
        .letter("B"),
        Entry::new(
            Style::fill(Fill::Plain(FAINT)).outlined(outline),
            words(FREE),
        ),
        Entry::new(Style::line(Stroke::of(MARK, 0.14)), words(CHANGES)),
    ];
    legend(svg, at, room, &entries, Lettering::new(0.8));
    let below = Spot::new(at.x, at.y + 6.2);
    svg.text_in(below, words(NOTE), room, Lettering::new(0.7).color(QUIET));
}

fn list(numbers: &[u32]) -> String {
    let each: Vec<String> = numbers.iter().map(u32::to_string).collect();
    each.join(", ")
}
