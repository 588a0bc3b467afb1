//! A wall with a board on it from the front, with the distances that place the board. Inches.

use drawing::{Area, Fill, Lettering, Spot, Stroke, Style, Svg, legend, look};
use engine::check::Report;
use engine::relocate::tape;
use model::house::{Obstacle, Wall};
use model::units::Inches;
use rulebook::tables::limit;

use super::{
    Stand, USUAL_HEIGHT, cabinet, key, letters, obstacle, space, space_from, stands, working_space,
};

/// A wall seen from the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Elevation {
    /// Name of the wall.
    pub wall: String,
    /// What the drawing shows, in words.
    pub words: String,
    /// The drawing.
    pub svg: String,
}

/// Each wall with a board on it, from the front.
#[must_use]
pub fn elevations(report: &Report<'_>) -> Vec<Elevation> {
    let stands = stands(report);
    let walls = report.job.after.walls.iter();
    let used = walls.filter(|(name, _)| stands.iter().any(|s| s.at.wall == **name));
    used.filter_map(|(name, wall)| elevation(report, name, wall, &stands))
        .collect()
}

fn elevation(
    report: &Report<'_>,
    name: &str,
    wall: &Wall,
    stands: &[Stand<'_>],
) -> Option<Elevation> {
    let length = wall.length()?.0.max(1.0);
    let height = wall.height.get().map_or(USUAL_HEIGHT, |h| h.0);
    let mine = || stands.iter().filter(|s| s.at.wall == name);
    let margin = 12.0;
    let width = (length + 2.0 * margin).max(height * 1.2);
    let entries = key();
    let (size, below) = letters((3.3, 3.3), width, height + margin * 2.0, entries.len());
    let total = height + margin * 2.0 + below;
    let mut svg = Svg::new(
        "wall",
        &format!("Wall: {name}"),
        Area::new(-margin, -margin, width, total),
        900,
    );
    svg.hatch_step(width / 90.0);
    let told: Vec<String> = mine().map(Stand::words).collect();
    let unknown = if wall.height.is_unknown() {
        "height of the wall not known; "
    } else {
        ""
    };
    let way: Vec<String> = wall.obstacles.iter().enumerate().map(in_the_way).collect();
    let way = if way.is_empty() {
        String::new()
    } else {
        format!("; in the way: {}", way.join(", "))
    };
    let words = format!(
        "Wall {name}, {} long; {unknown}{}{way}",
        tape(Inches(length)),
        told.join("; ")
    );
    svg.describe(&words);
    svg.rect(
        Area::new(-margin, -margin, width, total),
        &Style::fill(Fill::Plain(look::PAPER)),
    );
    svg.rect(
        Area::new(0.0, 0.0, length, height),
        &Style::line(Stroke::ink(0.8)),
    );
    for (i, thing) in wall.obstacles.iter().enumerate() {
        let top = thing.top.map_or(height, |t| t.0).min(height);
        let area = Area::new(
            thing.from.0,
            height - top,
            (thing.to - thing.from).0,
            (top - thing.bottom.0).max(0.5),
        );
        svg.group(&in_the_way((i, thing)), |svg| {
            svg.rect(area, &obstacle());
            let spot = Spot::new(area.middle().x - size * 0.3, area.y + size * 1.5);
            label(svg, spot, &(i + 1).to_string(), size * 2.0, size);
        });
    }
    for stand in mine() {
        let (w, h) = stand.size();
        let area = Area::new(stand.at.x.0, height - stand.at.y.0 - h, w, h);
        if let (false, (Some(space_width), _)) = (stand.is_old, working_space(report, stand)) {
            let tables = report.book.tables();
            let tall = tables
                .limit(limit::WORKING_SPACE_HEIGHT)
                .map_or(height, |t| t.value.0);
            let from = space_from(stand, space_width, length);
            svg.rect(
                Area::new(
                    from,
                    height - tall.min(height),
                    space_width,
                    tall.min(height),
                ),
                &space(),
            );
        }
        svg.group(&stand.words(), |svg| {
            svg.rect(area, &cabinet(stand.is_old));
            let word = if stand.is_old {
                format!("{} old", stand.id)
            } else {
                stand.id.to_owned()
            };
            let spot = Spot::new(area.middle().x, area.middle().y);
            svg.text_in(spot, &word, w, Lettering::new(size).middle().bold());
        });
        let y = height - stand.at.y.0;
        let edge = Stroke::of(look::QUIET, 0.3);
        svg.line(Spot::new(0.0, y), Spot::new(area.x, y), edge);
        svg.line(Spot::new(area.x, y), Spot::new(area.x, height), edge);
        let letters = size * 0.85;
        label(
            &mut svg,
            Spot::new((area.x / 2.0).max(1.0), y - 0.8),
            &tape(stand.at.x),
            area.x.max(20.0),
            letters,
        );
        label(
            &mut svg,
            Spot::new(area.x + 0.8, f64::midpoint(y, height)),
            &tape(stand.at.y),
            30.0,
            letters,
        );
    }
    let at = Spot::new(0.0, height + size * 2.0);
    legend(
        &mut svg,
        at,
        width - 2.0 * margin,
        &entries,
        Lettering::new(size),
    );
    Some(Elevation {
        wall: name.to_owned(),
        words,
        svg: svg.finish(),
    })
}

/// An obstacle by its number in the drawing.
fn in_the_way((i, thing): (usize, &Obstacle)) -> String {
    let number = i + 1;
    if thing.opposite_at.0 > 0.0 {
        return format!(
            "{number} {}, opposite at {}",
            thing.what,
            tape(thing.opposite_at)
        );
    }
    format!("{number} {}", thing.what)
}

/// Letters on a ground of paper, so that they read over hatching.
fn label(svg: &mut Svg, at: Spot, words: &str, room: f64, size: f64) {
    let shown = drawing::width_of(words, size).min(room.max(0.0));
    let ground = Area::new(at.x - 0.5, at.y - size, shown + 1.0, size * 1.3);
    svg.rect(ground, &Style::fill(Fill::Plain(look::PAPER)));
    svg.text_in(at, words, room, Lettering::new(size));
}
