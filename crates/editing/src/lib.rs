//! Every change of a job: the document is the text of the job file, a change is an edit made on that text.
//!
//! - [`edit`]: sets, removes, renames, copies; all edits or none, and never a text that does not read;
//! - [`read`]: a job with every fact in one form, and the words that fields take ([`choices`]);
//! - [`start`]: a job from a short interview; [`paste`]: circuits from a spreadsheet;
//! - what stands where: `outline`, `shape`, `names`; how it is written: `write`, `set`, `remove`, `copy`.

pub mod choices;
mod copy;
pub mod edit;
mod names;
mod normal;
mod outline;
pub mod paste;
pub mod read;
mod remove;
mod set;
mod shape;
mod slug;
pub mod start;
mod text;
mod write;

pub use edit::{Edit, Refused, apply};
pub use read::{Reading, read};
