//! The walls from above with boards and the space in front of them. Inches; y of the floor plan upwards.

use drawing::{Area, Fill, Lettering, Spot, Stroke, Style, Svg, legend, look};
use engine::check::Report;
use model::house::{Mounting, Wall};

use super::{Stand, cabinet, key, letters, obstacle, space, space_from, stands, working_space};

/// The walls from above with boards and the space in front of them; nothing where no wall has its ends on a floor plan.
#[must_use]
pub fn plan(report: &Report<'_>) -> Option<String> {
    let walls: Vec<(&String, &Wall, [f64; 4])> = report
        .job
        .after
        .walls
        .iter()
        .filter_map(|(name, w)| {
            let (a, b) = (w.from?, w.to?);
            Some((name, w, [a.x.0, -a.y.0, b.x.0, -b.y.0]))
        })
        .collect();
    let first = walls.first()?.2;
    let mut bounds = (first[0], first[1], first[0], first[1]);
    for (_, _, [x1, y1, x2, y2]) in &walls {
        bounds.0 = bounds.0.min(*x1).min(*x2);
        bounds.1 = bounds.1.min(*y1).min(*y2);
        bounds.2 = bounds.2.max(*x1).max(*x2);
        bounds.3 = bounds.3.max(*y1).max(*y2);
    }
    let margin = 90.0;
    let width = (bounds.2 - bounds.0 + 2.0 * margin).max(300.0);
    let entries = key();
    let height = bounds.3 - bounds.1 + 2.0 * margin;
    let (size, below) = letters((6.8, 3.8), width, height, entries.len());
    let view = Area::new(bounds.0 - margin, bounds.1 - margin, width, height + below);
    let title = format!("Plan of the walls: {}", report.job.title);
    let mut svg = Svg::new("plan", &title, view, 900);
    svg.hatch_step(width / 90.0);
    let stands = stands(report);
    let told: Vec<String> = stands.iter().map(Stand::words).collect();
    svg.describe(&told.join("; "));
    svg.rect(view, &Style::fill(Fill::Plain(look::PAPER)));
    for (name, wall, ends) in &walls {
        let [x1, y1, x2, y2] = *ends;
        let here = Along::of(*ends);
        for stand in stands.iter().filter(|s| s.at.wall == **name) {
            footprint(&mut svg, report, &here, stand);
        }
        svg.line(Spot::new(x1, y1), Spot::new(x2, y2), Stroke::ink(2.4));
        for thing in &wall.obstacles {
            // What is opposite stands at its distance; what is in the wall is drawn thin.
            let (near, far) = match (thing.opposite_at.0, thing.stands_out.0) {
                (at, _) if at > 0.0 => (at, at + 6.0),
                (_, out) => (0.0, out.max(2.0)),
            };
            let shape = here.box_at(thing.from.0, thing.to.0, near, far);
            svg.group(&thing.what, |svg| svg.path(&shape, true, &obstacle()));
        }
        let back = here.spot(here.length / 2.0, -size * 0.9);
        let letters = Lettering::new(size).bold();
        let letters = match here.behind() {
            x if x > 0.5 => letters,
            x if x < -0.5 => letters.end(),
            _ => letters.middle(),
        };
        svg.text_in(back, name, width / 4.0, letters);
    }
    for stand in &stands {
        let Some((.., ends)) = walls.iter().find(|(name, ..)| **name == stand.at.wall) else {
            continue;
        };
        let here = Along::of(*ends);
        let (near, far) = match stand.board.cabinet.mounting.get() {
            Some(Mounting::Flush) => (-4.0, 0.0),
            _ => (0.0, 4.0),
        };
        let from = stand.at.x.0;
        let shape = here.box_at(from, from + stand.size().0, near, far);
        svg.group(&stand.words(), |svg| {
            svg.path(&shape, true, &cabinet(stand.is_old));
            let at = here.spot(from + stand.size().0 / 2.0, far + size * 1.3);
            let word = if stand.is_old {
                format!("{} old", stand.id)
            } else {
                stand.id.to_owned()
            };
            svg.text_in(at, &word, 80.0, Lettering::new(size * 0.9).middle().bold());
        });
    }
    let at = Spot::new(view.x + size, bounds.3 + margin);
    legend(
        &mut svg,
        at,
        width - 2.0 * size,
        &entries,
        Lettering::new(size),
    );
    Some(svg.finish())
}

fn footprint(svg: &mut Svg, report: &Report<'_>, here: &Along, stand: &Stand<'_>) {
    if stand.is_old {
        return;
    }
    if let (Some(width), Some(depth)) = working_space(report, stand) {
        let from = space_from(stand, width, here.length);
        let shape = here.box_at(from, from + width, 0.0, depth);
        svg.path(&shape, true, &space());
    }
}

/// Places along a wall seen from above: along it, and out from its face.
struct Along {
    from: (f64, f64),
    along: (f64, f64),
    length: f64,
}

impl Along {
    fn of([x1, y1, x2, y2]: [f64; 4]) -> Self {
        let length = (x2 - x1).hypot(y2 - y1).max(0.001);
        Self {
            from: (x1, y1),
            along: ((x2 - x1) / length, (y2 - y1) / length),
            length,
        }
    }

    /// Who faces the wall with its left end to the left stands where `out` is positive.
    fn spot(&self, x: f64, out: f64) -> Spot {
        let (ax, ay) = self.along;
        Spot::new(
            self.from.0 + ax * x - ay * out,
            self.from.1 + ay * x + ax * out,
        )
    }

    /// How far right the way behind the wall goes, from -1 to 1.
    fn behind(&self) -> f64 {
        self.along.1
    }

    fn box_at(&self, from: f64, to: f64, near: f64, far: f64) -> [Spot; 4] {
        [
            self.spot(from, near),
            self.spot(to, near),
            self.spot(to, far),
            self.spot(from, far),
        ]
    }
}
