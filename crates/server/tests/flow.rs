//! A job from its first line to its papers, over a real connection; late and simultaneous saves; stopping in the middle.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{JOB, TITLE, get, new_job, plugs, send, start, titled, write};
use serde_json::{Value, json};
use server::Options;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

#[tokio::test]
async fn a_job_is_made_read_saved_undone_removed_and_restored() {
    let (_folder, running) = start().await;
    let to = running.address();
    let new = json!({
        "text": JOB, "by": "Ada", "note": "first look", "address": "4 Juniper Court", "customer": "R. Solano",
        "stage": "offer", "next_date": "2026-12-03", "price": { "low": 2310.5, "high": 2900 },
    });
    let made = write(to, "POST", "/api/v1/jobs", None, &new).await;
    assert_eq!((made.status, made.header("etag")), (201, "\"1\""));
    let path = made.header("location").to_owned();

    let job = get(to, &path).await;
    assert_eq!(job.header("etag"), "\"1\"");
    let job = job.json();
    for name in ["text", "address", "customer", "stage", "next_date"] {
        assert_eq!(job[name], new[name], "{name}");
    }
    assert_eq!(
        (&job["title"], &job["removed"]),
        (&json!(TITLE), &json!(false))
    );
    assert_eq!(job["price"], json!({ "low": 2310.5, "high": 2900.0 }));

    let second = titled("Second look");
    let saved = write(
        to,
        "PUT",
        &path,
        Some(1),
        &json!({ "text": second, "stage": "signed" }),
    )
    .await;
    assert_eq!(saved.status, 200);
    let saved = saved.json();
    assert_eq!(
        (&saved["revision"], &saved["title"]),
        (&json!(2), &json!("Second look"))
    );
    assert_eq!(saved["customer"], "R. Solano", "what is not named stays");
    assert_eq!(
        saved["price"],
        Value::Null,
        "a price belongs to the text it was worked out for"
    );

    let list = get(to, "/api/v1/jobs?search=solano%20second").await.json();
    assert_eq!(list["jobs"], json!([saved]));
    let undone = write(
        to,
        "POST",
        &format!("{path}/undo"),
        Some(2),
        &json!({ "to": 1, "by": "Ada" }),
    )
    .await;
    let undone = undone.json();
    assert_eq!(
        (&undone["revision"], &undone["title"]),
        (&json!(3), &json!(TITLE))
    );
    assert_eq!(undone["price"]["low"], 2310.5);
    let history = get(to, &format!("{path}/history")).await.json();
    let numbers: Vec<&Value> = history["revisions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| &r["number"])
        .collect();
    assert_eq!(numbers, [1, 2, 3]);
    assert_eq!(history["revisions"][0]["note"], "first look");
    assert_eq!(
        get(to, &format!("{path}/revisions/2")).await.json()["text"],
        json!(second)
    );

    assert_eq!(
        send(to, "DELETE", &path, &[], "").await.json()["removed"],
        true
    );
    assert_eq!(get(to, "/api/v1/jobs").await.json()["jobs"], json!([]));
    assert_eq!(
        write(to, "PUT", &path, Some(3), &json!({ "text": JOB }))
            .await
            .status,
        410
    );
    assert_eq!(
        send(to, "POST", &format!("{path}/restore"), &[], "")
            .await
            .status,
        200
    );
    assert_eq!(
        write(to, "PUT", &path, Some(3), &json!({ "text": JOB }))
            .await
            .status,
        200
    );
    running.stop().await.unwrap();
}

#[tokio::test]
async fn the_engine_and_the_papers_get_the_newest_text_and_the_options() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let answer = get(to, &format!("{path}/check?edition=2023&board=M%201")).await;
    assert_eq!(
        answer.json(),
        json!({ "command": "check", "bytes": JOB.len(), "options": { "edition": "2023", "board": "M 1" } })
    );
    let refused = get(to, &format!("{path}/cutover")).await;
    assert_eq!(refused.status, 422);
    assert_eq!(
        refused.json()["details"]["mistakes"][0]["found"],
        "no time for this task"
    );
    assert_eq!(
        get(to, &format!("{path}/face")).await.status,
        500,
        "a broken answer breaks nothing else"
    );
    assert_eq!(get(to, &format!("{path}/guess")).await.status, 404);

    let paper = get(to, &format!("{path}/papers/permit")).await;
    assert_eq!(paper.body, format!("%PDF-{}", JOB.len()).into_bytes());
    assert_eq!(paper.header("content-type"), "application/pdf");
    assert_eq!(
        paper.header("content-disposition"),
        "attachment; filename=\"Permit-set--1---.pdf\""
    );
    for name in ["permits", "..%2Fjobs.db", ".hidden", "a%0Ab"] {
        assert_eq!(
            get(to, &format!("{path}/papers/{name}")).await.status,
            404,
            "{name}"
        );
    }
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_late_save_gets_both_versions_and_changes_nothing() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let (first, second) = (titled("Kitchen tablet"), titled("Basement phone"));
    assert_eq!(
        write(
            to,
            "PUT",
            &path,
            Some(1),
            &json!({ "text": first, "by": "T" })
        )
        .await
        .status,
        200
    );
    let late = write(to, "PUT", &path, Some(1), &json!({ "text": second })).await;
    assert_eq!(late.status, 412);
    let late = late.json();
    assert_eq!(late["yours"], json!({ "based_on": 1, "text": second }));
    assert_eq!(
        (&late["theirs"]["revision"], &late["theirs"]["by"]),
        (&json!(2), &json!("T"))
    );
    assert_eq!(late["theirs"]["text"], json!(first));
    let job = get(to, &path).await.json();
    assert_eq!(
        (&job["revision"], &job["title"]),
        (&json!(2), &json!("Kitchen tablet"))
    );
    let metrics = String::from_utf8(get(to, "/metrics").await.body).unwrap();
    assert!(metrics.contains("\nlugwright_saves_total 2\n"), "{metrics}");
    assert!(
        metrics.contains("\nlugwright_conflicts_total 1\n"),
        "{metrics}"
    );
    assert!(
        metrics.contains("lugwright_requests_total{method=\"PUT\",route=\"/api/v1/jobs/{id}\",status=\"412\"} 1\n"),
        "{metrics}"
    );
    running.stop().await.unwrap();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn of_clients_that_race_one_wins_each_round() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    for round in 1..=15_u64 {
        let race: Vec<_> = (0..4)
            .map(|who| {
                let path = path.clone();
                tokio::spawn(async move {
                    let body = json!({ "text": titled(&format!("{who} in {round}")) });
                    write(to, "PUT", &path, Some(round), &body).await
                })
            })
            .collect();
        let mut statuses = Vec::new();
        for one in race {
            statuses.push(one.await.unwrap().status);
        }
        statuses.sort_unstable();
        assert_eq!(statuses, [200, 412, 412, 412]);
    }
    let history = get(to, &format!("{path}/history")).await.json();
    assert_eq!(history["revisions"].as_array().unwrap().len(), 16);
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_job_made_without_network_is_made_once_however_often_it_is_sent() {
    let (_folder, running) = start().await;
    let to = running.address();
    let new = json!({ "id": "0197a0c4-5b1e-7c3d-9a2f-1b2c3d4e5f60", "text": JOB });
    assert_eq!(
        write(to, "POST", "/api/v1/jobs", None, &new).await.status,
        201
    );
    assert_eq!(
        write(to, "POST", "/api/v1/jobs", None, &new).await.status,
        409
    );
    assert_eq!(
        get(to, "/api/v1/jobs").await.json()["jobs"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_text_that_is_no_job_is_refused_with_every_mistake_and_its_place() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let broken = JOB.replace("kind = \"one_family\"", "kind = \"tent\"");
    let line = 1 + broken.lines().position(|l| l.contains("tent")).unwrap();
    for (method, path, based_on) in [
        ("POST", "/api/v1/jobs", None),
        ("PUT", path.as_str(), Some(1)),
    ] {
        let reply = write(to, method, path, based_on, &json!({ "text": broken })).await;
        assert_eq!(reply.status, 422);
        let mistakes = reply.json()["mistakes"].clone();
        // The reader itself is the measure: the same mistakes at the same places.
        let read = model::JobFile::read(&broken).unwrap_err();
        assert_eq!(mistakes.as_array().unwrap().len(), read.all().len());
        assert_eq!(mistakes[0]["line"], json!(line));
        assert_eq!(mistakes[0]["found"], json!(read.all()[0].found));
    }
    assert_eq!(get(to, &path).await.json()["revision"], 1);
    assert_eq!(
        get(to, "/api/v1/jobs").await.json()["jobs"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    running.stop().await.unwrap();
}

/// The body comes in two halves, and the server is told to stop between them.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_save_that_runs_while_the_server_stops_is_finished_and_kept() {
    let (folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let body = json!({ "text": titled("Saved at the last moment") }).to_string();
    let head = format!(
        "PUT {path} HTTP/1.1\r\nhost: {to}\r\nif-match: \"1\"\r\ncontent-type: application/json\r\ncontent-length: {}\r\n\r\n",
        body.len()
    );
    let (first, second) = body.split_at(body.len() / 2);
    let mut stream = TcpStream::connect(to).await.unwrap();
    stream.write_all(head.as_bytes()).await.unwrap();
    stream.write_all(first.as_bytes()).await.unwrap();
    // Another answer on another connection: by then the first half has arrived.
    assert_eq!(get(to, "/health").await.status, 200);
    let stopping = tokio::spawn(running.stop());
    while TcpStream::connect(to).await.is_ok() {
        tokio::task::yield_now().await;
    }
    assert!(!stopping.is_finished(), "it waits for the save");
    stream.write_all(second.as_bytes()).await.unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).await.unwrap();
    assert!(answer.starts_with("HTTP/1.1 200 "), "{answer}");
    stopping.await.unwrap().unwrap();

    let again = server::start(&Options::new(folder.path(), 0), plugs())
        .await
        .unwrap();
    let job = get(again.address(), &path).await.json();
    assert_eq!(
        (&job["revision"], &job["title"]),
        (&json!(2), &json!("Saved at the last moment"))
    );
    again.stop().await.unwrap();
}

const FOLDER: &str = "SERVER_SIGNAL_FOLDER";

/// Not a promise of its own: the program that is told to end.
#[test]
#[ignore = "run as a child by the test below"]
fn serves_until_it_is_told_to_end() {
    let Some(folder) = std::env::var_os(FOLDER) else {
        return;
    };
    server::serve(&Options::new(folder, 0), plugs(), |address| {
        println!("\nat {address}");
    })
    .unwrap();
    println!("\nended well");
}

#[cfg(unix)]
#[tokio::test]
async fn the_program_ends_well_when_the_system_tells_it_to() {
    use std::io::{BufRead, BufReader};
    use std::process::{Command, Stdio};
    for signal in ["-TERM", "-INT"] {
        let folder = tempfile::tempdir().unwrap();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args([
                "--exact",
                "serves_until_it_is_told_to_end",
                "--ignored",
                "--nocapture",
            ])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap())
            .lines()
            .map_while(Result::ok);
        let to = lines
            .find_map(|l| l.strip_prefix("at ").map(|a| a.parse().unwrap()))
            .unwrap();
        let path = new_job(to).await;
        let told = Command::new("kill")
            .args([signal, &child.id().to_string()])
            .status()
            .unwrap();
        assert!(told.success());
        assert!(lines.any(|l| l == "ended well"), "{signal}");
        assert!(child.wait().unwrap().success());
        // Closed, the log is folded into the one file.
        assert!(!folder.path().join("jobs.db-wal").exists());
        let again = server::start(&Options::new(folder.path(), 0), plugs())
            .await
            .unwrap();
        assert_eq!(get(again.address(), &path).await.status, 200);
        again.stop().await.unwrap();
    }
}
