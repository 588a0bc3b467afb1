//! The calculations of a panel job, as plain functions from job and rulebook to worksheets.
//!
//! - [`load`]: what load a dwelling puts on its service or feeder;
//! - [`conductor`]: ampacity, devices, the dwelling rule, neutral, grounding, voltage drop;
//! - [`fault`]: fault current at each board; [`fill`]: raceway, box, cabinet, bend; [`busbar`]: sources on a bus;
//! - [`tree`]: who feeds whom; [`sheets`]: every calculation of a picture, from the job as surveyed;
//! - [`mod@check`]: the whole job in one call: [`facts`] bound, [`findings`] judged, [`questions`] ranked;
//! - [`cutover`]: the order of work with the least dark time;
//! - [`relocate`]: where to put the new panel;
//! - [`saying`]: sentences that can be said in another language;
//! - [`schedule`]: what stands in which space of a board;
//! - [`worksheet`]: what every calculation returns.

pub mod busbar;
pub mod check;
pub mod conductor;
pub mod cutover;
pub mod face;
pub mod facts;
pub mod fault;
pub mod fill;
pub mod findings;
pub mod load;
pub mod price;
pub mod questions;
pub mod relocate;
pub mod saying;
pub mod schedule;
pub mod sheets;
pub mod tree;
pub mod worksheet;

pub use check::{check, compare};
pub use worksheet::{Line, Quantity, Value, Worksheet};
