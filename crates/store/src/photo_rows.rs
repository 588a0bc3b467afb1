//! Which photos does a job have? Its rows: adding, removing, reading. As in `write`, a change that is refused has written nothing.

use sqlx::sqlite::SqliteRow;
use sqlx::{Row, SqliteConnection};

use crate::error::Error;
use crate::id::JobId;
use crate::job::Moment;
use crate::photo::{Kind, Photo, PhotoName, Sha256};
use crate::photos;
use crate::read;
use crate::write::spoiled;

/// A photo whose file is on the disk.
#[derive(Clone, Debug)]
pub(crate) struct NewPhoto {
    pub(crate) photo: photos::NewPhoto,
    pub(crate) bytes: u64,
    pub(crate) sha256: Sha256,
}

/// Adds it, and says its number. One that has the name already is told to be removed, unless it is the same.
pub(crate) async fn add(
    connection: &mut SqliteConnection,
    job: &JobId,
    new: &NewPhoto,
) -> Result<u32, Error> {
    sqlx::query(
        "UPDATE photos SET removed = $4 WHERE job = $1 AND name = $2 AND removed IS NULL AND sha256 <> $3
         AND EXISTS (SELECT 1 FROM jobs WHERE id = $1 AND removed = 0)",
    )
    .bind(job.as_str())
    .bind(new.photo.name.as_str())
    .bind(new.sha256.as_str())
    .bind(new.photo.at.0)
    .execute(&mut *connection)
    .await?;
    sqlx::query(
        "INSERT INTO photos (job, number, name, kind, bytes, sha256, at)
         SELECT $1, 1 + COALESCE((SELECT MAX(number) FROM photos WHERE job = $1), 0), $2, $3, $4, $5, $6
         WHERE EXISTS (SELECT 1 FROM jobs WHERE id = $1 AND removed = 0)
         AND NOT EXISTS (SELECT 1 FROM photos WHERE job = $1 AND name = $2 AND removed IS NULL)",
    )
    .bind(job.as_str())
    .bind(new.photo.name.as_str())
    .bind(new.photo.kind.media_type())
    .bind(i64::try_from(new.bytes).unwrap_or(i64::MAX))
    .bind(new.sha256.as_str())
    .bind(new.photo.at.0)
    .execute(&mut *connection)
    .await?;
    stands(connection, job).await?;
    let now = current(connection, job, &new.photo.name)
        .await
        .map_err(spoiled)?;
    Ok(now.number)
}

/// Says that it is removed, and its number. `expected` is what the caller saw there last.
pub(crate) async fn remove(
    connection: &mut SqliteConnection,
    job: &JobId,
    name: &PhotoName,
    expected: Option<&Sha256>,
    at: Moment,
) -> Result<u32, Error> {
    let removed = sqlx::query(
        "UPDATE photos SET removed = $3 WHERE job = $1 AND name = $2 AND removed IS NULL AND ($4 IS NULL OR sha256 = $4)
         AND EXISTS (SELECT 1 FROM jobs WHERE id = $1 AND removed = 0) RETURNING number",
    )
    .bind(job.as_str())
    .bind(name.as_str())
    .bind(at.0)
    .bind(expected.map(Sha256::as_str))
    .fetch_optional(&mut *connection)
    .await?;
    if let Some(row) = removed {
        return Ok(read::number(&row, "number")?);
    }
    stands(connection, job).await?;
    Err(Error::OtherPhoto(Box::new(
        current(connection, job, name).await?,
    )))
}

/// The job is there and takes changes.
async fn stands(connection: &mut SqliteConnection, job: &JobId) -> Result<(), Error> {
    let removed: Option<i64> = sqlx::query_scalar("SELECT removed FROM jobs WHERE id = $1")
        .bind(job.as_str())
        .fetch_optional(connection)
        .await?;
    match removed {
        None => Err(Error::NoSuchJob),
        Some(0) => Ok(()),
        Some(_) => Err(Error::Removed),
    }
}

/// The photo that has this name now.
pub(crate) async fn current(
    connection: &mut SqliteConnection,
    job: &JobId,
    name: &PhotoName,
) -> Result<Photo, Error> {
    let row = sqlx::query("SELECT * FROM photos WHERE job = $1 AND name = $2 AND removed IS NULL")
        .bind(job.as_str())
        .bind(name.as_str())
        .fetch_optional(&mut *connection)
        .await?;
    one(connection, job, row).await
}

/// The photo with this number, removed or not.
pub(crate) async fn numbered(
    connection: &mut SqliteConnection,
    job: &JobId,
    number: u32,
) -> Result<Photo, Error> {
    let row = sqlx::query("SELECT * FROM photos WHERE job = $1 AND number = $2")
        .bind(job.as_str())
        .bind(i64::from(number))
        .fetch_optional(&mut *connection)
        .await?;
    one(connection, job, row).await
}

async fn one(
    connection: &mut SqliteConnection,
    job: &JobId,
    row: Option<SqliteRow>,
) -> Result<Photo, Error> {
    match row {
        Some(row) => photo(&row),
        None => {
            read::job(connection, job).await?;
            Err(Error::NoSuchPhoto)
        }
    }
}

/// Every photo of the job, oldest first, removed or not.
pub(crate) async fn all(
    connection: &mut SqliteConnection,
    job: &JobId,
) -> Result<Vec<Photo>, Error> {
    read::job(connection, job).await?;
    let rows = sqlx::query("SELECT * FROM photos WHERE job = $1 ORDER BY number")
        .bind(job.as_str())
        .fetch_all(connection)
        .await?;
    rows.iter().map(photo).collect()
}

fn photo(row: &SqliteRow) -> Result<Photo, Error> {
    let text = |column: &str| row.try_get::<String, _>(column);
    let kind = text("kind")?;
    Ok(Photo {
        number: read::number(row, "number")?,
        name: text("name")?.parse().map_err(read::decode)?,
        kind: Kind::of_media_type(&kind)
            .ok_or_else(|| sqlx::Error::Decode(format!("kind `{kind}`").into()))?,
        bytes: u64::try_from(row.try_get::<i64, _>("bytes")?).map_err(read::decode)?,
        sha256: text("sha256")?.parse().map_err(read::decode)?,
        at: Moment(row.try_get("at")?),
        removed: row.try_get::<Option<i64>, _>("removed")?.map(Moment),
    })
}
