//! Opens the database file of a folder, creating or bringing up to date what is needed.
//! A file that a newer version wrote is refused before anything in it is changed.

use std::path::Path;
use std::time::Duration;

use sqlx::migrate::{MigrateError, Migration, MigrationType, Migrator};
use sqlx::sqlite::{SqliteConnectOptions, SqliteJournalMode, SqliteSynchronous};
use sqlx::{ConnectOptions, SqlSafeStr, SqliteConnection};

use crate::error::Error;
use crate::fold::WRITER_FOLDS_AT;

/// The file in the folder.
pub const FILE_NAME: &str = "jobs.db";

/// Numbered steps from an empty file to today's; never edited once released.
const MIGRATIONS: [(i64, &str, &str); 4] = [
    (1, "jobs", include_str!("../migrations/0001_jobs.sql")),
    (
        2,
        "append only",
        include_str!("../migrations/0002_append_only.sql"),
    ),
    (
        3,
        "list order",
        include_str!("../migrations/0003_list_order.sql"),
    ),
    (4, "photos", include_str!("../migrations/0004_photos.sql")),
];

/// How to connect to the file of this folder.
pub(crate) fn options(folder: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(folder.join(FILE_NAME))
        .create_if_missing(true)
        .foreign_keys(true)
        .journal_mode(SqliteJournalMode::Wal)
        .synchronous(SqliteSynchronous::Full)
        .busy_timeout(Duration::from_secs(5))
        .disable_statement_logging()
}

/// Makes the folder, opens the file, brings it up to date. The connection is the one that writes.
pub(crate) async fn open(folder: &Path) -> Result<SqliteConnection, Error> {
    std::fs::create_dir_all(folder).map_err(|why| Error::Folder {
        folder: folder.to_owned(),
        why,
    })?;
    let unreadable = |why: String| Error::Unreadable {
        file: folder.join(FILE_NAME),
        why,
    };
    let mut connection = options(folder)
        .pragma("wal_autocheckpoint", WRITER_FOLDS_AT)
        .connect()
        .await
        .map_err(|why| unreadable(why.to_string()))?;
    migrator(usize::MAX)
        .run(&mut connection)
        .await
        .map_err(|why| match why {
            MigrateError::VersionMissing(found) => Error::Newer {
                file: folder.join(FILE_NAME),
                found,
                known: MIGRATIONS.map(|m| m.0).into_iter().max().unwrap_or(0),
            },
            other => unreadable(other.to_string()),
        })?;
    Ok(connection)
}

fn migrator(steps: usize) -> Migrator {
    Migrator::with_migrations(
        MIGRATIONS
            .into_iter()
            .take(steps)
            .map(|(number, name, sql)| {
                let simple = MigrationType::Simple;
                Migration::new(number, name.into(), simple, sql.into_sql_str(), false)
            })
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{JobId, Moment, Store};

    /// The file as version 1 of the schema left it, with a job in it.
    #[tokio::test]
    async fn an_older_file_is_brought_up_to_date_with_what_it_holds() {
        let folder = tempfile::tempdir().unwrap();
        let id = JobId::new(Moment(1)).unwrap();
        let mut old = options(folder.path()).connect().await.unwrap();
        migrator(1).run(&mut old).await.unwrap();
        for sql in [
            "INSERT INTO jobs VALUES ($1, 'Old', '', '', 'old', 'offer', NULL, NULL, NULL, 1, 7, 0)",
            "INSERT INTO revisions VALUES ($1, 1, 7, 'A', '', 'Old', NULL, NULL, 'old text')",
        ] {
            sqlx::query(sql)
                .bind(id.as_str())
                .execute(&mut old)
                .await
                .unwrap();
        }
        sqlx::Connection::close(old).await.unwrap();

        let store = Store::open(folder.path()).await.unwrap();
        assert_eq!(store.get(&id).await.unwrap().text, "old text");
        store.close().await;
        let mut now = options(folder.path()).connect().await.unwrap();
        let update = sqlx::query("UPDATE revisions SET body = 'new'")
            .execute(&mut now)
            .await;
        assert!(update.unwrap_err().to_string().contains("append-only"));
        let delete = sqlx::query("DELETE FROM revisions").execute(&mut now).await;
        assert!(delete.unwrap_err().to_string().contains("append-only"));
    }

    #[tokio::test]
    async fn a_file_of_a_newer_version_is_refused_and_stays_as_it_is() {
        let folder = tempfile::tempdir().unwrap();
        Store::open(folder.path()).await.unwrap().close().await;
        let mut newer = options(folder.path()).connect().await.unwrap();
        let step = "INSERT INTO _sqlx_migrations (version, description, success, checksum, execution_time) VALUES (99, 'later', 1, x'00', 0)";
        sqlx::query(step).execute(&mut newer).await.unwrap();
        sqlx::Connection::close(newer).await.unwrap();
        let error = Store::open(folder.path()).await.err().unwrap();
        assert!(
            matches!(
                error,
                Error::Newer {
                    found: 99,
                    known: 4,
                    ..
                }
            ),
            "{error}"
        );
    }

    #[tokio::test]
    async fn a_file_that_is_no_database_is_refused_and_a_folder_that_cannot_be_made_too() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(FILE_NAME);
        std::fs::write(
            &file,
            "this is a shopping list, not a database, and it is long enough".repeat(9),
        )
        .unwrap();
        let error = Store::open(folder.path()).await.err().unwrap();
        assert!(matches!(error, Error::Unreadable { .. }), "{error}");
        let error = Store::open(&file).await.err().unwrap();
        assert!(matches!(error, Error::Folder { .. }), "{error}");
    }

    /// The pragmas as SQLite itself reports them: 2 is FULL.
    #[tokio::test]
    async fn commits_are_synchronous_and_the_log_is_written_ahead() {
        let folder = tempfile::tempdir().unwrap();
        let mut connection = open(folder.path()).await.unwrap();
        let mut ask = async |sql: &'static str| -> String {
            sqlx::query_scalar::<_, String>(sql)
                .fetch_one(&mut connection)
                .await
                .unwrap()
        };
        assert_eq!(
            ask("SELECT journal_mode FROM pragma_journal_mode").await,
            "wal"
        );
        assert_eq!(
            ask("SELECT CAST(synchronous AS TEXT) FROM pragma_synchronous").await,
            "2"
        );
        assert_eq!(
            ask("SELECT CAST(foreign_keys AS TEXT) FROM pragma_foreign_keys").await,
            "1"
        );
    }
}
