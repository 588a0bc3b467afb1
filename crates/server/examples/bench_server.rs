//! Measures the server on this machine and prints JSON: saves by 50 clients at once, and the list among 10,000 jobs.
//! Each client keeps one connection and saves its own job again and again: without a pause, so that the machine is full
//! and the time is mostly waiting for the others; and with a pause of 200 ms, as a quick hand would.
//! Clients and server share the machine.
//! `cargo run --release -p lugwright-server --example bench_server`

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::net::SocketAddr;
use std::time::{Duration, Instant};

use http_body_util::{BodyExt, Full};
use hyper::body::Bytes;
use hyper::client::conn::http1::{SendRequest, handshake};
use hyper_util::rt::TokioIo;
use serde_json::{Value, json};
use server::{Options, Plugs};

/// The same as the program's.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const JOB: &str = include_str!("../../../examples/big-house-42.toml");
const CLIENTS: usize = 50;
const SAVES: u32 = 40;
const JOBS: usize = 10_000;

struct Client {
    sender: SendRequest<Full<Bytes>>,
    host: String,
}

impl Client {
    async fn new(to: SocketAddr) -> Self {
        let stream = tokio::net::TcpStream::connect(to).await.unwrap();
        stream.set_nodelay(true).unwrap();
        let (sender, connection) = handshake(TokioIo::new(stream)).await.unwrap();
        tokio::spawn(connection);
        Self {
            sender,
            host: to.to_string(),
        }
    }

    async fn send(&mut self, method: &str, path: &str, based_on: u32, body: String) -> Value {
        let request = hyper::Request::builder()
            .method(method)
            .uri(path)
            .header("host", &self.host)
            .header("content-type", "application/json")
            .header("if-match", based_on.to_string())
            .body(Full::new(Bytes::from(body)))
            .unwrap();
        self.sender.ready().await.unwrap();
        let response = self.sender.send_request(request).await.unwrap();
        assert!(response.status().is_success(), "{}", response.status());
        let body = response.into_body().collect().await.unwrap().to_bytes();
        serde_json::from_slice(&body).unwrap()
    }
}

fn spread(mut times: Vec<Duration>) -> Value {
    times.sort_unstable();
    let at = |share: f64| {
        let place = (times.len() - 1) as f64 * share;
        (times[place.round() as usize].as_secs_f64() * 1e5).round() / 100.0
    };
    json!({ "count": times.len(), "p50_ms": at(0.5), "p99_ms": at(0.99), "most_ms": at(1.0) })
}

/// What the server does for each save before the store sees it: reading the job file wholly.
fn reading() -> Value {
    let read = || {
        let start = Instant::now();
        model::JobFile::read(JOB).unwrap();
        start.elapsed()
    };
    spread((0..200).map(|_| read()).collect())
}

/// What the disk itself takes to keep as many bytes as a save has: append, then wait until they are on it.
fn disk(folder: &std::path::Path) -> Value {
    use std::io::Write;
    let mut file = std::fs::File::create(folder.join("floor")).unwrap();
    let mut keep = || {
        let start = Instant::now();
        file.write_all(JOB.as_bytes()).unwrap();
        file.sync_data().unwrap();
        start.elapsed()
    };
    spread((0..300).map(|_| keep()).collect())
}

async fn saves(to: SocketAddr, pause: Duration) -> Value {
    let start = Instant::now();
    let mut clients = tokio::task::JoinSet::new();
    for n in 0..CLIENTS {
        clients.spawn(async move {
            let mut client = Client::new(to).await;
            let body = json!({ "text": JOB }).to_string();
            let made = client.send("POST", "/api/v1/jobs", 0, body.clone()).await;
            let path = format!("/api/v1/jobs/{}", made["id"].as_str().unwrap());
            // Not all in the same moment of the pause.
            tokio::time::sleep(pause.mul_f64(n as f64 / CLIENTS as f64)).await;
            let mut times = Vec::new();
            for revision in 1..=SAVES {
                // Hands do not keep time with each other; saves of one commit would otherwise stay together for good.
                let share = 0.5 + f64::from((n as u32 * 31 + revision * 17) % 64) / 64.0;
                tokio::time::sleep(pause.mul_f64(share)).await;
                let start = Instant::now();
                client.send("PUT", &path, revision, body.clone()).await;
                times.push(start.elapsed());
            }
            times
        });
    }
    let times = clients.join_all().await.concat();
    let mut out = spread(times);
    let saves = f64::from(SAVES) * CLIENTS as f64;
    out["per_second"] = json!((saves / start.elapsed().as_secs_f64()).round());
    out
}

async fn lists(to: SocketAddr) -> Value {
    let mut client = Client::new(to).await;
    let mut out = json!({});
    for (name, path) in [
        ("first_50", "/api/v1/jobs?limit=50"),
        ("first_500", "/api/v1/jobs?limit=500"),
        ("search_one", "/api/v1/jobs?search=lane%204321"),
        ("search_none", "/api/v1/jobs?search=nothing%20holds%20this"),
    ] {
        let mut times = Vec::new();
        for _ in 0..50 {
            let start = Instant::now();
            client.send("GET", path, 0, String::new()).await;
            times.push(start.elapsed());
        }
        out[name] = spread(times);
    }
    let start = Instant::now();
    let (mut path, mut seen) = ("/api/v1/jobs?limit=500".to_owned(), 0);
    loop {
        let page = client.send("GET", &path, 0, String::new()).await;
        seen += page["jobs"].as_array().unwrap().len();
        match page["next"].as_str() {
            Some(next) => path = format!("/api/v1/jobs?limit=500&after={next}"),
            None => break,
        }
    }
    out["all"] = json!({ "jobs": seen, "ms": start.elapsed().as_millis() as u64 });
    out
}

/// Jobs straight into the store: only the list is measured.
async fn fill(folder: &std::path::Path) {
    let store = std::sync::Arc::new(store::Store::open(folder).await.unwrap());
    let mut tasks = tokio::task::JoinSet::new();
    for n in 0..JOBS {
        let store = std::sync::Arc::clone(&store);
        tasks.spawn(async move {
            let at = store::Moment(n as i64);
            let edit = store::Edit {
                change: store::Change {
                    at,
                    ..Default::default()
                },
                card: store::Card {
                    title: format!("Panel change {n}"),
                    address: format!("{n} Thistle Lane"),
                    customer: format!("Customer {}", n % 977),
                    ..Default::default()
                },
                text: JOB.to_owned(),
            };
            store
                .create(&store::JobId::new(at).unwrap(), edit)
                .await
                .unwrap();
        });
    }
    tasks.join_all().await;
    store.close().await;
}

#[tokio::main]
async fn main() {
    let folder = tempfile::tempdir().unwrap();
    let disk = disk(folder.path());
    let running = server::start(&Options::new(folder.path(), 0), Plugs::default())
        .await
        .unwrap();
    let full = saves(running.address(), Duration::ZERO).await;
    let paced = saves(running.address(), Duration::from_millis(200)).await;
    running.stop().await.unwrap();
    let folder = tempfile::tempdir().unwrap();
    fill(folder.path()).await;
    let running = server::start(&Options::new(folder.path(), 0), Plugs::default())
        .await
        .unwrap();
    let lists = lists(running.address()).await;
    running.stop().await.unwrap();
    let out = json!({ "clients": CLIENTS, "job_bytes": JOB.len(), "disk": disk, "reading": reading(), "saves_without_pause": full, "saves_with_pause": paced, "jobs": JOBS, "lists": lists });
    println!("{out:#}");
}
