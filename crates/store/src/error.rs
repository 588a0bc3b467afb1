//! Why the store could not do what was asked.

use std::path::PathBuf;

use crate::job::Moment;
use crate::photo::Photo;

/// Why nothing was done.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The folder cannot be made or written.
    #[error(
        "the folder `{}` cannot be used ({why}): name a folder that this user may write", folder.display()
    )]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        why: std::io::Error,
    },
    /// The file was written by a newer version of this program.
    #[error(
        "`{}` was last written by a newer version (schema {found}, this version knows up to {known}): \
         use that version, or a copy of the folder from before", file.display()
    )]
    Newer {
        /// The file.
        file: PathBuf,
        /// Its newest migration.
        found: i64,
        /// The newest migration this version has.
        known: i64,
    },
    /// The file is no database of this program, or is damaged.
    #[error(
        "`{}` cannot be opened as a store of jobs ({why}): restore it from a copy, or name another folder", file.display()
    )]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// What the database said.
        why: String,
    },
    /// There is no such job.
    #[error("there is no job with this id")]
    NoSuchJob,
    /// The job has no such revision.
    #[error("the job has no revision {0}")]
    NoSuchRevision(u32),
    /// The job is removed; it can be restored.
    #[error("the job is removed: restore it first")]
    Removed,
    /// There is a job with this id already.
    #[error("there is a job with this id already")]
    Exists,
    /// The job has a newer revision than the one the change is based on.
    #[error("based on revision {}, but the job is at revision {}", .0.yours, .0.theirs)]
    Stale(Box<Stale>),
    /// The job has no such photo, or it is removed.
    #[error("the job has no such photo")]
    NoSuchPhoto,
    /// Another photo has the name by now.
    #[error("another photo has this name by now")]
    OtherPhoto(Box<Photo>),
    /// The photo is known, but its file is gone from the folder.
    #[error("the file of this photo is gone: restore the folder of photos from a copy")]
    PhotoGone,
    /// The text is not a cursor of a page.
    #[error("the cursor is not one that a page gave")]
    BadCursor,
    /// The store is closed.
    #[error("the store is closed")]
    Closed,
    /// The system gave no random bytes for an id.
    #[error("the system gave no random bytes: {0}")]
    NoRandom(String),
    /// A photo could not be written or read.
    #[error("the disk failed: {0}")]
    Disk(#[from] std::io::Error),
    /// The database did not do it.
    #[error("the database failed: {0}")]
    Database(#[from] sqlx::Error),
}

/// The other version, when a change came too late.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stale {
    /// The revision the refused change is based on.
    pub yours: u32,
    /// The revision the job is at.
    pub theirs: u32,
    /// Who wrote that one.
    pub by: String,
    /// When.
    pub at: Moment,
    /// Its text.
    pub text: String,
}
