//! What does the work come to beside circuits, breakers and feeders: boards, old cabinets, trips, permit, utility?
//! Source: the difference of the two pictures. Pieces and labour units of the price book.

use model::Job;
use model::house::{Board, MainKind, OldCabinet, UTILITY};
use model::id::BoardId;
use model::scope::{Change, Scope};
use shop::Count;
use shop::parts::PanelSize;

use super::cost::Pricer;
use super::line::{Because, Fee, Group, Lines, Name, What};
use super::{is_bought, works_on};
use crate::facts::Place;

const ONE: Count = Count::whole(1);

/// Lines of the whole job that no requirement alters.
pub(super) fn lines<'a>(job: &'a Job, scope: &Scope, pricer: &Pricer<'a>, lines: &mut Lines<'a>) {
    if scope.is_empty() {
        return;
    }
    let whole = |group, words| (group, Place::Job, Because::Work(words));
    let tests = whole(Group::SafetyAndTests, "every job");
    lines.work(tests, "travel-and-setup", ONE);
    for (id, change) in &scope.boards {
        let before = job.before.boards.get_key_value(id);
        match job.after.boards.get_key_value(id) {
            None => {
                if let Some((id, _)) = before {
                    taken_out(id, lines);
                }
            }
            Some((id, board)) if works_on(scope, id.as_str()) && !is_bought(scope, id.as_str()) => {
                moved_board(id, lines);
                old_cabinet(id, board, lines);
            }
            Some((id, board)) if works_on(scope, id.as_str()) => {
                new_board(
                    id,
                    board,
                    before.is_some(),
                    change.interior_only,
                    pricer,
                    lines,
                );
                if change.relocated {
                    old_cabinet(id, board, lines);
                }
            }
            Some(_) => {}
        }
    }
    lines.work(tests, "clean-up", ONE);
    let permit = whole(Group::Permit, "permit and inspection");
    lines.push(permit, What::Fee(Fee::Permit), ONE);
    lines.work(permit, "permit-trip", ONE);
    lines.work(permit, "inspection-attendance", ONE);
    let trips = pricer.rates.second_trips();
    lines.work(
        whole(Group::Permit, "trips back that are planned"),
        "second-trip",
        trips,
    );
    if needs_utility(job, scope) {
        let utility = whole(Group::Permit, "the service is touched");
        lines.push(utility, What::Fee(Fee::Utility), ONE);
        lines.work(utility, "utility-standby", ONE);
    }
}

/// The service equipment or its conductors are worked on: only the utility can make them dead.
fn needs_utility(job: &Job, scope: &Scope) -> bool {
    let feeders = job.after.feeders.iter().chain(&job.before.feeders);
    feeders.filter(|(_, f)| f.from == UTILITY).any(|(id, f)| {
        works_on(scope, &f.to) || scope.feeder(id.as_str()).is_some_and(|c| c != Change::Kept)
    })
}

fn taken_out<'a>(id: &'a BoardId, lines: &mut Lines<'a>) {
    let because = Because::Work("taken out");
    let at = (Group::Boards, Place::Board(id), because);
    lines.work(
        (Group::SafetyAndTests, Place::Board(id), because),
        "test-dead",
        ONE,
    );
    lines.work(at, "demount-panel", ONE);
    lines.work(at, "remove-old-cabinet", ONE);
    lines.part(at, "patch-plate", ONE);
    lines.part(at, "disposal", ONE);
}

fn new_board<'a>(
    id: &'a BoardId,
    board: &'a Board,
    was_there: bool,
    interior_only: bool,
    pricer: &Pricer<'a>,
    lines: &mut Lines<'a>,
) {
    let because = Because::Work(match (was_there, interior_only) {
        (_, true) => "new interior",
        (true, false) => "replaced",
        (false, false) => "new",
    });
    let place = Place::Board(id);
    let at = (Group::Boards, place, because);
    let tests = (Group::SafetyAndTests, place, because);
    if was_there {
        lines.work(tests, "test-dead", ONE);
        lines.part(at, "disposal", ONE);
    }
    if interior_only {
        lines.part(at, "panel-interior", ONE);
        lines.work(at, "interior-swap", ONE);
    } else {
        if was_there {
            lines.work(at, "demount-panel", ONE);
        }
        panel(id, board, at, pricer, lines);
        lines.work(at, "mount-panel", ONE);
    }
    if board.ground_bar.get() != Some(false) {
        lines.part(at, "ground-bar", ONE);
    }
    if board.neutral_bonded.get() == Some(true) {
        lines.part(at, "bonding-screw", ONE);
    }
    lines.part(tests, "label-set", ONE);
    lines.part(tests, "directory-card", ONE);
    lines.work(tests, "directory", ONE);
    lines.work(tests, "energize-and-check", ONE);
}

/// The same panelboard in another place.
fn moved_board<'a>(id: &'a BoardId, lines: &mut Lines<'a>) {
    let because = Because::Work("moved as it is");
    let at = (Group::Boards, Place::Board(id), because);
    let tests = (Group::SafetyAndTests, Place::Board(id), because);
    lines.work(tests, "test-dead", ONE);
    lines.work(at, "demount-panel", ONE);
    lines.work(at, "mount-panel", ONE);
    lines.part(tests, "label-set", ONE);
    lines.part(tests, "directory-card", ONE);
    lines.work(tests, "directory", ONE);
    lines.work(tests, "energize-and-check", ONE);
}

fn panel<'a>(
    id: &'a BoardId,
    board: &'a Board,
    at: (Group, Place<'a>, Because<'a>),
    pricer: &Pricer<'a>,
    lines: &mut Lines<'a>,
) {
    let (spaces, bus, main) = (board.spaces.get(), board.bus.get(), board.main.get());
    let (Some(spaces), Some(bus), Some(main)) = (spaces, bus, main) else {
        let missing = [
            ("spaces", spaces.is_none()),
            ("bus", bus.is_none()),
            ("main", main.is_none()),
        ];
        let fields: Vec<String> = missing
            .iter()
            .filter(|(_, missing)| *missing)
            .map(|(field, _)| format!("`after.boards.{id}.{field}`"))
            .collect();
        lines.gap(
            format!("panelboard {id}"),
            format!("say {}", fields.join(" and ")),
        );
        return;
    };
    let wanted = PanelSize {
        spaces,
        amperes: bus.0.ceil().clamp(0.0, 10_000.0) as u32,
        main_breaker: main == MainKind::MainBreaker,
    };
    // A size that the book does not have stands under its own name: pricing then tells which line is missing.
    let name = pricer.book.parts.panel(wanted);
    let name = name.map_or_else(
        || Name::Owned(wanted.name()),
        |(name, _)| Name::Borrowed(name),
    );
    lines.part(at, name, ONE);
    if main == MainKind::BackfedBreaker {
        lines.part(at, "hold-down-kit", ONE);
        match board.main_amps.get() {
            Some(amps) => {
                lines.part(at, format!("breaker-2p-{}", amps.0.round() as i64), ONE);
            }
            None => lines.gap(
                format!("main breaker of panelboard {id}"),
                format!("say `after.boards.{id}.main_amps`"),
            ),
        }
    }
    let outdoors = board.location.known();
    if outdoors.is_some_and(|l| {
        l.iter()
            .any(|tag| matches!(tag.as_str(), "outdoors" | "wet" | "damp"))
    }) {
        lines.part(at, "outdoor-enclosure-step", ONE);
    }
}

fn old_cabinet<'a>(id: &'a BoardId, board: &'a Board, lines: &mut Lines<'a>) {
    let because = Because::Work("the old cabinet");
    let at = (Group::Boards, Place::OldCabinet(id), because);
    match board.old_cabinet.get() {
        Some(OldCabinet::SpliceBox) => {
            lines.part(at, "blank-cover-cabinet", ONE);
            lines.work(at, "old-cabinet-splice-box", ONE);
        }
        Some(OldCabinet::Removed) => {
            lines.part(at, "patch-plate", ONE);
            lines.work(at, "remove-old-cabinet", ONE);
        }
        None => lines.gap(
            format!("what becomes of the old cabinet of {id}"),
            format!("say `after.boards.{id}.old_cabinet`"),
        ),
    }
}
