//! The OpenAPI document and the running server say the same: every route, every status, the shape of every body.
//! The document is the measure; the small judge of shapes below reads only what the document uses of JSON Schema 2020-12.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use std::collections::BTreeSet;

use common::{JOB, Reply, send, start, titled};
use serde_json::{Value, json};

fn document() -> Value {
    serde_json::from_str(server::OPENAPI).unwrap()
}

/// Where `value` is not what `schema` says; empty when it is.
fn faults(document: &Value, schema: &Value, value: &Value, at: &str) -> Vec<String> {
    let mut out = Vec::new();
    for (word, rule) in schema.as_object().unwrap() {
        match word.as_str() {
            "$ref" => {
                let pointer = rule.as_str().unwrap().trim_start_matches('#');
                let named = document
                    .pointer(pointer)
                    .unwrap_or_else(|| panic!("{pointer}"));
                out.extend(faults(document, named, value, at));
            }
            "type" => {
                let words = rule
                    .as_array()
                    .cloned()
                    .unwrap_or_else(|| vec![rule.clone()]);
                if !words.iter().any(|w| is_a(value, w.as_str().unwrap())) {
                    out.push(format!("{at}: {value} is no {rule}"));
                }
            }
            "enum" if !rule.as_array().unwrap().contains(value) => {
                out.push(format!("{at}: {value} not in {rule}"));
            }
            "minimum" if value.as_f64().is_some_and(|v| v < rule.as_f64().unwrap()) => {
                out.push(format!("{at}: {value} below {rule}"));
            }
            "maxLength"
                if value
                    .as_str()
                    .is_some_and(|v| v.chars().count() as u64 > rule.as_u64().unwrap()) =>
            {
                out.push(format!("{at}: too long"));
            }
            "pattern" => {
                assert!(
                    rule.as_str().unwrap().starts_with("^[0-9a-f]{8}-"),
                    "only the pattern of an id is known"
                );
                if value
                    .as_str()
                    .is_some_and(|v| v.parse::<store::JobId>().is_err())
                {
                    out.push(format!("{at}: {value} is no id"));
                }
            }
            "oneOf" => {
                let fits = rule
                    .as_array()
                    .unwrap()
                    .iter()
                    .filter(|s| faults(document, s, value, at).is_empty())
                    .count();
                if fits != 1 {
                    out.push(format!("{at}: {value} fits {fits} of {rule}"));
                }
            }
            "items" => {
                for (i, item) in value.as_array().into_iter().flatten().enumerate() {
                    out.extend(faults(document, rule, item, &format!("{at}/{i}")));
                }
            }
            "required" => {
                for name in rule.as_array().unwrap() {
                    if value
                        .as_object()
                        .is_some_and(|o| !o.contains_key(name.as_str().unwrap()))
                    {
                        out.push(format!("{at}: no {name}"));
                    }
                }
            }
            "properties" => {
                for (name, inner) in value.as_object().into_iter().flatten() {
                    match rule.get(name) {
                        Some(rule) => {
                            out.extend(faults(document, rule, inner, &format!("{at}/{name}")));
                        }
                        None if schema.get("additionalProperties") == Some(&json!(false)) => {
                            out.push(format!("{at}: {name} is not described"));
                        }
                        None => {}
                    }
                }
            }
            "enum" | "minimum" | "maxLength" | "additionalProperties" | "description" => {}
            other => panic!("the judge does not know `{other}`"),
        }
    }
    out
}

fn is_a(value: &Value, kind: &str) -> bool {
    match kind {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        "number" => value.is_number(),
        "integer" => value.is_i64() || value.is_u64(),
        other => panic!("{other}"),
    }
}

#[test]
fn the_judge_refuses_what_does_not_fit() {
    let document = document();
    let listed = json!({ "$ref": "#/components/schemas/PriceRange" });
    let wrong = [
        json!({ "low": 1 }),
        json!({ "low": -1, "high": 2 }),
        json!({ "low": "1", "high": 2 }),
        json!({ "low": 1, "high": 2, "more": 3 }),
        json!([]),
        Value::Null,
    ];
    for value in wrong {
        assert!(
            !faults(&document, &listed, &value, "").is_empty(),
            "{value}"
        );
    }
    assert!(faults(&document, &listed, &json!({ "low": 1, "high": 2 }), "").is_empty());
    let id = json!({ "$ref": "#/components/schemas/Id" });
    assert!(!faults(&document, &id, &json!("7"), "").is_empty());
}

#[test]
fn the_document_has_every_route_and_no_other() {
    let document = document();
    let methods = ["get", "post", "put", "delete"];
    let mut described = BTreeSet::new();
    for (path, item) in document["paths"].as_object().unwrap() {
        for method in methods.iter().filter(|m| item.get(**m).is_some()) {
            described.insert((method.to_uppercase(), path.clone()));
        }
        let named: BTreeSet<&str> = path
            .split('{')
            .skip(1)
            .filter_map(|p| p.split('}').next())
            .collect();
        let parameters = item["parameters"].as_array().into_iter().flatten();
        let declared: BTreeSet<&str> = parameters.map(|p| p["name"].as_str().unwrap()).collect();
        assert_eq!(named, declared, "{path}");
    }
    let served: BTreeSet<(String, String)> = server::route_names()
        .into_iter()
        .map(|(m, p)| (m.to_owned(), p.to_owned()))
        .collect();
    assert_eq!(described, served);
    let commands =
        &document["paths"]["/api/v1/jobs/{id}/{command}"]["parameters"][1]["schema"]["enum"];
    assert_eq!(*commands, json!(server::COMMANDS));
    let stages = &document["components"]["schemas"]["Stage"]["enum"];
    assert_eq!(*stages, json!(store::Stage::ALL.map(store::Stage::word)));
}

/// Sends requests, holds each answer against the document, and remembers which part of the document it was.
struct Judge {
    document: Value,
    to: std::net::SocketAddr,
    seen: BTreeSet<(String, String, u16)>,
}

impl Judge {
    async fn hold(
        &mut self,
        method: &str,
        path: &str,
        real: &str,
        headers: &[(&str, &str)],
        body: impl AsRef<[u8]>,
    ) -> Reply {
        let body = body.as_ref();
        let reply = send(self.to, method, real, headers, body.to_vec()).await;
        let what = format!("{method} {real} {}", reply.status);
        let operation = &self.document["paths"][path][method.to_lowercase()];
        let response = &operation["responses"][reply.status.to_string()];
        assert!(
            response.is_object(),
            "{what} is not described: {}",
            String::from_utf8_lossy(&reply.body)
        );
        for name in response["headers"].as_object().into_iter().flatten() {
            assert_ne!(reply.header(name.0), "", "{what}: header {}", name.0);
        }
        let kind = reply.header("content-type").split(';').next().unwrap();
        let content = &response["content"][kind];
        if reply.status == 304 {
            assert!(reply.body.is_empty() && response.get("content").is_none());
        } else {
            assert!(content.is_object(), "{what}: `{kind}` is not described");
        }
        if reply.status != 304 && kind == "application/json" {
            let found = faults(&self.document, &content["schema"], &reply.json(), "");
            assert!(found.is_empty(), "{what}: {found:?}");
        }
        let asked = operation["requestBody"]["content"]["application/json"].get("schema");
        if let (true, Some(schema)) = (reply.status < 300, asked) {
            let found = faults(
                &self.document,
                schema,
                &serde_json::from_slice(body).unwrap(),
                "",
            );
            assert!(found.is_empty(), "{what}: accepted, but {found:?}");
        }
        self.seen
            .insert((method.to_owned(), path.to_owned(), reply.status));
        reply
    }
}

const JSON: (&str, &str) = ("content-type", "application/json");
const JOBS: &str = "/api/v1/jobs";
const ONE: &str = "/api/v1/jobs/{id}";
const RESTORE: &str = "/api/v1/jobs/{id}/restore";
const HISTORY: &str = "/api/v1/jobs/{id}/history";
const REVISION: &str = "/api/v1/jobs/{id}/revisions/{number}";
const UNDO: &str = "/api/v1/jobs/{id}/undo";
const PAPER: &str = "/api/v1/jobs/{id}/papers/{name}";
const COMMAND: &str = "/api/v1/jobs/{id}/{command}";
const PHOTOS: &str = "/api/v1/jobs/{id}/photos";
const PHOTO: &str = "/api/v1/jobs/{id}/photos/{name}";
const NOBODY: &str = "0197a0c4-5b1e-7c3d-9a2f-1b2c3d4e5f60";

#[tokio::test]
async fn the_server_answers_as_the_document_says_and_nothing_in_it_is_never_seen() {
    let (_folder, running) = start().await;
    let mut judge = Judge {
        document: document(),
        to: running.address(),
        seen: BTreeSet::new(),
    };
    let full = json!({
        "id": "0197a0c4-5b1e-7c3d-9a2f-1b2c3d4e5f61", "text": JOB, "by": "A", "note": "n", "address": "a", "customer": "c",
        "stage": "permit", "next_date": "2026-12-24", "price": { "low": 1, "high": 2.5 }
    })
    .to_string();
    let made = judge.hold("POST", JOBS, JOBS, &[JSON], &full).await;
    let job = made.header("location").to_owned();
    reading(&mut judge, &job).await;
    writing(&mut judge, &job, &full).await;
    photographing(&mut judge, &job).await;
    refusing_everywhere(&mut judge, &job).await;

    let mut described = BTreeSet::new();
    for (path, item) in judge.document["paths"].as_object().unwrap() {
        for (method, operation) in item
            .as_object()
            .unwrap()
            .iter()
            .filter(|(m, _)| *m != "parameters")
        {
            for status in operation["responses"].as_object().unwrap().keys() {
                described.insert((method.to_uppercase(), path.clone(), status.parse().unwrap()));
            }
        }
    }
    let never: Vec<_> = described.difference(&judge.seen).collect();
    assert!(never.is_empty(), "described, but never seen: {never:?}");
    running.stop().await.unwrap();
}

async fn reading(judge: &mut Judge, job: &str) {
    let nobody = format!("{JOBS}/{NOBODY}");
    for path in ["/health", "/metrics", "/api/v1/openapi.json"] {
        judge.hold("GET", path, path, &[], "").await;
    }
    judge
        .hold(
            "POST",
            JOBS,
            JOBS,
            &[JSON],
            &json!({ "text": JOB }).to_string(),
        )
        .await;
    let page = judge
        .hold("GET", JOBS, &format!("{JOBS}?limit=1&search="), &[], "")
        .await
        .json();
    let after = page["next"].as_str().unwrap();
    let rest = judge
        .hold("GET", JOBS, &format!("{JOBS}?after={after}"), &[], "")
        .await
        .json();
    assert_eq!(
        (rest["jobs"].as_array().unwrap().len(), &rest["next"]),
        (1, &Value::Null)
    );
    judge
        .hold("GET", JOBS, &format!("{JOBS}?limit=x"), &[], "")
        .await;
    for (path, tail) in [
        (ONE, ""),
        (HISTORY, "/history"),
        (REVISION, "/revisions/1"),
        (PAPER, "/papers/permit"),
        (COMMAND, "/check"),
    ] {
        judge
            .hold("GET", path, &format!("{job}{tail}"), &[], "")
            .await;
        let missing = judge
            .hold("GET", path, &format!("{nobody}{tail}"), &[], "")
            .await;
        assert_eq!(missing.status, 404);
    }
    for (path, tail) in [
        (ONE, "x"),
        (REVISION, "/revisions/9"),
        (REVISION, "/revisions/x"),
        (PAPER, "/papers/none"),
        (PAPER, "/papers/refused"),
        (COMMAND, "/none"),
        (COMMAND, "/cutover"),
    ] {
        judge
            .hold("GET", path, &format!("{job}{tail}"), &[], "")
            .await;
    }
}

async fn writing(judge: &mut Judge, job: &str, full: &str) {
    let nobody = format!("{JOBS}/{NOBODY}");
    let first = ("if-match", "\"1\"");
    let text = json!({ "text": titled("Two"), "price": null, "next_date": null }).to_string();
    let to = json!({ "to": 1 }).to_string();
    let bad = json!({ "text": "format = 2" }).to_string();
    let large = json!({ "text": "x".repeat(2_000_001) }).to_string();

    judge.hold("POST", JOBS, JOBS, &[JSON], full).await;
    judge.hold("PUT", ONE, job, &[JSON, first], &text).await;
    judge.hold("PUT", ONE, job, &[JSON, first], &text).await;
    let (undo, no_undo) = (format!("{job}/undo"), format!("{nobody}/undo"));
    judge
        .hold("POST", UNDO, &undo, &[JSON, ("if-match", "2")], &to)
        .await;
    judge.hold("POST", UNDO, &undo, &[JSON, first], &to).await;
    judge
        .hold(
            "POST",
            UNDO,
            &undo,
            &[JSON, ("if-match", "3")],
            &json!({ "to": 8 }).to_string(),
        )
        .await;
    judge.hold("DELETE", ONE, job, &[], "").await;
    judge
        .hold("PUT", ONE, job, &[JSON, ("if-match", "3")], &text)
        .await;
    judge
        .hold("POST", UNDO, &undo, &[JSON, ("if-match", "3")], &to)
        .await;
    judge
        .hold("POST", RESTORE, &format!("{job}/restore"), &[], "")
        .await;
    judge.hold("DELETE", ONE, &nobody, &[], "").await;
    judge
        .hold("POST", RESTORE, &format!("{nobody}/restore"), &[], "")
        .await;

    for (method, path, real, missing) in [
        ("POST", JOBS, JOBS, None),
        ("PUT", ONE, job, Some(nobody.as_str())),
        ("POST", UNDO, undo.as_str(), Some(no_undo.as_str())),
    ] {
        let right = if path == UNDO { &to } else { &text };
        judge.hold(method, path, real, &[JSON, first], "{").await;
        judge.hold(method, path, real, &[first], right).await;
        judge.hold(method, path, real, &[JSON, first], &large).await;
        if path != UNDO {
            judge.hold(method, path, real, &[JSON, first], &bad).await;
        }
        if let Some(missing) = missing {
            judge
                .hold(method, path, missing, &[JSON, first], right)
                .await;
            judge.hold(method, path, real, &[JSON], right).await;
        }
    }
}

async fn photographing(judge: &mut Judge, job: &str) {
    let (list, one) = (format!("{job}/photos"), format!("{job}/photos/Meter"));
    let (no_list, nobody) = (
        format!("{JOBS}/{NOBODY}/photos"),
        format!("{JOBS}/{NOBODY}/photos/Meter"),
    );
    let bad = format!("{job}/photos/%20");
    let jpeg = ("content-type", "image/jpeg");
    let bytes = b"\xff\xd8\xff\xe0 and so on".as_slice();
    let large = [bytes, &vec![0; 26_214_400]].concat();

    let kept = judge.hold("PUT", PHOTO, &one, &[jpeg], bytes).await;
    let tag = ("if-none-match", kept.header("etag"));
    judge.hold("GET", PHOTO, &one, &[], "").await;
    judge.hold("GET", PHOTO, &one, &[tag], "").await;
    judge.hold("GET", PHOTOS, &list, &[], "").await;
    judge
        .hold("GET", PHOTOS, &format!("{list}?all=x"), &[], "")
        .await;
    judge.hold("GET", PHOTOS, &no_list, &[], "").await;
    let png = b"\x89PNG\r\n\x1a\n and so on".as_slice();
    for (body, kind) in [(large.as_slice(), jpeg), (png, jpeg)] {
        judge.hold("PUT", PHOTO, &one, &[kind], body).await;
    }
    for (method, path) in [
        ("PUT", &bad),
        ("PUT", &nobody),
        ("GET", &bad),
        ("GET", &nobody),
        ("DELETE", &bad),
        ("DELETE", &nobody),
    ] {
        judge.hold(method, PHOTO, path, &[jpeg], bytes).await;
    }
    let png = [("content-type", "image/png")];
    let second = b"\x89PNG\r\n\x1a\n and so on".as_slice();
    judge.hold("PUT", PHOTO, &one, &png, second).await;
    let first = ("if-match", kept.header("etag"));
    let late = judge.hold("DELETE", PHOTO, &one, &[first], "").await;
    assert_eq!(late.status, 412);
    judge.hold("DELETE", PHOTO, &one, &[], "").await;
    let all = judge
        .hold("GET", PHOTOS, &format!("{list}?all=true"), &[], "")
        .await;
    assert_eq!(all.json()["photos"].as_array().unwrap().len(), 2);
    judge.hold("DELETE", ONE, job, &[], "").await;
    judge.hold("PUT", PHOTO, &one, &[jpeg], bytes).await;
    judge.hold("DELETE", PHOTO, &one, &[], "").await;
    judge
        .hold("POST", RESTORE, &format!("{job}/restore"), &[], "")
        .await;
}

/// Another host name for every route, another page for every write.
async fn refusing_everywhere(judge: &mut Judge, job: &str) {
    let id = job.rsplit('/').next().unwrap().to_owned();
    for (method, path) in server::route_names() {
        let real = path
            .replace("{id}", &id)
            .replace("{number}", "1")
            .replace("{name}", "permit")
            .replace("{command}", "check");
        let headers = [("host", "elsewhere.example")];
        assert_eq!(
            judge.hold(method, path, &real, &headers, "").await.status,
            421
        );
        if method != "GET" {
            let headers = [("origin", "http://elsewhere.example")];
            assert_eq!(
                judge.hold(method, path, &real, &headers, "").await.status,
                403
            );
        }
    }
}
