//! What the store promises of photos: the bytes come back as they were given, nothing that was kept is ever destroyed,
//! saves of jobs do not wait for a photo. The judge of bytes is a copy outside of the store.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::path::Path;

use store::{Edit, Error, JobId, Kind, Moment, NewPhoto, Photo, PhotoName, Store};
use tokio::io::AsyncReadExt;

async fn fresh() -> (tempfile::TempDir, Store, JobId) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, Edit::default()).await.unwrap();
    (folder, store, id)
}

fn name(text: &str) -> PhotoName {
    text.parse().unwrap()
}

async fn keep(
    store: &Store,
    id: &JobId,
    called: &str,
    at: i64,
    bytes: &[u8],
) -> Result<Photo, Error> {
    let mut incoming = store.new_photo().await.unwrap();
    for part in bytes.chunks(1000) {
        incoming.write(part).await.unwrap();
    }
    let new = NewPhoto {
        name: name(called),
        kind: Kind::Jpeg,
        at: Moment(at),
    };
    store.keep_photo(id, new, incoming).await
}

async fn bytes_of(store: &Store, photo: &Photo) -> Vec<u8> {
    let mut bytes = Vec::new();
    store
        .open_photo(photo)
        .await
        .unwrap()
        .read_to_end(&mut bytes)
        .await
        .unwrap();
    bytes
}

fn files(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder.join("photos"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

/// The SHA-256 of "abc" is the example of FIPS 180-4.
#[tokio::test]
async fn a_photo_comes_back_as_it_was_given_also_from_a_copy_of_the_folder() {
    let (folder, store, id) = fresh().await;
    let large: Vec<u8> = (0..250_000_u32).flat_map(u32::to_le_bytes).collect();
    let small = keep(&store, &id, "Meter", 5, b"abc").await.unwrap();
    let big = keep(&store, &id, "Panel: cover off", 6, &large)
        .await
        .unwrap();
    assert_eq!(
        small.sha256.as_str(),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
    assert_eq!(
        (small.number, small.bytes, small.at, small.removed),
        (1, 3, Moment(5), None)
    );
    store.close().await;

    let copy = tempfile::tempdir().unwrap();
    std::fs::copy(folder.path().join("jobs.db"), copy.path().join("jobs.db")).unwrap();
    std::fs::create_dir(copy.path().join("photos")).unwrap();
    for file in files(folder.path()) {
        std::fs::copy(
            folder.path().join("photos").join(&file),
            copy.path().join("photos").join(&file),
        )
        .unwrap();
    }
    drop(folder);
    let store = Store::open(copy.path()).await.unwrap();
    assert_eq!(store.photos(&id).await.unwrap(), [small, big.clone()]);
    assert_eq!(
        store.photo(&id, &name("Panel: cover off")).await.unwrap(),
        big
    );
    assert_eq!(bytes_of(&store, &big).await, large);
}

#[tokio::test]
async fn taken_again_or_removed_an_older_photo_stays_to_be_read() {
    let (folder, store, id) = fresh().await;
    let first = keep(&store, &id, "Meter", 1, b"first").await.unwrap();
    let second = keep(&store, &id, "Meter", 2, b"second").await.unwrap();
    let removed = store
        .remove_photo(&id, &name("Meter"), None, Moment(3))
        .await
        .unwrap();
    assert_eq!((second.number, removed.removed), (2, Some(Moment(3))));
    assert!(matches!(
        store.photo(&id, &name("Meter")).await,
        Err(Error::NoSuchPhoto)
    ));
    let again = keep(&store, &id, "Meter", 4, b"first").await.unwrap();
    let all = store.photos(&id).await.unwrap();
    assert_eq!(
        all,
        [
            Photo {
                removed: Some(Moment(2)),
                ..first
            },
            removed,
            again
        ]
    );
    for (photo, bytes) in all.iter().zip([b"first".as_slice(), b"second", b"first"]) {
        assert_eq!(bytes_of(&store, photo).await, bytes);
    }
    assert_eq!(
        files(folder.path()).len(),
        2,
        "the same bytes lie there once"
    );
}

#[tokio::test]
async fn the_same_photo_sent_twice_is_kept_once() {
    let (_folder, store, id) = fresh().await;
    let first = keep(&store, &id, "Meter", 1, b"one").await.unwrap();
    assert_eq!(keep(&store, &id, "Meter", 9, b"one").await.unwrap(), first);
    assert_eq!(
        store.photos(&id).await.unwrap(),
        std::slice::from_ref(&first)
    );
    let elsewhere = keep(&store, &id, "Panel", 9, b"one").await.unwrap();
    assert_eq!((elsewhere.number, &elsewhere.sha256), (2, &first.sha256));
}

#[tokio::test]
async fn what_was_not_seen_is_not_removed() {
    let (_folder, store, id) = fresh().await;
    let first = keep(&store, &id, "Meter", 1, b"one").await.unwrap();
    let second = keep(&store, &id, "Meter", 2, b"two").await.unwrap();
    let error = store
        .remove_photo(&id, &name("Meter"), Some(&first.sha256), Moment(3))
        .await
        .unwrap_err();
    assert!(
        matches!(&error, Error::OtherPhoto(there) if **there == second),
        "{error}"
    );
    assert_eq!(store.photo(&id, &name("Meter")).await.unwrap(), second);
    store
        .remove_photo(&id, &name("Meter"), Some(&second.sha256), Moment(4))
        .await
        .unwrap();
    let error = store
        .remove_photo(&id, &name("Meter"), None, Moment(5))
        .await
        .unwrap_err();
    assert!(matches!(error, Error::NoSuchPhoto), "{error}");
}

#[tokio::test]
async fn a_job_that_is_removed_or_unknown_takes_no_photo() {
    let (_folder, store, id) = fresh().await;
    let kept = keep(&store, &id, "Meter", 1, b"one").await.unwrap();
    store.remove(&id, Moment(2)).await.unwrap();
    assert!(matches!(
        keep(&store, &id, "Meter", 3, b"two").await,
        Err(Error::Removed)
    ));
    assert!(matches!(
        store
            .remove_photo(&id, &name("Meter"), None, Moment(4))
            .await,
        Err(Error::Removed)
    ));
    assert_eq!(store.photos(&id).await.unwrap(), [kept]);
    let nobody = JobId::new(Moment(9)).unwrap();
    assert!(matches!(
        keep(&store, &nobody, "Meter", 3, b"two").await,
        Err(Error::NoSuchJob)
    ));
    assert!(matches!(store.photos(&nobody).await, Err(Error::NoSuchJob)));
}

#[tokio::test]
async fn saves_go_on_while_a_photo_is_half_written_and_what_breaks_off_leaves_nothing() {
    let (folder, store, id) = fresh().await;
    let mut incoming = store.new_photo().await.unwrap();
    incoming.write(b"half").await.unwrap();
    assert_eq!(store.save(&id, 1, Edit::default()).await.unwrap(), 2);
    assert_eq!(files(folder.path()).len(), 1);
    drop(incoming);
    assert_eq!(
        (store.photos(&id).await.unwrap(), files(folder.path())),
        (Vec::new(), Vec::new())
    );
}

#[tokio::test]
async fn what_a_dead_program_left_half_written_is_swept_up_after_a_day_and_nothing_else() {
    let (folder, store, id) = fresh().await;
    let kept = keep(&store, &id, "Meter", 1, b"one").await.unwrap();
    store.close().await;
    let long_ago = std::time::SystemTime::now() - std::time::Duration::from_secs(90_000);
    let photos = folder.path().join("photos");
    for (file, when) in [
        ("old.part", Some(long_ago)),
        ("young.part", None),
        ("own.jpg", Some(long_ago)),
    ] {
        let file = std::fs::File::create(photos.join(file)).unwrap();
        if let Some(when) = when {
            file.set_modified(when).unwrap();
        }
    }
    let store = Store::open(folder.path()).await.unwrap();
    let mut expected = vec![
        format!("{}.jpg", kept.sha256),
        "own.jpg".to_owned(),
        "young.part".to_owned(),
    ];
    expected.sort();
    assert_eq!(files(folder.path()), expected);
    std::fs::remove_file(photos.join(format!("{}.jpg", kept.sha256))).unwrap();
    assert!(matches!(
        store.open_photo(&kept).await,
        Err(Error::PhotoGone)
    ));
    assert_eq!(keep(&store, &id, "Meter", 2, b"one").await.unwrap(), kept);
    assert_eq!(
        bytes_of(&store, &kept).await,
        b"one",
        "kept again, it is mended"
    );
}

/// The database itself refuses to forget a photo.
#[tokio::test]
async fn a_row_is_never_taken_away_and_only_removal_is_ever_added_to_it() {
    use sqlx::{Connection, SqliteConnection, sqlite::SqliteConnectOptions};
    let (folder, store, id) = fresh().await;
    keep(&store, &id, "Meter", 1, b"one").await.unwrap();
    let options = SqliteConnectOptions::new().filename(folder.path().join("jobs.db"));
    let mut connection = SqliteConnection::connect_with(&options).await.unwrap();
    for sql in [
        "DELETE FROM photos",
        "UPDATE photos SET sha256 = 'x', removed = 1",
        "UPDATE photos SET name = 'Other', removed = 1",
        "UPDATE photos SET removed = NULL",
    ] {
        let error = sqlx::query(sql).execute(&mut connection).await.unwrap_err();
        assert!(error.to_string().contains("append-only"), "{sql}: {error}");
    }
    let once = "UPDATE photos SET removed = 1";
    sqlx::query(once).execute(&mut connection).await.unwrap();
    sqlx::query(once)
        .execute(&mut connection)
        .await
        .unwrap_err();
}
