//! What the work is: the difference of the two pictures, in a few lines.
//! Lengths in inches along framing, as the pictures give them.

use model::scope::{Change, CircuitChange, Scope};
use model::{Fact, Job};

use crate::page::Page;

/// Writes what changes; what stays is counted.
pub(crate) fn write(page: &mut Page, job: &Job, scope: &Scope) {
    page.heading("What the work is");
    if scope.is_empty() {
        page.line("Nothing: the house is the same before and after.");
        return;
    }
    for (id, board) in &scope.boards {
        let mut words = Vec::new();
        match board.change {
            Change::Kept if !board.relocated => continue,
            Change::Kept => {}
            Change::Replaced if board.interior_only => {
                words.push("new interior in the old cabinet");
            }
            Change::Replaced => words.push("replaced"),
            Change::New => words.push("new"),
            Change::Removed => words.push("taken out"),
        }
        if board.relocated {
            words.push("moved");
        }
        let name = [&job.after, &job.before]
            .iter()
            .find_map(|h| h.boards.get(id.as_str()))
            .map_or("", |b| b.name.as_str());
        item(page, "board", id.as_str(), &words.join(", "), name);
    }
    for (id, change) in &scope.feeders {
        if let Some(word) = word(*change) {
            item(page, "feeder", id.as_str(), word, "");
        }
    }
    circuits(page, job, scope);
    for (ids, word) in [
        (&scope.loads_added, "new"),
        (&scope.loads_removed, "taken out"),
    ] {
        for id in ids {
            item(page, "load", id.as_str(), word, "");
        }
    }
    for id in &scope.sources_added {
        item(page, "source", id.as_str(), "new", "");
    }
}

/// Circuits with the same change stand on one line.
fn circuits(page: &mut Page, job: &Job, scope: &Scope) {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for (id, change) in &scope.circuits {
        let words = describe(change);
        if words.is_empty() {
            continue;
        }
        match groups.iter_mut().find(|(w, _)| *w == words) {
            Some((_, ids)) => ids.push(id.as_str()),
            None => groups.push((words, vec![id.as_str()])),
        }
    }
    for (words, ids) in groups {
        let serves = match ids.as_slice() {
            [one] => job
                .after
                .circuits
                .get(*one)
                .map_or("", |c| c.serves.as_str()),
            _ => "",
        };
        let noun = if ids.len() == 1 {
            "circuit"
        } else {
            "circuits"
        };
        item(page, noun, &ids.join(", "), &words, serves);
    }
}

fn describe(change: &CircuitChange) -> String {
    let mut words: Vec<String> = word(change.change).map(str::to_owned).into_iter().collect();
    if change.other_board {
        words.push("to another board".to_owned());
    }
    match (change.extended.get(), &change.added_outside) {
        (Some(true), Fact::Known { is, .. }) => {
            words.push(format!("extended, {} outside enclosures", is));
        }
        (Some(true), Fact::Unknown) => words.push("extended, by an unknown length".to_owned()),
        (None, _) => words.push("extended or not: unknown".to_owned()),
        _ => {}
    }
    if change.cut_shorter.get() == Some(true) {
        words.push("cut shorter".to_owned());
    }
    words.join(", ")
}

fn word(change: Change) -> Option<&'static str> {
    match change {
        Change::Kept => None,
        Change::Replaced => Some("replaced"),
        Change::New => Some("new"),
        Change::Removed => Some("taken out"),
    }
}

fn item(page: &mut Page, noun: &str, id: &str, words: &str, name: &str) {
    let name = if name.is_empty() {
        String::new()
    } else {
        format!(" ({name})")
    };
    page.paragraph(&format!("{noun:<9}"), &format!("{id}{name}: {words}"));
}
