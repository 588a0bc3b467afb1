//! Do the walls hang together, and does every position stand on one? And what the sweep of places is told.
//! Source: geometry. Inches. Without walls, wall names in positions are free.

use super::check::Found;
use crate::candidates::{Candidates, FINEST_STEP};
use crate::house::{House, Point, Wall};
use crate::nearest::{advice, list};
use crate::units::Inches;

/// Most walls in one picture, and most obstacles or stretches on one.
const MOST_WALLS: usize = 60;
const MOST_PARTS: usize = 100;
/// Longest wall and largest clearance.
const LONGEST: f64 = 2400.0;
/// Longest name of a wall.
const LONGEST_NAME: usize = 60;

/// Mistakes of the walls of a picture and of the positions on them.
pub(super) fn of_house(house: &House, found: &mut Found<'_, '_>) {
    if house.walls.len() > MOST_WALLS {
        found.add(
            &["walls"],
            format!("{} walls", house.walls.len()),
            format!("at most {MOST_WALLS} in one job"),
        );
    }
    for (name, wall) in &house.walls {
        one(name, wall, found);
    }
    for (name, wall) in &house.walls {
        let Some(other) = &wall.back_of else { continue };
        if other == name || !house.walls.contains_key(other) {
            let names = || house.walls.keys().map(String::as_str).filter(|n| n != name);
            let what = advice(other, names(), &format!("walls here: {}", list(names())));
            found.add(
                &["walls", name, "back_of"],
                format!("`{other}` is not another wall here"),
                what,
            );
        }
    }
    if house.walls.is_empty() {
        return;
    }
    for (id, board) in &house.boards {
        let width = board.cabinet.width.get().unwrap_or(Inches::ZERO);
        let path = ["boards", id.as_str(), "position"];
        position(house, &path, board.position.as_ref(), width, found);
    }
    for (id, circuit) in &house.circuits {
        let path = ["circuits", id.as_str(), "home_run"];
        position(house, &path, circuit.home_run.as_ref(), Inches::ZERO, found);
    }
    for (id, feeder) in &house.feeders {
        let path = ["feeders", id.as_str(), "home_run"];
        position(house, &path, feeder.home_run.as_ref(), Inches::ZERO, found);
    }
}

fn one(name: &str, wall: &Wall, found: &mut Found<'_, '_>) {
    let at = |field| ["walls", name, field];
    let plain = |c: char| !c.is_control();
    if name.is_empty() || name.chars().count() > LONGEST_NAME || !name.chars().all(plain) {
        found.add(
            &["walls", name],
            "this cannot be the name of a wall".into(),
            format!("1 to {LONGEST_NAME} printable characters"),
        );
    }
    if wall.from.is_some() != wall.to.is_some() {
        found.add(
            &["walls", name],
            format!("wall `{name}` has only one end on the floor plan"),
            "both `from` and `to`, or neither",
        );
    }
    let Some(length) = wall.length() else {
        found.add(
            &["walls", name],
            format!("wall `{name}` has no length"),
            "`length` in inches, or its two ends `from` and `to` on the floor plan",
        );
        return;
    };
    if !(length.0 > 0.0 && length.0 <= LONGEST) {
        let field = if wall.from.is_some() { "to" } else { "length" };
        found.add(
            &at(field),
            format!("wall `{name}` is {length} long"),
            format!("more than 0 and at most {LONGEST} in"),
        );
    }
    if let (Some(_), Some(said)) = (wall.from, wall.length)
        && (said - length).abs() > Inches(0.5)
    {
        found.add(
            &at("length"),
            format!("`length` is {said}, but the ends on the floor plan are {length} apart"),
            "leave `length` out, or correct one of them",
        );
    }
    for (field, fact, least) in [
        ("height", &wall.height, 1.0),
        ("clear_depth", &wall.clear_depth, 0.0),
    ] {
        if let Some(value) = fact.get()
            && !(least..=LONGEST).contains(&value.0)
        {
            found.add(
                &at(field),
                format!("`{field}` is {value}"),
                format!("{least} to {LONGEST} in"),
            );
        }
    }
    if !(0.0..=LONGEST).contains(&wall.floor.0) {
        found.add(
            &at("floor"),
            format!("`floor` is {}", wall.floor),
            format!("0 to {LONGEST} in over the lowest floor"),
        );
    }
    parts(name, wall, length, found);
}

fn parts(name: &str, wall: &Wall, length: Inches, found: &mut Found<'_, '_>) {
    for (field, count) in [
        ("obstacles", wall.obstacles.len()),
        ("stretches", wall.stretches.len()),
    ] {
        if count > MOST_PARTS {
            found.add(
                &["walls", name, field],
                format!("{count} {field} on wall `{name}`"),
                format!("at most {MOST_PARTS}"),
            );
        }
    }
    let off = |from: Inches, to: Inches| {
        let inside = from.0 >= 0.0 && from < to && to.0 <= length.0 + 1e-6;
        (!inside).then(|| format!("runs from {from} to {to} along wall `{name}`"))
    };
    let within = || format!("`from` below `to`, both from 0 to {length}");
    for (i, o) in wall.obstacles.iter().enumerate() {
        let at = ["walls", name, "obstacles", &i.to_string()].map(str::to_owned);
        let path: Vec<&str> = at.iter().map(String::as_str).collect();
        if let Some(what) = off(o.from, o.to) {
            found.add(&path, format!("obstacle `{}` {what}", o.what), within());
        }
        let top = o.top.unwrap_or(Inches(LONGEST));
        if !(o.bottom.0 >= 0.0 && o.bottom < top && top.0 <= LONGEST) {
            found.add(
                &path,
                format!("obstacle `{}` reaches from {} to {top}", o.what, o.bottom),
                format!("`bottom` at 0 or above, and below `top`, at most {LONGEST} in"),
            );
        }
        for (field, value) in [("stands_out", o.stands_out), ("opposite_at", o.opposite_at)] {
            if !(0.0..=LONGEST).contains(&value.0) {
                found.add(
                    &path,
                    format!("`{field}` of obstacle `{}` is {value}", o.what),
                    format!("0 to {LONGEST} in"),
                );
            }
        }
    }
    for (i, s) in wall.stretches.iter().enumerate() {
        let at = ["walls", name, "stretches", &i.to_string()].map(str::to_owned);
        let path: Vec<&str> = at.iter().map(String::as_str).collect();
        if let Some(what) = off(s.from, s.to) {
            found.add(&path, format!("a stretch {what}"), within());
        }
    }
}

fn position(
    house: &House,
    path: &[&str],
    point: Option<&Point>,
    width: Inches,
    found: &mut Found<'_, '_>,
) {
    let Some(point) = point else { return };
    // The part that is wrong, so that a part which `after` states anew is found there.
    let at = |part: &'static str| -> Vec<&str> { path.iter().copied().chain([part]).collect() };
    let Some(wall) = house.walls.get(&point.wall) else {
        let names = || house.walls.keys().map(String::as_str);
        let what = advice(
            &point.wall,
            names(),
            &format!("walls here: {}", list(names())),
        );
        let said = format!("`{}` is not a wall of this picture", point.wall);
        found.add(&at("wall"), said, what);
        return;
    };
    if let Some(length) = wall.length()
        && (point.x.0 < 0.0 || (point.x + width).0 > length.0 + 1e-6)
    {
        let reach = if width.0 > 0.0 {
            format!(
                "`x` is {}, and the cabinet is {width} wide: it ends beyond wall `{}`",
                point.x, point.wall
            )
        } else {
            format!("`x` is {}, beyond wall `{}`", point.x, point.wall)
        };
        found.add(
            &at("x"),
            reach,
            format!("0 to {}", (length - width).max(Inches::ZERO)),
        );
    }
    let top = wall.height.get().unwrap_or(Inches(LONGEST));
    if point.y.0 < 0.0 || point.y > top {
        found.add(
            &at("y"),
            format!("`y` is {}", point.y),
            format!("0 to {top} above the floor of wall `{}`", point.wall),
        );
    }
}

/// Mistakes of what the sweep is told. Paths are those of the whole file.
pub(super) fn candidates(candidates: &Candidates, after: &House, found: &mut Found<'_, '_>) {
    let at = |field| ["candidates", field];
    if let Some(board) = &candidates.board
        && !after.boards.contains_key(board)
    {
        let names = || after.boards.keys().map(|b| b.as_str());
        let what = advice(
            board.as_str(),
            names(),
            &format!("boards here: {}", list(names())),
        );
        found.add(
            &at("board"),
            format!("`{board}` is not a board of the after picture"),
            what,
        );
    }
    for name in &candidates.walls {
        if !after.walls.contains_key(name) {
            let names = || after.walls.keys().map(String::as_str);
            let what = advice(name, names(), &format!("walls here: {}", list(names())));
            found.add(&at("walls"), format!("`{name}` is not a wall here"), what);
        }
    }
    let ranges = [
        ("step", candidates.step, FINEST_STEP.0, 120.0),
        ("bottom", candidates.bottom, 0.0, LONGEST),
        ("farthest", candidates.farthest, 0.0, 12_000.0),
    ];
    for (field, value, least, most) in ranges {
        if let Some(value) = value
            && !(least..=most).contains(&value.0)
        {
            found.add(
                &at(field),
                format!("`{field}` is {value}"),
                format!("{least} to {most} in"),
            );
        }
    }
}
