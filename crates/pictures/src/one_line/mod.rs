//! How does power come to each board? The one-line diagram: utility, service, boards down to the last, other sources, electrodes.
//! Source: the supply tree after the work and the worksheets; symbols after the trade's plain conventions. Drawing units.
//!
//! Every board stands under the one that feeds it, further to the right, so that a tree of any shape fits.
//! What is new or replaced has a heavy line and says so in words; what nobody knows is written as not known.

mod key;
mod plan;
mod symbols;
mod words;

use drawing::{Area, Fill, Lettering, Spot, Stroke, Style, Svg, look};
use engine::check::Report;
use engine::tree::{Node, Role};
use model::house::{MainKind, SourceKind};
use model::scope::Change;

use plan::{Block, Plan, What};
use symbols::{KEPT, NEW, THIN};

const WIDTH: f64 = 640.0;
const SIZE: f64 = 9.2;
const LINE: f64 = 11.6;
/// From a board's left edge to its words.
const WORDS: f64 = 156.0;
const BUS: f64 = 60.0;

/// Draws it.
#[must_use]
pub fn draw(report: &Report<'_>) -> String {
    let plan = Plan::of(report);
    let job = report.job;
    let height = plan.height + key::HEIGHT;
    let mut svg = Svg::new(
        "one-line",
        &format!("One-line diagram: {}", job.title),
        Area::new(0.0, 0.0, WIDTH, height),
        900,
    );
    svg.describe(&report.tree.lines().join("; "));
    let paper = Style::fill(Fill::Plain(look::PAPER));
    svg.rect(Area::new(0.0, 0.0, WIDTH, height), &paper);
    supply(&mut svg, report, &plan);
    for block in &plan.blocks {
        riser(&mut svg, report, block);
        words_of(&mut svg, block);
        match block.what {
            What::Board(node) => board(&mut svg, report, node, block),
            What::Source(source) => {
                let letters = match source.kind {
                    SourceKind::Photovoltaic => "PV",
                    SourceKind::Battery => "B",
                    SourceKind::Generator => "G",
                };
                let at = Spot::new(block.x + 10.0, block.top + 1.0);
                symbols::lettered(&mut svg, at, letters, block.stroke);
            }
            What::Electrodes => {
                for row in 0..block.words.len() {
                    let y = block.top + LINE * (row as f64 + 0.5) + 2.0;
                    svg.line(
                        Spot::new(block.riser, y),
                        Spot::new(block.x - 18.0, y),
                        THIN,
                    );
                    symbols::ground(&mut svg, Spot::new(block.x - 18.0, y));
                }
            }
        }
    }
    for (i, line) in plan.gone.iter().enumerate() {
        let y = plan.height - LINE * (plan.gone.len() - i) as f64;
        svg.text(Spot::new(8.0, y), line, Lettering::new(SIZE).bold());
    }
    key::draw(&mut svg, plan.height);
    svg.finish()
}

/// Height over width of the drawing.
#[must_use]
pub fn proportion(report: &Report<'_>) -> f64 {
    (Plan::of(report).height + key::HEIGHT) / WIDTH
}

fn supply(svg: &mut Svg, report: &Report<'_>, plan: &Plan<'_>) {
    let x = plan::ROOT;
    svg.line(Spot::new(x, 4.0), Spot::new(x, 10.0), THIN);
    symbols::transformer(svg, Spot::new(x, 10.0));
    svg.line(Spot::new(x, 36.0), Spot::new(x, 48.0), THIN);
    let point = Style::fill(Fill::Plain(look::PAPER)).outlined(THIN);
    svg.circle(Spot::new(x, 48.0), 2.5, &point);
    svg.line(Spot::new(x, 50.5), Spot::new(x, 62.0), THIN);
    symbols::lettered(svg, Spot::new(x, 62.0), "M", THIN);
    svg.text(
        Spot::new(x + 14.0, 51.0),
        "service point",
        Lettering::new(SIZE),
    );
    for (i, line) in words::supply(report).iter().enumerate() {
        let y = 14.0 + LINE * i as f64;
        let spot = Spot::new(x + 110.0, y);
        svg.text_in(spot, line, WIDTH - x - 116.0, Lettering::new(SIZE));
    }
    if plan.blocks.is_empty() {
        let spot = Spot::new(x + 14.0, 76.0);
        svg.text(spot, "no board in the job", Lettering::new(SIZE).bold());
    }
}

/// From the board above down and across to the block.
fn riser(svg: &mut Svg, report: &Report<'_>, block: &Block<'_>) {
    let Some(from) = block.from else { return };
    if matches!(block.what, What::Electrodes) {
        let last = block.top + LINE * (block.words.len() as f64 - 0.5) + 2.0;
        svg.line(from, Spot::new(block.riser, last), THIN);
        return;
    }
    let across = block.top
        + if matches!(block.what, What::Board(_)) {
            20.0
        } else {
            10.0
        };
    let conductors = match block.what {
        What::Board(node) => node.feeder.and_then(|(id, _)| report.scope.feeder(id)),
        _ => None,
    };
    let stroke = stroke_of(conductors.unwrap_or(Change::Kept));
    svg.line(from, Spot::new(block.riser, across), stroke);
    svg.line(
        Spot::new(block.riser, across),
        Spot::new(block.x, across),
        stroke,
    );
}

fn words_of(svg: &mut Svg, block: &Block<'_>) {
    for (i, line) in block.strip.iter().enumerate() {
        let y = block.top - LINE * (block.strip.len() - i) as f64 + 5.0;
        svg.text(Spot::new(block.x + 2.0, y), line, Lettering::new(SIZE));
    }
    let (x, top) = match block.what {
        What::Board(_) => (block.x + WORDS, block.top + 13.0),
        What::Source(..) => (block.x + 24.0, block.top + 9.0),
        What::Electrodes => (block.x, block.top + 11.0),
    };
    for (i, (line, bold)) in block.words.iter().enumerate() {
        let letters = Lettering::new(SIZE);
        let letters = if *bold { letters.bold() } else { letters };
        svg.text(Spot::new(x, top + LINE * i as f64), line, letters);
    }
}

fn board(svg: &mut Svg, report: &Report<'_>, node: &Node<'_>, block: &Block<'_>) {
    let (x, y) = (block.x, block.top);
    let frame = Area::new(x, y, WIDTH - x - 6.0, block.height);
    svg.rect(frame, &Style::line(block.stroke));
    let at = Spot::new(x + 24.0, y + 20.0);
    svg.line(Spot::new(x, at.y), at, THIN);
    let bus = y + BUS;
    match node.board.main.get() {
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker) => {
            svg.line(at, Spot::new(at.x, y + 30.0), THIN);
            symbols::breaker(svg, Spot::new(at.x, y + 30.0), block.stroke);
            svg.line(Spot::new(at.x, y + 48.0), Spot::new(at.x, bus), THIN);
            let amps = words::told(&node.board.main_amps);
            svg.text(
                Spot::new(at.x + 11.0, y + 43.0),
                &amps,
                Lettering::new(SIZE),
            );
        }
        Some(MainKind::MainLugs | MainKind::FeedThrough) => {
            svg.line(at, Spot::new(at.x, bus), THIN);
            let lug = Style::fill(Fill::Plain(look::PAPER)).outlined(THIN);
            svg.circle(Spot::new(at.x, bus - 5.0), 2.6, &lug);
            svg.text(
                Spot::new(at.x + 8.0, y + 43.0),
                "lugs",
                Lettering::new(SIZE),
            );
        }
        None => {
            svg.line(at, Spot::new(at.x, bus), THIN.dashed(2.0));
            svg.text(
                Spot::new(at.x + 8.0, y + 43.0),
                words::UNKNOWN,
                Lettering::new(SIZE),
            );
        }
    }
    svg.line(
        Spot::new(x + 8.0, bus),
        Spot::new(x + 98.0, bus),
        Stroke::ink(3.4),
    );
    for tap in &block.taps {
        symbols::breaker(svg, Spot::new(*tap, bus), KEPT);
        svg.line(
            Spot::new(*tap, bus + 18.0),
            Spot::new(*tap, y + block.height),
            THIN,
        );
    }
    let circuits = report.job.after.circuits.values();
    if circuits.into_iter().any(|c| c.board == node.id && !c.gone) {
        symbols::breaker(svg, Spot::new(x + 90.0, bus), KEPT);
        symbols::arrow(svg, Spot::new(x + 90.0, bus + 18.0), y + block.height - 2.0);
    }
    let (neutral, ground) = (y + 24.0, y + 50.0);
    symbols::bar(svg, Spot::new(x + 116.0, neutral), "N");
    symbols::bar(svg, Spot::new(x + 116.0, ground), "G");
    let bonded = node.board.neutral_bonded.get();
    let at = x + 138.0;
    symbols::bond(
        svg,
        Spot::new(at, neutral + 2.0),
        Spot::new(at, ground - 2.0),
        bonded,
    );
    if node.role == Role::Service {
        svg.line(
            Spot::new(x + plan::ELECTRODES, ground),
            Spot::new(x + plan::ELECTRODES, y + block.height),
            THIN,
        );
    }
}

const fn stroke_of(change: Change) -> Stroke {
    match change {
        Change::Kept | Change::Removed => KEPT,
        Change::New | Change::Replaced => NEW,
    }
}
