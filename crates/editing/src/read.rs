//! What does a job say, in one form for every screen?
//! Source: the job file as it reads, before and after merged. Values in the units of the job file.

use std::borrow::Cow;
use std::marker::PhantomData;

use model::candidates::Candidates;
use model::house::House;
use model::{JobFile, Offer, Place, Plan};
use rulebook::FactDictionary;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

use crate::choices::{Choices, choices};
use crate::normal;

/// A job with every fact in one form.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Reading {
    /// One line for lists and papers.
    pub title: String,
    /// Why the customer called.
    pub reason: String,
    /// Where, and under which edition.
    pub place: Normal<Place>,
    /// The house as it stands, in the order of the file.
    pub before: Normal<House>,
    /// The house as it will stand: before, with what the file says of after laid over it. What is gone is not in it.
    pub after: Normal<House>,
    /// What the file itself says of after, as it is written there.
    pub stated_after: Map<String, Value>,
    /// How the work is to be done.
    pub plan: Normal<Plan>,
    /// What the offer holds beside the work.
    pub offer: Normal<Offer>,
    /// Where a panel might go.
    pub candidates: Normal<Candidates>,
    /// Words that fields take, by sort and field.
    pub choices: Choices,
}

/// Sorts of things that have names.
const SORTS: [&str; 8] = [
    "buildings",
    "boards",
    "feeders",
    "circuits",
    "loads",
    "outlets",
    "sources",
    "walls",
];

/// Reads a job for a screen.
#[must_use]
pub fn read(file: &JobFile, facts: &FactDictionary) -> Reading {
    let job = &file.job;
    let spelled = file.spelled::<Map<String, Value>>();
    let (raw_before, raw_after) = (Value::Object(spelled.before), Value::Object(spelled.after));
    let beside = spelled.beside;
    let mut before = normal::of(&job.before, Some(&raw_before));
    let mut after = normal::of(&job.after, Some(&raw_after));
    let changes = Changes::of(file, &before, &after);
    changes.tell(&mut before, &raw_before);
    changes.tell(&mut after, &raw_after);
    Reading {
        title: job.title.clone(),
        reason: job.reason.clone(),
        place: Normal::new(normal::of(&job.place, beside.get("place"))),
        before: Normal::new(before),
        after: Normal::new(after),
        stated_after: spelled.stated_after,
        plan: Normal::new(normal::of(&job.plan, beside.get("plan"))),
        offer: Normal::new(normal::of(&job.offer, beside.get("offer"))),
        candidates: Normal::new(normal::of(&job.candidates, beside.get("candidates"))),
        choices: choices(facts),
    }
}

/// What becomes of each thing, by sort and name.
struct Changes(Vec<(&'static str, String, Value)>);

impl Changes {
    fn of(file: &JobFile, before: &Value, after: &Value) -> Self {
        let scope = model::scope::Scope::of(&file.job);
        let mut all = Vec::new();
        let word = |change: &model::scope::Change| serde_json::to_value(change).unwrap_or_default();
        for (id, board) in &scope.boards {
            all.push(("boards", id.to_string(), word(&board.change)));
        }
        for (id, change) in &scope.feeders {
            all.push(("feeders", id.to_string(), word(change)));
        }
        for (id, circuit) in &scope.circuits {
            all.push(("circuits", id.to_string(), word(&circuit.change)));
        }
        for sort in SORTS {
            if matches!(sort, "boards" | "feeders" | "circuits") {
                continue;
            }
            let names = |house: &Value| -> Vec<String> {
                let things = house.get(sort).and_then(Value::as_object);
                things
                    .map(|t| t.keys().cloned().collect())
                    .unwrap_or_default()
            };
            let (old, new) = (names(before), names(after));
            let kept = |id: &String| if new.contains(id) { "kept" } else { "removed" };
            let fresh = new.iter().filter(|id| !old.contains(id));
            all.extend(old.iter().map(|id| (sort, id.clone(), kept(id).into())));
            all.extend(fresh.map(|id| (sort, id.clone(), "new".into())));
        }
        Self(all)
    }

    /// Puts name and change into every thing, and the things in the order of the file.
    fn tell(&self, house: &mut Value, raw: &Value) {
        for sort in SORTS {
            let Some(Value::Object(things)) = house.get_mut(sort) else {
                continue;
            };
            let mut ordered = Map::new();
            let order = raw.get(sort).and_then(Value::as_object);
            let names = order.into_iter().flat_map(Map::keys);
            for id in names {
                if let Some(Value::Object(thing)) = things.remove(id) {
                    let change = self.0.iter().find(|(s, name, _)| *s == sort && name == id);
                    let mut told = Map::new();
                    told.insert("id".to_owned(), Value::from(id.as_str()));
                    let change = change.map(|(_, _, c)| c.clone());
                    told.insert("change".to_owned(), change.unwrap_or_default());
                    told.extend(thing);
                    ordered.insert(id.clone(), Value::Object(told));
                }
            }
            *things = ordered;
        }
    }
}

/// A part of the job with every fact in normal form.
#[derive(Clone, Debug, PartialEq)]
pub struct Normal<T> {
    value: Value,
    of: PhantomData<T>,
}

impl<T> Normal<T> {
    const fn new(value: Value) -> Self {
        Self {
            value,
            of: PhantomData,
        }
    }

    /// The value as JSON.
    #[must_use]
    pub const fn value(&self) -> &Value {
        &self.value
    }
}

impl<T> Serialize for Normal<T> {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(s)
    }
}

/// What stands before the names of these schemas, which differ from those of the job file.
const PREFIX: &str = "Read";
const DEFINITIONS: &str = "#/$defs/";

impl<T: JsonSchema> JsonSchema for Normal<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("{PREFIX}{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let own = SchemaGenerator::from(generator.settings().clone());
        let mut root = Value::from(own.into_root_schema_for::<T>());
        let definitions = root.as_object_mut().and_then(|r| {
            r.remove("$schema");
            r.remove("title");
            r.remove("$defs")
        });
        if let Some(Value::Object(definitions)) = definitions {
            for (name, mut schema) in definitions {
                in_normal_form(&mut schema, &name);
                generator
                    .definitions_mut()
                    .insert(format!("{PREFIX}{name}"), schema);
            }
        }
        in_normal_form(&mut root, &T::schema_name());
        Schema::try_from(root).unwrap_or_default()
    }
}

/// Turns the schema of a part of the job file into that of its normal form.
fn in_normal_form(schema: &mut Value, name: &str) {
    if name.starts_with("Fact_") {
        let forms = schema.get_mut("anyOf").and_then(Value::as_array_mut);
        let mut value = forms
            .and_then(|f| f.first_mut())
            .map(Value::take)
            .unwrap_or_default();
        in_normal_form(&mut value, "");
        *schema = serde_json::json!({ "oneOf": [
            {
                "type": "object",
                "properties": { "known": { "const": true }, "is": value, "by": { "$ref": format!("{DEFINITIONS}{PREFIX}Said") } },
                "required": ["known", "is", "by"],
                "additionalProperties": false,
            },
            {
                "type": "object",
                "properties": { "known": { "const": false }, "asked": { "type": "boolean" } },
                "required": ["known", "asked"],
                "additionalProperties": false,
            },
        ] });
        return;
    }
    match schema {
        Value::Object(entries) => {
            if let Some(Value::String(to)) = entries.get_mut("$ref")
                && let Some(name) = to.strip_prefix(DEFINITIONS)
            {
                *to = format!("{DEFINITIONS}{PREFIX}{name}");
            }
            entries.remove("default");
            for (key, inner) in entries.iter_mut() {
                if key != "const" && key != "enum" {
                    in_normal_form(inner, "");
                }
            }
            let is_thing = matches!(
                name,
                "Building" | "Board" | "Feeder" | "Circuit" | "Load" | "Outlet" | "Source" | "Wall"
            );
            if let Some(Value::Object(properties)) = entries.get_mut("properties") {
                if is_thing {
                    let change =
                        serde_json::json!({ "enum": ["kept", "replaced", "new", "removed"] });
                    properties.shift_insert(
                        0,
                        "id".into(),
                        serde_json::json!({ "type": "string" }),
                    );
                    properties.shift_insert(1, "change".into(), change);
                }
                let all = properties.keys().cloned().map(Value::from).collect();
                entries.insert("required".to_owned(), Value::Array(all));
            }
        }
        Value::Array(all) => all.iter_mut().for_each(|v| in_normal_form(v, "")),
        _ => {}
    }
}
