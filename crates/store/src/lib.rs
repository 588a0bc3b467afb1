//! Keeps jobs, and everything they ever were, in one database file.
//!
//! - [`Store`]: opens the file and answers; [`Card`], [`Job`], [`Revision`]: what it holds;
//! - a save says on which revision it is based; when another came first it is refused with that one's text, and nothing changes;
//! - revisions are only added: undoing adds an old text once more;
//! - the text of a job is kept as it is, unread. Times come in from the caller, in milliseconds since 1970 UTC: the store has no clock.
//!
//! SQLite with a write-ahead log and synchronous commits: what was answered as saved is on the disk.

mod error;
mod id;
mod job;
mod open;
mod read;
mod store;
mod write;
mod writer;

pub use error::{Error, Stale};
pub use id::JobId;
pub use job::{
    Card, Change, Cursor, Edit, Entry, Job, Listed, Moment, Page, PriceRange, Revision, Stage, Undo,
};
pub use open::FILE_NAME;
pub use read::MOST_PER_PAGE;
pub use store::Store;
