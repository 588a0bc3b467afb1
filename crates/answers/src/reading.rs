//! Which job does this text hold? The one that was read last is kept, since the same text is asked about several times in a row:
//! an edit is checked by reading its result, and then every screen asks about that.

use std::sync::{Arc, Mutex, PoisonError};

use model::JobFile;

use crate::call;
use crate::wrong::Wrong;

static LAST: Mutex<Option<Arc<JobFile>>> = Mutex::new(None);

/// The job of this text.
pub(crate) fn job_file(text: &str) -> Result<Arc<JobFile>, Wrong> {
    let last = LAST.lock().unwrap_or_else(PoisonError::into_inner).clone();
    if let Some(file) = last.filter(|file| file.text() == text) {
        return Ok(file);
    }
    let file = JobFile::read(text).map_err(|m| call::mistakes(&m, text))?;
    Ok(keep(file))
}

/// Keeps a job that was read elsewhere.
pub(crate) fn keep(file: JobFile) -> Arc<JobFile> {
    let file = Arc::new(file);
    *LAST.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::clone(&file));
    file
}
