//! A server on a free port with a folder of its own, and a plain HTTP client that adds nothing by itself but `Host`.

#![allow(dead_code, clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::borrow::Cow;
use std::net::SocketAddr;
use std::sync::Arc;

use http_body_util::{BodyExt, Full};
use hyper::body::Bytes;
use hyper_util::rt::TokioIo;
use serde_json::{Value, json};
use server::{Asset, Options, Paper, Plugs, Running};
use tokio::net::TcpStream;

/// A job file that reads.
pub(crate) const JOB: &str = include_str!("../../../../examples/swap-clean.toml");
/// Its title.
pub(crate) const TITLE: &str = "Laundry-room subpanel, replaced in place";

pub(crate) struct Reply {
    pub(crate) status: u16,
    pub(crate) headers: hyper::HeaderMap,
    pub(crate) body: Vec<u8>,
}

impl Reply {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|why| panic!("{why}: {}", String::from_utf8_lossy(&self.body)))
    }

    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |v| v.to_str().unwrap())
    }
}

pub(crate) async fn send(
    address: SocketAddr,
    method: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: impl Into<Bytes>,
) -> Reply {
    let stream = TcpStream::connect(address).await.unwrap();
    let (mut sender, connection) = hyper::client::conn::http1::handshake(TokioIo::new(stream))
        .await
        .unwrap();
    tokio::spawn(connection);
    let mut request = hyper::Request::builder().method(method).uri(path);
    if !headers.iter().any(|(name, _)| *name == "host") {
        request = request.header("host", address.to_string());
    }
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let request = request.body(Full::new(body.into())).unwrap();
    let response = sender.send_request(request).await.unwrap();
    let (parts, body) = response.into_parts();
    Reply {
        status: parts.status.as_u16(),
        headers: parts.headers,
        body: body.collect().await.unwrap().to_bytes().to_vec(),
    }
}

pub(crate) async fn get(address: SocketAddr, path: &str) -> Reply {
    send(address, "GET", path, &[], "").await
}

/// Sends JSON; `based_on` becomes `If-Match`.
pub(crate) async fn write(
    address: SocketAddr,
    method: &str,
    path: &str,
    based_on: Option<u64>,
    body: &Value,
) -> Reply {
    let tag = based_on.map(|n| format!("\"{n}\""));
    let mut headers = vec![("content-type", "application/json")];
    headers.extend(tag.as_deref().map(|t| ("if-match", t)));
    send(address, method, path, &headers, body.to_string()).await
}

/// A new job; its path.
pub(crate) async fn new_job(address: SocketAddr) -> String {
    let reply = write(
        address,
        "POST",
        "/api/v1/jobs",
        None,
        &json!({ "text": JOB }),
    )
    .await;
    assert_eq!(reply.status, 201);
    reply.header("location").to_owned()
}

/// The job file with another title.
pub(crate) fn titled(title: &str) -> String {
    JOB.replace(TITLE, title)
}

pub(crate) fn plugs() -> Plugs {
    Plugs {
        answers: Arc::new(|command, text, options| match command {
            "cutover" => Err(json!({ "mistakes": [{ "found": "no time for this task" }] })),
            "face" => panic!("the engine broke"),
            _ => Ok(json!({ "command": command, "bytes": text.len(), "options": options })),
        }),
        papers: Arc::new(|name, text, _| match name {
            "permit" => Ok(Some(Paper {
                bytes: format!("%PDF-{}", text.len()).into_bytes(),
                content_type: "application/pdf",
                file_name: "Permit set \"1\"\r\n.pdf".to_owned(),
            })),
            "refused" => Err(json!({ "found": "the service size is unknown" })),
            _ => Ok(None),
        }),
        assets: Arc::new(|path| match path {
            "index.html" => Some(Asset {
                bytes: Cow::Borrowed(b"<!doctype html><title>app</title>"),
                brotli: None,
                gzip: None,
            }),
            "assets/engine.wasm" => Some(Asset {
                bytes: Cow::Borrowed(b"\0asm plain"),
                brotli: Some(Cow::Borrowed(b"tighter")),
                gzip: Some(Cow::Borrowed(b"packed")),
            }),
            _ => None,
        }),
        first_jobs: Arc::new(Vec::new),
    }
}

pub(crate) async fn start() -> (tempfile::TempDir, Running) {
    let folder = tempfile::tempdir().unwrap();
    let running = server::start(&Options::new(folder.path(), 0), plugs())
        .await
        .unwrap();
    (folder, running)
}
