//! What is done to the house, in lines that a customer can read: boards, feeders, circuits, and what goes with them.
//! Source: the difference of the two pictures, and the groups of the price. Feet and inches along framing, amperes.

use engine::price::Group;
use model::house::{Board, MainKind, OldCabinet};
use model::scope::{Change, CircuitChange};
use model::units::Inches;

use super::plain;
use crate::material::{Language, Material};
use crate::words::say;

/// Circuits named in one line.
const MOST: usize = 12;

/// What changes in the house, boards first.
pub(super) fn changes(material: &Material<'_>) -> Vec<String> {
    let mut all = Vec::new();
    boards(material, &mut all);
    feeders(material, &mut all);
    circuits(material, &mut all);
    let language = material.setting.language;
    for id in &material.report.scope.sources_added {
        all.push(say(language, "work-source", &[("source", id.as_str())]));
    }
    all
}

/// What is promised: the changes, and the tests, permit and options that the price holds.
pub(super) fn promised(material: &Material<'_>) -> Vec<String> {
    let mut all = changes(material);
    let language = material.setting.language;
    let has = |group| material.price.lines.iter().any(|l| l.group == group);
    if has(Group::SafetyAndTests) {
        all.push(say(language, "work-tests", &[]));
    }
    if has(Group::Permit) {
        all.push(say(language, "work-permit", &[]));
    }
    for option in material.price.options.iter().filter(|o| o.chosen) {
        all.push(say(language, "work-option", &[("title", &option.title)]));
    }
    all
}

/// What a board is: bus, spaces, how it is supplied.
pub(super) fn of_board(language: Language, board: &Board) -> String {
    let bus = plain::fact(language, &board.bus, ToString::to_string);
    let spaces = plain::fact(language, &board.spaces, ToString::to_string);
    let main = main_of(language, board);
    say(
        language,
        "board-facts",
        &[("bus", &bus), ("spaces", &spaces), ("main", &main)],
    )
}

/// How a board is supplied.
pub(super) fn main_of(language: Language, board: &Board) -> String {
    let name = match board.main.get() {
        None => "main-unknown",
        Some(MainKind::MainLugs) => "main-lugs",
        Some(MainKind::FeedThrough) => "main-feed-through",
        Some(MainKind::MainBreaker) => "main-breaker",
        Some(MainKind::BackfedBreaker) => "main-backfed",
    };
    let amps = plain::fact(language, &board.main_amps, ToString::to_string);
    say(language, name, &[("amps", &amps)])
}

fn boards(material: &Material<'_>, all: &mut Vec<String>) {
    let (job, language) = (material.report.job, material.setting.language);
    for (id, change) in &material.report.scope.boards {
        let name = match (change.change, change.relocated) {
            (Change::Kept, false) => continue,
            (Change::Kept, true) => "work-board-moved",
            (Change::New, _) => "work-board-new",
            (Change::Removed, _) => "work-board-removed",
            (Change::Replaced, _) if change.interior_only => "work-board-interior",
            (Change::Replaced, false) => "work-board-replaced",
            (Change::Replaced, true) => "work-board-replaced-moved",
        };
        let after = job.after.boards.get(id.as_str());
        let facts = after.map_or_else(String::new, |b| of_board(language, b));
        let board = plain::board(material, id.as_str());
        let before = job.before.boards.get(id.as_str());
        let today = before.map_or_else(String::new, |b| {
            let name = if b.name.is_empty() {
                id.as_str()
            } else {
                &b.name
            };
            format!("{name}: {}", of_board(language, b))
        });
        all.push(say(
            language,
            name,
            &[("board", &board), ("facts", &facts), ("today", &today)],
        ));
        let cabinet = after.filter(|_| change.relocated);
        match cabinet.map(|b| b.old_cabinet.get()) {
            None => {}
            Some(Some(OldCabinet::SpliceBox)) => all.push(say(language, "work-splice-box", &[])),
            Some(Some(OldCabinet::Removed)) => all.push(say(language, "work-cabinet-out", &[])),
            Some(None) => all.push(say(language, "work-cabinet-unknown", &[])),
        }
    }
}

fn feeders(material: &Material<'_>, all: &mut Vec<String>) {
    let (job, language) = (material.report.job, material.setting.language);
    let scope = &material.report.scope;
    for (id, change) in &scope.feeders {
        let after = job.after.feeders.get(id.as_str());
        let to = after.map_or("", |f| f.to.as_str());
        let moves = scope
            .board(to)
            .is_some_and(|b| b.relocated && b.change != Change::New);
        let name = match change {
            Change::New => "work-feeder-new",
            Change::Replaced => "work-feeder-replaced",
            Change::Removed => "work-feeder-removed",
            Change::Kept if moves => "work-feeder-longer",
            Change::Kept => continue,
        };
        let wire = after.map_or_else(String::new, |f| {
            plain::fact(language, &f.wire, ToString::to_string)
        });
        let length = after.map_or_else(String::new, |f| {
            plain::fact(language, &f.length, ToString::to_string)
        });
        let feeder = plain::feeder(material, id.as_str());
        all.push(say(
            language,
            name,
            &[("feeder", &feeder), ("wire", &wire), ("length", &length)],
        ));
    }
}

fn circuits(material: &Material<'_>, all: &mut Vec<String>) {
    let (job, language) = (material.report.job, material.setting.language);
    let scope = &material.report.scope;
    let names = |wanted: &dyn Fn(&CircuitChange) -> bool| -> Vec<String> {
        let found = scope.circuits.iter().filter(|(_, c)| wanted(c));
        found
            .map(|(id, _)| plain::circuit(material, id.as_str()))
            .collect()
    };
    let mut list = |name: &str, circuits: Vec<String>| {
        if !circuits.is_empty() {
            let count = circuits.len().to_string();
            let names = plain::first(language, MOST, circuits);
            all.push(say(
                language,
                name,
                &[("count", &count), ("circuits", &names)],
            ));
        }
    };
    let stays = |c: &CircuitChange| c.change == Change::Kept || c.change == Change::Replaced;
    // Circuits of a board that is opened are landed anew.
    let opened = |id: &str| {
        let board = job.after.circuits.get(id).map_or("", |c| c.board.as_str());
        scope
            .board(board)
            .is_some_and(|b| b.change != Change::Kept || b.relocated)
    };
    let landed = scope
        .circuits
        .iter()
        .filter(|(id, c)| stays(c) && !c.other_board && opened(id.as_str()));
    let landed = landed.map(|(id, _)| plain::circuit(material, id.as_str()));
    list("work-circuits-landed", landed.collect());
    list(
        "work-circuits-other-board",
        names(&|c| stays(c) && c.other_board),
    );
    list(
        "work-circuits-rewired",
        names(&|c| c.change == Change::Replaced),
    );
    list(
        "work-circuits-removed",
        names(&|c| c.change == Change::Removed),
    );
    list(
        "work-circuits-perhaps",
        names(&|c| stays(c) && c.extended.is_unknown()),
    );
    let longer: Vec<&CircuitChange> = scope.circuits.iter().map(|(_, c)| c).collect();
    let longer = longer
        .iter()
        .filter(|c| stays(c) && c.extended.get() == Some(true));
    let lengths: Vec<Option<Inches>> = longer.map(|c| c.added_outside.get()).collect();
    if !lengths.is_empty() {
        let count = lengths.len().to_string();
        let known = lengths.iter().copied().collect::<Option<Vec<Inches>>>();
        let most = known.map(|all| all.into_iter().fold(Inches::ZERO, Inches::max));
        let most = most.map_or_else(|| say(language, "not-known", &[]), Inches::as_tape);
        all.push(say(
            language,
            "work-circuits-longer",
            &[("count", &count), ("most", &most)],
        ));
    }
    for (id, _) in scope
        .circuits
        .iter()
        .filter(|(_, c)| c.change == Change::New)
    {
        let circuit = job.after.circuits.get(id.as_str());
        let amps = circuit.map_or_else(String::new, |c| {
            plain::fact(language, &c.amps, ToString::to_string)
        });
        let serves = plain::circuit(material, id.as_str());
        all.push(say(
            language,
            "work-circuit-new",
            &[("circuit", &serves), ("amps", &amps)],
        ));
    }
}
