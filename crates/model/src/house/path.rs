//! How long is a cable between two points, along framing?
//! Source: geometry of the walls. Inches; on one wall vertical and horizontal, never diagonal; from wall to wall up to the level where
//! cables run, across the floor plan at right angles, and down again; between the two sides of one wall straight through its studs.

use super::{House, Point, Runs};
use crate::units::Inches;

impl Point {
    /// Length along framing to another point of the same wall: vertical and horizontal, never diagonal.
    #[must_use]
    pub fn along_framing(&self, other: &Self) -> Option<Inches> {
        (self.wall == other.wall)
            .then(|| ((self.x - other.x).abs() + (self.y - other.y).abs()).to_the_millionth())
    }
}

impl House {
    /// Where cables run from wall to wall: as the job says, else above.
    #[must_use]
    pub fn runs_taken(&self) -> Runs {
        self.runs.get().unwrap_or(Runs::Above)
    }

    /// Length along framing between two points, of one wall or of two whose places on the floor plan are known.
    #[must_use]
    pub fn path(&self, from: &Point, to: &Point) -> Option<Inches> {
        if from.wall == to.wall {
            return from.along_framing(to);
        }
        let (a, b) = (self.walls.get(&from.wall)?, self.walls.get(&to.wall)?);
        let runs = self.runs_taken();
        let (high_a, high_b) = (a.floor + from.y, b.floor + to.y);
        let one_wall = |face: &Option<String>, other: &str| face.as_deref() == Some(other);
        let vertical = if one_wall(&a.back_of, &to.wall) || one_wall(&b.back_of, &from.wall) {
            (high_a - high_b).abs()
        } else {
            let (level_a, level_b) = (a.level(runs)?, b.level(runs)?);
            match runs {
                Runs::Above => {
                    let level = level_a.max(level_b);
                    (level - high_a) + (level - high_b)
                }
                Runs::Below => {
                    let level = level_a.min(level_b);
                    (high_a - level) + (high_b - level)
                }
            }
        };
        let (p, q) = (a.on_plan(from.x)?, b.on_plan(to.x)?);
        let across = (p.x - q.x).abs() + (p.y - q.y).abs();
        Some((vertical + across).to_the_millionth())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::Fact;
    use crate::house::{PlanPoint, Wall};

    fn point(wall: &str, x: f64, y: f64) -> Point {
        Point {
            wall: wall.to_owned(),
            x: Inches(x),
            y: Inches(y),
        }
    }

    /// Two walls at right angles: `south` along the lower edge of the plan, `east` up its right edge, 120 in and 96 in long.
    fn house(height: Fact<Inches>, runs: Fact<Runs>, upstairs: f64) -> House {
        let corner = |x, y| {
            Some(PlanPoint {
                x: Inches(x),
                y: Inches(y),
            })
        };
        let wall = |from, to, floor| Wall {
            from,
            to,
            height: height.clone(),
            floor: Inches(floor),
            ..Wall::default()
        };
        let mut house = House {
            runs,
            ..House::default()
        };
        house.walls.insert(
            "south".into(),
            wall(corner(0.0, 0.0), corner(120.0, 0.0), 0.0),
        );
        house.walls.insert(
            "east".into(),
            wall(corner(120.0, 0.0), corner(120.0, 96.0), upstairs),
        );
        house
    }

    fn check(house: &House, from: Point, to: Point, inches: Option<f64>) {
        assert_eq!(house.path(&from, &to), inches.map(Inches));
        assert_eq!(
            house.path(&to, &from),
            inches.map(Inches),
            "the way back is as long"
        );
    }

    // By hand: south (100, 40) to east (30, 50), ceilings at 96: 56 up, 20 across, 30 along, 46 down.
    #[test]
    fn from_wall_to_wall_a_cable_goes_over_the_ceiling_at_right_angles() {
        let house = house(Fact::seen(Inches(96.0)), Fact::Unknown, 0.0);
        let (a, b) = (point("south", 100.0, 40.0), point("east", 30.0, 50.0));
        check(&house, a, b, Some(56.0 + 20.0 + 30.0 + 46.0));
    }

    // By hand: 40 down, 20 across, 30 along, 50 up.
    #[test]
    fn or_under_the_floor_where_the_job_says_so() {
        let house = house(Fact::Unknown, Fact::seen(Runs::Below), 0.0);
        let (a, b) = (point("south", 100.0, 40.0), point("east", 30.0, 50.0));
        check(&house, a, b, Some(40.0 + 20.0 + 30.0 + 50.0));
    }

    // By hand: the east wall stands 108 in higher; its ceiling is at 204: 164 up, 20, 30, 46 down.
    #[test]
    fn the_higher_ceiling_counts_between_two_floors() {
        let house = house(Fact::seen(Inches(96.0)), Fact::Unknown, 108.0);
        let (a, b) = (point("south", 100.0, 40.0), point("east", 30.0, 50.0));
        check(&house, a, b, Some(164.0 + 20.0 + 30.0 + 46.0));
    }

    // By hand: the other side of the south wall is seen from behind, so its left end is the right one: 20 in from there is at 100. 70 along, 12 up.
    #[test]
    fn between_two_sides_of_one_wall_it_passes_through_the_studs() {
        let mut house = house(Fact::Unknown, Fact::Unknown, 0.0);
        let south = house.walls["south"].clone();
        let behind = Wall {
            from: south.to,
            to: south.from,
            back_of: Some("south".into()),
            ..Wall::default()
        };
        house.walls.insert("behind".into(), behind);
        let (a, b) = (point("south", 30.0, 40.0), point("behind", 20.0, 52.0));
        check(&house, a, b, Some(70.0 + 12.0));
    }

    #[test]
    fn on_one_wall_it_goes_straight_through_the_studs_and_nowhere_is_it_guessed() {
        let known = house(Fact::seen(Inches(96.0)), Fact::Unknown, 0.0);
        let a = || point("south", 100.0, 40.0);
        check(&known, a(), point("south", 30.5, 52.0), Some(69.5 + 12.0));
        check(&known, a(), point("attic", 30.0, 0.0), None);
        let no_height = house(Fact::Unknown, Fact::Unknown, 0.0);
        check(&no_height, a(), point("east", 30.0, 50.0), None);
    }
}
