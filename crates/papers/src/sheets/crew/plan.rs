//! The cut-over: critical circuits first, the timeline, every step and gate in order, what is dark and when, what the customer is told.
//! Source: the plan of [`engine::cutover`]. Times of day, or hours from arrival.

use engine::cutover::customer::{advice, rooms};
use engine::cutover::{CannotPlan, CutOver, DarkCircuit, Gate, GateKind, Limit, Seconds, Task};
use engine::saying::Saying;
use model::plan::Approach;
use serde_json::{Value, json};

use super::tongue::Tongue;
use crate::material::Material;
use crate::words;

/// Name of the drawing.
const TIMELINE: &str = "timeline.svg";

pub(super) fn plan(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    drawings: &mut Vec<(String, String)>,
) -> Value {
    let job = material.report.job;
    let cut = match &material.cut {
        Ok(cut) => cut,
        Err(why) => {
            let why = cannot(why, tongue);
            return json!({ "none": tongue.say("crew-plan-none", &[("why", &why)]) });
        }
    };
    let language = tongue.language();
    let svg = pictures::cutover::draw_in(job, cut, &|p| words::sentence(language, p));
    drawings.push((TIMELINE.to_owned(), svg));
    let approach = match cut.plan.approach {
        Approach::InPlace => "crew-plan-in_place",
        Approach::NewPanelFirst => "crew-plan-new_panel_first",
    };
    let mut circuits: Vec<&DarkCircuit<'_>> = cut.circuits.iter().collect();
    circuits.sort_by(|a, b| b.weight.cmp(&a.weight).then(a.id.cmp(b.id)));
    let critical = circuits.iter().filter(|c| c.critical.is_some());
    let temporary = cut.circuits.iter().filter(|c| c.temporary).map(|c| c.id);
    let temporary: Vec<&str> = temporary.collect();
    let told = rooms(cut);
    let ways = cut.ways.iter().map(|way| {
        let keeps = if way.keeps_all { "crew-yes" } else { "crew-no" };
        [
            tongue.saying(&way.words),
            tongue.word(keeps),
            way.longest.to_string(),
            tongue.at(way.end),
        ]
    });
    let list = |name: &str, circuits: &[&str]| {
        (!circuits.is_empty()).then(|| tongue.say(name, &[("circuits", &circuits.join(", "))]))
    };
    json!({
        "approach": tongue.word(approach),
        "timeline": TIMELINE,
        // Taller than a page can show at full width.
        "tall": cut.circuits.len() > 48,
        "critical": critical.map(|c| critical_row(c, tongue)).collect::<Vec<_>>(),
        "temporary": list("crew-temporary-list", &temporary)
            .unwrap_or_else(|| tongue.word("crew-temporary-none")),
        "warnings": tongue.sayings(&cut.warnings),
        "ways": ways.collect::<Vec<_>>(),
        "steps": steps(cut, tongue),
        "dark": circuits.iter().map(|c| dark_row(c, tongue)).collect::<Vec<_>>(),
        "new_on": list("crew-new-on", &cut.new_circuits),
        "left_off": list("crew-left-off", &cut.left_off),
        "rooms": told.iter().map(|r| {
            [tongue.room(r.room), tongue.spans(&r.dark), r.circuits.join(", ")]
        }).collect::<Vec<_>>(),
        "advice": tongue.sayings(&advice(job, cut)),
        "notices": tongue.sayings(&cut.notices),
    })
}

fn cannot(why: &CannotPlan, tongue: &Tongue<'_>) -> String {
    match why {
        CannotPlan::Nothing => tongue.word("crew-plan-nothing"),
        CannotPlan::NewPanelFirst(why) => {
            tongue.say("crew-plan-new-first", &[("why", &tongue.saying(why))])
        }
    }
}

fn critical_row(c: &DarkCircuit<'_>, tongue: &Tongue<'_>) -> [String; 5] {
    [
        c.id.to_owned(),
        c.critical.unwrap_or_default().to_owned(),
        tongue.spans(&c.dark),
        c.longest().to_string(),
        limit(c, tongue),
    ]
}

fn dark_row(c: &DarkCircuit<'_>, tongue: &Tongue<'_>) -> [String; 5] {
    [
        c.id.to_owned(),
        c.serves.to_owned(),
        tongue.spans(&c.dark),
        c.longest().to_string(),
        limit(c, tongue),
    ]
}

fn limit(c: &DarkCircuit<'_>, tongue: &Tongue<'_>) -> String {
    let said = match c.limit {
        Limit::None => String::new(),
        Limit::Unknown => tongue.word("crew-ask"),
        Limit::Kept(most) => tongue.say("crew-kept", &[("most", &most.to_string())]),
        Limit::Broken(most) => tongue.say("crew-broken", &[("most", &most.to_string())]),
    };
    match (said.is_empty(), c.temporary) {
        (_, false) => said,
        (true, true) => tongue.word("crew-temporary"),
        (false, true) => format!("{said}; {}", tongue.word("crew-temporary")),
    }
}

/// Something on the list of steps.
enum Entry<'c, 'j> {
    Work(Vec<&'c Task<'j>>),
    Gate(&'c Gate),
}

impl Entry<'_, '_> {
    /// What ends earlier stands first; at one moment work stands before the gate that looks at it.
    fn order(&self) -> (Seconds, u8) {
        match self {
            Self::Work(tasks) => (tasks.first().map_or(Seconds::ZERO, |t| t.start), 1),
            Self::Gate(gate) => (gate.at, 0),
        }
    }
}

/// Every task and gate by the clock; what one worker does on end in one step stands on one line.
fn steps(cut: &CutOver<'_>, tongue: &Tongue<'_>) -> Vec<Value> {
    let mut all: Vec<Entry<'_, '_>> = Vec::new();
    for task in &cut.tasks {
        let mine = all.iter_mut().rev().find_map(|entry| match entry {
            Entry::Work(tasks) if tasks.iter().any(|t| t.worker == task.worker) => Some(tasks),
            _ => None,
        });
        let crossed = |from: Seconds| {
            let mut gates = cut.gates.iter();
            gates.any(|g| from < g.at && g.at <= task.start)
        };
        match mine {
            Some(tasks)
                if tasks
                    .last()
                    .is_some_and(|t| t.step == task.step && t.end == task.start)
                    && !tasks.first().is_some_and(|t| crossed(t.start)) =>
            {
                tasks.push(task);
            }
            _ => all.push(Entry::Work(vec![task])),
        }
    }
    all.extend(cut.gates.iter().map(Entry::Gate));
    all.sort_by_key(Entry::order);
    let each = all.iter().map(|entry| match entry {
        Entry::Work(tasks) => json!({
            "from": tasks.first().map(|t| tongue.at(t.start)),
            "to": tasks.last().map(|t| tongue.at(t.end)),
            "who": tasks.first().map(|t| t.worker.to_string()),
            "what": together(tasks, tongue),
        }),
        Entry::Gate(gate) => json!({
            "gate": tongue.word(kind(gate.kind)),
            "from": tongue.at(gate.at),
            "what": tongue.saying(&gate.words),
        }),
    });
    each.collect()
}

const fn kind(kind: GateKind) -> &'static str {
    match kind {
        GateKind::LockedOut => "crew-gate-locked_out",
        GateKind::TestedDead => "crew-gate-tested_dead",
        GateKind::BondState => "crew-gate-bond_state",
        GateKind::DeadTests => "crew-gate-dead_tests",
        GateKind::TorqueDone => "crew-gate-torque_done",
        GateKind::VoltagesProven => "crew-gate-voltages_proven",
    }
}

/// Circuits to which the same is done stand together.
fn together(tasks: &[&Task<'_>], tongue: &Tongue<'_>) -> String {
    let mut all: Vec<(&Saying, Vec<String>)> = Vec::new();
    for task in tasks {
        let subject = match task.along {
            Some(board) => tongue.say("crew-board", &[("board", board)]),
            None => task.subject.clone(),
        };
        match all.last_mut() {
            Some((known, names)) if **known == task.words && !subject.is_empty() => {
                names.push(subject);
            }
            _ => all.push((&task.words, vec![subject])),
        }
    }
    let said = all.iter().map(|(what, names)| match names.as_slice() {
        [one] if one.is_empty() => tongue.saying(what),
        names => format!("{}: {}", tongue.saying(what), names.join(", ")),
    });
    said.collect::<Vec<_>>().join("; ")
}
