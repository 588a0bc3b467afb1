//! Folds the write-ahead log into the database file beside the writer. SQLite would do it inside of a commit once the log is long, and
//! everybody who saves in that moment would wait for it.

use sqlx::{Connection, SqliteConnection};
use tokio::sync::mpsc;
use tokio::task::JoinHandle;

/// Changes after which the log is worth folding. A change of a usual job is a dozen pages. Little and often: while much is folded at once,
/// saves wait for the disk (measured: 64 and 512 gave longer waits than 16).
const WORTH_FOLDING: usize = 16;

/// Pages of the log after which the writer itself folds it: a thousand saves or more that could not be folded, as beside a reader that never ends.
pub(crate) const WRITER_FOLDS_AT: &str = "16384";

/// Counts changes and says when the log is worth folding.
pub(crate) struct Counter {
    changes: usize,
    fold: mpsc::Sender<()>,
}

impl Counter {
    /// So many changes more are in the log.
    pub(crate) fn add(&mut self, changes: usize) {
        self.changes += changes;
        if self.changes >= WORTH_FOLDING {
            self.changes = 0;
            // When folding is under way, the next count will do.
            let _ = self.fold.try_send(());
        }
    }
}

/// Starts the task that folds; it ends when the counter is gone.
pub(crate) fn start(connection: SqliteConnection) -> (Counter, JoinHandle<()>) {
    let (fold, wanted) = mpsc::channel(1);
    let task = tokio::spawn(run(connection, wanted));
    (Counter { changes: 0, fold }, task)
}

async fn run(mut connection: SqliteConnection, mut wanted: mpsc::Receiver<()>) {
    while wanted.recv().await.is_some() {
        // Waits for nobody and holds nobody up; what cannot be folded now is folded next time.
        let _ = sqlx::query("PRAGMA wal_checkpoint(PASSIVE)")
            .execute(&mut connection)
            .await;
    }
    let _ = connection.close().await;
}
