//! The changes a job can go through, as statements inside one transaction.
//! Each starts by writing, so that it holds the write lock before it looks; a change that is refused has written nothing.

use model::Dollars;
use sqlx::query::Query;
use sqlx::sqlite::SqliteArguments;
use sqlx::{Sqlite, SqliteConnection};

use crate::error::{Error, Stale};
use crate::id::JobId;
use crate::job::{Card, Edit, Moment, Undo};
use crate::photo::{PhotoName, Sha256};
use crate::photo_rows::{self, NewPhoto};
use crate::read;

/// A change.
#[derive(Clone, Debug)]
pub(crate) enum Write {
    /// A new job.
    Create(JobId, Edit),
    /// A new text, based on a revision.
    Save(JobId, u32, Edit),
    /// An old text again.
    Undo(JobId, Undo),
    /// Out of the list, or back into it.
    Remove(JobId, bool, Moment),
    /// A photo whose file is on the disk.
    AddPhoto(JobId, NewPhoto),
    /// A photo removed; with what the author saw there last.
    RemovePhoto(JobId, PhotoName, Option<Sha256>, Moment),
}

/// Does it and says at which revision the job is now, or which number the photo has.
/// [`Error::Database`] spoils the transaction; every other error is an answer.
pub(crate) async fn apply(connection: &mut SqliteConnection, write: &Write) -> Result<u32, Error> {
    match write {
        Write::Create(id, edit) => create(connection, id, edit).await,
        Write::Save(id, based_on, edit) => save(connection, id, *based_on, edit).await,
        Write::Undo(id, undo) => undo_to(connection, id, undo).await,
        Write::Remove(id, removed, at) => remove(connection, id, *removed, *at).await,
        Write::AddPhoto(id, new) => photo_rows::add(connection, id, new).await,
        Write::RemovePhoto(id, name, expected, at) => {
            photo_rows::remove(connection, id, name, expected.as_ref(), *at).await
        }
    }
}

async fn create(connection: &mut SqliteConnection, id: &JobId, edit: &Edit) -> Result<u32, Error> {
    let insert = sqlx::query(
        "INSERT INTO jobs (id, title, address, customer, search, stage, next_date, price_low, price_high, updated_at, head)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, 1) ON CONFLICT (id) DO NOTHING",
    );
    let done = bind_card(insert.bind(id.as_str()), &edit.card, edit.change.at)
        .execute(&mut *connection)
        .await?;
    if done.rows_affected() == 0 {
        return Err(Error::Exists);
    }
    add_revision(connection, id, 1, edit).await?;
    Ok(1)
}

async fn save(
    connection: &mut SqliteConnection,
    id: &JobId,
    based_on: u32,
    edit: &Edit,
) -> Result<u32, Error> {
    let Some(number) = based_on.checked_add(1) else {
        return Err(Error::NoSuchRevision(based_on));
    };
    let update = sqlx::query(
        "UPDATE jobs SET title = $2, address = $3, customer = $4, search = $5, stage = $6, next_date = $7,
         price_low = $8, price_high = $9, updated_at = $10, head = head + 1
         WHERE id = $1 AND head = $11 AND removed = 0",
    );
    let done = bind_card(update.bind(id.as_str()), &edit.card, edit.change.at)
        .bind(i64::from(based_on))
        .execute(&mut *connection)
        .await?;
    if done.rows_affected() == 0 {
        return Err(refusal(connection, id, based_on).await?);
    }
    add_revision(connection, id, number, edit).await?;
    Ok(number)
}

async fn undo_to(connection: &mut SqliteConnection, id: &JobId, undo: &Undo) -> Result<u32, Error> {
    let Some(number) = undo.based_on.checked_add(1) else {
        return Err(Error::NoSuchRevision(undo.based_on));
    };
    let done = sqlx::query(
        "UPDATE jobs SET updated_at = $2, head = head + 1
         WHERE id = $1 AND head = $3 AND removed = 0
         AND EXISTS (SELECT 1 FROM revisions WHERE job = $1 AND number = $4)",
    )
    .bind(id.as_str())
    .bind(undo.change.at.0)
    .bind(i64::from(undo.based_on))
    .bind(i64::from(undo.to))
    .execute(&mut *connection)
    .await?;
    if done.rows_affected() == 0 {
        return Err(match refusal(connection, id, undo.based_on).await? {
            Error::Stale(stale) if stale.theirs == undo.based_on => Error::NoSuchRevision(undo.to),
            other => other,
        });
    }
    bring_back(connection, id, undo, number)
        .await
        .map_err(spoiled)?;
    Ok(number)
}

/// The text of the old revision as a new one, and the card as it was with it.
async fn bring_back(
    connection: &mut SqliteConnection,
    id: &JobId,
    undo: &Undo,
    number: u32,
) -> Result<(), Error> {
    let old = read::revision(connection, id, undo.to).await?;
    let mut edit = Edit {
        change: undo.change.clone(),
        card: Card {
            title: old.entry.title,
            price: old.entry.price,
            ..Card::default()
        },
        text: old.text,
    };
    add_revision(connection, id, number, &edit).await?;
    let now = read::entry_in_list(connection, id).await?.card;
    edit.card.address = now.address;
    edit.card.customer = now.customer;
    sqlx::query(
        "UPDATE jobs SET title = $2, search = $3, price_low = $4, price_high = $5 WHERE id = $1",
    )
    .bind(id.as_str())
    .bind(&edit.card.title)
    .bind(search_text(&edit.card))
    .bind(edit.card.price.map(|p| p.low.cents()))
    .bind(edit.card.price.map(|p| p.high.cents()))
    .execute(&mut *connection)
    .await?;
    Ok(())
}

/// Once something is written, nothing is a mere answer any more: the transaction must not be committed.
pub(crate) fn spoiled(error: Error) -> Error {
    match error {
        Error::Database(why) => Error::Database(why),
        other => Error::Database(sqlx::Error::Protocol(other.to_string())),
    }
}

async fn remove(
    connection: &mut SqliteConnection,
    id: &JobId,
    removed: bool,
    at: Moment,
) -> Result<u32, Error> {
    let done = sqlx::query("UPDATE jobs SET removed = $2, updated_at = $3 WHERE id = $1")
        .bind(id.as_str())
        .bind(i64::from(removed))
        .bind(at.0)
        .execute(&mut *connection)
        .await?;
    if done.rows_affected() == 0 {
        return Err(Error::NoSuchJob);
    }
    let listed = read::entry_in_list(connection, id).await;
    Ok(listed.map_err(spoiled)?.revision)
}

/// Why a change based on this revision found nothing to change.
async fn refusal(
    connection: &mut SqliteConnection,
    id: &JobId,
    based_on: u32,
) -> Result<Error, Error> {
    let listed = read::entry_in_list(connection, id).await?;
    if listed.is_removed {
        return Ok(Error::Removed);
    }
    let head = read::revision(connection, id, listed.revision).await?;
    Ok(Error::Stale(Box::new(Stale {
        yours: based_on,
        theirs: head.entry.number,
        by: head.entry.change.by,
        at: head.entry.change.at,
        text: head.text,
    })))
}

async fn add_revision(
    connection: &mut SqliteConnection,
    id: &JobId,
    number: u32,
    edit: &Edit,
) -> Result<(), Error> {
    sqlx::query(
        "INSERT INTO revisions (job, number, at, author, note, title, price_low, price_high, body)
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)",
    )
    .bind(id.as_str())
    .bind(i64::from(number))
    .bind(edit.change.at.0)
    .bind(&edit.change.by)
    .bind(&edit.change.note)
    .bind(&edit.card.title)
    .bind(edit.card.price.map(|p| p.low.cents()))
    .bind(edit.card.price.map(|p| p.high.cents()))
    .bind(&edit.text)
    .execute(connection)
    .await?;
    Ok(())
}

/// Binds $2 to $10.
fn bind_card<'q>(
    query: Query<'q, Sqlite, SqliteArguments>,
    card: &'q Card,
    at: Moment,
) -> Query<'q, Sqlite, SqliteArguments> {
    query
        .bind(&card.title)
        .bind(&card.address)
        .bind(&card.customer)
        .bind(search_text(card))
        .bind(card.stage.word())
        .bind(card.next_date.map(|d| d.to_string()))
        .bind(card.price.map(|p| p.low).map(Dollars::cents))
        .bind(card.price.map(|p| p.high).map(Dollars::cents))
        .bind(at.0)
}

/// What the search looks through, in lower case: databases disagree on what that is beyond ASCII.
fn search_text(card: &Card) -> String {
    format!("{}\n{}\n{}", card.title, card.address, card.customer).to_lowercase()
}
