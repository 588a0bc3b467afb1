//! What does a place ask for, counted: cable, splices, boxes, feeders?
//! Source: the lengths at the place. Feet of cable without waste; what a price book adds is the book's.

use model::house::Circuit;
use model::units::Feet;
use model::{Wire, WiringMethod};
use serde::Serialize;

use super::runs::{Added, FeederRun};
use super::{Span, Way};

/// A sort of branch cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Cable {
    /// Ungrounded conductors; nothing while nobody knows.
    pub wire: Option<Wire>,
    /// Wiring method; nothing while nobody knows.
    pub method: Option<WiringMethod>,
    /// Insulated conductors: hots, and the neutral.
    pub conductors: i64,
}

/// Cable of one sort that lengthens circuits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Laid {
    /// The sort.
    pub cable: Cable,
    /// Its length in all.
    pub length: Span<Feet>,
    /// How many pieces, each with a set of splices: one for a circuit, one for a shared-neutral set.
    pub pieces: Span<u32>,
}

/// What a place asks for. Everything else about the job is the same at every place and not counted here.
#[derive(Clone, Debug)]
pub struct Work<'s> {
    /// What becomes of the old cabinet.
    pub way: Way,
    /// Circuits that are lengthened.
    pub extended: Span<u32>,
    /// Cable laid for them.
    pub laid: Vec<Laid>,
    /// Sets of splices: one for each piece of cable.
    pub splices: Span<u32>,
    /// New boxes for them; in the old cabinet none are needed.
    pub boxes: Span<u32>,
    /// Feeders that change.
    pub feeders: &'s [FeederRun],
}

/// A circuit with what lengthens it.
pub(super) struct Longer<'j> {
    pub(super) circuit: &'j Circuit,
    pub(super) added: Added,
    /// Insulated conductors of its cable.
    pub(super) conductors: i64,
    /// Its place among the circuits, and that of the other one of its shared-neutral set.
    pub(super) partner: Option<(usize, usize)>,
}

/// Counts what a place asks for.
pub(super) fn count<'s>(way: Way, circuits: &[Longer<'_>], feeders: &'s [FeederRun]) -> Work<'s> {
    let mut extended = Span::exactly(0);
    let mut laid: Vec<Laid> = Vec::new();
    for longer in circuits {
        let (low, high, unknown) = length(&longer.added);
        extended.low += u32::from(low.0 > 0.0);
        extended.high += u32::from(high.0 > 0.0 || unknown);
        // One cable lengthens both circuits of a shared-neutral set: it is counted once, at the longer of the two.
        let partner = longer
            .partner
            .and_then(|(me, other)| Some((me, other, circuits.get(other)?)));
        let (low, high) = match partner {
            Some((me, other, _)) if other < me => continue,
            Some((_, _, other)) => {
                let (their_low, their_high, _) = length(&other.added);
                (low.max(their_low), high.max(their_high))
            }
            None => (low, high),
        };
        if high.0 <= 0.0 {
            continue;
        }
        let cable = Cable {
            wire: longer.circuit.wire.get(),
            method: longer.circuit.method.get(),
            conductors: longer.conductors,
        };
        let place = laid
            .iter()
            .position(|l| l.cable == cable)
            .unwrap_or_else(|| {
                laid.push(Laid {
                    cable,
                    length: Span::default(),
                    pieces: Span::default(),
                });
                laid.len() - 1
            });
        if let Some(sort) = laid.get_mut(place) {
            sort.length.low += low;
            sort.length.high += high;
            sort.pieces.low += u32::from(low.0 > 0.0);
            sort.pieces.high += 1;
        }
    }
    let splices = Span {
        low: laid.iter().map(|l| l.pieces.low).sum(),
        high: laid.iter().map(|l| l.pieces.high).sum(),
    };
    let boxes = match way {
        Way::Removed => splices,
        Way::SpliceBox | Way::InPlace => Span::exactly(0),
    };
    Work {
        way,
        extended,
        laid,
        splices,
        boxes,
        feeders,
    }
}

/// At least, at most, and whether it may be something at all that nobody can tell. Ends inside cabinets count where they are known.
fn length(added: &Added) -> (Feet, Feet, bool) {
    let low = added.total.or(added.outside).map_or(Feet::ZERO, Feet::from);
    let high = added.total.or(added.most).map_or(Feet::ZERO, Feet::from);
    (low, high.max(low), added.outside.is_none())
}
