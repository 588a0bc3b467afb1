//! What is done, in plain lines: the difference of the two pictures. Lengths as the pictures give them.

use model::scope::{Change, CircuitChange};
use model::{Fact, Job};
use serde_json::{Value, json};

use crate::material::Material;
use crate::words::say;

/// A line for each change.
pub(super) fn lines(material: &Material<'_>) -> Vec<String> {
    let report = material.report;
    let (job, scope) = (report.job, &report.scope);
    let word = |name: &str| say(material.setting.language, name, &[]);
    let mut lines = Vec::new();
    for (id, board) in &scope.boards {
        let mut words = Vec::new();
        match board.change {
            Change::Kept => {}
            Change::Replaced if board.interior_only => words.push(word("permit-interior")),
            other => words.push(changed(other, material)),
        }
        if board.relocated {
            words.push(word("permit-moved"));
        }
        if !words.is_empty() {
            let what = words.join(", ");
            let board = named(board_name(job, id.as_str()), id.as_str());
            lines.push(line(material, "permit-scope-board", &board, &what));
        }
    }
    for (id, change) in scope.feeders.iter().filter(|(_, c)| *c != Change::Kept) {
        let what = changed(*change, material);
        lines.push(line(material, "permit-scope-feeder", id.as_str(), &what));
    }
    lines.extend(circuits(material));
    for (ids, change) in [
        (&scope.loads_added, Change::New),
        (&scope.loads_removed, Change::Removed),
    ] {
        for id in ids {
            let loads = [&job.after, &job.before];
            let name = loads
                .iter()
                .find_map(|h| h.loads.get(id))
                .map_or("", |l| l.name.as_str());
            let what = changed(change, material);
            lines.push(line(
                material,
                "permit-scope-load",
                &named(name, id.as_str()),
                &what,
            ));
        }
    }
    for id in &scope.sources_added {
        let what = changed(Change::New, material);
        lines.push(line(material, "permit-scope-source", id.as_str(), &what));
    }
    if lines.is_empty() {
        lines.push(word("permit-scope-nothing"));
    }
    lines
}

/// Circuits that share what is done to them stand on one line.
fn circuits(material: &Material<'_>) -> Vec<String> {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for (id, change) in &material.report.scope.circuits {
        let words = circuit(change, material);
        if words.is_empty() {
            continue;
        }
        match groups.iter_mut().find(|(w, _)| *w == words) {
            Some((_, ids)) => ids.push(id.as_str()),
            None => groups.push((words, vec![id.as_str()])),
        }
    }
    let each = groups.iter().map(|(what, ids)| {
        let name = match ids.as_slice() {
            [_] => "permit-scope-circuit",
            _ => "permit-scope-circuits",
        };
        line(material, name, &ids.join(", "), what)
    });
    each.collect()
}

fn circuit(change: &CircuitChange, material: &Material<'_>) -> String {
    let word = |name: &str| say(material.setting.language, name, &[]);
    let mut words = Vec::new();
    if change.change != Change::Kept {
        words.push(changed(change.change, material));
    }
    if change.other_board {
        words.push(word("permit-other-board"));
    }
    match (change.extended.get(), &change.added_outside) {
        (Some(true), Fact::Known { is, .. }) => {
            let length = is.to_string();
            words.push(say(
                material.setting.language,
                "permit-extended",
                &[("length", &length)],
            ));
        }
        (Some(true), Fact::Unknown) => words.push(word("permit-extended-unknown")),
        (None, _) => words.push(word("permit-extended-or-not")),
        _ => {}
    }
    if change.cut_shorter.get() == Some(true) {
        words.push(word("permit-shortened"));
    }
    words.join(", ")
}

/// The word of a change.
pub(super) fn changed(change: Change, material: &Material<'_>) -> String {
    let name = match change {
        Change::Kept => "permit-kept",
        Change::Replaced => "permit-replaced",
        Change::New => "permit-new",
        Change::Removed => "permit-removed",
    };
    say(material.setting.language, name, &[])
}

fn line(material: &Material<'_>, name: &str, thing: &str, what: &str) -> String {
    say(
        material.setting.language,
        name,
        &[("thing", thing), ("what", what)],
    )
}

fn board_name<'j>(job: &'j Job, id: &str) -> &'j str {
    let houses = [&job.after, &job.before];
    houses
        .iter()
        .find_map(|h| h.boards.get(id))
        .map_or("", |b| b.name.as_str())
}

fn named(name: &str, id: &str) -> String {
    if name.is_empty() {
        id.to_owned()
    } else {
        format!("{id} ({name})")
    }
}

/// How many of each sort change, for the permit's fee.
pub(super) fn counts(material: &Material<'_>) -> Value {
    let scope = &material.report.scope;
    let circuits = |change: Change| {
        scope
            .circuits
            .iter()
            .filter(|(_, c)| c.change == change)
            .count()
    };
    let extended = scope
        .circuits
        .iter()
        .filter(|(_, c)| c.extended.get() == Some(true))
        .count();
    json!({
        "new": circuits(Change::New),
        "replaced": circuits(Change::Replaced),
        "extended": extended,
    })
}
