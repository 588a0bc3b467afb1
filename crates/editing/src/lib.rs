//! Every change of a job: the document is the text of the job file, a change is an edit made on that text.
//!
//! - [`edit`]: sets, removes, renames, copies; all edits or none, and never a text that does not read;
//! - [`read`]: a job with every fact in one form, and the words that fields take ([`choices`]);
//! - [`start`]: a job from a short interview; [`paste`]: circuits from a spreadsheet;
//! - [`layout`]: is an arrangement of breakers legal, and how do the legs stand; [`place`]: a panel along a wall;
//! - [`remedy`], [`question`]: the edits of remedies, and where answers go;
//! - what stands where: `outline`, `shape`, `names`; how it is written: `write`, `set`, `remove`, `copy`.

pub mod choices;
mod copy;
pub mod edit;
pub mod layout;
mod names;
mod normal;
mod outline;
pub mod paste;
pub mod place;
pub mod question;
pub mod read;
pub mod remedy;
mod remove;
mod set;
mod shape;
mod slug;
pub mod start;
mod text;
mod write;

pub use edit::{Edit, Refused, apply};
pub use read::{Reading, read};
