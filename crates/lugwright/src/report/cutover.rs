//! The cut-over as a page and as JSON: summary, gates, timeline, dark hours, what the customer is told, warnings.
//! Times of day where the plan says when the crew arrives, else hours from arrival.

use engine::cutover::customer::{advice, rooms};
use engine::cutover::{Clock, CutOver, DarkCircuit, Limit, Task, sheet};
use engine::saying::Saying;
use model::Job;
use model::plan::Approach;

use crate::page::{Page, columns};

/// Writes everything.
pub(crate) fn write(page: &mut Page, job: &Job, cut: &CutOver<'_>) {
    let clock = Clock(cut.plan.start);
    summary(page, cut, clock);
    page.heading("Safety gates: nobody goes on before each is signed");
    for gate in &cut.gates {
        let lead = format!("[ ] {}  ", clock.at(gate.at));
        page.paragraph(&lead, &gate.words.to_string());
    }
    timeline(page, cut, clock);
    dark(page, cut, clock);
    customer(page, job, cut, clock);
    if !cut.warnings.is_empty() {
        page.heading("Warnings");
        for warning in &cut.warnings {
            page.paragraph("! ", &warning.to_string());
        }
    }
    ways(page, cut, clock);
    if !cut.notices.is_empty() {
        page.heading("Taken for granted, and left out");
        for notice in &cut.notices {
            page.paragraph("- ", &notice.to_string());
        }
        page.paragraph(
            "- ",
            "no breaks are counted; times are those of the shop's labour table",
        );
    }
}

/// Writes the summary and the warnings, for a report of more than the cut-over.
pub(crate) fn brief(page: &mut Page, cut: &CutOver<'_>) {
    summary(page, cut, Clock(cut.plan.start));
    for warning in &cut.warnings {
        page.paragraph("! ", &warning.to_string());
    }
}

fn summary(page: &mut Page, cut: &CutOver<'_>, clock: Clock) {
    let approach = match cut.plan.approach {
        Approach::InPlace => "one shutdown",
        Approach::NewPanelFirst => "new panel first",
    };
    let workers = match cut.plan.workers {
        1 => "1 worker".to_owned(),
        n => format!("{n} workers"),
    };
    page.heading(&format!("Cut-over: {approach}, {workers}"));
    for lock in &cut.locks {
        page.paragraph("Made dead   ", &lock.words.to_string());
    }
    let first = cut
        .circuits
        .iter()
        .flat_map(|c| &c.dark)
        .map(|d| d.from)
        .min();
    let last = cut
        .circuits
        .iter()
        .flat_map(|c| &c.dark)
        .map(|d| d.to)
        .max();
    if let (Some(first), Some(last)) = (first, last) {
        page.paragraph(
            "Dark        ",
            &format!(
                "{} circuits, from {} to {}; the crew leaves at {}",
                cut.circuits.len(),
                clock.at(first),
                clock.at(last),
                clock.at(cut.end)
            ),
        );
    }
    let score = &cut.score;
    page.paragraph(
        "Weighed     ",
        &format!(
            "{:.1} weighted dark hours; no order can have less than {:.1} ({})",
            score.dark_hours(),
            score.least_hours(),
            if score.is_optimal() {
                "proven the least".to_owned()
            } else {
                format!("gap {:.2} %", score.gap() * 100.0)
            },
        ),
    );
    page.paragraph("Why         ", sheet::proof(cut));
    if !cut.new_circuits.is_empty() {
        page.paragraph(
            "New         ",
            &format!("on for the first time: {}", cut.new_circuits.join(", ")),
        );
    }
    if !cut.left_off.is_empty() {
        page.paragraph(
            "Left off    ",
            &format!("taken out by the plan: {}", cut.left_off.join(", ")),
        );
    }
}

/// Tasks of a kind that one worker does on end stand on one line.
fn timeline(page: &mut Page, cut: &CutOver<'_>, clock: Clock) {
    page.heading("Timeline");
    let mut rows: Vec<Vec<&Task<'_>>> = Vec::new();
    for task in &cut.tasks {
        let open = rows
            .iter_mut()
            .rev()
            .find(|row| row.iter().any(|t| t.worker == task.worker));
        match open {
            Some(row)
                if row
                    .last()
                    .is_some_and(|t| t.step == task.step && t.end == task.start) =>
            {
                row.push(task);
            }
            _ => rows.push(vec![task]),
        }
    }
    let rows: Vec<Vec<String>> = rows
        .iter()
        .filter_map(|row| {
            let (first, last) = (row.first()?, row.last()?);
            Some(vec![
                clock.at(first.start),
                clock.at(last.end),
                first.worker.to_string(),
                together(row),
            ])
        })
        .collect();
    columns(page, "", &["from", "to", "who", "what"], &rows);
}

/// Circuits to which the same is done stand together.
fn together(tasks: &[&Task<'_>]) -> String {
    let mut all: Vec<(&Saying, Vec<&str>)> = Vec::new();
    for task in tasks {
        match all.last_mut() {
            Some((known, names)) if **known == task.words && !task.subject.is_empty() => {
                names.push(&task.subject);
            }
            _ => all.push((&task.words, vec![&task.subject])),
        }
    }
    let said = all.iter().map(|(what, names)| match names.as_slice() {
        [""] => what.to_string(),
        names => format!("{what}: {}", names.join(", ")),
    });
    said.collect::<Vec<_>>().join("; ")
}

fn dark(page: &mut Page, cut: &CutOver<'_>, clock: Clock) {
    page.heading("What is dark, and when");
    let mut circuits: Vec<&DarkCircuit<'_>> = cut.circuits.iter().collect();
    circuits.sort_by(|a, b| b.weight.cmp(&a.weight).then(a.id.cmp(b.id)));
    let rows: Vec<Vec<String>> = circuits
        .iter()
        .map(|c| {
            vec![
                c.id.to_owned(),
                c.weight.to_string(),
                clock.spans(&c.dark),
                c.longest().to_string(),
                limit(c),
            ]
        })
        .collect();
    columns(
        page,
        "",
        &["circuit", "weight", "dark", "longest", "can bear"],
        &rows,
    );
    page.paragraph(
        "",
        "Weights are our own judgement, one for each kind of circuit; the plan of the job can set others.",
    );
}

fn limit(circuit: &DarkCircuit<'_>) -> String {
    let power = if circuit.temporary {
        "; temporary power"
    } else {
        ""
    };
    match circuit.limit {
        Limit::None => power.trim_start_matches("; ").to_owned(),
        Limit::Unknown => format!("unknown: ask{power}"),
        Limit::Kept(most) => format!("{most}: kept{power}"),
        Limit::Broken(most) => format!("{most}: BROKEN{power}"),
    }
}

fn customer(page: &mut Page, job: &Job, cut: &CutOver<'_>, clock: Clock) {
    page.heading("Tell the customer");
    let rows: Vec<Vec<String>> = rooms(cut)
        .iter()
        .map(|room| {
            let name = room
                .room
                .map_or("not known".to_owned(), |r| r.replace('_', " "));
            vec![name, clock.spans(&room.dark), room.circuits.join(", ")]
        })
        .collect();
    columns(page, "", &["room", "something is dark", "circuits"], &rows);
    for line in advice(job, cut) {
        page.paragraph("- ", &line.to_string());
    }
}

fn ways(page: &mut Page, cut: &CutOver<'_>, clock: Clock) {
    if cut.ways.is_empty() {
        return;
    }
    page.heading("What would keep limits and spare dark nights, each tried by planning again");
    let rows: Vec<Vec<String>> = cut
        .ways
        .iter()
        .map(|way| {
            vec![
                way.words.to_string(),
                if way.keeps_all { "yes" } else { "no" }.to_owned(),
                way.longest.to_string(),
                format!("{:.1}", way.dark_hours),
                clock.at(way.end),
            ]
        })
        .collect();
    let header = [
        "change",
        "keeps all",
        "longest of those broken now",
        "weighted dark hours",
        "crew leaves",
    ];
    columns(page, "", &header, &rows);
}
