//! Do the published schema and the front end's types tell the truth about every answer?
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod jobs;

use std::path::Path;

use jobs::{asked, demo_jobs, edited};
use serde_json::{Map, Value, json};

fn root() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Holds values against a schema. Stricter than JSON Schema asks: an entry that the schema does not name is wrong, too.
struct Holder {
    schema: Value,
}

impl Holder {
    fn definition(&self, reference: &str) -> &Value {
        let name = reference.strip_prefix("#/$defs/").unwrap();
        &self.schema["$defs"][name]
    }

    /// What is wrong with a value, and where; nothing when it fits.
    fn wrong(&self, schema: &Value, value: &Value, at: &str) -> Option<String> {
        self.misfit(schema, value, at)
            .or_else(|| self.unnamed(schema, value, at))
    }

    fn misfit(&self, schema: &Value, value: &Value, at: &str) -> Option<String> {
        let no = |what: String| Some(format!("{at}: {what}: {value}"));
        if let Some(reference) = schema["$ref"].as_str()
            && let Some(why) = self.misfit(self.definition(reference), value, at)
        {
            return Some(why);
        }
        if schema.get("const").is_some_and(|c| c != value) {
            return no(format!("not {}", schema["const"]));
        }
        if schema["enum"]
            .as_array()
            .is_some_and(|all| !all.contains(value))
        {
            return no(format!("none of {}", schema["enum"]));
        }
        let kinds = match &schema["type"] {
            Value::String(kind) => vec![kind.as_str()],
            Value::Array(kinds) => kinds.iter().map(|k| k.as_str().unwrap()).collect(),
            _ => Vec::new(),
        };
        if !kinds.is_empty() && !kinds.iter().any(|kind| is(kind, value)) {
            return no(format!("not {kinds:?}"));
        }
        for choice in ["oneOf", "anyOf"] {
            let all = schema[choice].as_array().into_iter().flatten();
            let whys: Vec<_> = all
                .map(|s| self.wrong_beside(schema, s, value, at))
                .collect();
            let fitting = whys.iter().filter(|w| w.is_none()).count();
            if !whys.is_empty() && (fitting == 0 || (choice == "oneOf" && fitting > 1)) {
                let whys: Vec<String> = whys.into_iter().flatten().collect();
                return no(format!("{fitting} of {choice} fit; {}", whys.join("; ")));
            }
        }
        match value {
            Value::Object(entries) => self.wrong_entry(schema, entries, at),
            Value::Array(all) => self.wrong_item(schema, all, at),
            _ => None,
        }
    }

    /// A choice beside entries of its own: each names some of them.
    fn wrong_beside(&self, whole: &Value, one: &Value, value: &Value, at: &str) -> Option<String> {
        match whole.get("properties") {
            Some(_) => self.misfit(one, value, at),
            None => self.wrong(one, value, at),
        }
    }

    fn wrong_entry(
        &self,
        schema: &Value,
        entries: &Map<String, Value>,
        at: &str,
    ) -> Option<String> {
        let required = schema["required"].as_array().into_iter().flatten();
        for name in required.map(|n| n.as_str().unwrap()) {
            if !entries.contains_key(name) {
                return Some(format!("{at}: `{name}` is missing"));
            }
        }
        entries.iter().find_map(|(name, value)| {
            let at = format!("{at}.{name}");
            let of_name = schema["properties"].get(name);
            let of_all = schema.get("additionalProperties").filter(|s| s.is_object());
            of_name.or(of_all).and_then(|s| self.wrong(s, value, &at))
        })
    }

    fn wrong_item(&self, schema: &Value, all: &[Value], at: &str) -> Option<String> {
        let count = |name: &str| schema[name].as_u64();
        let length = all.len() as u64;
        if count("minItems").is_some_and(|n| length < n)
            || count("maxItems").is_some_and(|n| length > n)
        {
            return Some(format!("{at}: {length} items"));
        }
        all.iter().enumerate().find_map(|(i, value)| {
            let one = schema["prefixItems"].get(i).or_else(|| schema.get("items"));
            one.and_then(|s| self.wrong(s, value, &format!("{at}[{i}]")))
        })
    }

    /// An entry that nothing in the schema names.
    fn unnamed(&self, schema: &Value, value: &Value, at: &str) -> Option<String> {
        let entries = value.as_object()?;
        let mut named = Vec::new();
        let open = self.names(schema, &mut named);
        let stranger = entries.keys().find(|k| !named.contains(k))?;
        (!open && !named.is_empty()).then(|| format!("{at}: no `{stranger}` in the schema"))
    }

    /// Names of all entries that a schema knows; true when it takes any.
    fn names<'s>(&'s self, schema: &'s Value, into: &mut Vec<&'s String>) -> bool {
        let mut open =
            schema["additionalProperties"] == true || schema["additionalProperties"].is_object();
        if let Some(reference) = schema["$ref"].as_str() {
            open |= self.names(self.definition(reference), into);
        }
        into.extend(
            schema["properties"]
                .as_object()
                .into_iter()
                .flat_map(Map::keys),
        );
        for choice in ["oneOf", "anyOf"] {
            for one in schema[choice].as_array().into_iter().flatten() {
                open |= self.names(one, into);
            }
        }
        open
    }
}

fn is(kind: &str, value: &Value) -> bool {
    match kind {
        "null" => value.is_null(),
        "boolean" => value.is_boolean(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.is_i64() || value.is_u64(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        other => panic!("the schema says {other}"),
    }
}

fn answer_schema(command: &str) -> (Holder, Value) {
    let schema = answers::schema::schema();
    let capital: String = command[..1].to_uppercase() + &command[1..];
    let one = json!({ "$ref": format!("#/$defs/{capital}Answer") });
    (Holder { schema }, one)
}

/// Every answer that the demo jobs give, each command at least once.
fn answers_of_demo_jobs() -> Vec<Value> {
    let mut questions = Vec::new();
    for (_, job) in demo_jobs() {
        for command in ["check", "face", "move", "cutover", "price"] {
            questions.push(json!({ "command": command, "job": job }));
            questions
                .push(json!({ "command": command, "job": job, "drawing": true, "customer": true }));
        }
        questions.push(json!({ "command": "check", "job": job.replacen("amps", "ampz", 1) }));
        questions.push(json!({ "command": "read", "job": job }));
        let edits = json!([{ "at": ["title"], "to": "another" }]);
        questions.push(json!({ "command": "edit", "job": job, "edits": edits }));
        let rows = "space,serves,amps,glow\n1,bedroom,15,red\n2,kitchen,much,red\n";
        let paste = json!({ "command": "paste", "job": job, "board": "P", "picture": "before", "rows": rows });
        questions.push(paste);
        questions.push(json!({ "command": "layout", "job": job }));
        for board in ["P", "Q", "S", "nowhere"] {
            questions.push(json!({ "command": "board", "job": job, "board": board }));
        }
        let tight = json!([
            { "at": ["after", "boards", "S", "main"], "to": "main_breaker" },
            { "at": ["after", "boards", "S", "main_amps"], "to": 30 },
        ]);
        if job.contains("[before.boards.S]") {
            questions.push(json!({ "command": "check", "job": edited(&job, &tight) }));
        }
    }
    let interview = json!({ "edition": "2023", "boards": [{ "id": "P1", "name": "closet" }] });
    questions.push(json!({ "command": "start", "interview": interview }));
    let all: Vec<Value> = questions.iter().map(asked).collect();
    let schema = answers::schema::schema();
    for one in schema["$defs"]["Answer"]["anyOf"].as_array().unwrap() {
        let name = one["$ref"].as_str().unwrap();
        let command = name
            .trim_start_matches("#/$defs/")
            .trim_end_matches("Answer")
            .to_lowercase();
        assert!(
            all.iter().any(|a| a["command"] == command),
            "nothing answered `{command}`"
        );
    }
    all
}

#[test]
fn every_answer_fits_its_schema_and_has_nothing_that_the_schema_does_not_name() {
    for answer in answers_of_demo_jobs() {
        let (holder, schema) = answer_schema(answer["command"].as_str().unwrap());
        assert_eq!(holder.wrong(&schema, &answer, ""), None);
    }
}

#[test]
fn a_spoiled_answer_does_not_fit() {
    let answer = asked(&json!({ "command": "check", "job": demo_jobs()[0].1 }));
    let (holder, schema) = answer_schema("check");
    let spoil = |change: &dyn Fn(&mut Value)| {
        let mut spoiled = answer.clone();
        change(&mut spoiled);
        holder.wrong(&schema, &spoiled, "")
    };
    let missing = spoil(&|a| {
        a["scope"].as_object_mut().unwrap().remove("boards");
    });
    assert_eq!(missing.as_deref(), Some(".scope: `boards` is missing"));
    let stranger = spoil(&|a| a["supply"]["boards"][0]["colour"] = json!("red"));
    assert_eq!(
        stranger.as_deref(),
        Some(".supply.boards[0]: no `colour` in the schema")
    );
    let kind = spoil(&|a| a["worksheets"][0]["lines"][0]["value"] = json!({ "number": 3 }));
    assert!(kind.is_some_and(|w| w.starts_with(".worksheets[0].lines[0].value")));
    let word = spoil(&|a| a["supply"]["boards"][0]["role"] = json!("king"));
    assert!(word.is_some_and(|w| w.starts_with(".supply.boards[0].role")));
    assert!(spoil(&|a| a["command"] = json!("face")).is_some());
}

#[test]
fn every_reference_of_the_schema_leads_somewhere() {
    fn walk(value: &Value, seen: &mut dyn FnMut(&str)) {
        match value {
            Value::Object(entries) => {
                if let Some(to) = entries.get("$ref").and_then(Value::as_str) {
                    seen(to);
                }
                entries.values().for_each(|v| walk(v, seen));
            }
            Value::Array(all) => all.iter().for_each(|v| walk(v, seen)),
            _ => {}
        }
    }
    let holder = Holder {
        schema: answers::schema::schema(),
    };
    let mut count = 0;
    walk(&holder.schema, &mut |to| {
        assert!(holder.definition(to).is_object(), "{to}");
        count += 1;
    });
    assert!(count > 100, "{count}");
}

#[test]
fn the_front_ends_types_are_those_of_the_engine() {
    let file = root().join("web/src/engine/types.ts");
    let written = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(
        written == answers::typescript::types(),
        "{} is stale: cargo run -p lugwright-answers --example types",
        file.display()
    );
}
