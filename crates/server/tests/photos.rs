//! Photos over a real connection: the bytes come back, nothing that is no photo is taken, nothing that was kept is lost.
//! The judge of bytes is the copy that was sent, and the folder on the disk.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use std::net::SocketAddr;
use std::path::Path;

use common::{JOB, Reply, get, new_job, plugs, send, start, titled, write};
use proptest::prelude::*;
use serde_json::{Value, json};
use server::Options;
use tokio::io::{AsyncReadExt, AsyncWriteExt};

/// How a file of each kind begins.
const HEADS: [(&str, &[u8]); 4] = [
    ("image/jpeg", b"\xff\xd8\xff\xe0\0\x10JFIF\0\x01"),
    ("image/png", b"\x89PNG\r\n\x1a\n\0\0\0\x0d"),
    ("image/webp", b"RIFF\x24\0\0\0WEBP"),
    ("image/heic", b"\0\0\0\x18ftypheic"),
];

fn photo(kind: usize, tail: &[u8]) -> Vec<u8> {
    [HEADS[kind].1, tail].concat()
}

async fn put(to: SocketAddr, path: &str, kind: &str, bytes: Vec<u8>) -> Reply {
    send(to, "PUT", path, &[("content-type", kind)], bytes).await
}

fn is_problem(reply: &Reply, status: u16) {
    assert_eq!(
        reply.status,
        status,
        "{}",
        String::from_utf8_lossy(&reply.body)
    );
    let body = reply.json();
    for name in ["error", "advice"] {
        assert!(
            body[name].as_str().is_some_and(|text| !text.is_empty()),
            "{body}"
        );
    }
    let text = body.to_string().to_lowercase();
    assert!(
        !text.contains("/tmp") && !text.contains("sql") && !text.contains("os error"),
        "{text}"
    );
}

fn files(folder: &Path) -> usize {
    std::fs::read_dir(folder.join("photos")).map_or(0, Iterator::count)
}

#[tokio::test]
async fn a_photo_is_kept_read_taken_again_and_removed_and_every_one_of_them_stays() {
    let (folder, running) = start().await;
    let to = running.address();
    let job = new_job(to).await;
    let list = format!("{job}/photos");
    let path = format!("{list}/Garage%2Fattic:%20cover%20off%20%C2%BD");
    let name = "Garage/attic: cover off ½";
    let first = photo(0, &[7; 300_000]);

    let kept = put(to, &path, "image/jpeg", first.clone()).await;
    assert_eq!(kept.status, 200, "{}", String::from_utf8_lossy(&kept.body));
    let row = kept.json();
    assert_eq!(
        kept.header("etag"),
        format!("\"{}\"", row["sha256"].as_str().unwrap())
    );
    assert_eq!(
        (
            &row["number"],
            &row["name"],
            &row["kind"],
            &row["bytes"],
            &row["removed"]
        ),
        (
            &json!(1),
            &json!(name),
            &json!("image/jpeg"),
            &json!(first.len()),
            &Value::Null
        )
    );
    assert_eq!(
        put(to, &path, "image/jpeg", first.clone()).await.json(),
        row,
        "sent twice, kept once"
    );

    let read = get(to, &path).await;
    assert_eq!((read.status, &read.body), (200, &first));
    assert_eq!(read.header("content-type"), "image/jpeg");
    assert_eq!(read.header("content-length"), first.len().to_string());
    assert_eq!(read.header("cache-control"), "private, no-cache");
    assert_eq!(read.header("x-content-type-options"), "nosniff");
    assert_eq!(
        read.header("content-disposition"),
        "inline; filename=\"Garage-attic--cover-off-1.jpg\""
    );
    let tag = kept.header("etag");
    let same = send(to, "GET", &path, &[("if-none-match", tag)], "").await;
    assert_eq!(
        (same.status, same.body.len(), same.header("etag")),
        (304, 0, tag)
    );

    let second = photo(1, b"another");
    let again = put(to, &path, "IMAGE/PNG", second.clone()).await;
    assert_eq!((again.status, &again.json()["number"]), (200, &json!(2)));
    assert_eq!(get(to, &path).await.body, second);
    let late = send(to, "DELETE", &path, &[("if-match", tag)], "").await;
    is_problem(&late, 412);
    assert_eq!(late.json()["theirs"], again.json());
    let removed = send(
        to,
        "DELETE",
        &path,
        &[("if-match", again.header("etag"))],
        "",
    )
    .await;
    assert_eq!(
        (removed.status, removed.json()["removed"].is_i64()),
        (200, true)
    );
    is_problem(&get(to, &path).await, 404);
    is_problem(&send(to, "DELETE", &path, &[], "").await, 404);
    assert_eq!(get(to, &list).await.json(), json!({ "photos": [] }));

    let all = get(to, &format!("{list}?all=true")).await.json();
    assert_eq!(all["photos"].as_array().unwrap().len(), 2);
    for (number, bytes) in [(1, &first), (2, &second)] {
        assert_eq!(
            get(to, &format!("{path}?number={number}")).await.body,
            *bytes
        );
    }
    is_problem(&get(to, &format!("{list}/Other?number=1")).await, 404);
    assert_eq!(files(folder.path()), 2);
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_photo_outlives_the_program_and_a_removed_job_and_leaves_the_jobs_revision_alone() {
    let (folder, running) = start().await;
    let to = running.address();
    let job = new_job(to).await;
    let path = format!("{job}/photos/Meter");
    let bytes = photo(2, b"the meter");
    assert_eq!(
        put(to, &path, "image/webp", bytes.clone()).await.status,
        200
    );
    assert_eq!(get(to, &job).await.json()["revision"], 1);
    running.stop().await.unwrap();

    let running = server::start(&Options::new(folder.path(), 0), plugs())
        .await
        .unwrap();
    let to = running.address();
    assert_eq!(get(to, &path).await.body, bytes);
    send(to, "DELETE", &job, &[], "").await;
    is_problem(&put(to, &path, "image/webp", photo(2, b"late")).await, 410);
    is_problem(&send(to, "DELETE", &path, &[], "").await, 410);
    assert_eq!(get(to, &path).await.body, bytes);
    assert_eq!(files(folder.path()), 1, "what was refused left no file");
    send(to, "POST", &format!("{job}/restore"), &[], "").await;
    assert_eq!(
        put(to, &path, "image/webp", photo(2, b"late")).await.status,
        200
    );

    for entry in std::fs::read_dir(folder.path().join("photos")).unwrap() {
        std::fs::remove_file(entry.unwrap().path()).unwrap();
    }
    is_problem(&get(to, &path).await, 404);
    running.stop().await.unwrap();
}

#[tokio::test]
async fn what_is_no_photo_or_another_kind_than_is_said_is_refused_with_words() {
    let (folder, running) = start().await;
    let to = running.address();
    let job = new_job(to).await;
    let path = format!("{job}/photos/Meter");
    let svg = b"<svg xmlns=\"http://www.w3.org/2000/svg\"><script>1</script></svg>".to_vec();
    for (said, bytes) in [
        ("image/jpeg", b"this is a shopping list".to_vec()),
        ("image/jpeg", svg.clone()),
        ("image/svg+xml", svg),
        ("image/jpeg", photo(1, b"a PNG")),
        ("image/png", photo(0, b"a JPEG")),
        ("image/gif", b"GIF89a 1234567890".to_vec()),
        ("application/json", photo(0, b"")),
        ("image/jpeg; charset=utf-8", photo(0, b"")),
        ("image/jpeg", Vec::new()),
        ("image/jpeg", b"\xff\xd8\xff".to_vec()),
    ] {
        let reply = put(to, &path, said, bytes).await;
        is_problem(&reply, 415);
        assert!(
            reply.json()["expected"]
                .as_str()
                .unwrap()
                .contains("image/jpeg, image/png, image/webp, image/heic")
        );
    }
    is_problem(&send(to, "PUT", &path, &[], photo(0, b"")).await, 415);
    is_problem(
        &put(to, &path, "image/jpeg", photo(0, &vec![0; 26_214_400])).await,
        413,
    );
    let nobody = "/api/v1/jobs/0197a0c4-5b1e-7c3d-9a2f-1b2c3d4e5f60/photos/Meter";
    is_problem(&put(to, nobody, "image/jpeg", photo(0, b"")).await, 404);
    for name in ["%20", "...", "a%0Ab", "%20a", &"x".repeat(201)] {
        for method in ["GET", "PUT", "DELETE"] {
            let path = format!("{job}/photos/{name}");
            is_problem(
                &send(
                    to,
                    method,
                    &path,
                    &[("content-type", "image/jpeg")],
                    photo(0, b""),
                )
                .await,
                400,
            );
        }
    }
    for query in ["all=1", "number=2"] {
        is_problem(&get(to, &format!("{job}/photos?{query}")).await, 400);
    }
    is_problem(&get(to, &format!("{path}?number=x")).await, 400);
    is_problem(
        &send(to, "DELETE", &path, &[("if-match", "\"7\"")], "").await,
        400,
    );
    assert_eq!(files(folder.path()), 0);
    assert_eq!(
        put(to, &path, "image/jpeg", photo(0, &vec![0; 26_214_400 - 12]))
            .await
            .status,
        200,
        "25 MB is taken"
    );
    running.stop().await.unwrap();
}

#[tokio::test]
async fn another_page_can_neither_keep_nor_remove_a_photo() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = format!("{}/photos/Meter", new_job(to).await);
    put(to, &path, "image/jpeg", photo(0, b"mine")).await;
    for header in [
        ("origin", "https://evil.example"),
        ("origin", "null"),
        ("sec-fetch-site", "cross-site"),
    ] {
        for method in ["PUT", "DELETE"] {
            let headers = [("content-type", "image/jpeg"), header];
            is_problem(
                &send(to, method, &path, &headers, photo(0, b"theirs")).await,
                403,
            );
        }
    }
    is_problem(
        &send(to, "GET", &path, &[("host", "evil.example")], "").await,
        421,
    );
    assert_eq!(get(to, &path).await.body, photo(0, b"mine"));
    running.stop().await.unwrap();
}

/// The upload stands still in its middle; that no save waits for it is the promise.
#[tokio::test]
async fn a_slow_upload_holds_up_no_save_and_breaking_off_leaves_nothing() {
    let (folder, running) = start().await;
    let to = running.address();
    let job = new_job(to).await;
    let head = format!(
        "PUT {job}/photos/Meter HTTP/1.1\r\nhost: {to}\r\ncontent-type: image/jpeg\r\ncontent-length: 100000\r\n\r\n"
    );
    let mut stream = tokio::net::TcpStream::connect(to).await.unwrap();
    stream.write_all(head.as_bytes()).await.unwrap();
    stream.write_all(&photo(0, &[1; 50_000])).await.unwrap();
    while files(folder.path()) == 0 {
        tokio::task::yield_now().await;
    }
    let body = json!({ "text": titled("While a photo comes in") });
    assert_eq!(write(to, "PUT", &job, Some(1), &body).await.status, 200);
    stream.shutdown().await.unwrap();
    let mut said = Vec::new();
    let _ = stream.read_to_end(&mut said).await;
    while files(folder.path()) != 0 {
        tokio::task::yield_now().await;
    }
    assert_eq!(
        get(to, &format!("{job}/photos?all=true")).await.json(),
        json!({ "photos": [] })
    );
    running.stop().await.unwrap();
}

/// A body, and the kind it is by the way it was made.
fn any_body() -> impl Strategy<Value = (Vec<u8>, Option<usize>)> {
    let bytes = || proptest::collection::vec(any::<u8>(), 0..300);
    prop_oneof![
        3 => (0..HEADS.len(), bytes()).prop_map(|(kind, tail)| (photo(kind, &tail), Some(kind))),
        1 => (0..HEADS.len(), 0..12_usize).prop_map(|(kind, cut)| (HEADS[kind].1[..cut].to_vec(), None)),
        // No kind begins with this byte, whatever follows.
        1 => bytes().prop_map(|tail| ([b"<".as_slice(), &tail].concat(), None)),
    ]
}

/// One server takes all cases, so that what one breaks the next would notice.
#[test]
fn a_photo_is_taken_exactly_when_it_is_what_it_is_said_to_be() {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .unwrap();
    let folder = tempfile::tempdir().unwrap();
    let running = runtime
        .block_on(server::start(&Options::new(folder.path(), 0), plugs()))
        .unwrap();
    let to = running.address();
    let job = runtime.block_on(new_job(to));
    let path = format!("{job}/photos/Meter");
    let config = ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let mut runner = proptest::test_runner::TestRunner::new(config);
    runner
        .run(&(any_body(), 0..HEADS.len()), |((body, kind), said)| {
            let before = runtime.block_on(get(to, &path));
            let reply = runtime.block_on(put(to, &path, HEADS[said].0, body.clone()));
            let after = runtime.block_on(get(to, &path));
            if kind == Some(said) {
                prop_assert_eq!(reply.status, 200);
                prop_assert_eq!(
                    (after.body, after.headers["content-type"].to_str().unwrap()),
                    (body, HEADS[said].0)
                );
            } else {
                is_problem(&reply, 415);
                prop_assert_eq!((after.status, after.body), (before.status, before.body));
            }
            Ok(())
        })
        .unwrap();
    let all = runtime
        .block_on(get(to, &format!("{job}/photos?all=true")))
        .json();
    assert!(
        all["photos"].as_array().unwrap().len() > 10,
        "some were taken"
    );
    assert_eq!(runtime.block_on(get(to, &job)).json()["text"], json!(JOB));
    runtime.block_on(running.stop()).unwrap();
}
