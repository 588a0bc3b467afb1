//! Which fields of the picture after the work make a change to a board? None where it is no matter of a field: another board, another label
//! on one that stays, a place that the board itself asks for.
//! Source: [`super::remedy`]. Spaces.

use model::house::{DeviceKind, House};
use model::{Fact, Job};

use super::remedy::Sort;

/// One field that is set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Field {
    /// Spaces to be left free.
    SpareSpaces(u32),
    /// A circuit may leave its spaces.
    CircuitUnpinned(String),
    /// A device may.
    DeviceUnpinned(String),
    /// Spaces whose label allows a tandem breaker.
    TandemSpaces(Vec<u32>),
    /// Spaces of the box.
    Spaces(u32),
    /// Poles its label allows.
    PolesListed(u32),
}

/// The fields that make a change in the picture after the work.
#[must_use]
pub fn fields(job: &Job, board: &str, sort: &Sort) -> Vec<Field> {
    let Some(planned) = job.after.boards.get(board) else {
        return Vec::new();
    };
    let is_new_box = planned.replaced || !job.before.boards.contains_key(board);
    match sort {
        Sort::FewerSpares(spare) => vec![Field::SpareSpaces(*spare)],
        Sort::Unpinned(names) => {
            let circuit = |name: &String| {
                let pinned = job.after.circuits.get(name.as_str())?.pinned;
                pinned.then(|| Field::CircuitUnpinned(name.clone()))
            };
            let device = |name: &String| {
                let device = planned.devices.get(name.as_str())?;
                // A back-fed main is held down where the label wants it.
                let may = device.pinned && device.kind != DeviceKind::MainBreaker;
                may.then(|| Field::DeviceUnpinned(name.clone()))
            };
            let each = names.iter();
            each.filter_map(|n| circuit(n).or_else(|| device(n)))
                .collect()
        }
        // What a label allows can only be chosen with a board that is bought.
        Sort::Tandems(more) if is_new_box || planned.interior_only => {
            let mut spaces = planned.tandem_spaces.known().cloned().unwrap_or_default();
            spaces.extend(more);
            spaces.sort_unstable();
            spaces.dedup();
            vec![Field::TandemSpaces(spaces)]
        }
        Sort::LargerBox(size) if is_new_box => {
            let listed = planned.poles_listed.get().is_some_and(|n| n < *size);
            let mut fields = vec![Field::Spaces(*size)];
            fields.extend(listed.then_some(Field::PolesListed(*size)));
            fields
        }
        Sort::Tandems(_) | Sort::LargerBox(_) | Sort::SecondBoard(_) => Vec::new(),
    }
}

impl Field {
    /// Sets it in a picture.
    pub(super) fn write(&self, board: &str, house: &mut House) {
        if let Self::CircuitUnpinned(id) = self
            && let Some(circuit) = house.circuits.get_mut(id.as_str())
        {
            circuit.pinned = false;
        }
        let Some(board) = house.boards.get_mut(board) else {
            return;
        };
        match self {
            Self::CircuitUnpinned(_) => {}
            Self::SpareSpaces(spare) => board.spare_spaces = Some(*spare),
            Self::DeviceUnpinned(id) => {
                if let Some(device) = board.devices.get_mut(id.as_str()) {
                    device.pinned = false;
                }
            }
            Self::TandemSpaces(spaces) => board.tandem_spaces = Fact::derived(spaces.clone()),
            Self::Spaces(spaces) => board.spaces = Fact::derived(*spaces),
            Self::PolesListed(poles) => board.poles_listed = Fact::derived(*poles),
        }
    }
}
