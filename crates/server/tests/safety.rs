//! Who may ask and what may be sent: other machines, other pages, bodies of any kind, paths out of the house.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{JOB, Reply, get, new_job, plugs, send, start, write};
use proptest::prelude::*;
use serde_json::{Value, json};
use server::{Error, Options, Plugs};

const JSON: (&str, &str) = ("content-type", "application/json");

/// What a refusal always looks like, and what it never tells.
fn is_problem(reply: &Reply) {
    let body = reply.json();
    for name in ["error", "expected", "advice"] {
        assert!(body[name].is_string(), "{body}");
    }
    let text = String::from_utf8_lossy(&reply.body).to_lowercase();
    for secret in [
        "sqlite", "sqlx", "select ", "insert ", "jobs.db", "/tmp", "panicked", "struct ",
    ] {
        assert!(!text.contains(secret), "{secret}: {text}");
    }
}

#[tokio::test]
async fn an_address_that_others_can_reach_is_refused_without_sign_in() {
    let folder = tempfile::tempdir().unwrap();
    for address in [
        "0.0.0.0:0",
        "192.168.1.7:80",
        "[::]:0",
        "[::ffff:10.0.0.1]:0",
        "[fe80::1]:0",
    ] {
        let options = Options {
            folder: folder.path().join("never"),
            address: address.parse().unwrap(),
        };
        let error = server::start(&options, Plugs::default())
            .await
            .err()
            .unwrap();
        assert!(matches!(error, Error::NotLoopback(_)));
        assert!(
            error.to_string().contains("sign-in is not configured"),
            "{error}"
        );
    }
    assert!(!folder.path().join("never").exists());
    let (_other, running) = start().await;
    let taken = Options {
        folder: folder.path().into(),
        address: running.address(),
    };
    let error = server::start(&taken, Plugs::default()).await.err().unwrap();
    assert!(matches!(error, Error::Address { .. }));
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_foreign_host_name_gets_nothing() {
    let (_folder, running) = start().await;
    let to = running.address();
    let port = to.port();
    new_job(to).await;
    for host in [
        "evil.example",
        "evil.example:80",
        "localhost.evil.example",
        "127.0.0.1.evil.example",
        "",
        "192.168.1.4",
    ] {
        for path in ["/", "/api/v1/jobs", "/metrics", "/health"] {
            let reply = send(to, "GET", path, &[("host", host)], "").await;
            assert_eq!(reply.status, 421, "{host} {path}");
            is_problem(&reply);
        }
    }
    let two = [("host", "localhost"), ("host", "evil.example")];
    assert!(matches!(
        send(to, "GET", "/health", &two, "").await.status,
        400 | 421
    ));
    for host in [
        format!("localhost:{port}"),
        format!("LOCALHOST:{port}"),
        format!("[::1]:{port}"),
        "127.0.0.1".to_owned(),
    ] {
        assert_eq!(
            send(to, "GET", "/health", &[("host", &host)], "")
                .await
                .status,
            200,
            "{host}"
        );
    }
    running.stop().await.unwrap();
}

#[tokio::test]
async fn another_page_cannot_write() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let body = json!({ "text": JOB }).to_string();
    let own = format!("http://{to}");
    let other_port = "http://127.0.0.1:1".to_owned();
    let other_scheme = format!("https://{to}");
    let foreign = [
        ("origin", "https://evil.example"),
        ("origin", "null"),
        ("origin", &other_port),
        ("origin", &other_scheme),
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
    ];
    for header in foreign {
        for (method, path) in [
            ("PUT", path.clone()),
            ("POST", "/api/v1/jobs".to_owned()),
            ("DELETE", path.clone()),
            ("POST", format!("{path}/restore")),
            ("POST", format!("{path}/undo")),
        ] {
            let headers = [JSON, ("if-match", "\"1\""), header];
            let reply = send(to, method, &path, &headers, body.clone()).await;
            assert_eq!(reply.status, 403, "{method} {path} {header:?}");
            is_problem(&reply);
            assert_eq!(reply.header("access-control-allow-origin"), "");
        }
    }
    assert_eq!(get(to, &path).await.json()["revision"], 1);
    let headers = [
        JSON,
        ("if-match", "\"1\""),
        ("origin", &own),
        ("sec-fetch-site", "same-origin"),
    ];
    assert_eq!(send(to, "PUT", &path, &headers, body).await.status, 200);
    // The question a browser asks before a foreign write is not answered with a yes.
    let ask = [
        ("origin", "https://evil.example"),
        ("access-control-request-method", "PUT"),
    ];
    let reply = send(to, "OPTIONS", &path, &ask, "").await;
    assert_eq!(
        (reply.status, reply.header("access-control-allow-origin")),
        (405, "")
    );
    running.stop().await.unwrap();
}

#[tokio::test]
async fn every_answer_carries_the_headers_that_keep_a_page_in_its_place() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    for path in [
        "/",
        "/jobs/1",
        "/assets/engine.wasm",
        "/nothing.js",
        "/api/v1/jobs",
        "/api/none",
        "/health",
        &path,
    ] {
        let reply = get(to, path).await;
        let policy = reply.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && policy.contains("frame-ancestors 'none'"),
            "{path}"
        );
        assert!(!policy.contains("unsafe-inline") && !policy.contains("'unsafe-eval'"));
        assert_eq!(reply.header("x-content-type-options"), "nosniff");
        assert_eq!(reply.header("referrer-policy"), "no-referrer");
        assert_ne!(reply.header("cache-control"), "");
    }
    running.stop().await.unwrap();
}

#[tokio::test]
async fn the_files_of_the_app_are_served_and_nothing_else() {
    let (_folder, running) = start().await;
    let to = running.address();
    for screen in ["/", "/jobs/7/face", "/index.html"] {
        let reply = get(to, screen).await;
        assert_eq!(
            (reply.status, reply.header("content-type")),
            (200, "text/html; charset=utf-8")
        );
    }
    let wasm = get(to, "/assets/engine.wasm").await;
    assert_eq!(
        (wasm.header("content-type"), wasm.body.as_slice()),
        ("application/wasm", b"\0asm plain".as_slice())
    );
    let tag = wasm.header("etag").to_owned();
    let same = send(
        to,
        "GET",
        "/assets/engine.wasm",
        &[("if-none-match", &tag)],
        "",
    )
    .await;
    assert_eq!((same.status, same.body.len()), (304, 0));
    for (accepted, encoding, body) in [
        ("gzip, deflate, br", "br", b"tighter".as_slice()),
        ("br;q=0, gzip;q=0.8", "gzip", b"packed".as_slice()),
        ("deflate", "", b"\0asm plain".as_slice()),
    ] {
        let accepted = [("accept-encoding", accepted)];
        let packed = send(to, "GET", "/assets/engine.wasm", &accepted, "").await;
        assert_eq!(
            (packed.header("content-encoding"), packed.body.as_slice()),
            (encoding, body)
        );
        assert_eq!(packed.header("etag") == tag, encoding.is_empty());
    }
    for path in [
        "/../Cargo.toml",
        "/..%2f..%2fetc%2fpasswd",
        "/assets/../../jobs.db",
        "/%2e%2e/jobs.db",
        "/.git/config",
        "/a\\..\\b.js",
        "/nothing.css",
        "/api",
        "/api/v2/jobs",
        "//etc/passwd.txt",
        "/c:/x.txt",
    ] {
        let reply = get(to, path).await;
        assert_eq!(reply.status, 404, "{path}");
        is_problem(&reply);
    }
    assert_eq!(send(to, "POST", "/", &[JSON], "{}").await.status, 405);
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_body_that_is_too_large_is_refused_also_without_a_length() {
    let (_folder, running) = start().await;
    let to = running.address();
    let large = json!({ "text": "x".repeat(2_000_001) }).to_string();
    let reply = send(to, "POST", "/api/v1/jobs", &[JSON], large).await;
    assert_eq!(reply.status, 413);
    is_problem(&reply);
    let fits = json!({ "text": "x".repeat(1_900_000) }).to_string();
    let reply = send(to, "POST", "/api/v1/jobs", &[JSON], fits).await;
    assert_eq!(reply.status, 422, "it is read, and is no job");

    use tokio::io::{AsyncReadExt, AsyncWriteExt};
    let mut stream = tokio::net::TcpStream::connect(to).await.unwrap();
    let head = format!(
        "POST /api/v1/jobs HTTP/1.1\r\nhost: {to}\r\ncontent-type: application/json\r\nconnection: close\r\ntransfer-encoding: chunked\r\n\r\n"
    );
    stream.write_all(head.as_bytes()).await.unwrap();
    let chunk = format!("{:x}\r\n{}\r\n", 500_000, " ".repeat(500_000));
    for _ in 0..5 {
        stream.write_all(chunk.as_bytes()).await.unwrap();
    }
    stream.write_all(b"0\r\n\r\n").await.unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).await.unwrap();
    assert!(answer.starts_with("HTTP/1.1 413 "), "{answer}");
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_write_says_what_it_is_and_what_it_is_based_on() {
    let (_folder, running) = start().await;
    let to = running.address();
    let path = new_job(to).await;
    let body = json!({ "text": JOB }).to_string();
    for (headers, status) in [
        (vec![JSON], 428),
        (vec![JSON, ("if-match", "*")], 400),
        (vec![JSON, ("if-match", "\"0\"")], 400),
        (vec![JSON, ("if-match", "W/\"1\"")], 400),
        (vec![("if-match", "\"1\"")], 415),
        (
            vec![("content-type", "text/plain"), ("if-match", "\"1\"")],
            415,
        ),
        (
            vec![
                ("content-type", "application/x-www-form-urlencoded"),
                ("if-match", "\"1\""),
            ],
            415,
        ),
        (
            vec![
                ("content-type", "application/json; charset=utf-8"),
                ("if-match", "1"),
            ],
            200,
        ),
    ] {
        let reply = send(to, "PUT", &path, &headers, body.clone()).await;
        assert_eq!(reply.status, status, "{headers:?}");
        if status != 200 {
            is_problem(&reply);
        }
    }
    running.stop().await.unwrap();
}

#[tokio::test]
async fn a_wrong_entry_is_told_by_its_name() {
    let (_folder, running) = start().await;
    let to = running.address();
    for (name, value) in [
        ("id", json!("x")),
        ("id", json!(7)),
        ("stage", json!("won")),
        ("stage", Value::Null),
        ("next_date", json!("2026-02-30")),
        ("next_date", json!(1)),
        ("price", json!(5)),
        ("price", json!({ "low": 5, "high": 4 })),
        ("price", json!({ "low": -1, "high": 4 })),
        ("price", json!({ "low": 1, "high": 1e300 })),
        ("customer", json!("a\nb")),
        ("customer", json!("x".repeat(501))),
        ("by", json!([])),
        ("note", json!({})),
        ("text", json!(7)),
        ("text", Value::Null),
        ("surprise", json!(1)),
    ] {
        let mut body = json!({ "text": JOB });
        body[name] = value.clone();
        let reply = write(to, "POST", "/api/v1/jobs", None, &body).await;
        assert_eq!(reply.status, 400, "{name}: {value}");
        is_problem(&reply);
        assert!(
            reply.json()["error"]
                .as_str()
                .unwrap()
                .contains(&format!("`{name}`"))
        );
    }
    for query in [
        "limit=0",
        "limit=501",
        "limit=many",
        "after=x",
        "after=5.x",
        "sort=price",
    ] {
        let reply = get(to, &format!("/api/v1/jobs?{query}")).await;
        assert_eq!(reply.status, 400, "{query}");
        is_problem(&reply);
    }
    assert_eq!(get(to, "/api/v1/jobs").await.json()["jobs"], json!([]));
    running.stop().await.unwrap();
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 12, 4, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..4).prop_map(Value::from),
            proptest::collection::btree_map(
                prop_oneof![
                    Just("text".to_owned()),
                    Just("to".to_owned()),
                    Just("price".to_owned()),
                    ".{0,5}"
                ],
                inner,
                0..4
            )
            .prop_map(|m| Value::Object(m.into_iter().collect())),
        ]
    })
}

/// Bytes of any kind, JSON of any shape, the right JSON cut anywhere.
fn any_body() -> impl Strategy<Value = Vec<u8>> {
    let right = json!({ "text": JOB, "to": 1, "price": { "low": 1, "high": 2 } })
        .to_string()
        .into_bytes();
    prop_oneof![
        proptest::collection::vec(any::<u8>(), 0..200),
        any_json().prop_map(|v| v.to_string().into_bytes()),
        (0..right.len()).prop_map(move |cut| right[..cut].to_vec()),
    ]
}

/// One server takes all cases, so that what one breaks the next would notice.
#[test]
fn no_body_breaks_the_server_or_changes_the_job() {
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
    let path = runtime.block_on(new_job(to));
    let config = ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    let mut runner = proptest::test_runner::TestRunner::new(config);
    let places = [
        ("POST", "/api/v1/jobs".to_owned()),
        ("PUT", path.clone()),
        ("POST", format!("{path}/undo")),
    ];
    runner
        .run(&(any_body(), 0..3_usize), |(body, place)| {
            let (method, path) = &places[place];
            let reply =
                runtime.block_on(send(to, method, path, &[JSON, ("if-match", "\"9\"")], body));
            prop_assert!(
                matches!(reply.status, 400 | 404 | 412 | 422),
                "{}",
                reply.status
            );
            is_problem(&reply);
            Ok(())
        })
        .unwrap();
    let job = runtime.block_on(get(to, &path)).json();
    assert_eq!((&job["revision"], &job["text"]), (&json!(1), &json!(JOB)));
    runtime.block_on(running.stop()).unwrap();
}
