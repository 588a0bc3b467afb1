//! The command that looks at an arrangement of breakers, asked many times while one is dragged.
//! Source: the face's problem of the board, kept from one question to the next as long as the job is the same. VA.

use std::sync::{Arc, Mutex, PoisonError};

use editing::layout::{Arrangement, Spaces, layout};
use engine::face::{Prepared, prepare, usual_board};
use model::JobFile;

use crate::call;
use crate::wrong::Wrong;

/// What a board asks for, with the job it was worked out from.
struct Kept {
    text: String,
    board: Option<String>,
    file: Arc<JobFile>,
    prepared: Prepared,
}

static LAST: Mutex<Option<Arc<Kept>>> = Mutex::new(None);

/// Looks at an arrangement on a board; the usual one when none is named.
pub(crate) fn arrangement(
    job: &str,
    board: Option<&str>,
    spaces: &Spaces,
) -> Result<Arrangement, Wrong> {
    let kept = kept(job, board)?;
    Ok(layout(&kept.file.job, &kept.prepared, spaces))
}

fn kept(job: &str, board: Option<&str>) -> Result<Arc<Kept>, Wrong> {
    let last = || LAST.lock().unwrap_or_else(PoisonError::into_inner);
    let same = |kept: &&Arc<Kept>| kept.text == job && kept.board.as_deref() == board;
    if let Some(kept) = last().as_ref().filter(same) {
        return Ok(Arc::clone(kept));
    }
    let file = crate::reading::job_file(job)?;
    let book = call::bound(call::library()?, &file)?;
    let report = engine::check(&file.job, &book);
    let named = board.or_else(|| usual_board(&report));
    let named = named.ok_or_else(|| {
        Wrong::with(
            "no board of the job has circuits on it",
            "circuits with a `board`",
        )
    })?;
    let prepared = prepare(&report, named)
        .map_err(|why| Wrong::with(why.to_string(), "the fact that is missing"))?;
    let kept = Arc::new(Kept {
        text: job.to_owned(),
        board: board.map(str::to_owned),
        file,
        prepared,
    });
    *last() = Some(Arc::clone(&kept));
    Ok(kept)
}
