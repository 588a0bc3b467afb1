//! The same questions and answers as TypeScript types, for the front end, so that no type is written twice.
//! Source: [`crate::schema`], each shape under one name ([`once`]). Entries that may be left out are optional; what nobody knows is `null`, as in
//! the JSON.

mod once;

use std::fmt::Write;

use serde_json::{Map, Value};

type Entries = Map<String, Value>;

/// Longest list that is written out as so many values.
const LONGEST_TUPLE: u64 = 4;

/// What a schema says besides, for this file alone: its parameter, a type by its name, the parameter's value, the interface it begins with.
const PARAMETER: &str = "x-parameter";
const TYPE: &str = "x-type";
const WITH: &str = "x-with";
const BEGINS: &str = "x-begins";

/// What stands at the head of the file.
const HEAD: &str = "\
// Generated from the types of the engine; do not edit. `cargo run -p lugwright-answers --example types` writes it anew.
/* eslint-disable */
";

/// The file of types.
#[must_use]
pub fn types() -> String {
    of_schema(&crate::schema::schema())
}

/// Types of everything that a schema defines.
#[must_use]
pub fn of_schema(schema: &Value) -> String {
    let empty = Entries::new();
    let definitions = once::once(schema["$defs"].as_object().unwrap_or(&empty));
    let mut out = HEAD.to_owned();
    for (name, definition) in &definitions {
        out.push('\n');
        define(&mut out, &pascal(name), definition);
    }
    by_command(&mut out, &definitions);
    out
}

fn define(out: &mut String, name: &str, schema: &Value) {
    comment(out, schema, "");
    let of = |key: &str, words: &dyn Fn(&str) -> String| {
        schema[key].as_str().map(words).unwrap_or_default()
    };
    let parameter = of(PARAMETER, &|t| format!("<{t}>"));
    let begins = of(BEGINS, &|name| format!(" extends {name}"));
    let kind = type_of(schema, "");
    let _ = match plain_object(schema) {
        Some(_) => writeln!(out, "export interface {name}{begins} {kind}"),
        None => writeln!(out, "export type {name}{parameter} = {kind};"),
    };
}

/// Which answer comes to which command, so that who asks knows what he gets.
fn by_command(out: &mut String, definitions: &Entries) {
    let answers = definitions
        .get("Answer")
        .and_then(|a| a["anyOf"].as_array());
    out.push_str("\n/** What is answered to each command when nothing is wrong. */\n");
    out.push_str("export interface AnswerTo {\n");
    let named = answers.into_iter().flatten().filter_map(reference);
    for name in named {
        let answer = definitions.get(name);
        let command = answer.map(|a| &a["properties"]["command"]);
        let literal = command.and_then(|command| literal(command, definitions));
        if let Some(literal) = literal.filter(|l| *l != "error") {
            let _ = writeln!(out, "  {}: {};", key(literal), pascal(name));
        }
    }
    out.push_str("}\n");
}

/// The one text that a schema takes.
fn literal<'s>(schema: &'s Value, definitions: &'s Entries) -> Option<&'s str> {
    let there = reference(schema).and_then(|name| definitions.get(name));
    let schema = there.unwrap_or(schema);
    let only = schema["const"].as_str();
    only.or_else(|| schema["oneOf"][0]["const"].as_str())
}

/// Entries of a schema that is an object and nothing besides.
fn plain_object(schema: &Value) -> Option<&Entries> {
    let alone = ["oneOf", "anyOf", "allOf", "$ref"];
    let properties = schema["properties"].as_object()?;
    let alone = alone.iter().all(|k| schema.get(k).is_none());
    (alone && !takes_more(schema)).then_some(properties)
}

/// A type as it stands in a line that is indented so far.
fn type_of(schema: &Value, indent: &str) -> String {
    let mut parts = Vec::new();
    if let Some(name) = schema[TYPE].as_str() {
        parts.push(name.to_owned());
    }
    if let Some(name) = reference(schema) {
        parts.push(pascal(name) + &with(schema, indent));
    }
    if let Some(properties) = schema["properties"].as_object() {
        parts.push(object(schema, properties, indent));
        if takes_more(schema) {
            parts.push("{ [name: string]: unknown }".to_owned());
        }
    }
    for choice in ["oneOf", "anyOf"] {
        if let Some(all) = schema[choice].as_array() {
            parts.push(union(all.iter().map(|s| type_of(s, indent))));
        }
    }
    if let Some(all) = schema["allOf"].as_array() {
        parts.extend(all.iter().map(|s| type_of(s, indent)));
    }
    match parts.as_slice() {
        [] => simple(schema, indent),
        [one] => one.clone(),
        _ => {
            let each = parts.iter().map(|p| in_brackets(p));
            each.collect::<Vec<_>>().join(" & ")
        }
    }
}

/// The value of a parameter in its brackets, with what is said of it: a unit.
fn with(schema: &Value, indent: &str) -> String {
    let Some(value) = schema.get(WITH) else {
        return String::new();
    };
    let said = value["description"].as_str();
    let said = said
        .map(|text| format!("/* {text} */ "))
        .unwrap_or_default();
    format!("<{said}{}>", type_of(value, indent))
}

fn simple(schema: &Value, indent: &str) -> String {
    if let Some(literal) = schema.get("const") {
        return value(literal);
    }
    if let Some(all) = schema["enum"].as_array() {
        return union(all.iter().map(value));
    }
    match &schema["type"] {
        Value::String(name) => named(name, schema, indent),
        Value::Array(names) => {
            let names = names.iter().filter_map(Value::as_str);
            union(names.map(|name| named(name, schema, indent)))
        }
        _ => "unknown".to_owned(),
    }
}

fn named(name: &str, schema: &Value, indent: &str) -> String {
    match name {
        "string" | "boolean" | "null" => name.to_owned(),
        "number" | "integer" => "number".to_owned(),
        "array" => array(schema, indent),
        "object" => match &schema["additionalProperties"] {
            Value::Object(each) => {
                let each = type_of(&Value::Object(each.clone()), indent);
                format!("{{ [name: string]: {each} }}")
            }
            _ => "{ [name: string]: unknown }".to_owned(),
        },
        _ => "unknown".to_owned(),
    }
}

fn array(schema: &Value, indent: &str) -> String {
    if let Some(each) = schema["prefixItems"].as_array() {
        let each: Vec<String> = each.iter().map(|s| type_of(s, indent)).collect();
        return format!("[{}]", each.join(", "));
    }
    let each = type_of(&schema["items"], indent);
    match (schema["minItems"].as_u64(), schema["maxItems"].as_u64()) {
        (Some(least), Some(most)) if least == most && most <= LONGEST_TUPLE => {
            let all: Vec<&str> = (0..most).map(|_| each.as_str()).collect();
            format!("[{}]", all.join(", "))
        }
        _ => format!("{}[]", in_brackets(&each)),
    }
}

fn object(schema: &Value, properties: &Entries, indent: &str) -> String {
    if properties.is_empty() {
        return "Record<string, never>".to_owned();
    }
    let inner = format!("{indent}  ");
    let needed = |name: &str| {
        let all = schema["required"].as_array().into_iter().flatten();
        all.filter_map(Value::as_str).any(|n| n == name)
    };
    let mut out = "{\n".to_owned();
    for (name, property) in properties {
        comment(&mut out, property, &inner);
        let optional = if needed(name) { "" } else { "?" };
        let kind = type_of(property, &inner);
        let _ = writeln!(out, "{inner}{}{optional}: {kind};", key(name));
    }
    let _ = write!(out, "{indent}}}");
    out
}

/// Beside the entries that are named there may be others.
fn takes_more(schema: &Value) -> bool {
    let others = &schema["additionalProperties"];
    schema["properties"].is_object() && (others.is_object() || *others == true)
}

fn reference(schema: &Value) -> Option<&str> {
    schema["$ref"]
        .as_str()?
        .strip_prefix(crate::schema::DEFINITIONS)
}

/// Each once, in order.
fn union(all: impl Iterator<Item = String>) -> String {
    let mut kinds: Vec<String> = Vec::new();
    for kind in all {
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    kinds.join(" | ")
}

/// In brackets where it would be read wrongly beside something else.
fn in_brackets(kind: &str) -> String {
    if kind.contains(" | ") && !is_one_object(kind) {
        format!("({kind})")
    } else {
        kind.to_owned()
    }
}

/// One object from its first brace to its last.
fn is_one_object(kind: &str) -> bool {
    let mut depth = 0_i32;
    let closes_at = kind.char_indices().find_map(|(at, c)| {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        (depth == 0).then_some(at)
    });
    closes_at == Some(kind.len() - 1)
}

fn value(literal: &Value) -> String {
    match literal {
        Value::String(text) => format!("'{}'", text.replace('\\', "\\\\").replace('\'', "\\'")),
        other => other.to_string(),
    }
}

fn key(name: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let starts = name.starts_with(|c: char| c.is_ascii_alphabetic() || c == '_');
    if starts && name.chars().all(plain) {
        name.to_owned()
    } else {
        value(&Value::String(name.to_owned()))
    }
}

/// A name of a type: `Fact_Array_of_string` becomes `FactArrayOfString`.
fn pascal(name: &str) -> String {
    let words = name.split(|c: char| !c.is_ascii_alphanumeric());
    let each = words.map(|word| {
        let mut letters = word.chars();
        let first = letters.next().map(|c| c.to_ascii_uppercase());
        first.into_iter().chain(letters).collect::<String>()
    });
    each.collect()
}

fn comment(out: &mut String, schema: &Value, indent: &str) {
    if let Some(text) = schema["description"].as_str() {
        let text = text.replace("*/", "* /").replace('\n', " ");
        let _ = writeln!(out, "{indent}/** {text} */");
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn check(schema: &Value, expected: &str) {
        assert_eq!(type_of(schema, ""), expected);
    }

    #[test]
    fn what_may_be_left_out_is_optional_and_what_nobody_knows_is_null() {
        check(
            &json!({ "type": "object", "required": ["a"], "properties": {
                "a": { "type": ["number", "null"], "description": "In A." },
                "b-c": { "type": "array", "items": { "type": ["string", "null"] } },
            } }),
            "{\n  /** In A. */\n  a: number | null;\n  'b-c'?: (string | null)[];\n}",
        );
    }

    #[test]
    fn a_choice_is_a_union_and_what_stands_beside_it_is_kept() {
        check(
            &json!({ "type": "object", "required": ["a"], "properties": { "a": true }, "oneOf": [
                { "const": "x" }, { "const": "y's" }, { "$ref": "#/$defs/Fact_of_it" },
            ] }),
            "{\n  a: unknown;\n} & ('x' | 'y\\'s' | FactOfIt)",
        );
    }

    #[test]
    fn a_short_list_of_known_length_is_written_out() {
        check(
            &json!({ "type": "array", "items": { "type": "integer" }, "minItems": 2, "maxItems": 2 }),
            "[number, number]",
        );
        check(
            &json!({ "type": "array", "prefixItems": [{ "type": "string" }, { "type": "null" }] }),
            "[string, null]",
        );
        check(
            &json!({ "type": "object", "additionalProperties": { "type": "string" } }),
            "{ [name: string]: string }",
        );
    }
}
