//! The store: the door to everything else in this crate.

use std::path::{Path, PathBuf};

use sqlx::pool::PoolConnection;
use sqlx::sqlite::SqlitePoolOptions;
use sqlx::{ConnectOptions, SqlitePool};
use tokio::sync::{Mutex, mpsc, oneshot};

use crate::error::Error;
use crate::id::JobId;
use crate::job::{Cursor, Edit, Entry, Job, Listed, Moment, Page, Revision, Undo};
use crate::write::Write;
use crate::writer::{self, Ask};
use crate::{open, photo_file, read};

/// Connections that read at the same time.
const READERS: u32 = 4;

/// The jobs of one folder. Share it behind an `Arc`; several programs may open the same folder.
pub struct Store {
    pub(crate) folder: PathBuf,
    readers: SqlitePool,
    queue: Mutex<Option<mpsc::Sender<Ask>>>,
    writer: Mutex<Option<tokio::task::JoinHandle<()>>>,
}

impl Store {
    /// Opens the jobs of this folder; makes folder and file where there are none. Needs a tokio runtime.
    ///
    /// # Errors
    /// When the folder cannot be used, or the file is damaged or of a newer version.
    pub async fn open(folder: &Path) -> Result<Self, Error> {
        let connection = open::open(folder).await?;
        photo_file::sweep(folder)?;
        let readers = SqlitePoolOptions::new()
            .max_connections(READERS)
            .connect_with(open::options(folder).pragma("query_only", "ON"))
            .await?;
        let folds = open::options(folder).connect().await?;
        let (queue, task) = writer::start(connection, folds);
        Ok(Self {
            folder: folder.to_owned(),
            readers,
            queue: Mutex::new(Some(queue)),
            writer: Mutex::new(Some(task)),
        })
    }

    /// Finishes the changes that wait and closes the file. Later calls fail with [`Error::Closed`].
    pub async fn close(&self) {
        self.readers.close().await;
        self.queue.lock().await.take();
        if let Some(task) = self.writer.lock().await.take() {
            // The task does not panic; were it so, there would be nothing left to close.
            let _ = task.await;
        }
    }

    /// Keeps a new job under this id (see [`JobId::new`]) and gives its revision, 1.
    ///
    /// # Errors
    /// [`Error::Exists`] when the id is taken.
    pub async fn create(&self, id: &JobId, edit: Edit) -> Result<u32, Error> {
        self.write(Write::Create(id.clone(), edit)).await
    }

    /// The job as it is now, removed or not.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn get(&self, id: &JobId) -> Result<Job, Error> {
        read::job(&mut *self.reader().await?, id).await
    }

    /// The job's entry in the list, removed or not, without its text.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn listed(&self, id: &JobId) -> Result<Listed, Error> {
        read::entry_in_list(&mut *self.reader().await?, id).await
    }

    /// Adds a text based on a revision and gives the new revision.
    ///
    /// # Errors
    /// [`Error::Stale`] with the other text when the job is at another revision, [`Error::Removed`], [`Error::NoSuchJob`].
    pub async fn save(&self, id: &JobId, based_on: u32, edit: Edit) -> Result<u32, Error> {
        self.write(Write::Save(id.clone(), based_on, edit)).await
    }

    /// Adds an earlier text once more, with its title and price, and gives the new revision.
    ///
    /// # Errors
    /// As [`Store::save`], and [`Error::NoSuchRevision`].
    pub async fn undo_to(&self, id: &JobId, undo: Undo) -> Result<u32, Error> {
        self.write(Write::Undo(id.clone(), undo)).await
    }

    /// Takes the job out of the list; nothing of it is lost.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn remove(&self, id: &JobId, at: Moment) -> Result<u32, Error> {
        self.write(Write::Remove(id.clone(), true, at)).await
    }

    /// Puts a removed job back into the list.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn restore(&self, id: &JobId, at: Moment) -> Result<u32, Error> {
        self.write(Write::Remove(id.clone(), false, at)).await
    }

    /// Every revision of the job, oldest first.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn history(&self, id: &JobId) -> Result<Vec<Entry>, Error> {
        read::history(&mut *self.reader().await?, id).await
    }

    /// One revision with its text.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`], [`Error::NoSuchRevision`].
    pub async fn revision(&self, id: &JobId, number: u32) -> Result<Revision, Error> {
        read::revision(&mut *self.reader().await?, id, number).await
    }

    /// Jobs that hold every word of `search` (the first four count) in title, address or customer, the one changed last first.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn list(
        &self,
        search: &str,
        limit: u32,
        after: Option<&Cursor>,
    ) -> Result<Page, Error> {
        read::list(&mut *self.reader().await?, search, limit, after).await
    }

    /// Was no job ever kept here, not even one that is removed by now?
    ///
    /// # Errors
    /// When the database fails.
    pub async fn is_empty(&self) -> Result<bool, Error> {
        read::is_empty(&mut *self.reader().await?).await
    }

    pub(crate) async fn reader(&self) -> Result<PoolConnection<sqlx::Sqlite>, Error> {
        self.readers.acquire().await.map_err(|why| match why {
            sqlx::Error::PoolClosed => Error::Closed,
            other => Error::Database(other),
        })
    }

    pub(crate) async fn write(&self, write: Write) -> Result<u32, Error> {
        let queue = self.queue.lock().await.clone().ok_or(Error::Closed)?;
        let (answer, wait) = oneshot::channel();
        queue
            .send(Ask { write, answer })
            .await
            .map_err(|_| Error::Closed)?;
        drop(queue);
        wait.await.map_err(|_| Error::Closed)?
    }
}
