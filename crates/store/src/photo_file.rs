//! Where are the bytes of a photo? In the folder `photos`, in a file called by what is in it, so that the same photo lies there once.
//! A file is written under another name, brought to the disk and only then called by its own: what has its name is whole.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use sha2::Digest;
use tokio::fs::{self, File};
use tokio::io::AsyncWriteExt;

use crate::error::Error;
use crate::photo::{Kind, Sha256};

/// The folder beside the database.
pub(crate) const FOLDER: &str = "photos";

/// How a file ends that is not whole yet.
const UNFINISHED: &str = "part";

/// A file that is not whole after this time was left by a program that died.
const LONGEST_WRITING: Duration = Duration::from_secs(24 * 60 * 60);

/// The bytes of a photo on their way to the disk. Dropped before they are kept, they are thrown away.
#[derive(Debug)]
pub struct Incoming {
    file: File,
    hasher: sha2::Sha256,
    bytes: u64,
    /// Taken once the file has its own name.
    unfinished: Option<PathBuf>,
}

impl Incoming {
    pub(crate) async fn new(data: &Path) -> Result<Self, Error> {
        let folder = data.join(FOLDER);
        fs::create_dir_all(&folder).await?;
        let mut random = [0_u8; 12];
        getrandom::fill(&mut random).map_err(|why| Error::NoRandom(why.to_string()))?;
        let name: String = random.iter().map(|b| format!("{b:02x}")).collect();
        let path = folder.join(format!("{name}.{UNFINISHED}"));
        let file = File::options()
            .write(true)
            .create_new(true)
            .open(&path)
            .await?;
        Ok(Self {
            file,
            hasher: sha2::Sha256::new(),
            bytes: 0,
            unfinished: Some(path),
        })
    }

    /// The next bytes.
    ///
    /// # Errors
    /// When the disk does not take them.
    pub async fn write(&mut self, bytes: &[u8]) -> Result<(), Error> {
        self.file.write_all(bytes).await?;
        self.hasher.update(bytes);
        self.bytes += bytes.len() as u64;
        Ok(())
    }

    /// How many bytes there are by now.
    #[must_use]
    pub const fn bytes(&self) -> u64 {
        self.bytes
    }

    /// Brings the file to the disk under its own name.
    pub(crate) async fn finish(mut self, kind: Kind) -> Result<(Sha256, u64), Error> {
        self.file.flush().await?;
        self.file.sync_all().await?;
        let sha256 = Sha256::of(self.hasher.clone().finalize());
        if let Some(path) = &self.unfinished {
            // A file that is there already holds the same bytes; putting this one in its place mends it, should it have been damaged.
            fs::rename(path, path.with_file_name(name(&sha256, kind))).await?;
            if let Some(folder) = path.parent() {
                sync_folder(folder).await?;
            }
            self.unfinished = None;
        }
        Ok((sha256, self.bytes))
    }
}

impl Drop for Incoming {
    fn drop(&mut self) {
        if let Some(path) = self.unfinished.take() {
            // What stays behind is swept up when the store is opened on another day.
            let _ = std::fs::remove_file(path);
        }
    }
}

/// Where the bytes are.
pub(crate) fn path(data: &Path, sha256: &Sha256, kind: Kind) -> PathBuf {
    data.join(FOLDER).join(name(sha256, kind))
}

/// Throws away what programs that died left unfinished.
pub(crate) fn sweep(data: &Path) -> io::Result<()> {
    let entries = match std::fs::read_dir(data.join(FOLDER)) {
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(()),
        entries => entries?,
    };
    for entry in entries {
        let entry = entry?;
        let is_unfinished = entry.path().extension().is_some_and(|e| e == UNFINISHED);
        let is_old = || {
            Ok::<_, io::Error>(
                entry
                    .metadata()?
                    .modified()?
                    .elapsed()
                    .is_ok_and(|age| age > LONGEST_WRITING),
            )
        };
        if is_unfinished && is_old()? {
            std::fs::remove_file(entry.path())?;
        }
    }
    Ok(())
}

fn name(sha256: &Sha256, kind: Kind) -> String {
    format!("{sha256}.{}", kind.ending())
}

/// A new name is on the disk once its folder is.
#[cfg(unix)]
async fn sync_folder(folder: &Path) -> io::Result<()> {
    File::open(folder).await?.sync_all().await
}

#[cfg(not(unix))]
async fn sync_folder(_folder: &Path) -> io::Result<()> {
    Ok(())
}
