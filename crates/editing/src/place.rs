//! Puts a panel at a place along a wall, as the sweep of places looked at it.
//! Source: the engine's own picture of the job with the panel there (`engine::relocate::placed`). Inches.

use engine::relocate::{Way, placed};
use model::house::House;
use model::units::Inches;
use model::{Job, JobFile};
use rulebook::Rulebook;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::edit::Refused;
use crate::{names, remove, set};

/// A place for a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "PlaceOnWall")]
pub struct PanelPlace {
    /// The wall.
    pub wall: String,
    /// Left edge of the cabinet from the wall's left end, inches.
    pub x: f64,
    /// What becomes of the old cabinet.
    pub way: PanelWay,
}

/// What becomes of the old cabinet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PanelWay {
    /// It stays as a splice box.
    SpliceBox,
    /// It goes.
    Removed,
    /// The new panel goes where the old one was.
    InPlace,
}

impl From<PanelWay> for Way {
    fn from(way: PanelWay) -> Self {
        match way {
            PanelWay::SpliceBox => Self::SpliceBox,
            PanelWay::Removed => Self::Removed,
            PanelWay::InPlace => Self::InPlace,
        }
    }
}

impl From<Way> for PanelWay {
    fn from(way: Way) -> Self {
        match way {
            Way::SpliceBox => Self::SpliceBox,
            Way::Removed => Self::Removed,
            Way::InPlace => Self::InPlace,
        }
    }
}

/// How often what is stated is compared with what is meant: stating a position makes a board forget what was taken over.
const ROUNDS: usize = 4;

/// The text with the panel there: position, room in front, lengths of feeders; what was measured for another place is taken out.
pub(crate) fn place(
    text: &str,
    board: &str,
    place: &PanelPlace,
    book: &Rulebook,
) -> Result<String, Refused> {
    let file = JobFile::read(text).map_err(|m| Refused::unreadable(&m))?;
    let target = placed(
        &file.job,
        book,
        board,
        (&place.wall, Inches(place.x)),
        place.way.into(),
    );
    let target = target.map_err(|why| Refused::new(why.to_string(), why.expected()))?;
    let mut text = text.to_owned();
    for _ in 0..ROUNDS {
        let now = JobFile::read(&text)
            .map_err(|m| Refused::unreadable(&m))?
            .job;
        let changes = differences(&now, &target, board);
        if changes.is_empty() {
            return Ok(text);
        }
        for (path, to) in changes {
            text = match to {
                Some(value) => set::set(&text, &path, &value, None)?,
                None => unsaid(&text, &path)?,
            };
        }
    }
    Ok(text)
}

/// Nothing is said of this in the picture after the work: what is stated goes, and what is taken over is said to be unknown.
fn unsaid(text: &str, path: &[String]) -> Result<String, Refused> {
    match names::stands(&set::outline(text)?, path) {
        true => remove::remove(text, path),
        false => set::set(text, path, &json!("unknown"), None),
    }
}

type Change = (Vec<String>, Option<Value>);

/// What differs in the board, in its circuits and in the feeders.
fn differences(now: &Job, target: &Job, board: &str) -> Vec<Change> {
    let json = |house: &House| serde_json::to_value(house).unwrap_or_default();
    let (now, target) = (json(&now.after), json(&target.after));
    let mut found = Vec::new();
    let mut look = |sort: &str, id: &str| {
        let thing = |house: &Value| house.get(sort).and_then(|s| s.get(id)).cloned();
        if let (Some(Value::Object(a)), Some(Value::Object(b))) = (thing(&now), thing(&target)) {
            let path = ["after", sort, id].map(str::to_owned);
            between(&path, &a, &b, &mut found);
        }
    };
    look("boards", board);
    for sort in ["feeders", "circuits"] {
        let things = target.get(sort).and_then(Value::as_object);
        for id in things.into_iter().flat_map(Map::keys) {
            look(sort, id);
        }
    }
    found
}

fn between(
    path: &[String],
    now: &Map<String, Value>,
    target: &Map<String, Value>,
    found: &mut Vec<Change>,
) {
    let is_fact = |v: &Map<String, Value>| v.contains_key("is");
    for (key, to) in target {
        let at: Vec<String> = path.iter().chain([key]).cloned().collect();
        match (now.get(key), to) {
            (Some(from), to) if from == to => {}
            (Some(Value::Object(from)), Value::Object(to)) if !is_fact(from) && !is_fact(to) => {
                between(&at, from, to, found);
            }
            (_, Value::Null) => found.push((at, None)),
            (_, to) if *to == "unknown" => found.push((at, None)),
            (_, to) => found.push((at, Some(to.clone()))),
        }
    }
    for key in now.keys().filter(|key| !target.contains_key(*key)) {
        let at = path.iter().chain([key]).cloned().collect();
        found.push((at, None));
    }
}
