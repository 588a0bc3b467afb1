//! Who feeds whom: the supply tree of one picture, and what follows from a board's place in it.
//! Sources: the feeders of the job; NFPA 70 Articles 100 (service, feeder), 250 (where the neutral is bonded), 310.12 / 310.15(B)(7).
//! Ratings in amperes. A broken tree is reported, never repaired silently.

use std::collections::{BTreeMap, BTreeSet};

use model::Fact;
use model::house::{Board, Feeder, House, MainKind, Purpose, UTILITY};
use model::units::Amperes;
use serde::Serialize;

/// The boards of one picture in order from the utility outwards: a board always stands after the one that feeds it.
#[derive(Clone, Debug, Default)]
pub struct SupplyTree<'j> {
    /// Boards that the utility reaches, then those that nothing reaches.
    pub nodes: Vec<Node<'j>>,
    /// What is wrong with the tree.
    pub problems: Vec<TreeProblem>,
}

/// One board and its place.
#[derive(Clone, Debug)]
pub struct Node<'j> {
    /// Name of the board.
    pub id: &'j str,
    /// The board.
    pub board: &'j Board,
    /// The feeder that supplies it.
    pub feeder: Option<(&'j str, &'j Feeder)>,
    /// Place of the board it is fed from in [`SupplyTree::nodes`]; none at the utility.
    pub parent: Option<usize>,
    /// Feeders between it and the utility's own, 0 at the service.
    pub depth: usize,
    /// Service equipment, fed by a feeder, or fed by nothing.
    pub role: Role,
    /// It and the boards below it carry every branch circuit of the dwelling.
    pub carries_entire_dwelling: Fact<bool>,
    /// Rating of the device that protects its bus: its own main, else the device at the feeder's supply end.
    pub protected_by: Fact<Amperes>,
}

/// Place of a board in the supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "BoardRole")]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The first board after the utility: service equipment.
    Service,
    /// Fed by a feeder from another board.
    FeederFed,
    /// Nothing feeds it.
    Unfed,
}

/// What is wrong with a tree.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "snake_case")]
pub enum TreeProblem {
    /// Nothing feeds a board.
    #[error("nothing feeds board `{0}`: add the feeder or the service conductors that supply it")]
    Unfed(String),
    /// More than one feeder ends at a board.
    #[error(
        "board `{board}` is fed by {feeders}: give it one supply, or describe the other as a source"
    )]
    FedTwice {
        /// The board.
        board: String,
        /// The feeders, joined with "and".
        feeders: String,
    },
    /// Feeders run in a circle.
    #[error("board `{0}` feeds itself through other boards: mend `from` and `to` of its feeders")]
    Circle(String),
}

impl<'j> SupplyTree<'j> {
    /// Works out the tree of one picture.
    #[must_use]
    pub fn of(house: &'j House) -> Self {
        let mut problems = Vec::new();
        let mut into: BTreeMap<&str, Vec<(&'j str, &'j Feeder)>> = BTreeMap::new();
        let mut out: BTreeMap<&str, Vec<&'j str>> = BTreeMap::new();
        for (id, feeder) in &house.feeders {
            into.entry(&feeder.to)
                .or_default()
                .push((id.as_str(), feeder));
            out.entry(&feeder.from).or_default().push(&feeder.to);
        }
        for (board, feeders) in into.iter().filter(|(_, f)| f.len() > 1) {
            let names: Vec<String> = feeders.iter().map(|(id, _)| format!("`{id}`")).collect();
            problems.push(TreeProblem::FedTwice {
                board: (*board).to_owned(),
                feeders: names.join(" and "),
            });
        }
        let mut tree = Self {
            nodes: Vec::with_capacity(house.boards.len()),
            problems,
        };
        let mut reached = BTreeSet::new();
        for first in out.get(UTILITY).into_iter().flatten() {
            tree.walk(house, first, None, &into, &out, &mut reached);
        }
        for (id, board) in &house.boards {
            if reached.contains(id.as_str()) {
                continue;
            }
            let mut upstream = into.get(id.as_str()).into_iter().flatten();
            let hangs = upstream.any(|(_, f)| house.boards.contains_key(f.from.as_str()));
            // A board that hangs below another unreached one is told by that one.
            if !hangs {
                tree.problems
                    .push(TreeProblem::Unfed(id.as_str().to_owned()));
            } else if feeds_itself(id.as_str(), &into) {
                tree.problems
                    .push(TreeProblem::Circle(id.as_str().to_owned()));
            }
            let feeder = into.get(id.as_str()).and_then(|f| f.first().copied());
            tree.nodes
                .push(Node::new(id.as_str(), board, feeder, None, 0));
        }
        tree.settle_protection();
        tree.settle_whole_dwelling(house);
        tree
    }

    /// Depth first, without recursion, so that no job file can exhaust the stack.
    fn walk(
        &mut self,
        house: &'j House,
        first: &'j str,
        parent: Option<usize>,
        into: &BTreeMap<&str, Vec<(&'j str, &'j Feeder)>>,
        out: &BTreeMap<&str, Vec<&'j str>>,
        reached: &mut BTreeSet<&'j str>,
    ) {
        let mut waiting = vec![(first, parent, 0)];
        while let Some((id, parent, depth)) = waiting.pop() {
            let Some(board) = house.boards.get(id) else {
                continue;
            };
            if !reached.insert(id) {
                continue;
            }
            let place = self.nodes.len();
            // A board fed twice is taken as fed by the one that the walk came along.
            let from = parent.map_or(UTILITY, |at| self.nodes[at].id);
            let feeder = into
                .get(id)
                .and_then(|f| f.iter().find(|(_, f)| f.from == from).copied());
            let mut node = Node::new(id, board, feeder, parent, depth);
            node.role = if parent.is_none() {
                Role::Service
            } else {
                Role::FeederFed
            };
            self.nodes.push(node);
            for next in out.get(id).into_iter().flatten().rev() {
                waiting.push((next, Some(place), depth + 1));
            }
        }
    }

    fn settle_protection(&mut self) {
        for node in &mut self.nodes {
            let own = node.board.main_amps.clone();
            let upstream = node
                .feeder
                .map_or(Fact::Unknown, |(_, f)| f.breaker.clone());
            node.protected_by = match node.board.main.get() {
                Some(MainKind::MainBreaker | MainKind::BackfedBreaker) => own,
                Some(MainKind::MainLugs | MainKind::FeedThrough) => upstream,
                None => Fact::Unknown,
            };
        }
    }

    /// A board carries the entire dwelling when no branch circuit of the picture starts outside its part of the tree.
    /// The circuits listed in a picture are taken to be all of them.
    fn settle_whole_dwelling(&mut self, house: &House) {
        let place: BTreeMap<&str, usize> = self
            .nodes
            .iter()
            .enumerate()
            .map(|(i, n)| (n.id, i))
            .collect();
        let mut own = vec![0_usize; self.nodes.len()];
        let mut all = 0;
        for circuit in house
            .circuits
            .values()
            .filter(|c| c.purpose != Purpose::Spare)
        {
            if let Some(&at) = place.get(circuit.board.as_str()) {
                own[at] += 1;
                all += 1;
            }
        }
        for i in (0..self.nodes.len()).rev() {
            if let Some(parent) = self.nodes[i].parent {
                own[parent] += own[i];
            }
        }
        for (node, carried) in self.nodes.iter_mut().zip(own) {
            node.carries_entire_dwelling = if all == 0 {
                Fact::Unknown
            } else {
                Fact::derived(carried == all)
            };
        }
    }

    /// The node of a board.
    #[must_use]
    pub fn node(&self, board: &str) -> Option<&Node<'j>> {
        self.nodes.iter().find(|n| n.id == board)
    }

    /// Places of the nodes from the utility down to `place`, both ends included.
    #[must_use]
    pub fn chain(&self, place: usize) -> Vec<usize> {
        let mut chain = vec![place];
        while let Some(parent) = chain
            .last()
            .and_then(|&at| self.nodes.get(at))
            .and_then(|n| n.parent)
        {
            chain.push(parent);
        }
        chain.reverse();
        chain
    }

    /// True when `board` is `above` or stands below it.
    #[must_use]
    pub fn is_at_or_below(&self, board: &str, above: &str) -> bool {
        self.nodes
            .iter()
            .position(|n| n.id == board)
            .is_some_and(|at| self.chain(at).iter().any(|&i| self.nodes[i].id == above))
    }

    /// Boards that hold service disconnects.
    pub fn services(&self) -> impl Iterator<Item = &Node<'j>> {
        self.nodes.iter().filter(|n| n.role == Role::Service)
    }

    /// The tree in text, a line per board.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let told = |a: &Fact<Amperes>| a.get().map_or("? A".to_owned(), |a| a.to_string());
        let mut lines = Vec::with_capacity(self.nodes.len() + 1);
        lines.push("utility".to_owned());
        for node in &self.nodes {
            let feeder = node.feeder.map_or(String::new(), |(id, f)| {
                let wire = f
                    .wire
                    .known()
                    .map_or("conductors unknown".to_owned(), ToString::to_string);
                let device = if f.from == UTILITY {
                    String::new()
                } else {
                    format!("{} device, ", told(&f.breaker))
                };
                format!("  <- {id}: {device}{wire}")
            });
            let role = match node.role {
                Role::Service => "service equipment, neutral bonded here",
                Role::FeederFed => "fed by feeder, neutral kept apart",
                Role::Unfed => "NOT FED",
            };
            let whole = if node.carries_entire_dwelling.get() == Some(true) {
                ", carries the entire dwelling"
            } else {
                ""
            };
            let name = if node.board.name.is_empty() {
                String::new()
            } else {
                format!(" ({})", node.board.name)
            };
            lines.push(format!(
                "{}+- {}{name}: bus {}, protected at {}; {role}{whole}{feeder}",
                "   ".repeat(node.depth),
                node.id,
                told(&node.board.bus),
                told(&node.protected_by),
            ));
        }
        lines
    }
}

impl<'j> Node<'j> {
    fn new(
        id: &'j str,
        board: &'j Board,
        feeder: Option<(&'j str, &'j Feeder)>,
        parent: Option<usize>,
        depth: usize,
    ) -> Self {
        Self {
            id,
            board,
            feeder,
            parent,
            depth,
            role: Role::Unfed,
            carries_entire_dwelling: Fact::Unknown,
            protected_by: Fact::Unknown,
        }
    }
}

/// Upstream from `board` along every feeder, one comes back to it.
fn feeds_itself(board: &str, into: &BTreeMap<&str, Vec<(&str, &Feeder)>>) -> bool {
    let mut seen = BTreeSet::new();
    let mut waiting = vec![board];
    while let Some(at) = waiting.pop() {
        for (_, feeder) in into.get(at).into_iter().flatten() {
            if feeder.from == board {
                return true;
            }
            if seen.insert(feeder.from.as_str()) {
                waiting.push(&feeder.from);
            }
        }
    }
    false
}
