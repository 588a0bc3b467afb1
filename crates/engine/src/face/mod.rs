//! Which circuit goes in which space of a board?
//! Source: the order of aims below is this project's; every aim is met exactly and the proof is kept. Whole VA, whole inches.
//!
//! In strict order: everything fits and is legal, with the fewest tandem halves; the legs carry like loads, then like continuous loads; the
//! conductors reach, the short ones first, with the least length in all; the fewest circuits change their position; heavy continuous
//! breakers do not touch; spare spaces stay in pairs.
//!
//! - [`problem`]: the board, its spaces and what needs a place; [`score`]: is a layout legal, and how good is it;
//! - [`prepare`]: from a job to the problem of a board; [`face`]: the whole answer;
//! - [`stands`]: a board as a picture states it; [`recommend`]: how large a box; [`changes`]: what would help when nothing fits;
//! - `balance`: the least imbalance of any choice of legs, by exact subset sums;
//! - `search`, `lp`, `legs`, `columns`: the cheapest layout with that balance, by branch and bound;
//! - `swaps`, `groups`, `settle`: from a layout to a better one.

mod answer;
mod balance;
mod build;
mod columns;
mod fields;
mod groups;
mod legs;
mod loads;
mod lp;
pub mod problem;
mod remedy;
pub mod score;
mod search;
mod settle;
mod size;
mod solve;
mod stands;
mod swaps;

pub use answer::{Face, Legs, Occupant, face, face_within, legs, usual_board};
pub(crate) use build::spaces_of_board;
pub use build::{Prepared, Unfit, prepare};
pub use fields::{Field, fields};
pub(crate) use loads::of_house as loads_of;
pub use loads::{Basis, CircuitLoad};
pub use problem::{
    Cable, Form, Item, LEVEL_UNITS, LEVELS, MOST_SPACES, Pole, Problem, Score, Seat, Space,
    WholeInches, WholeVa,
};
pub use remedy::{BOX_SIZES, Change, Sort, changes};
pub(crate) use score::legs_of;
pub use size::{Size, recommend};
pub use solve::{Layout, Proof, Unsolved, solve, solve_within, usual_effort};
pub use stands::{Held, Kind, Stands, Thing, stands};
