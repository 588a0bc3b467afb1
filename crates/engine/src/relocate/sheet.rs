//! The best place line by line: where it is, how long everything gets, what is asked, what it costs, and why nothing cheaper was found.
//! Source: the sweep. Inches, feet, hours of one person, US dollars.

use model::Job;
use model::units::Unit;
use rulebook::{Check, Rulebook};

use super::{Candidate, Judged, Legality, Span, Sweep, WallSweep, Way, tape};
use crate::worksheet::{Line, Quantity, Worksheet};

/// The worksheet of the best place; of the sweep alone where no place is possible.
#[must_use]
pub fn worksheet(job: &Job, book: &Rulebook, sweep: &Sweep) -> Worksheet {
    let id = format!("move.{}", sweep.board);
    let mut sheet = Worksheet::new(id, "Place of the new panel", book.edition());
    match sweep.best() {
        Some(best) => place(&mut sheet, job, sweep, best),
        None => sheet.push(Line::cannot_tell(
            "Place",
            "no place on these walls is possible: other walls, another height or a smaller cabinet",
        )),
    }
    let (grid, all) = sweep.looked_at;
    sheet.push(
        Line::number("Places looked at", Quantity::number(all as f64))
            .input("on the grid", Quantity::number(grid as f64))
            .input("step", sweep.step)
            .note(
                "besides the grid: every place where a length meets a number that a requirement of this edition holds it against, where a \
                 circuit or feeder stops to reach, or where the cabinet meets the edge of something, and 1/64 in to either side",
            ),
    );
    sheet.push(Line::number(
        "Kinds of places that the requirements can tell apart",
        Quantity::number(sweep.judged.len() as f64),
    ));
    sheet
}

fn place(sheet: &mut Worksheet, job: &Job, sweep: &Sweep, best: &Candidate) {
    let way = match best.way {
        Way::SpliceBox => "the old cabinet stays as a splice box",
        Way::Removed => "the old cabinet goes",
        Way::InPlace => "at the old place",
    };
    sheet.push(
        Line::text("Wall", best.at.wall.clone())
            .input("left edge of the cabinet along the wall", best.at.x)
            .input("lower edge above the floor", best.at.y)
            .note(way),
    );
    let from_old = sweep
        .old
        .as_ref()
        .and_then(|old| job.after.path(old, &best.at));
    match from_old {
        Some(path) => sheet.push(
            Line::number("Path from the old place", path).how("along framing, corner to corner"),
        ),
        None => sheet.push(Line::cannot_tell(
            "Path from the old place",
            "needs both places on one wall, or walls on one floor plan with their heights",
        )),
    }
    legality(sheet, best);
    sheet.push(range("Circuits lengthened", count(best.extended)));
    let where_they_sit = match best.way {
        Way::SpliceBox => "in the old cabinet",
        Way::Removed => "each in a new box, by our choice: several may share a larger one",
        Way::InPlace => "none",
    };
    let splices = range("Sets of splices", count(best.splices));
    sheet.push(
        splices
            .how("one for a circuit, one for a shared-neutral set")
            .note(where_they_sit),
    );
    sheet.push(range("New boxes for splices", count(best.boxes)));
    sheet.push(range(
        "Length added outside enclosures, all circuits",
        quantity(best.added_outside),
    ));
    match best.added_total {
        Some(total) => sheet.push(Line::number("Length added in all", total)),
        None => sheet.push(Line::cannot_tell(
            "Length added in all",
            "needs the length inside the cabinets (`make_up`) and every circuit's spare length (`slack`)",
        )),
    }
    for beyond in &best.beyond {
        let label = format!("Circuits lengthened by more than {}", tape(beyond.limit));
        sheet.push(range(label, count(beyond.circuits)));
    }
    for feeder in &best.feeders {
        let label = format!("Feeder {}", feeder.feeder);
        let line = match feeder.after {
            Some(after) => Line::number(label, after).how("length before + change of its path"),
            None => Line::cannot_tell(label, "its length before, or its path, is unknown"),
        };
        let line = feeder
            .before
            .into_iter()
            .fold(line, |l, f| l.input("before", f));
        let line = feeder
            .extra
            .into_iter()
            .fold(line, |l, e| l.input("change of path", e));
        sheet.push(if feeder.at_most {
            line.note("the most it can be: nobody said where the feeder comes from (`home_run`)")
        } else {
            line
        });
    }
    let judged = sweep.judged(best);
    for asked in judged.map(grouped).unwrap_or_default() {
        let line = range(asked.title.clone(), count(asked.places));
        let unknown = asked.places.low < asked.places.high;
        let note = format!(
            "{}; at {}{}",
            asked.section,
            asked.names(),
            if unknown {
                "; cannot be told everywhere yet"
            } else {
                ""
            }
        );
        sheet.push(line.note(note));
    }
    if let Some(fits) = judged.and_then(|j| j.splice_fill) {
        sheet.push(Line::passes(
            "Fill of the old cabinet within its limits",
            fits,
        ));
    }
    for text in judged.into_iter().flat_map(|j| &j.feeders) {
        sheet.push(Line::text("Feeder", text.clone()));
    }
    let cost = &best.cost;
    sheet.push(range("Time of one person", quantity(cost.hours)).checked(Check::Memory));
    sheet.push(money("Material", cost.material));
    sheet.push(money("Price of what depends on the place", cost.price));
    for part in &cost.unpriced {
        sheet.push(Line::cannot_tell(
            "Price is incomplete",
            format!("no price for {part}"),
        ));
    }
    second_best(sheet, sweep);
}

/// What one requirement asks for at several things.
pub struct Group {
    /// The requirement.
    pub requirement: String,
    /// Its title.
    pub title: String,
    /// Its section.
    pub section: String,
    /// At how many things, at least and at most.
    pub places: Span<u32>,
    /// Sort of the things, for example `circuit`.
    pub sort: &'static str,
    /// Their names, and whether it is sure.
    pub things: Vec<(String, bool)>,
}

/// Names written out for one requirement.
const MOST_NAMES: usize = 10;

impl Group {
    /// Their names, those with a question mark that nobody can tell yet; only their number where there are many.
    #[must_use]
    pub fn names(&self) -> String {
        if self.things.len() > MOST_NAMES {
            return format!("{} {}s", self.things.len(), self.sort);
        }
        let names = self.things.iter().map(|(name, sure)| {
            let mark = if *sure { "" } else { "?" };
            format!("{name}{mark}")
        });
        names.collect::<Vec<_>>().join(", ")
    }
}

/// What is asked at a place, requirement by requirement.
#[must_use]
pub fn grouped(judged: &Judged) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for asked in &judged.asked {
        let place = groups
            .iter()
            .position(|g| g.requirement == asked.requirement);
        let place = place.unwrap_or_else(|| {
            groups.push(Group {
                requirement: asked.requirement.clone(),
                title: asked.title.clone(),
                section: asked.section.clone(),
                places: Span::exactly(0),
                sort: asked.sort,
                things: Vec::new(),
            });
            groups.len() - 1
        });
        if let Some(group) = groups.get_mut(place) {
            group.places.low += u32::from(asked.sure);
            group.places.high += 1;
            group.things.push((asked.name.clone(), asked.sure));
        }
    }
    groups
}

fn legality(sheet: &mut Worksheet, best: &Candidate) {
    match &best.legality {
        Legality::Legal => sheet.push(Line::passes("Nothing speaks against the place", true)),
        Legality::Open(open) => {
            for asked in open {
                let why = format!("{} ({})", asked.title, asked.section);
                sheet.push(Line::cannot_tell("Place", why));
            }
        }
        Legality::No(refusals) => {
            for refusal in refusals {
                sheet.push(Line::passes("Place", false).note(refusal.why.clone()));
            }
        }
    }
}

/// The best of each other wall and way, for comparison.
fn second_best(sheet: &mut Worksheet, sweep: &Sweep) {
    let chosen = sweep.best.map(|(wall, _)| wall);
    for (i, wall) in sweep.walls.iter().enumerate() {
        if Some(i) == chosen {
            continue;
        }
        let label = format!("Instead: {}", name(wall));
        match wall.best.and_then(|b| wall.places.get(b)) {
            Some(best) => {
                sheet.push(money(label, best.cost.price).input("along the wall", best.at.x));
            }
            None => sheet.push(Line::text(label, "no possible place")),
        }
    }
}

fn name(wall: &WallSweep) -> String {
    match wall.way {
        Way::SpliceBox => format!("{}, splice box", wall.wall),
        _ => wall.wall.clone(),
    }
}

fn count(span: Span<u32>) -> Span<Quantity> {
    Span {
        low: Quantity::number(f64::from(span.low)),
        high: Quantity::number(f64::from(span.high)),
    }
}

fn quantity<U: Unit>(span: Span<U>) -> Span<Quantity> {
    Span {
        low: span.low.into(),
        high: span.high.into(),
    }
}

/// One number, or both ends of a range as text.
fn range(label: impl Into<crate::worksheet::Text>, span: Span<Quantity>) -> Line {
    if span.low == span.high {
        return Line::number(label, span.high);
    }
    let text = format!(
        "{} to {} {}",
        trim(span.low.value),
        trim(span.high.value),
        span.high.unit
    );
    Line::text(label, text.trim_end().to_owned())
}

fn money(label: impl Into<crate::worksheet::Text>, span: Span<model::Dollars>) -> Line {
    let text = if span.low == span.high {
        span.high.to_string()
    } else {
        format!("{} to {}", span.low, span.high)
    };
    Line::text(label, text).checked(Check::Memory)
}

/// At most two decimals.
fn trim(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
