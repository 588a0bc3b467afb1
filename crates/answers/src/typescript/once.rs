//! What occurs in several places of a schema under several names, or under none, gets one name. Nothing else changes.
//! Source: [`crate::schema`]. Shapes are compared as TypeScript sees them, without what is said about them.

use serde_json::{Map, Value, json};

use super::{Entries, PARAMETER, TYPE, WITH, reference, type_of};
use crate::schema::DEFINITIONS;

/// What the answers about a job have in common.
const ABOUT_JOB: &str = "AboutJobAnswer";

/// The same definitions with each shape once.
pub(super) fn once(definitions: &Entries) -> Entries {
    let mut all = definitions.clone();
    facts(&mut all);
    for definition in all.values_mut() {
        one_object(definition);
    }
    while equal(&mut all) {}
    words(&mut all);
    begin_alike(&mut all);
    all
}

fn point_to(name: &str) -> Value {
    json!(format!("{DEFINITIONS}{name}"))
}

/// Calls `change` on every schema of a value, the outermost last.
fn each(value: &mut Value, change: &mut dyn FnMut(&mut Value)) {
    match value {
        Value::Object(entries) => entries.values_mut().for_each(|v| each(v, change)),
        Value::Array(all) => all.iter_mut().for_each(|v| each(v, change)),
        _ => {}
    }
    change(value);
}

/// As TypeScript sees it, without what is said about it.
fn shape(schema: &Value) -> String {
    let mut bare = schema.clone();
    each(&mut bare, &mut |v| {
        if let Some(entries) = v.as_object_mut() {
            entries.retain(|name, v| name != "description" || !v.is_string());
        }
    });
    type_of(&bare, "")
}

/// Facts of the normal form differ in nothing but what is known: one type with a parameter.
fn facts(all: &mut Entries) {
    let mut known: Map<String, Value> = Map::new();
    for (name, definition) in &*all {
        let value = definition.pointer("/oneOf/0/properties/is");
        let is_fact = definition.pointer("/oneOf/1/properties/asked").is_some();
        known.extend(value.filter(|_| is_fact).map(|v| (name.clone(), v.clone())));
    }
    let Some(first) = known.keys().next().cloned() else {
        return;
    };
    let name = first.split('_').next().unwrap_or(&first).to_owned();
    let mut general = all[&first].clone();
    general[PARAMETER] = json!("T");
    general["oneOf"][0]["properties"]["is"] = json!({ TYPE: "T" });
    if let Some(at) = all.keys().position(|n| *n == first) {
        all.shift_insert(at, name.clone(), general);
    }
    all.retain(|n, _| !known.contains_key(n));
    for definition in all.values_mut() {
        each(definition, &mut |schema| {
            let of = reference(schema).and_then(|n| known.get(n)).cloned();
            if let (Some(of), Some(entries)) = (of, schema.as_object_mut()) {
                entries.insert("$ref".to_owned(), point_to(&name));
                entries.insert(WITH.to_owned(), of);
            }
        });
    }
}

/// A choice between objects that differ in one word is an object with a choice of words.
fn one_object(schema: &mut Value) {
    let choices = schema["oneOf"].as_array().filter(|all| all.len() > 1);
    let Some((first, others)) = choices.and_then(|all| all.split_first()) else {
        return;
    };
    let entries = |schema: &Value| schema["properties"].as_object().cloned();
    let Some(mut own) = entries(first) else {
        return;
    };
    let differs = |other: &Value| -> Option<String> {
        let other = entries(other)?;
        let same_names = other.len() == own.len() && own.keys().all(|n| other.contains_key(n));
        let mut differing = own.iter().filter(|(n, v)| other.get(*n) != Some(*v));
        let (name, _) = differing.next()?;
        (same_names && differing.next().is_none()).then(|| name.clone())
    };
    let names: Option<Vec<String>> = others.iter().map(differs).collect();
    let Some(names) = names.filter(|n| n.windows(2).all(|w| w[0] == w[1])) else {
        return;
    };
    let name = &names[0];
    let all = std::iter::once(first).chain(others);
    let words: Vec<Value> = all
        .map(|s| s["properties"][name]["const"].clone())
        .collect();
    if words.iter().any(|w| !w.is_string()) {
        return;
    }
    own.insert(name.clone(), json!({ "enum": words }));
    let mut object = first.clone();
    object["properties"] = Value::Object(own);
    let said = schema["description"].take();
    *schema = object;
    if said.is_string() {
        schema["description"] = said;
    }
}

/// Two definitions of one shape become one; true when there were such.
fn equal(all: &mut Entries) -> bool {
    let shapes: Vec<(String, String)> = all.iter().map(|(n, s)| (n.clone(), shape(s))).collect();
    let composed = |shape: &str| shape.contains('{') || shape.contains('|');
    for (at, (name, first)) in shapes.iter().enumerate() {
        let same = shapes[at + 1..].iter().filter(|(_, s)| s == first);
        let same: Vec<&String> = same.map(|(n, _)| n).collect();
        if same.is_empty() || !composed(first) {
            continue;
        }
        // `SpanOfDollars` and `SpanOfHours` are a `Span`.
        let general = name.split("Of").next().unwrap_or(name);
        let alike = same.iter().all(|n| n.split("Of").next() == Some(general));
        let short = alike && !general.is_empty() && !all.contains_key(general);
        let one = if short {
            general.to_owned()
        } else {
            name.clone()
        };
        let gone: Vec<String> = same.into_iter().cloned().collect();
        if short {
            let definition = all[name].clone();
            all.shift_insert(at, one.clone(), definition);
            all.shift_remove(name);
        }
        all.retain(|n, _| !gone.contains(n));
        for definition in all.values_mut() {
            each(definition, &mut |schema| {
                let there =
                    reference(schema).is_some_and(|n| n == name || gone.iter().any(|g| g == n));
                if there {
                    schema["$ref"] = point_to(&one);
                }
            });
        }
        return true;
    }
    false
}

/// Words to choose from that have a name are called by it.
fn words(all: &mut Entries) {
    let is_choice = |shape: &str| shape.starts_with('\'') && shape.contains(" | ");
    let shapes = all.iter().map(|(n, s)| (shape(s), n.clone()));
    let named: Vec<(String, String)> = shapes.filter(|(s, _)| is_choice(s)).collect();
    for (own, definition) in all.iter_mut() {
        each(definition, &mut |schema| {
            if schema["enum"].is_array() || schema["oneOf"].is_array() {
                let shape = shape(schema);
                let name = named.iter().find(|(s, n)| *s == shape && n != own);
                if let Some((_, name)) = name {
                    let said = schema["description"].take();
                    *schema = json!({ "$ref": point_to(name) });
                    if said.is_string() {
                        schema["description"] = said;
                    }
                }
            }
        });
    }
}

/// Answers about a job begin alike: what all of them have is said once.
fn begin_alike(all: &mut Entries) {
    let is_about_job = |schema: &Value| {
        let has = |name: &str| schema["properties"][name].is_object();
        has("command") && has("place") && has("notices")
    };
    let about: Vec<String> = all
        .iter()
        .filter(|(_, s)| is_about_job(s))
        .map(|(n, _)| n.clone())
        .collect();
    let Some((first, others)) = about.split_first().filter(|(_, o)| !o.is_empty()) else {
        return;
    };
    let mut shared = all[first].clone();
    let has = |name: &String, property: &Value| {
        others
            .iter()
            .all(|o| all[o]["properties"].get(name) == Some(property))
    };
    let Some(properties) = shared["properties"].as_object_mut() else {
        return;
    };
    properties.retain(|name, property| has(name, property));
    let names: Vec<String> = properties.keys().cloned().collect();
    let at = all.keys().position(|n| n == first).unwrap_or_default();
    for name in &about {
        let own = all.get_mut(name);
        if let Some(own) = own.and_then(Value::as_object_mut) {
            own.insert(super::BEGINS.to_owned(), json!(ABOUT_JOB));
            if let Some(properties) = own.get_mut("properties").and_then(Value::as_object_mut) {
                properties.retain(|n, _| !names.contains(n));
            }
        }
    }
    all.shift_insert(at, ABOUT_JOB.to_owned(), shared);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entries(value: Value) -> Entries {
        value.as_object().cloned().unwrap_or_default()
    }

    fn check(before: Value, after: Value) {
        assert_eq!(Value::Object(once(&entries(before))), after);
    }

    #[test]
    fn shapes_that_differ_in_what_is_said_alone_are_one_and_every_reference_follows() {
        let span = |of: &str| json!({ "type": "object", "properties": { "low": { "type": "number", "description": of } } });
        check(
            json!({
                "SpanOfFeet": span("ft"),
                "SpanOfHours": span("h"),
                "Id": { "type": "string" },
                "Name": { "type": "string" },
                "Both": { "type": "array", "prefixItems": [{ "$ref": "#/$defs/SpanOfFeet" }, { "$ref": "#/$defs/SpanOfHours" }] },
            }),
            json!({
                "Span": span("ft"),
                "Id": { "type": "string" },
                "Name": { "type": "string" },
                "Both": { "type": "array", "prefixItems": [{ "$ref": "#/$defs/Span" }, { "$ref": "#/$defs/Span" }] },
            }),
        );
    }

    #[test]
    fn what_holds_another_definition_is_equal_once_those_are() {
        let pair = |of: &str| json!({ "type": "object", "properties": { "a": { "$ref": format!("#/$defs/{of}") } } });
        let inner = json!({ "enum": ["x", "y"] });
        let all = once(&entries(json!({
            "One": inner, "Two": inner, "OfOne": pair("One"), "OfTwo": pair("Two"), "Apart": { "enum": ["x", "z"] },
        })));
        let names: Vec<&String> = all.keys().collect();
        assert_eq!(names, ["One", "OfOne", "Apart"]);
    }

    #[test]
    fn a_choice_between_objects_that_differ_in_a_word_is_one_object() {
        let object = |word: &str, entry: &str| json!({ "type": "object", "properties": { "is": { "const": word }, entry: { "type": "string" } } });
        check(
            json!({ "A": { "description": "Said.", "oneOf": [object("x", "e"), object("y", "e")] } }),
            json!({ "A": { "description": "Said.", "type": "object", "properties": { "is": { "enum": ["x", "y"] }, "e": { "type": "string" } } } }),
        );
        let apart = json!({ "A": { "oneOf": [object("x", "e"), object("y", "f")] } });
        check(apart.clone(), apart);
    }

    #[test]
    fn words_to_choose_from_are_called_by_their_name() {
        check(
            json!({
                "Way": { "oneOf": [{ "const": "up", "description": "Up." }, { "const": "down" }] },
                "Step": { "type": "object", "properties": { "way": { "enum": ["up", "down"], "description": "Which way." }, "other": { "enum": ["up", "left"] } } },
            }),
            json!({
                "Way": { "oneOf": [{ "const": "up", "description": "Up." }, { "const": "down" }] },
                "Step": { "type": "object", "properties": { "way": { "$ref": "#/$defs/Way", "description": "Which way." }, "other": { "enum": ["up", "left"] } } },
            }),
        );
    }

    #[test]
    fn facts_are_one_type_with_a_parameter_and_answers_about_a_job_begin_alike() {
        let types = super::super::types();
        assert!(types.contains("export type ReadFact<T> = {\n  known: true;\n  is: T;"));
        assert!(types.contains("bus: ReadFact</* in A */ number>;"));
        assert!(types.contains("export interface CheckAnswer extends AboutJobAnswer {"));
        let head = types.find("export interface AboutJobAnswer {");
        let head = &types[head.expect("the head")..];
        let head = &head[..head.find("\n}").expect("its end")];
        assert!(head.contains("notices: string[]") && !head.contains("command"));
    }

    #[test]
    fn no_shape_of_the_published_types_has_two_names() {
        let schema = crate::schema::schema();
        let all = once(schema["$defs"].as_object().expect("definitions"));
        let mut shapes: Vec<(String, &String)> = all.iter().map(|(n, s)| (shape(s), n)).collect();
        shapes.retain(|(s, _)| s.contains('{') || s.contains('|'));
        shapes.sort();
        assert!(shapes.len() > 100);
        for pair in shapes.windows(2) {
            assert_ne!(pair[0].0, pair[1].0, "{} and {}", pair[0].1, pair[1].1);
        }
    }
}
