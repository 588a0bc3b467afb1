//! The questions about jobs: one job, its history, one of its texts, the list.

use model::Dollars;
use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::error::Error;
use crate::id::JobId;
use crate::job::{
    Card, Change, Cursor, Entry, Job, Listed, Moment, Page, PriceRange, Revision, Stage,
};

/// Most jobs in one page of the list.
pub const MOST_PER_PAGE: u32 = 500;

/// Most words of a search that are looked at.
const MOST_WORDS: usize = 4;

pub(crate) async fn job(connection: &mut SqliteConnection, id: &JobId) -> Result<Job, Error> {
    let row = sqlx::query(
        "SELECT j.id, j.title, j.address, j.customer, j.stage, j.next_date, j.price_low, j.price_high,
                j.head, j.updated_at, j.removed, r.body
         FROM jobs j JOIN revisions r ON r.job = j.id AND r.number = j.head WHERE j.id = $1",
    )
    .bind(id.as_str())
    .fetch_optional(connection)
    .await?
    .ok_or(Error::NoSuchJob)?;
    Ok(Job {
        listed: listed(&row)?,
        text: row.try_get("body")?,
    })
}

/// The job's entry in the list, removed or not; its text, which is most of a job, is not read.
pub(crate) async fn entry_in_list(
    connection: &mut SqliteConnection,
    id: &JobId,
) -> Result<Listed, Error> {
    let row = sqlx::query(
        "SELECT id, title, address, customer, stage, next_date, price_low, price_high, head, updated_at, removed
         FROM jobs WHERE id = $1",
    )
    .bind(id.as_str())
    .fetch_optional(connection)
    .await?
    .ok_or(Error::NoSuchJob)?;
    Ok(listed(&row)?)
}

pub(crate) async fn history(
    connection: &mut SqliteConnection,
    id: &JobId,
) -> Result<Vec<Entry>, Error> {
    let rows = sqlx::query(
        "SELECT number, at, author, note, title, price_low, price_high
         FROM revisions WHERE job = $1 ORDER BY number",
    )
    .bind(id.as_str())
    .fetch_all(connection)
    .await?;
    if rows.is_empty() {
        return Err(Error::NoSuchJob);
    }
    Ok(rows.iter().map(entry).collect::<Result<_, _>>()?)
}

pub(crate) async fn revision(
    connection: &mut SqliteConnection,
    id: &JobId,
    number: u32,
) -> Result<Revision, Error> {
    let row = sqlx::query(
        "SELECT number, at, author, note, title, price_low, price_high, body
         FROM revisions WHERE job = $1 AND number = $2",
    )
    .bind(id.as_str())
    .bind(i64::from(number))
    .fetch_optional(&mut *connection)
    .await?;
    match row {
        Some(row) => Ok(Revision {
            entry: entry(&row)?,
            text: row.try_get("body")?,
        }),
        None => {
            job(connection, id).await?;
            Err(Error::NoSuchRevision(number))
        }
    }
}

pub(crate) async fn is_empty(connection: &mut SqliteConnection) -> Result<bool, Error> {
    let any: i64 = sqlx::query_scalar("SELECT EXISTS (SELECT 1 FROM jobs)")
        .fetch_one(connection)
        .await?;
    Ok(any == 0)
}

/// Jobs that hold every word of `search` in title, address or customer, newest change first.
pub(crate) async fn list(
    connection: &mut SqliteConnection,
    search: &str,
    limit: u32,
    after: Option<&Cursor>,
) -> Result<Page, Error> {
    let limit = limit.clamp(1, MOST_PER_PAGE);
    let mut words = search.split_whitespace().take(MOST_WORDS).map(pattern);
    let mut word = || words.next().unwrap_or_else(|| "%".to_owned());
    let (at, id) = after.map_or((i64::MAX, "~"), |c| (c.updated_at.0, c.id.as_str()));
    let rows = sqlx::query(
        r"SELECT id, title, address, customer, stage, next_date, price_low, price_high, head, updated_at, removed
          FROM jobs
          WHERE removed = 0 AND updated_at <= $1 AND (updated_at < $1 OR id < $2)
            AND search LIKE $3 ESCAPE '\' AND search LIKE $4 ESCAPE '\'
            AND search LIKE $5 ESCAPE '\' AND search LIKE $6 ESCAPE '\'
          ORDER BY updated_at DESC, id DESC LIMIT $7",
    )
    .bind(at)
    .bind(id)
    .bind(word())
    .bind(word())
    .bind(word())
    .bind(word())
    .bind(i64::from(limit) + 1)
    .fetch_all(connection)
    .await?;
    let mut jobs = rows.iter().map(listed).collect::<Result<Vec<_>, _>>()?;
    let is_more = jobs.len() > limit as usize;
    jobs.truncate(limit as usize);
    let next = jobs.last().filter(|_| is_more).map(|last| Cursor {
        updated_at: last.updated_at,
        id: last.id.clone(),
    });
    Ok(Page { jobs, next })
}

/// The word anywhere, with nothing in it meaning more than itself.
fn pattern(word: &str) -> String {
    let mut out = String::from("%");
    for c in word.to_lowercase().chars() {
        if matches!(c, '%' | '_' | '\\') {
            out.push('\\');
        }
        out.push(c);
    }
    out.push('%');
    out
}

fn listed(row: &SqliteRow) -> Result<Listed, sqlx::Error> {
    let id: String = row.try_get("id")?;
    let stage: String = row.try_get("stage")?;
    let next_date: Option<String> = row.try_get("next_date")?;
    Ok(Listed {
        id: id.parse().map_err(decode)?,
        card: Card {
            title: row.try_get("title")?,
            address: row.try_get("address")?,
            customer: row.try_get("customer")?,
            stage: Stage::from_word(&stage)
                .ok_or_else(|| sqlx::Error::Decode(format!("stage `{stage}`").into()))?,
            next_date: next_date.map(|d| d.parse()).transpose().map_err(decode)?,
            price: price(row)?,
        },
        revision: number(row, "head")?,
        updated_at: Moment(row.try_get("updated_at")?),
        is_removed: row.try_get::<i64, _>("removed")? != 0,
    })
}

fn entry(row: &SqliteRow) -> Result<Entry, sqlx::Error> {
    Ok(Entry {
        number: number(row, "number")?,
        change: Change {
            at: Moment(row.try_get("at")?),
            by: row.try_get("author")?,
            note: row.try_get("note")?,
        },
        title: row.try_get("title")?,
        price: price(row)?,
    })
}

fn price(row: &SqliteRow) -> Result<Option<PriceRange>, sqlx::Error> {
    let low: Option<i64> = row.try_get("price_low")?;
    let high: Option<i64> = row.try_get("price_high")?;
    Ok(low.zip(high).map(|(low, high)| PriceRange {
        low: Dollars::from_cents(low),
        high: Dollars::from_cents(high),
    }))
}

pub(crate) fn number(row: &SqliteRow, column: &str) -> Result<u32, sqlx::Error> {
    u32::try_from(row.try_get::<i64, _>(column)?).map_err(decode)
}

pub(crate) fn decode(why: impl std::error::Error + Send + Sync + 'static) -> sqlx::Error {
    sqlx::Error::Decode(Box::new(why))
}
