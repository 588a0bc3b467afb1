//! The program as it is started: `lugwright serve` on a free port, asked over a plain socket, told to end by TERM.
#![cfg(all(unix, feature = "serve"))]
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod run;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};

struct Served {
    child: Child,
    address: String,
}

impl Served {
    fn start(folder: &str, more: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_lugwright"))
            .args(["serve", "--port", "0", "--format", "json", "--data", folder])
            .args(more)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap())
            .read_line(&mut line)
            .unwrap();
        let said: Value = serde_json::from_str(&line).unwrap();
        let address = said["address"].as_str().unwrap();
        let address = address.strip_prefix("http://").unwrap().to_owned();
        Self { child, address }
    }

    /// Status, head and body.
    fn ask(&self, method: &str, path: &str, based_on: u64, body: &str) -> (u16, String, Vec<u8>) {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        write!(
            stream,
            "{method} {path} HTTP/1.1\r\nhost: {}\r\nconnection: close\r\ncontent-type: application/json\r\n\
             if-match: \"{based_on}\"\r\ncontent-length: {}\r\n\r\n{body}",
            self.address,
            body.len()
        )
        .unwrap();
        let mut all = Vec::new();
        stream.read_to_end(&mut all).unwrap();
        let end = all.windows(4).position(|w| w == b"\r\n\r\n").unwrap();
        let head = String::from_utf8(all[..end].to_vec()).unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        (status, head.to_lowercase(), all[end + 4..].to_vec())
    }

    fn json(&self, method: &str, path: &str, based_on: u64, body: &str) -> Value {
        let (status, _, body) = self.ask(method, path, based_on, body);
        assert_eq!(status, 200, "{}", String::from_utf8_lossy(&body));
        serde_json::from_slice(&body).unwrap()
    }

    /// By TERM, as a service manager does.
    fn stop(mut self) {
        let told = Command::new("kill")
            .args(["-TERM", &self.child.id().to_string()])
            .status();
        assert!(told.unwrap().success());
        assert_eq!(self.child.wait().unwrap().code(), Some(0));
    }
}

impl Drop for Served {
    /// A test that failed leaves nothing running.
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn folder(name: &str) -> String {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder.to_str().unwrap().to_owned()
}

#[test]
fn the_demo_jobs_are_listed_read_saved_printed_and_still_there_after_a_stop() {
    let folder = folder("serve-demo");
    let served = Served::start(&folder, &[]);
    let list = served.json("GET", "/api/v1/jobs", 1, "");
    let jobs = list["jobs"].as_array().unwrap();
    assert_eq!(jobs.len(), 6);
    assert_eq!(jobs[0]["stage"], "walk_through");
    assert!(jobs[0]["price"]["low"].as_f64() < jobs[0]["price"]["high"].as_f64());

    let path = format!("/api/v1/jobs/{}", jobs[0]["id"].as_str().unwrap());
    let job = served.json("GET", &path, 1, "");
    let text = job["text"].as_str().unwrap();
    let check = served.json("GET", &format!("{path}/check?edition=2020"), 1, "");
    assert_eq!(check["edition"], "2020");

    let text = text.replacen("Closet subpanel", "Linen closet subpanel", 1);
    let saved = json!({ "text": text, "by": "Test" }).to_string();
    assert_eq!(served.json("PUT", &path, 1, &saved)["revision"], 2);
    let (status, _, refused) = served.ask("PUT", &path, 1, &saved);
    assert_eq!(status, 412, "{}", String::from_utf8_lossy(&refused));

    let (status, head, pdf) = served.ask("GET", &format!("{path}/papers/directory"), 1, "");
    assert_eq!((status, &pdf[..5]), (200, b"%PDF-".as_slice()));
    assert!(head.contains("content-type: application/pdf"), "{head}");
    assert!(
        head.contains("linen-closet-subpanel-to-directory.pdf"),
        "{head}"
    );

    let (status, head, page) = served.ask("GET", "/", 1, "");
    assert_eq!(status, 200);
    assert!(head.contains("content-security-policy"), "{head}");
    assert!(page.to_ascii_lowercase().starts_with(b"<!doctype html>"));
    served.stop();

    let again = Served::start(&folder, &[]);
    let list = again.json("GET", "/api/v1/jobs", 1, "");
    assert_eq!(list["jobs"].as_array().unwrap().len(), 6);
    assert_eq!(
        list["jobs"][0]["title"],
        "Linen closet subpanel to the hall, ranch house"
    );
    again.stop();
}

#[test]
fn a_folder_stays_empty_when_that_is_wished() {
    let served = Served::start(&folder("serve-empty"), &["--without-demo"]);
    let list = served.json("GET", "/api/v1/jobs", 1, "");
    assert_eq!(list["jobs"], json!([]));
    served.stop();
}

#[test]
fn an_address_that_others_could_reach_is_refused() {
    let folder = folder("serve-refused");
    let ran = run::lugwright(&["serve", "--data", &folder, "--listen", "0.0.0.0"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("sign-in is not configured"), "{}", ran.err);
    assert!(!PathBuf::from(folder).exists(), "nothing was made");
}
