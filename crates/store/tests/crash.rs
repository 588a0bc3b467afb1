//! What was answered as saved survives the death of the program; what was not is there wholly or not at all.
//! The judge is SQLite's own `integrity_check`, and a list of answers that lies outside of the database.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};

use sqlx::Connection;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use store::{Change, Edit, FILE_NAME, JobId, Kind, Moment, NewPhoto, Store};
use tokio::io::AsyncReadExt;

const FOLDER: &str = "STORE_CRASH_FOLDER";

fn edit(text: String) -> Edit {
    Edit {
        change: Change::default(),
        text,
        ..Edit::default()
    }
}

async fn connect(folder: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(folder.join(FILE_NAME));
    SqliteConnection::connect_with(&options).await.unwrap()
}

async fn integrity(folder: &Path) -> String {
    let mut connection = connect(folder).await;
    sqlx::query_scalar("PRAGMA integrity_check")
        .fetch_one(&mut connection)
        .await
        .unwrap()
}

/// Not a promise of its own: the program that is killed. It saves without end and tells each answer.
#[tokio::test]
#[ignore = "run as a child by the test below"]
async fn saves_until_it_is_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else {
        return;
    };
    let store = Store::open(Path::new(&folder)).await.unwrap();
    let id = JobId::new(Moment(1)).unwrap();
    store
        .create(&id, edit("text of 1".to_owned()))
        .await
        .unwrap();
    println!("job {id}");
    for revision in 1.. {
        let text = format!("text of {}", revision + 1).repeat(200);
        let saved = store.save(&id, revision, edit(text)).await.unwrap();
        println!("saved {saved}");
    }
}

/// Runs one of the tests that never end, kills it after so many answers, and gives the job and the last number it answered for.
fn killed_after(folder: &Path, test: &str, answers: u32) -> (JobId, u32) {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", test, "--ignored", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let mut id = None;
    let mut last = 0;
    while last < answers {
        let line = lines.next().unwrap().unwrap();
        if let Some(text) = line.split("job ").nth(1) {
            id = Some(text.parse::<JobId>().unwrap());
        } else if let Some(number) = line.strip_prefix("saved ") {
            last = number.parse().unwrap();
        }
    }
    child.kill().unwrap();
    child.wait().unwrap();
    for line in lines.map_while(Result::ok) {
        if let Some(Ok(number)) = line.strip_prefix("saved ").map(str::parse) {
            last = number;
        }
    }
    (id.unwrap(), last)
}

#[tokio::test]
async fn a_killed_program_loses_nothing_it_answered_for() {
    for answers in [2, 8, 41] {
        let folder = tempfile::tempdir().unwrap();
        let (id, last) = killed_after(folder.path(), "saves_until_it_is_killed", answers);

        assert_eq!(integrity(folder.path()).await, "ok");
        let store = Store::open(folder.path()).await.unwrap();
        let history = store.history(&id).await.unwrap();
        let head = store.get(&id).await.unwrap().listed.revision;
        assert!(head >= last, "answered {last}, found {head}");
        assert_eq!(history.len(), head as usize);
        for number in 2..=head {
            let text = store.revision(&id, number).await.unwrap().text;
            assert_eq!(text, format!("text of {number}").repeat(200));
        }
        assert_eq!(
            store.save(&id, head, edit("on".to_owned())).await.unwrap(),
            head + 1
        );
    }
}

/// What the bytes of a photo are, told by its number.
fn bytes(number: u32) -> Vec<u8> {
    number.to_le_bytes().repeat(40_000)
}

/// As above, with photos.
#[tokio::test]
#[ignore = "run as a child by the test below"]
async fn keeps_photos_until_it_is_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else {
        return;
    };
    let store = Store::open(Path::new(&folder)).await.unwrap();
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, edit(String::new())).await.unwrap();
    println!("job {id}");
    for number in 1.. {
        let mut incoming = store.new_photo().await.unwrap();
        for part in bytes(number).chunks(10_000) {
            incoming.write(part).await.unwrap();
        }
        let new = NewPhoto {
            name: format!("Photo {number}").parse().unwrap(),
            kind: Kind::Jpeg,
            at: Moment(i64::from(number)),
        };
        let kept = store.keep_photo(&id, new, incoming).await.unwrap();
        println!("saved {}", kept.number);
    }
}

#[tokio::test]
async fn a_killed_program_leaves_every_photo_it_answered_for_and_none_that_is_not_whole() {
    for answers in [1, 9] {
        let folder = tempfile::tempdir().unwrap();
        let (id, last) = killed_after(folder.path(), "keeps_photos_until_it_is_killed", answers);
        assert_eq!(integrity(folder.path()).await, "ok");
        let store = Store::open(folder.path()).await.unwrap();
        let photos = store.photos(&id).await.unwrap();
        assert!(photos.len() >= last as usize, "answered {last}");
        for photo in photos {
            let mut read = Vec::new();
            let mut file = store.open_photo(&photo).await.unwrap();
            file.read_to_end(&mut read).await.unwrap();
            assert!(read == bytes(photo.number), "photo {}", photo.number);
        }
    }
}

#[tokio::test]
async fn a_connection_that_is_gone_between_two_statements_leaves_no_trace() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(folder.path()).await.unwrap();
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, edit("one".to_owned())).await.unwrap();
    let before = store.get(&id).await.unwrap();
    store.close().await;

    let mut connection = connect(folder.path()).await;
    let mut transaction = connection.begin().await.unwrap();
    sqlx::query("UPDATE jobs SET head = head + 1, title = 'half'")
        .execute(&mut *transaction)
        .await
        .unwrap();
    // Neither commit nor rollback is ever sent.
    std::mem::forget(transaction);
    drop(connection);

    assert_eq!(integrity(folder.path()).await, "ok");
    let store = Store::open(folder.path()).await.unwrap();
    assert_eq!(store.get(&id).await.unwrap(), before);
    assert_eq!(store.save(&id, 1, edit("two".to_owned())).await.unwrap(), 2);
}
