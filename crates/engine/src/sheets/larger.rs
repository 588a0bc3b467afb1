//! A larger rating for what holds the load of a board, and what has to go with it: the device ahead, the bus, the conductors.
//! Source: [`super::feeder`]; conductors are asked of the same check that judges them. Amperes.

use model::Fact;
use model::conductor::Wire;
use model::house::{Feeder, House, MainKind, UTILITY};
use model::units::Amperes;
use rulebook::tables::TablesIn;
use serde::Serialize;

use super::Sheets;
use super::feeder::SizeSheet;
use crate::conductor::{Change, Verdict, smallest_changes};
use crate::tree::Node;

/// A larger rating, with what has to go with it.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct NewRating {
    /// The rating.
    pub rating: Amperes,
    /// The main breaker of the board gets it.
    pub main: bool,
    /// The device at the supply end of its feeder gets it.
    pub device: bool,
    /// The bus of the planned board gets it.
    pub bus: Option<Amperes>,
    /// The board stays, and its bus is rated less: another board, which is no matter of a field.
    pub another_board: bool,
    /// What feeds the board.
    pub feeder: Option<String>,
    /// Legs of that, where those planned are not enough.
    pub legs: Option<Wire>,
    /// Its neutral likewise.
    pub neutral: Option<Wire>,
    /// Its equipment ground likewise.
    pub ground: Option<Wire>,
}

impl NewRating {
    /// What has to get `rating` at a board; nothing when nothing of it is smaller.
    pub(super) fn of(node: &Node<'_>, rating: Amperes, before: Option<&House>) -> Option<Self> {
        let main = has_own_main(&node.board.main)
            && node.board.main_amps.get().is_some_and(|a| a < rating);
        let device = node
            .feeder
            .and_then(|(_, f)| device_ahead(f))
            .is_some_and(|a| a < rating);
        let small_bus = node.board.bus.get().is_some_and(|bus| bus < rating);
        let was_there = before.is_none_or(|b| b.boards.contains_key(node.id));
        let stays = was_there && !node.board.replaced && !node.board.interior_only;
        (main || device).then(|| Self {
            rating,
            main,
            device,
            bus: (small_bus && !stays).then_some(rating),
            another_board: small_bus && stays,
            feeder: node.feeder.map(|(id, _)| id.to_owned()),
            legs: None,
            neutral: None,
            ground: None,
        })
    }

    /// Takes larger conductors where those of the picture are not enough; says whether it took any.
    pub(super) fn take_conductors(&mut self, sheets: &Sheets<'_>, book: &TablesIn<'_>) -> bool {
        let feeder = self.feeder.as_deref().and_then(|id| sheets.feeder(id));
        let Some(feeder) = feeder else {
            return false;
        };
        if feeder.check.verdict == Verdict::Fail {
            let changes = smallest_changes(&feeder.input, book);
            self.legs = changes.iter().find_map(|c| match c {
                Change::NextSize(wire) => Some(*wire),
                _ => None,
            });
            return self.legs.is_some();
        }
        let wanted = |sheet: &Option<SizeSheet>| {
            let fails = sheet.as_ref().filter(|s| s.verdict == Verdict::Fail);
            fails.and_then(|s| s.smallest)
        };
        let (neutral, ground) = (wanted(&feeder.neutral), wanted(&feeder.ground));
        self.neutral = neutral.or(self.neutral);
        self.ground = ground.or(self.ground);
        neutral.is_some() || ground.is_some()
    }

    /// Conductors that are replaced.
    #[must_use]
    pub fn replaces_conductors(&self) -> bool {
        self.legs.is_some() || self.neutral.is_some() || self.ground.is_some()
    }

    pub(super) fn make(&self, board: &str, house: &mut House) {
        if let Some(board) = house.boards.get_mut(board) {
            if self.main {
                board.main_amps = Fact::derived(self.rating);
            }
            if self.bus.is_some() || self.another_board {
                board.bus = Fact::derived(self.rating);
            }
        }
        let feeder = self
            .feeder
            .as_deref()
            .and_then(|id| house.feeders.get_mut(id));
        let Some(feeder) = feeder else {
            return;
        };
        if self.device {
            feeder.breaker = Fact::derived(self.rating);
        }
        for (wire, field) in [
            (self.legs, &mut feeder.wire),
            (self.neutral, &mut feeder.neutral),
            (self.ground, &mut feeder.ground),
        ] {
            if let Some(wire) = wire {
                *field = Fact::derived(wire);
            }
        }
        feeder.replaced |= self.replaces_conductors();
    }

    pub(super) fn describe(&self, board: &str, house: &House) -> String {
        let rating = self.rating;
        let mut parts = Vec::new();
        if self.main {
            parts.push(format!("a {rating} main breaker in `{board}`"));
        }
        let feeder = self.feeder.as_deref().unwrap_or_default();
        if self.device {
            let from = house.feeders.get(feeder).map_or("", |f| f.from.as_str());
            parts.push(format!("a {rating} device for `{feeder}` in `{from}`"));
        }
        if self.bus.is_some() {
            parts.push(format!("`{board}` with a bus of {rating} or more"));
        }
        if self.another_board {
            parts.push(format!(
                "another board in place of `{board}`, whose bus is rated less: {rating} or more"
            ));
        }
        let conductors = [
            ("legs", self.legs),
            ("neutral", self.neutral),
            ("equipment ground", self.ground),
        ];
        let conductors: Vec<String> = conductors
            .into_iter()
            .filter_map(|(name, wire)| Some(format!("{name} {}", wire?)))
            .collect();
        if !conductors.is_empty() {
            parts.push(format!("`{feeder}` with {}", conductors.join(", ")));
        }
        parts.join("; ")
    }
}

/// Whether a breaker of the board itself stands ahead of its bus.
fn has_own_main(main: &Fact<MainKind>) -> bool {
    matches!(
        main.get(),
        Some(MainKind::MainBreaker | MainKind::BackfedBreaker)
    )
}

/// The device at the supply end of a feeder; service conductors have none.
pub(super) fn device_ahead(feeder: &Feeder) -> Option<Amperes> {
    feeder.breaker.get().filter(|_| feeder.from != UTILITY)
}
