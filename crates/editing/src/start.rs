//! From a short interview to a job file: what was said, and what has to be found out.
//! Source: the talk with the customer, so a bare value is what the customer said. Square feet, amperes.
//!
//! The first question is whether the service is touched. Yes: the first panel is the service panel, and a new one takes its place.
//! No: the service stays, and what is changed hangs on it. Nobody knows: no panel is said to be fed from anywhere yet.

use model::{JobFile, Mistakes};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::edit::Refused;
use crate::{slug, write};

/// What was said. Everything may be left out, and asked later; only the edition may not, for nothing may choose it silently.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Interview {
    /// Is the service touched?
    pub service_touched: Option<bool>,
    /// One line for lists and papers.
    pub title: String,
    /// Why the customer called.
    pub reason: String,
    /// Who the customer is.
    pub customer: String,
    /// Street address.
    pub address: String,
    /// Two-letter state code.
    pub state: String,
    /// City or county.
    pub city: String,
    /// Edition adopted at the address.
    pub edition: String,
    /// Date of the permit application.
    pub permit_date: String,
    /// Kind of dwelling; bare, `{ is, by }` or `"unknown"`, like every fact below.
    pub kind: Option<Value>,
    /// Floor area by outside dimensions, square feet.
    pub area: Option<Value>,
    /// Year built.
    pub year_built: Option<Value>,
    /// Panels there are, the one at the service first when the service is touched or stays in view.
    pub boards: Vec<InterviewBoard>,
}

/// A panel, as the customer tells.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct InterviewBoard {
    /// Its name in the job file; left out, made from its words.
    pub id: String,
    /// Words for papers.
    pub name: String,
    /// Bus rating, amperes.
    pub bus: Option<Value>,
    /// How the supply lands on it.
    pub main: Option<Value>,
    /// Full-size spaces.
    pub spaces: Option<Value>,
    /// Board it is fed from, or `utility`.
    pub fed_from: Option<String>,
    /// A new one takes its place. Left out, it follows from the first question where only one panel can be meant.
    pub replaced: Option<bool>,
}

/// What a new file begins with.
const FIRST_LINE: &str = "# Begun with an interview. What nobody knows yet is written as \"unknown\", or left out; the walk-through finds it out.";

/// The job file that the interview makes.
///
/// # Errors
/// Without an edition, and when something that was said does not suit its field.
pub fn start(interview: &Interview) -> Result<JobFile, Mistakes> {
    let text = text_of(interview)?;
    JobFile::read(&text)
}

fn text_of(said: &Interview) -> Result<String, Mistakes> {
    if said.edition.trim().is_empty() {
        let why = Refused::new(
            "no edition of the code",
            "the edition adopted at the address, as the permit office tells; there is no default",
        );
        return Err(why.into_mistakes(""));
    }
    let boards = boards(said);
    let title = match said.title.trim() {
        "" => "New job",
        title => title,
    };
    let mut parts = vec![format!(
        "{FIRST_LINE}\n\nformat = {}\ntitle = {}\nreason = {}",
        model::job::FORMAT,
        write::text(title),
        write::text(said.reason.trim())
    )];
    let mut add = |path: &[&str], entries: Map<String, Value>| {
        let path: Vec<String> = path.iter().map(|p| (*p).to_owned()).collect();
        parts.push(write::sections(&path, &entries, "\n"));
    };
    add(&["place"], place(said));
    let dwelling = [
        ("kind", fact(said.kind.as_ref())),
        ("area", fact(said.area.as_ref())),
        ("year_built", fact(said.year_built.as_ref())),
        ("system", json!("unknown")),
    ];
    add(&["before", "dwelling"], table(dwelling));
    for board in &boards {
        let survey = [
            ("name", json!(board.name)),
            ("bus", board.bus.clone()),
            ("main", board.main.clone()),
            ("spaces", board.spaces.clone()),
            ("location", json!("unknown")),
        ];
        add(&["before", "boards", &board.id], table(survey));
    }
    for board in &boards {
        if let Some(from) = &board.fed_from {
            let id = match from == model::house::UTILITY {
                true => "service".to_owned(),
                false => format!("{}-feeder", slug::shortened(&board.id, "feeder")),
            };
            let mut survey = table([("from", json!(from)), ("to", json!(board.id))]);
            if from != model::house::UTILITY {
                survey.insert("breaker".to_owned(), json!("unknown"));
            }
            survey.extend(table([
                ("wires", json!("unknown")),
                ("wire", json!("unknown")),
                ("length", json!("unknown")),
            ]));
            add(&["before", "feeders", &id], survey);
        }
    }
    for board in boards.iter().filter(|b| b.replaced) {
        // Like for like would be a guess: the new panel is what somebody decides.
        let plan = [
            ("replaced", json!(true)),
            ("bus", json!("unknown")),
            ("main", json!("unknown")),
            ("spaces", json!("unknown")),
        ];
        add(&["after", "boards", &board.id], table(plan));
    }
    Ok(format!("{}\n", parts.join("\n\n")))
}

fn place(said: &Interview) -> Map<String, Value> {
    let mut place = table([("state", json!(said.state.trim()))]);
    for (name, text) in [
        ("address", &said.address),
        ("customer", &said.customer),
        ("city", &said.city),
        ("edition", &said.edition),
        ("permit_date", &said.permit_date),
    ] {
        if !text.trim().is_empty() {
            place.insert(name.to_owned(), json!(text.trim()));
        }
    }
    place
}

fn table<const N: usize>(entries: [(&str, Value); N]) -> Map<String, Value> {
    entries
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .collect()
}

/// What the customer said, or a question.
fn fact(said: Option<&Value>) -> Value {
    match said {
        None | Some(Value::Null) => json!("unknown"),
        Some(Value::String(text)) if text.trim().is_empty() || text == "unknown" => {
            json!("unknown")
        }
        Some(spelled @ Value::Object(_)) => spelled.clone(),
        Some(bare) => json!({ "is": bare, "by": "customer" }),
    }
}

/// A panel with what follows from the first question.
struct Board {
    id: String,
    name: String,
    bus: Value,
    main: Value,
    spaces: Value,
    fed_from: Option<String>,
    replaced: bool,
}

fn boards(said: &Interview) -> Vec<Board> {
    let mut names: Vec<String> = Vec::new();
    let mut boards: Vec<Board> = Vec::new();
    // A service that stays is not named by who asks for a subpanel; it is there all the same.
    let unnamed_service = match said.service_touched {
        Some(true) => said.boards.is_empty(),
        Some(false) => said.boards.len() < 2 && said.boards.iter().all(|b| b.fed_from.is_none()),
        None => false,
    };
    if unnamed_service {
        names.push("service-panel".to_owned());
        boards.push(Board {
            id: "service-panel".to_owned(),
            name: "service panel".to_owned(),
            bus: json!("unknown"),
            main: json!("unknown"),
            spaces: json!("unknown"),
            fed_from: None,
            replaced: false,
        });
    }
    for board in &said.boards {
        let wanted = match board.id.trim() {
            "" => board.name.as_str(),
            id => id,
        };
        let id = slug::unique(&slug::of(wanted, "panel"), |id| {
            names.iter().any(|n| n == id)
        });
        names.push(id.clone());
        boards.push(Board {
            id,
            name: board.name.trim().to_owned(),
            bus: fact(board.bus.as_ref()),
            main: fact(board.main.as_ref()),
            spaces: fact(board.spaces.as_ref()),
            fed_from: board
                .fed_from
                .clone()
                .filter(|from| !from.trim().is_empty()),
            replaced: board.replaced == Some(true),
        });
    }
    let first = boards.first().map(|b| b.id.clone());
    if said.service_touched.is_some() {
        for (n, board) in boards.iter_mut().enumerate() {
            let usual = match n {
                0 => Some(model::house::UTILITY.to_owned()),
                _ => first.clone(),
            };
            board.fed_from = board.fed_from.take().or(usual);
        }
    }
    if said.boards.iter().all(|b| b.replaced.is_none()) {
        mark_replaced(said.service_touched, &mut boards);
    }
    boards
}

/// The panel that can only be meant.
fn mark_replaced(service_touched: Option<bool>, boards: &mut [Board]) {
    match (service_touched, boards) {
        (Some(true), [service, ..]) => service.replaced = true,
        (Some(false), [_, only]) => only.replaced = true,
        (None, [only]) => only.replaced = true,
        _ => {}
    }
}
