//! Keeps jobs, and everything they ever were, in one database file, and their photos in a folder beside it.
//!
//! - [`Store`]: opens the file and answers; [`Card`], [`Job`], [`Revision`]: what it holds;
//! - a save says on which revision it is based; when another came first it is refused with that one's text, and nothing changes;
//! - revisions are only added: undoing adds an old text once more;
//! - [`Photo`]: its row is in the database, its bytes in a file that is whole before the row is written; neither is ever taken away;
//! - the text of a job is kept as it is, unread. Times come in from the caller, in milliseconds since 1970 UTC: the store has no clock.
//!
//! SQLite with a write-ahead log and synchronous commits: what was answered as saved is on the disk.

mod error;
mod fold;
mod id;
mod job;
mod open;
mod photo;
mod photo_file;
mod photo_rows;
mod photos;
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
pub use photo::{BadName, BadSha256, Kind, Photo, PhotoName, Sha256};
pub use photo_file::Incoming;
pub use photos::NewPhoto;
pub use read::MOST_PER_PAGE;
pub use store::Store;
