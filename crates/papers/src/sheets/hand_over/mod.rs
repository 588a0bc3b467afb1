//! The hand-over book: what stands in the house now, what was changed, what was left and why, papers for insurer and rebate, records to fill in.
//! Source: job, findings, schedule after the work. Nothing is claimed that the job does not hold: tests and readings are fields to write on.

mod letter;
mod rebate;
mod records;

use engine::facts::Place;
use engine::schedule::{Row, Schedule, What};
use engine::tree::Role;
use model::house::{Circuit, Protection, Purpose};
use model::scope::Change;
use serde_json::{Value, json};

use super::head::{amperes, head};
use super::location::location;
use super::{plain, works};
use crate::material::{Language, Material};
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::words::say;

/// Name under which the job file is enclosed.
const JOB_FILE: &str = "job.toml";
/// Circuits named in one line.
const MOST: usize = 14;

pub(super) fn sheet(material: &Material<'_>) -> Result<Sheet, Problem> {
    let language = material.setting.language;
    let boards = material.boards_after();
    if boards.is_empty() {
        return Err(Problem::Nothing {
            paper: Paper::HandOver.name(),
            what: "no board of the job has circuits on it".to_owned(),
        });
    }
    let schedules: Vec<Schedule<'_>> = boards
        .iter()
        .filter_map(|id| material.schedule_after(id))
        .collect();
    let (place, drawings) = location(material);
    let services = material.report.tree.nodes.iter();
    let mains = services.filter(|n| n.role == Role::Service).map(|n| {
        let location = plain::tags(language, &n.board.location);
        let board = plain::board(material, n.id);
        say(
            language,
            "main-is-at",
            &[("board", &board), ("location", &location)],
        )
    });
    Ok(Sheet {
        paper: Paper::HandOver,
        setting: material.setting,
        data: json!({
            "head": head(material, "hand-over"),
            "job_file": JOB_FILE,
            "mains": mains.collect::<Vec<_>>(),
            "work": works::changes(material),
            "location": place,
            "schedules": schedules.iter().map(|s| schedule(material, s)).collect::<Vec<_>>(),
            "not_shown": not_shown(material),
            "left": left(material),
            "open": open(material),
            "records": records::records(material, &schedules),
            "photos": records::photos(material),
            "letter": letter::letter(material),
            "rebate": rebate::rebate(material),
            "warranty": material.book.identity.warranty,
        }),
        drawings,
        enclosed: vec![(JOB_FILE, material.job_text.to_owned())],
    })
}

/// Protection in words.
pub(super) fn protection(language: Language, circuit: &Circuit) -> String {
    plain::fact(language, &circuit.protection, |p| {
        let name = match p {
            Protection::None => "protection-none",
            Protection::Afci => "protection-afci",
            Protection::Gfci => "protection-gfci",
            Protection::Dual => "protection-dual",
        };
        say(language, name, &[])
    })
}

fn schedule(material: &Material<'_>, schedule: &Schedule<'_>) -> Value {
    let language = material.setting.language;
    let rows = schedule.rows.iter().map(|r| row(material, r));
    let unplaced = schedule
        .unplaced
        .iter()
        .map(|id| plain::circuit(material, id));
    let unplaced: Vec<String> = unplaced.collect();
    let unplaced = (!unplaced.is_empty()).then(|| {
        let circuits = unplaced.join("; ");
        say(language, "schedule-unplaced", &[("circuits", &circuits)])
    });
    let legs = schedule.legs.map(|legs| {
        let [a, b] = legs.load.map(|va| format!("{va} VA"));
        say(language, "schedule-legs", &[("a", &a), ("b", &b)])
    });
    let by = match schedule.by {
        engine::schedule::Positions::Stated => "schedule-stated",
        engine::schedule::Positions::LaidOut => "schedule-laid-out",
    };
    json!({
        "title": plain::board(material, schedule.board),
        "facts": material.report.job.after.boards.get(schedule.board).map(|b| works::of_board(language, b)),
        "by": say(language, by, &[]),
        "rows": rows.collect::<Vec<_>>(),
        "unplaced": unplaced,
        "legs": legs,
    })
}

/// Space, leg, amperes, wire, protection, what it serves.
fn row(material: &Material<'_>, row: &Row<'_>) -> Value {
    let language = material.setting.language;
    let leg = row
        .leg
        .map_or_else(|| say(language, "not-known", &[]), |leg| format!("{leg:?}"));
    let word = |name: &str| say(language, name, &[]);
    let [amps, wire, protected, serves] = match row.what {
        What::Free => [
            String::new(),
            String::new(),
            String::new(),
            word("open-space"),
        ],
        What::Circuit(_, c) if c.purpose == Purpose::Spare => [
            plain::fact(language, &c.amps, |a| amperes(*a)),
            String::new(),
            String::new(),
            word("spare"),
        ],
        What::Circuit(id, c) => [
            plain::fact(language, &c.amps, |a| amperes(*a)),
            plain::fact(language, &c.wire, ToString::to_string),
            protection(language, c),
            plain::circuit(material, id),
        ],
        What::Feeder(_, f) => [
            plain::fact(language, &f.breaker, |a| amperes(*a)),
            plain::fact(language, &f.wire, ToString::to_string),
            String::new(),
            say(
                language,
                "feeds",
                &[("board", &plain::board(material, &f.to))],
            ),
        ],
        What::Source(id, _) => [String::new(), String::new(), String::new(), id.to_owned()],
        What::Device(id, d) => {
            let name = if d.name.is_empty() { id } else { &d.name };
            [String::new(), String::new(), String::new(), name.to_owned()]
        }
    };
    json!([row.space(), leg, amps, wire, protected, serves])
}

/// What is required and the job file does not show as done: to be settled before the book is handed over.
fn not_shown(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material.report.findings.missing().map(|f| {
        let section = f.requirement.cite().map(|c| c.section.to_string());
        let places = f.instances.iter().map(|i| i.place);
        json!([
            f.requirement.requirement().title,
            plain::told(language, &section.unwrap_or_default()),
            plain::places(material, MOST, places),
        ])
    });
    each.collect()
}

/// What nobody could tell when the book was printed.
fn open(material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let each = material
        .report
        .findings
        .open()
        .filter(|f| !f.is_note())
        .map(|f| {
            let section = f.requirement.cite().map(|c| c.section.to_string());
            json!([
                f.requirement.requirement().title,
                plain::told(language, &section.unwrap_or_default()),
                plain::places(material, 4, f.instances.iter().map(|i| i.place)),
            ])
        });
    each.collect()
}

/// What was left as it was found, and why.
fn left(material: &Material<'_>) -> Value {
    let (job, language) = (material.report.job, material.setting.language);
    let scope = &material.report.scope;
    let mut all: Vec<Value> = Vec::new();
    let untouched = |id: &str| {
        scope
            .board(id)
            .is_some_and(|b| b.change == Change::Kept && !b.relocated)
    };
    for (id, board) in job
        .after
        .boards
        .iter()
        .filter(|(id, b)| !b.gone && untouched(id.as_str()))
    {
        let on_it = job.after.circuits.iter().filter(|(id_of, c)| {
            let kept = scope.circuit(id_of.as_str());
            c.board == id.as_str()
                && kept.is_some_and(|k| k.change == Change::Kept && !k.other_board)
        });
        let names: Vec<String> = on_it
            .map(|(id, _)| plain::circuit(material, id.as_str()))
            .collect();
        let what = format!(
            "{} ({})",
            plain::board(material, id.as_str()),
            works::of_board(language, board)
        );
        let why = if names.is_empty() {
            say(language, "left-board", &[])
        } else {
            let circuits = plain::first(language, MOST, names);
            say(language, "left-board-circuits", &[("circuits", &circuits)])
        };
        all.push(json!([what, why, ""]));
    }
    for (id, circuit) in job
        .after
        .circuits
        .iter()
        .filter(|(_, c)| !c.gone && !c.hazards.is_empty())
    {
        let hazards: Vec<String> = circuit
            .hazards
            .iter()
            .map(|h| say(language, &format!("hazard-{}", h.word()), &[]))
            .collect();
        let what = format!(
            "{}: {}",
            plain::circuit(material, id.as_str()),
            hazards.join(", ")
        );
        let place = Place::Circuit(id);
        let asked = material
            .report
            .findings
            .missing()
            .find(|f| f.instances.iter().any(|i| i.place == place));
        let why = if asked.is_some() {
            "left-hazard-asked"
        } else {
            "left-hazard"
        };
        all.push(json!([what, say(language, why, &[]), ""]));
    }
    for note in material
        .report
        .findings
        .findings
        .iter()
        .filter(|f| f.is_note() && !f.is_open())
    {
        let requirement = note.requirement.requirement();
        let section = note.requirement.cite().map(|c| c.section.to_string());
        all.push(json!([
            requirement.title,
            requirement.why,
            section.unwrap_or_default()
        ]));
    }
    Value::Array(all)
}
