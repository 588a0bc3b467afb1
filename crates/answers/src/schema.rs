//! The JSON Schema of every question and every answer, generated from the types that are read and written.
//! Source: JSON Schema 2020-12. Front-end types are made from it.

use schemars::JsonSchema;
use schemars::generate::{SchemaGenerator, SchemaSettings};
use serde_json::{Map, Value, json};

use crate::call::{CheckAnswer, CutoverAnswer, FaceAnswer, MoveAnswer, PriceAnswer};
use crate::edits::{
    BoardAnswer, EditAnswer, EditQuestion, LayoutAnswer, PasteAnswer, ReadAnswer, StartAnswer,
};
use crate::question::Question;
use crate::wrong::Wrong;

/// Where definitions stand.
pub(crate) const DEFINITIONS: &str = "#/$defs/";

/// A question; its `command` tells what is asked.
#[derive(JsonSchema)]
#[schemars(untagged, rename = "Question")]
#[expect(dead_code, reason = "only its schema is used")]
enum Questions {
    /// About a job as it is.
    About(Question),
    /// About changes of a job.
    Edit(EditQuestion),
}

/// An answer; its `command` tells to which question.
#[derive(JsonSchema)]
#[schemars(untagged, rename = "Answer")]
#[expect(dead_code, reason = "only its schema is used")]
enum Answers {
    /// The whole report of a job.
    Check(CheckAnswer<'static>),
    /// Which circuit goes in which space.
    Face(FaceAnswer<'static>),
    /// Where to put the new panel.
    Move(MoveAnswer<'static>),
    /// The order of work.
    Cutover(CutoverAnswer<'static>),
    /// What the job is offered for.
    Price(PriceAnswer<'static>),
    /// What the job says.
    Read(ReadAnswer),
    /// The job, changed.
    Edit(EditAnswer),
    /// A new job.
    Start(StartAnswer),
    /// Circuits of a spreadsheet.
    Paste(PasteAnswer),
    /// What stands in which space.
    Board(BoardAnswer),
    /// How an arrangement of breakers stands.
    Layout(LayoutAnswer),
    /// Something is wrong.
    Error(Wrong),
}

/// JSON Schema of an object with a `question` and its `answer`; what both are made of stands under `$defs`.
#[must_use]
pub fn schema() -> Value {
    let settings = SchemaSettings::draft2020_12();
    let mut asked = settings.clone().into_generator();
    let mut answered = settings.for_serialize().into_generator();
    asked.subschema_for::<Questions>();
    answered.subschema_for::<Answers>();
    let mut definitions = definitions(&mut answered);
    lay_beside(&mut definitions, self::definitions(&mut asked));
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Lugwright questions and answers",
        "type": "object",
        "properties": {
            "question": { "$ref": format!("{DEFINITIONS}Question") },
            "answer": { "$ref": format!("{DEFINITIONS}Answer") },
        },
        "required": ["question", "answer"],
        "$defs": definitions,
    })
}

fn definitions(of: &mut SchemaGenerator) -> Map<String, Value> {
    of.take_definitions(true)
}

/// What is asked may leave out what is always answered: a type that stands on both sides and is not the same gets a second name.
fn lay_beside(answered: &mut Map<String, Value>, asked: Map<String, Value>) {
    let differ = |name: &str| {
        answered
            .get(name)
            .is_some_and(|a| asked.get(name) != Some(a))
    };
    let renamed: Vec<String> = asked.keys().filter(|n| differ(n)).cloned().collect();
    for (name, mut definition) in asked {
        point_elsewhere(&mut definition, &renamed);
        let name = if renamed.contains(&name) {
            second(&name)
        } else {
            name
        };
        answered.insert(name, definition);
    }
}

fn second(name: &str) -> String {
    format!("{name}Asked")
}

fn point_elsewhere(schema: &mut Value, renamed: &[String]) {
    match schema {
        Value::Object(entries) => {
            if let Some(Value::String(to)) = entries.get_mut("$ref")
                && let Some(name) = to.strip_prefix(DEFINITIONS)
                && renamed.iter().any(|r| r == name)
            {
                *to = format!("{DEFINITIONS}{}", second(name));
            }
            entries
                .values_mut()
                .for_each(|v| point_elsewhere(v, renamed));
        }
        Value::Array(all) => all.iter_mut().for_each(|v| point_elsewhere(v, renamed)),
        _ => {}
    }
}
