//! Does a cabinet fit at a place on a wall, and how much room is in front of it?
//! Source: geometry of the wall. What counts as too little is the rulebook's: its limits tell only which things are in the way of a person
//! in front of the panel. Inches.
//!
//! The clear width is measured as far as anything stands within the depth and height of the working space; the room need not be centered on
//! the panel. A door leaf that sweeps the space counts as standing in it (our reading: common practice, no source).

use model::Fact;
use model::house::{Board, House, Mounting, OldCabinet, Point, Wall};
use model::units::{Inches, Volts};
use rulebook::tables::{Opposite, TablesIn, limit};
use serde::Serialize;

use super::tape;

/// Why a panel may not be put at a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Refusal {
    /// In words.
    pub why: String,
    /// The requirement, where it is one; else the cabinet does not fit.
    pub requirement: Option<String>,
    /// Its section in the job's edition.
    pub section: String,
}

impl Refusal {
    fn no_room(why: String) -> Self {
        Self {
            why,
            requirement: None,
            section: String::new(),
        }
    }
}

/// Depth and height within which things are in the way, from the rulebook.
#[derive(Clone, Copy, Debug)]
pub(super) struct Needs {
    depth: Inches,
    height: Inches,
}

impl Needs {
    /// Of the edition. A value that nobody confirmed leaves nothing in the way, and the requirement itself cannot be told then.
    pub(super) fn of(tables: &TablesIn<'_>) -> Self {
        // 120/240 V and 208Y/120 V systems have 120 V to ground.
        let depth = tables.working_space_depth(Volts(120.0), Opposite::Grounded);
        let height = tables.limit(limit::WORKING_SPACE_HEIGHT);
        Self {
            depth: depth.map_or(Inches::ZERO, |d| Inches::from(d.value)),
            height: height.map_or(Inches::ZERO, |h| h.value),
        }
    }
}

/// How far the room in front of a wall is counted beyond a free end.
const FREE_END: Inches = Inches(120.0);

/// Something in the way, as a box against or opposite the wall.
#[derive(Clone, Debug)]
struct Thing {
    what: String,
    x: (Inches, Inches),
    y: (Inches, Inches),
    stands_out: Inches,
    opposite_at: Inches,
}

/// A wall as a cabinet sees it.
pub(super) struct Ground<'j> {
    wall: &'j Wall,
    pub(super) length: Inches,
    things: Vec<Thing>,
    needs: Needs,
    /// Size of the cabinet and its lower edge.
    size: (Inches, Inches),
    bottom: Inches,
}

/// What a place offers.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Setting {
    pub(super) refusals: Vec<Refusal>,
    pub(super) width: Fact<Inches>,
    pub(super) depth: Fact<Inches>,
    pub(super) height: Fact<Inches>,
    pub(super) location: Fact<Vec<String>>,
}

impl<'j> Ground<'j> {
    /// The wall with its obstacles, every other cabinet on it, and the old cabinet where that stays.
    pub(super) fn of(
        house: &'j House,
        name: &str,
        (id, old): (&str, &Board),
        keeps_old: Option<OldCabinet>,
        needs: Needs,
        (size, bottom): ((Inches, Inches), Inches),
    ) -> Option<Self> {
        let wall = house.walls.get(name)?;
        let mut things: Vec<Thing> = wall
            .obstacles
            .iter()
            .map(|o| Thing {
                what: o.what.clone(),
                x: (o.from, o.to),
                y: (
                    o.bottom,
                    o.top.or(wall.height.get()).unwrap_or(Inches(f64::MAX)),
                ),
                stands_out: o.stands_out,
                opposite_at: o.opposite_at,
            })
            .collect();
        for (other, board) in &house.boards {
            if other.as_str() != id {
                things.extend(cabinet(name, &format!("board {other}"), board));
            }
        }
        if keeps_old == Some(OldCabinet::SpliceBox) {
            things.extend(cabinet(
                name,
                "the old cabinet, which stays as a splice box",
                old,
            ));
        }
        Some(Self {
            length: wall.length()?,
            wall,
            things,
            needs,
            size,
            bottom,
        })
    }

    /// Places where what a cabinet meets begins or ends to be met.
    pub(super) fn edges(&self) -> Vec<Inches> {
        let width = self.size.0;
        let ends = self
            .things
            .iter()
            .map(|t| t.x)
            .chain(self.wall.stretches.iter().map(|s| (s.from, s.to)))
            .chain([(Inches::ZERO, self.length)]);
        ends.flat_map(|(from, to)| [from - width, from, to - width, to])
            .map(Inches::to_the_millionth)
            .collect()
    }

    /// What a place offers.
    pub(super) fn at(&self, x: Inches) -> Setting {
        let (width, height) = self.size;
        let x = (x, (x + width).to_the_millionth());
        let y = (self.bottom, (self.bottom + height).to_the_millionth());
        let mut refusals = Vec::new();
        if x.0.0 < 0.0 || x.1 > self.length {
            refusals.push(Refusal::no_room(
                "the cabinet would end beyond the wall".to_owned(),
            ));
        }
        if let Some(ceiling) = self.wall.height.get().filter(|h| y.1 > *h) {
            refusals.push(Refusal::no_room(format!(
                "the cabinet would end above the ceiling, at {ceiling}"
            )));
        }
        for thing in &self.things {
            if thing.opposite_at.0 <= 0.0 && meet(thing.x, x) && meet(thing.y, y) {
                refusals.push(Refusal::no_room(format!(
                    "{} is there, {} to {} along the wall",
                    thing.what,
                    tape(thing.x.0),
                    tape(thing.x.1)
                )));
            }
        }
        for stretch in self
            .wall
            .stretches
            .iter()
            .filter(|s| meet((s.from, s.to), x))
        {
            if let Some(reason) = &stretch.kept_free {
                refusals.push(Refusal::no_room(format!("kept free: {reason}")));
            }
        }
        Setting {
            refusals,
            width: Fact::derived(self.clear_width(x)),
            depth: self.clear_depth(x),
            height: self.clear_height(x),
            location: self.location(x),
        }
    }

    /// Things that a person in front of the panel would run into. What hangs above the height of the space is not among them.
    fn in_the_way(&self) -> impl Iterator<Item = &Thing> {
        self.things.iter().filter(|t| {
            let against = t.opposite_at.0 <= 0.0 && t.stands_out.0 > 0.0;
            let opposite = t.opposite_at.0 > 0.0 && t.opposite_at < self.needs.depth;
            (against || opposite) && t.y.0 < self.needs.height
        })
    }

    /// From the nearest thing, or corner, on the left to the nearest on the right of the cabinet.
    fn clear_width(&self, x: (Inches, Inches)) -> Inches {
        let beyond = Inches(if self.wall.open_left {
            -FREE_END.0
        } else {
            0.0
        });
        let left = self
            .in_the_way()
            .filter(|t| t.x.1 <= x.0)
            .map(|t| t.x.1)
            .fold(beyond, Inches::max);
        let beyond = self.length
            + Inches(if self.wall.open_right {
                FREE_END.0
            } else {
                0.0
            });
        let right = self
            .in_the_way()
            .filter(|t| t.x.0 >= x.1)
            .map(|t| t.x.0)
            .fold(beyond, Inches::min);
        // Something that stands out before the cabinet itself cuts the room off there; what hangs over it takes from the height instead.
        let before_it = |t: &&Thing| t.opposite_at.0 <= 0.0 && meet(t.x, x) && t.y.0 < self.bottom;
        let cut = self.in_the_way().filter(before_it);
        let (left, right) = cut.fold((left, right), |(left, right), t| {
            if t.x.0 <= x.0 {
                (left.max(t.x.1), right)
            } else {
                (left, right.min(t.x.0))
            }
        });
        (right - left).max(Inches::ZERO).to_the_millionth()
    }

    /// To whatever stands opposite the cabinet.
    fn clear_depth(&self, x: (Inches, Inches)) -> Fact<Inches> {
        let opposite = self
            .things
            .iter()
            .filter(|t| t.opposite_at.0 > 0.0 && meet(t.x, x) && t.y.0 < self.needs.height)
            .map(|t| t.opposite_at)
            .reduce(Inches::min);
        match (self.wall.clear_depth.get(), opposite) {
            (Some(depth), Some(opposite)) => Fact::derived(depth.min(opposite)),
            // Less than is needed is known to be too little, whatever else may stand there.
            (None, Some(opposite)) if opposite < self.needs.depth => Fact::derived(opposite),
            _ => self.wall.clear_depth.clone(),
        }
    }

    /// To the ceiling, or whatever hangs out over the place.
    fn clear_height(&self, x: (Inches, Inches)) -> Fact<Inches> {
        let hangs = self
            .things
            .iter()
            .filter(|t| t.stands_out.0 > 0.0 && t.y.0.0 > 0.0 && meet(t.x, x))
            .filter(|t| t.y.0 >= self.bottom)
            .map(|t| t.y.0)
            .reduce(Inches::min);
        match (self.wall.height.get(), hangs) {
            (Some(height), Some(hangs)) => Fact::derived(height.min(hangs)),
            (None, Some(hangs)) if hangs < self.needs.height => Fact::derived(hangs),
            _ => self.wall.height.clone(),
        }
    }

    fn location(&self, x: (Inches, Inches)) -> Fact<Vec<String>> {
        let here = self
            .wall
            .stretches
            .iter()
            .filter(|s| meet((s.from, s.to), x));
        let more: Vec<&String> = here.flat_map(|s| &s.location).collect();
        match &self.wall.location {
            Fact::Known { is, by } => {
                let mut tags = is.clone();
                for tag in more {
                    if !tags.contains(tag) {
                        tags.push(tag.clone());
                    }
                }
                Fact::Known { is: tags, by: *by }
            }
            Fact::Unknown => Fact::Unknown,
        }
    }
}

/// Two ranges have more than an end in common.
fn meet(a: (Inches, Inches), b: (Inches, Inches)) -> bool {
    a.0 < b.1 && b.0 < a.1
}

fn cabinet(wall: &str, what: &str, board: &Board) -> Option<Thing> {
    let Point { x, y, .. } = board.position.as_ref().filter(|p| p.wall == wall)?.clone();
    let (width, height) = (board.cabinet.width.get()?, board.cabinet.height.get()?);
    let surface = board.cabinet.mounting.get() == Some(Mounting::Surface);
    Some(Thing {
        what: what.to_owned(),
        x: (x, (x + width).to_the_millionth()),
        y: (y, (y + height).to_the_millionth()),
        stands_out: if surface {
            board.cabinet.depth.get().unwrap_or(Inches::ZERO)
        } else {
            Inches::ZERO
        },
        opposite_at: Inches::ZERO,
    })
}
