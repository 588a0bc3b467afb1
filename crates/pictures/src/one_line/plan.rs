//! Where does each part of a one-line diagram stand? From the top down in the order of the tree; every board right of the one above.
//! Drawing units.

use std::collections::BTreeMap;

use drawing::{Spot, Stroke};
use engine::check::Report;
use engine::tree::{Node, Role};
use model::house::Source;
use model::scope::Change;

use super::{BUS, LINE, SIZE, WIDTH, WORDS, stroke_of, words};
use crate::wrap::wrapped;

/// Where the utility's conductors come down.
pub(super) const ROOT: f64 = 24.0;
/// From a board's left edge to the electrode conductor.
pub(super) const ELECTRODES: f64 = 124.0;
const TOP: f64 = 84.0;
const STEP: f64 = 58.0;
const GAP: f64 = 12.0;
/// Most lines of one text.
const MOST: usize = 3;

/// Everything with its place.
pub(super) struct Plan<'r> {
    pub(super) blocks: Vec<Block<'r>>,
    /// What is taken out, in words.
    pub(super) gone: Vec<String>,
    pub(super) height: f64,
}

/// A board, a source, or the electrodes of a service.
pub(super) struct Block<'r> {
    pub(super) what: What<'r>,
    pub(super) x: f64,
    pub(super) top: f64,
    pub(super) height: f64,
    /// Words about the feeder, over the block.
    pub(super) strip: Vec<String>,
    /// Words about the thing itself; `true` is bold.
    pub(super) words: Vec<(String, bool)>,
    pub(super) stroke: Stroke,
    /// Where its conductors leave the board above, and go down.
    pub(super) from: Option<Spot>,
    pub(super) riser: f64,
    /// Where conductors leave its own bus.
    pub(super) taps: Vec<f64>,
}

#[derive(Clone, Copy)]
pub(super) enum What<'r> {
    Board(&'r Node<'r>),
    Source(&'r Source),
    Electrodes,
}

impl<'r> Plan<'r> {
    pub(super) fn of(report: &'r Report<'r>) -> Self {
        let mut plan = Self {
            blocks: Vec::new(),
            gone: gone(report),
            height: TOP,
        };
        let nodes = &report.tree.nodes;
        let deepest = nodes.iter().map(|n| n.depth).max().unwrap_or(0) as f64;
        let step = STEP.min(200.0 / deepest.max(1.0));
        // Children left to be drawn under each board, which tells how far left the next one leaves it.
        let mut left: BTreeMap<usize, usize> = BTreeMap::new();
        let mut block_of: BTreeMap<usize, usize> = BTreeMap::new();
        for node in nodes.iter().filter(|n| n.role != Role::Unfed) {
            if let Some(parent) = node.parent {
                *left.entry(parent).or_default() += 1;
            }
        }
        for (place, node) in nodes.iter().enumerate() {
            let x = ROOT + 28.0 + step * node.depth as f64;
            let from = match (node.role, node.parent) {
                (Role::Unfed, _) => None,
                (_, None) => Some(Spot::new(ROOT, 80.0)),
                (_, Some(parent)) => block_of
                    .get(&parent)
                    .map(|at| plan.tap(*at, left.get_mut(&parent), step)),
            };
            plan.board(report, node, x, from);
            let at = plan.blocks.len() - 1;
            block_of.insert(place, at);
            let sources = report.job.after.sources.iter();
            let on: Vec<_> = sources
                .filter(|(_, s)| s.board == node.id && !s.gone)
                .collect();
            *left.entry(place).or_default() += on.len();
            if node.role == Role::Service {
                plan.electrodes(report, x);
            }
            for (id, source) in on {
                let from = plan.tap(at, left.get_mut(&place), step);
                let x = x + step;
                let lines = lines(
                    &words::source(report, id.as_str(), source),
                    WIDTH - x - 30.0,
                );
                let height = (LINE * lines.len() as f64).max(20.0);
                let known = report.job.before.sources.contains_key(id);
                plan.push(Block {
                    what: What::Source(source),
                    x,
                    top: 0.0,
                    height,
                    strip: Vec::new(),
                    words: lines.into_iter().map(|l| (l, false)).collect(),
                    stroke: stroke_of(if known { Change::Kept } else { Change::New }),
                    riser: from.x,
                    from: Some(from),
                    taps: Vec::new(),
                });
            }
        }
        plan.height += LINE * plan.gone.len() as f64;
        plan
    }

    /// The next place where conductors leave a board: later ones further to the left, so that none crosses an earlier one.
    fn tap(&mut self, block: usize, left: Option<&mut usize>, step: f64) -> Spot {
        let Some(block) = self.blocks.get_mut(block) else {
            return Spot::new(ROOT, 0.0);
        };
        let rank = left.map_or(0, |n| {
            *n = n.saturating_sub(1);
            *n
        });
        let apart = (step - 16.0).max(4.0) / (rank + block.taps.len()).max(1) as f64;
        let x = block.x + 8.0 + apart.min(16.0) * rank as f64;
        block.taps.push(x);
        Spot::new(x, block.top + block.height)
    }

    fn board(&mut self, report: &'r Report<'r>, node: &'r Node<'r>, x: f64, from: Option<Spot>) {
        let room = WIDTH - x - WORDS - 12.0;
        let mut told: Vec<(String, bool)> = Vec::new();
        let all = words::board(report, node);
        let count = all.len();
        let all = all.into_iter().chain([words::branches(report, node.id)]);
        for (i, line) in all.enumerate() {
            let bold = i < 2 && i < count;
            // Bold letters run wider.
            let room = if bold { room * 0.94 } else { room };
            told.extend(
                wrapped(&line, SIZE, room, MOST)
                    .into_iter()
                    .map(|l| (l, bold)),
            );
        }
        let strip = node.feeder.map_or_else(Vec::new, |(id, feeder)| {
            lines(&words::feeder(report, id, feeder), WIDTH - x - 10.0)
        });
        let change = report.scope.board(node.id);
        let changes = change.is_some_and(|c| c.change != Change::Kept || c.relocated);
        self.push(Block {
            what: What::Board(node),
            x,
            top: 0.0,
            height: (LINE * told.len() as f64 + 10.0).max(BUS + 28.0),
            strip,
            words: told,
            stroke: stroke_of(if changes { Change::New } else { Change::Kept }),
            riser: from.map_or(0.0, |f| f.x),
            from,
            taps: Vec::new(),
        });
    }

    fn electrodes(&mut self, report: &'r Report<'r>, board: f64) {
        let Some(bottom) = self.blocks.last().map(|b| b.top + b.height) else {
            return;
        };
        let told = match report.job.after.grounding.electrodes.known() {
            Some(all) if all.is_empty() => vec!["no grounding electrode".to_owned()],
            Some(all) => all.iter().map(words::electrode).collect(),
            None => vec!["grounding electrodes not known".to_owned()],
        };
        let x = board + WORDS;
        let shown = told.iter().map(|l| {
            let line = wrapped(l, SIZE, WIDTH - x - 12.0, 1).pop();
            (line.unwrap_or_default(), false)
        });
        let shown: Vec<(String, bool)> = shown.collect();
        self.height -= GAP;
        self.push(Block {
            what: What::Electrodes,
            x,
            top: 0.0,
            height: LINE * shown.len() as f64 + 4.0,
            strip: Vec::new(),
            words: shown,
            stroke: stroke_of(Change::Kept),
            riser: board + ELECTRODES,
            from: Some(Spot::new(board + ELECTRODES, bottom)),
            taps: Vec::new(),
        });
    }

    fn push(&mut self, mut block: Block<'r>) {
        block.top = self.height + LINE * block.strip.len() as f64 + 2.0;
        self.height = block.top + block.height + GAP;
        self.blocks.push(block);
    }
}

fn lines(all: &[String], room: f64) -> Vec<String> {
    all.iter()
        .flat_map(|l| wrapped(l, SIZE, room, MOST))
        .collect()
}

/// Boards and feeders that the work takes out.
fn gone(report: &Report<'_>) -> Vec<String> {
    let removed = |c: Change| c == Change::Removed;
    let boards = report
        .scope
        .boards
        .iter()
        .filter(|(_, b)| removed(b.change));
    let mut all: Vec<String> = boards.map(|(id, _)| format!("board {id}")).collect();
    let feeders = report.scope.feeders.iter().filter(|(_, f)| removed(*f));
    all.extend(feeders.map(|(id, _)| format!("feeder {id}")));
    if all.is_empty() {
        return all;
    }
    wrapped(
        &format!("Taken out: {}", all.join(", ")),
        SIZE,
        WIDTH - 20.0,
        MOST,
    )
}
