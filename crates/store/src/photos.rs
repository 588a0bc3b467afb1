//! The photos of a job: keeping, reading, removing. Their bytes never go through the one task that writes to the database,
//! so that saves of jobs do not wait for them.

use tokio::fs::File;

use crate::error::Error;
use crate::id::JobId;
use crate::job::Moment;
use crate::photo::{Kind, Photo, PhotoName, Sha256};
use crate::photo_file::{self, Incoming};
use crate::photo_rows;
use crate::store::Store;
use crate::write::Write;

/// What is to be known of a photo besides its bytes.
#[derive(Clone, Debug)]
pub struct NewPhoto {
    /// Its name within the job.
    pub name: PhotoName,
    /// Its kind, as its first bytes told it.
    pub kind: Kind,
    /// When it is kept.
    pub at: Moment,
}

impl Store {
    /// A file for the bytes of a photo, for [`Store::keep_photo`].
    ///
    /// # Errors
    /// When the folder cannot be written.
    pub async fn new_photo(&self) -> Result<Incoming, Error> {
        Incoming::new(&self.folder).await
    }

    /// Keeps these bytes as a photo of the job. Another one that has the name stays in the folder and counts as removed;
    /// bytes that have the name already are kept once.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`], [`Error::Removed`].
    pub async fn keep_photo(
        &self,
        job: &JobId,
        new: NewPhoto,
        bytes: Incoming,
    ) -> Result<Photo, Error> {
        let (sha256, bytes) = bytes.finish(new.kind).await?;
        let row = photo_rows::NewPhoto {
            photo: new,
            bytes,
            sha256,
        };
        let number = self.write(Write::AddPhoto(job.clone(), row)).await?;
        photo_rows::numbered(&mut *self.reader().await?, job, number).await
    }

    /// Every photo of the job, oldest first, those that were taken again or removed among them.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`].
    pub async fn photos(&self, job: &JobId) -> Result<Vec<Photo>, Error> {
        photo_rows::all(&mut *self.reader().await?, job).await
    }

    /// The photo that has this name now.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`], [`Error::NoSuchPhoto`].
    pub async fn photo(&self, job: &JobId, name: &PhotoName) -> Result<Photo, Error> {
        photo_rows::current(&mut *self.reader().await?, job, name).await
    }

    /// The photo with this number, removed or not.
    ///
    /// # Errors
    /// [`Error::NoSuchJob`], [`Error::NoSuchPhoto`].
    pub async fn photo_numbered(&self, job: &JobId, number: u32) -> Result<Photo, Error> {
        photo_rows::numbered(&mut *self.reader().await?, job, number).await
    }

    /// The bytes of a photo, to be read.
    ///
    /// # Errors
    /// [`Error::PhotoGone`] when somebody took the file away.
    pub async fn open_photo(&self, photo: &Photo) -> Result<File, Error> {
        let path = photo_file::path(&self.folder, &photo.sha256, photo.kind);
        File::open(path).await.map_err(|why| match why.kind() {
            std::io::ErrorKind::NotFound => Error::PhotoGone,
            _ => Error::Disk(why),
        })
    }

    /// Says that a photo is removed; its file stays. With `expected` only when those bytes still have the name.
    ///
    /// # Errors
    /// [`Error::OtherPhoto`] when other bytes have the name, [`Error::NoSuchPhoto`], [`Error::Removed`], [`Error::NoSuchJob`].
    pub async fn remove_photo(
        &self,
        job: &JobId,
        name: &PhotoName,
        expected: Option<&Sha256>,
        at: Moment,
    ) -> Result<Photo, Error> {
        let write = Write::RemovePhoto(job.clone(), name.clone(), expected.cloned(), at);
        let number = self.write(write).await?;
        self.photo_numbered(job, number).await
    }
}
