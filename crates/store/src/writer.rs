//! One task writes. Changes that wait at the same time share one transaction, and so one wait for the disk;
//! each is answered only after the commit. When the database fails on a batch, its changes are tried one by one,
//! so that only those that cannot be done fail.

use sqlx::{Connection, SqliteConnection};
use tokio::sync::{mpsc, oneshot};

use crate::error::Error;
use crate::fold;
use crate::write::{Write, apply};

/// Most changes in one transaction.
const LARGEST_BATCH: usize = 64;

/// Most changes that may wait before new ones have to wait for their turn to wait.
const LONGEST_QUEUE: usize = 1024;

/// A change and where its answer goes.
pub(crate) struct Ask {
    pub(crate) write: Write,
    pub(crate) answer: oneshot::Sender<Result<u32, Error>>,
}

/// The way to the task; the task ends when every sender is gone.
pub(crate) fn start(
    connection: SqliteConnection,
    folds: SqliteConnection,
) -> (mpsc::Sender<Ask>, tokio::task::JoinHandle<()>) {
    let (sender, receiver) = mpsc::channel(LONGEST_QUEUE);
    (sender, tokio::spawn(run(connection, folds, receiver)))
}

async fn run(
    mut connection: SqliteConnection,
    folds: SqliteConnection,
    mut queue: mpsc::Receiver<Ask>,
) {
    let (mut log, folding) = fold::start(folds);
    let mut batch = Vec::with_capacity(LARGEST_BATCH);
    while queue.recv_many(&mut batch, LARGEST_BATCH).await > 0 {
        let changes = batch.len();
        let writes: Vec<&Write> = batch.iter().map(|ask| &ask.write).collect();
        match together(&mut connection, &writes).await {
            Ok(answers) => {
                for (ask, answer) in batch.drain(..).zip(answers) {
                    // Nobody waiting any more is no reason to take the change back.
                    let _ = ask.answer.send(answer);
                }
            }
            Err(why) if batch.len() == 1 => {
                if let Some(ask) = batch.pop() {
                    let _ = ask.answer.send(Err(Error::Database(why)));
                }
            }
            Err(_) => one_by_one(&mut connection, std::mem::take(&mut batch)).await,
        }
        log.add(changes);
    }
    drop(log);
    let _ = folding.await;
    // Folds the log into the file; what is lost by failing here is only that tidying.
    let _ = connection.close().await;
}

async fn one_by_one(connection: &mut SqliteConnection, batch: Vec<Ask>) {
    for ask in batch {
        let answer = match together(connection, &[&ask.write]).await {
            Ok(mut answers) => answers.pop().unwrap_or(Err(Error::Closed)),
            Err(why) => Err(Error::Database(why)),
        };
        let _ = ask.answer.send(answer);
    }
}

/// All of them in one transaction, or none.
async fn together(
    connection: &mut SqliteConnection,
    writes: &[&Write],
) -> Result<Vec<Result<u32, Error>>, sqlx::Error> {
    let mut transaction = connection.begin().await?;
    let mut answers = Vec::with_capacity(writes.len());
    for write in writes {
        match apply(&mut transaction, write).await {
            Err(Error::Database(why)) => return Err(why),
            answer => answers.push(answer),
        }
    }
    transaction.commit().await?;
    Ok(answers)
}
