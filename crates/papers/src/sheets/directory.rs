//! The directory card for the door of each panel: what each space serves, told apart from every other, spares named as spares, nobody's name.
//! Source: the schedule after the work; labels are held to [`crate::directory`].

use engine::schedule::{Row, Schedule, What};
use serde_json::{Value, json};

use super::head::{amperes, head};
use crate::directory::faults;
use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

/// One breaker on the card.
struct Entry<'j> {
    first: Row<'j>,
    spaces: Vec<String>,
}

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let boards = material.boards_after();
    let mut cards = Vec::new();
    let mut wrong = Vec::new();
    for board in boards {
        let Some(schedule) = material.schedule_after(board) else {
            continue;
        };
        wrong.extend(problems(material, &schedule));
        cards.push(card(material, &schedule));
    }
    if cards.is_empty() {
        return Err(Problem::Nothing {
            paper: Paper::Directory.name(),
            what: "no board of the job has circuits on it".to_owned(),
        });
    }
    if !wrong.is_empty() {
        return Err(Problem::Labels(wrong));
    }
    Ok(Sheet {
        paper: Paper::Directory,
        setting: material.setting,
        data: json!({ "head": head(material, "directory"), "cards": cards }),
        drawings: Vec::new(),
        enclosed: Vec::new(),
    })
}

/// Labels that cannot stand, and circuits without a place.
fn problems(material: &Material<'_>, schedule: &Schedule<'_>) -> Vec<String> {
    let mut labels: Vec<(&str, &str)> = Vec::new();
    for row in schedule.rows.iter().filter(|r| r.pole == 1) {
        if let What::Circuit(id, circuit) = row.what
            && circuit.purpose != model::house::Purpose::Spare
            && !labels.iter().any(|(known, _)| *known == id)
        {
            labels.push((id, circuit.serves.as_str()));
        }
    }
    let board = schedule.board;
    let mut all: Vec<String> = faults(&labels)
        .into_iter()
        .map(|(circuit, label, why)| format!("board {board}, circuit {circuit}: \"{label}\" {why}"))
        .collect();
    let unplaced = schedule.unplaced.iter();
    all.extend(unplaced.map(|id| {
        let why = match material.faces.get(board) {
            Some(Ok(face)) if face.layout.is_err() => "nothing fits on the board",
            _ => "its `spaces` are not known",
        };
        format!("board {board}, {id}: {why}")
    }));
    all
}

fn card(material: &Material<'_>, schedule: &Schedule<'_>) -> Value {
    let job = material.report.job;
    let language = material.setting.language;
    let board = &job.after.boards[schedule.board];
    let entries = entries(schedule);
    let side = |column: u32| -> Vec<Value> {
        let mine = entries
            .iter()
            .filter(|e| e.first.at.is_some_and(|at| at.0 == column));
        mine.map(|e| entry(material, e)).collect()
    };
    let feeder = job
        .after
        .feeders
        .iter()
        .find(|(_, f)| f.to == schedule.board);
    let supply = match feeder {
        Some((_, f)) if f.from == model::house::UTILITY => say(language, "fed-by-utility", &[]),
        Some((_, f)) => {
            let from = job.after.boards.get(f.from.as_str());
            let name = from.map_or("", |b| b.name.as_str());
            let name = if name.is_empty() {
                f.from.as_str()
            } else {
                name
            };
            say(language, "fed-from", &[("board", name)])
        }
        None => say(language, "fed-by-unknown", &[]),
    };
    let name = if board.name.is_empty() {
        schedule.board
    } else {
        &board.name
    };
    json!({
        "title": say(language, "directory-of", &[("board", name)]),
        "supply": supply,
        "left": side(0),
        "right": side(1),
        "foot": say(language, "directory-foot", &[]),
    })
}

/// Breakers in the order of their first space; poles of one breaker together.
fn entries<'j>(schedule: &Schedule<'j>) -> Vec<Entry<'j>> {
    let mut all: Vec<Entry<'j>> = Vec::new();
    for row in &schedule.rows {
        let same = |e: &&mut Entry<'_>| row.pole > 0 && e.first.what == row.what;
        match all.iter_mut().find(same) {
            Some(known) => known.spaces.push(row.space()),
            None => all.push(Entry {
                first: row.clone(),
                spaces: vec![row.space()],
            }),
        }
    }
    all
}

fn entry(material: &Material<'_>, entry: &Entry<'_>) -> Value {
    let language = material.setting.language;
    let word = |name: &str| say(language, name, &[]);
    let (label, amps, spare) = match entry.first.what {
        What::Free => (word("open-space"), None, true),
        What::Circuit(_, c) if c.purpose == model::house::Purpose::Spare => {
            (word("spare"), c.amps.get(), true)
        }
        What::Circuit(_, c) => (c.serves.clone(), c.amps.get(), false),
        What::Feeder(_, f) => {
            let to = material.report.job.after.boards.get(f.to.as_str());
            let name = to.map_or("", |b| b.name.as_str());
            let name = if name.is_empty() { f.to.as_str() } else { name };
            (
                say(language, "feeds", &[("board", name)]),
                f.breaker.get(),
                false,
            )
        }
        What::Source(id, _) => (id.to_owned(), None, false),
        What::Device(id, d) if d.name.is_empty() => (id.to_owned(), None, false),
        What::Device(_, d) => (d.name.clone(), None, false),
    };
    json!({
        "spaces": entry.spaces,
        "amps": amps.map_or(String::new(), |a| amperes(a).replace(" A", "")),
        "label": label,
        "spare": spare,
    })
}
