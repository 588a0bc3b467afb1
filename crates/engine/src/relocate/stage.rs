//! The job with the board at a place: what the pictures would say if that place were the plan.
//! Source: the job; what was seen or planned for one place says nothing about another. Inches.

use model::house::{House, OldCabinet, Point, StatedFacts};
use model::units::Inches;
use model::{Fact, Job, Said};

use super::Way;
use super::request::Plan;
use super::setting::Setting;

/// Facts about a panel that are facts about its place. They hold on the wall where the plan has the panel, else only as far as the wall
/// itself states them.
const OF_THE_PLACE: &[&str] = &[
    "dedicated_space_clear",
    "door_opens_90",
    "enclosure_type_ok",
    "exposed_to_damage",
    "flush_in_combustible",
    "floor_level",
    "lawful_when_installed",
    "occupant_access",
    "readily_accessible",
    "ws_lit",
    "ws_storage",
];

/// A copy of the job with the board somewhere on a wall, one thing becoming of the old cabinet. [`put`] moves it along.
pub(super) fn on_wall(job: &Job, plan: &Plan<'_>, wall: &str, way: Way) -> Job {
    let mut staged = forgetful(job, plan);
    let there = plan.new.position.as_ref().is_some_and(|p| p.wall == wall);
    if let Some(board) = staged.after.boards.get_mut(plan.board) {
        if !there {
            forget(&mut board.facts);
        }
        if let Some(wall) = job.after.walls.get(wall) {
            board.facts.extend(wall.facts.clone());
        }
        board.old_cabinet = match way {
            Way::SpliceBox => planned(OldCabinet::SpliceBox),
            Way::Removed => planned(OldCabinet::Removed),
            Way::InPlace => Fact::Unknown,
        };
        board.position = Some(Point {
            wall: wall.to_owned(),
            x: Inches::ZERO,
            y: plan.bottom,
        });
    }
    staged
}

/// A copy of the job with the new board at the old place.
pub(super) fn in_place(job: &Job, plan: &Plan<'_>) -> Job {
    let mut staged = forgetful(job, plan);
    if let Some(board) = staged.after.boards.get_mut(plan.board) {
        let old = plan.old;
        board.position.clone_from(&old.position);
        board.location.clone_from(&old.location);
        board.working_space.clone_from(&old.working_space);
        forget(&mut board.facts);
        let seen = old.facts.iter().filter(|(key, _)| is_of_the_place(key));
        board
            .facts
            .extend(seen.map(|(key, fact)| (key.clone(), fact.clone())));
        board.old_cabinet = Fact::Unknown;
    }
    staged
}

/// Puts the board to a place along its wall, with what the place offers.
pub(super) fn put(house: &mut House, board: &str, x: Inches, setting: &Setting, plan: &Plan<'_>) {
    if let Some(board) = house.boards.get_mut(board) {
        if let Some(position) = &mut board.position {
            position.x = x;
        }
        board.location.clone_from(&setting.location);
        let space = &mut board.working_space;
        space.width = setting.width.clone();
        space.depth.clone_from(&setting.depth);
        space.height.clone_from(&setting.height);
        space.highest_handle = plan.handle.map_or(Fact::Unknown, planned);
    }
}

/// The job without what was measured for the plan's own place.
fn forgetful(job: &Job, plan: &Plan<'_>) -> Job {
    let mut staged = job.clone();
    if let Some(board) = staged.after.boards.get_mut(plan.board) {
        board.route_from_old = Fact::Unknown;
    }
    for circuit in staged.after.circuits.values_mut() {
        if circuit.board == plan.board {
            circuit.added_outside = Fact::Unknown;
            circuit.added_total = Fact::Unknown;
            circuit.cut_shorter = Fact::Unknown;
        }
    }
    staged
}

fn forget(facts: &mut StatedFacts) {
    facts.retain(|key, _| !is_of_the_place(key));
}

fn is_of_the_place(key: &str) -> bool {
    OF_THE_PLACE.contains(&key.trim_start_matches("panel."))
}

fn planned<T>(is: T) -> Fact<T> {
    Fact::Known {
        is,
        by: Said::Planned,
    }
}
