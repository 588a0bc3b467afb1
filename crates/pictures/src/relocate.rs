//! The walls to scale with what is on them, and under each the price along it with its cliffs.
//! Drawing units are inches of wall; the price axis is the same for all walls.

use drawing::{
    Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, legend, legend_height, look,
};
use engine::relocate::{Candidate, Cliff, Legality, Moved, Step, Sweep, WallSweep, Way, tape};
use model::Job;
use model::house::{Board, Wall};
use model::units::Inches;

const LEFT: f64 = 34.0;
const RIGHT: f64 = 12.0;
const TOP: f64 = 30.0;
const CURVE: f64 = 80.0;
const GAP: f64 = 16.0;
const SMALL: f64 = 5.0;
const TINY: f64 = 4.0;
/// Height drawn for a wall whose height nobody knows.
const USUAL_HEIGHT: f64 = 96.0;
/// Letters of the cliffs, and how much wider than estimated some fonts run.
const CLIFF: f64 = 4.4;
const WIDER: f64 = 1.12;
/// Cliffs written out under one wall.
const MOST: usize = 7;

/// Draws it.
#[must_use]
pub fn draw(job: &Job, moved: &Moved) -> String {
    let sweep = &moved.sweep;
    let longest = sweep.walls.iter().map(|w| w.length.0).fold(120.0, f64::max);
    let width = LEFT + longest + RIGHT;
    let entries = key();
    let blocks: f64 = sweep.walls.iter().map(|w| block_height(job, w)).sum();
    let height = TOP + blocks + legend_height(entries.len(), SMALL) + 8.0;
    let title = format!("Where to put panel {}: {}", sweep.board, job.title);
    let mut svg = Svg::new("move", &title, Area::new(0.0, 0.0, width, height), 1200);
    svg.describe(&described(sweep));
    svg.hatch_step(4.0);
    let paper = Style::fill(Fill::Plain(look::PAPER));
    svg.rect(Area::new(0.0, 0.0, width, height), &paper);
    let letters = Lettering::new(6.5).bold();
    svg.text_in(
        Spot::new(6.0, 10.0),
        &title,
        (width - 12.0) / WIDER,
        letters,
    );
    let note = "Price of what depends on the place, at the left edge of the cabinet. Verify against the adopted code.";
    let letters = Lettering::new(TINY);
    svg.text_in(Spot::new(6.0, 17.0), note, (width - 12.0) / WIDER, letters);
    let most = most_dollars(sweep);
    let mut y = TOP;
    // The wall of the cheapest place first.
    let mut order: Vec<usize> = (0..sweep.walls.len()).collect();
    order.sort_by_key(|n| sweep.best.is_none_or(|(w, _)| w != *n));
    for number in order {
        let Some(wall) = sweep.walls.get(number) else {
            continue;
        };
        let best = sweep.best.filter(|(w, _)| *w == number);
        let best = best.and_then(|(_, place)| wall.places.get(place));
        Block {
            job,
            sweep,
            wall,
            best,
            y,
            most,
            room: (width - LEFT) / WIDER,
        }
        .draw(&mut svg);
        y += block_height(job, wall);
    }
    legend(
        &mut svg,
        Spot::new(6.0, y),
        width - 12.0,
        &entries,
        Lettering::new(SMALL),
    );
    svg.finish()
}

fn described(sweep: &Sweep) -> String {
    match sweep.best() {
        Some(best) => format!(
            "Walls to scale with the price along each. Cheapest: {}, {} along the wall, at most {}.",
            best.at.wall,
            tape(best.at.x),
            best.cost.price.high
        ),
        None => "Walls to scale with the price along each. No place is possible.".to_owned(),
    }
}

fn key() -> Vec<Entry> {
    vec![
        Entry::new(obstacle(), "in the way"),
        Entry::new(refused(), "no panel may go there"),
        Entry::new(old_panel(), "panel as it is"),
        Entry::new(
            new_panel(),
            "cheapest place, with the working space in front of it",
        ),
        Entry::new(planned_panel(), "place of the plan"),
        Entry::new(Style::line(high_line()), "price at most"),
        Entry::new(Style::line(low_line()), "price at least"),
    ]
}

const fn obstacle() -> Style {
    Style::fill(Fill::Hatched(Hatch::Rising, look::FAINT)).outlined(Stroke::of(look::QUIET, 0.5))
}

const fn refused() -> Style {
    Style::fill(Fill::Hatched(Hatch::Crossed, look::FAINT))
}

const fn old_panel() -> Style {
    Style::fill(Fill::Plain(look::SECOND)).outlined(Stroke::ink(0.8).dashed(2.5))
}

const fn new_panel() -> Style {
    Style::fill(Fill::Plain(look::FIRST)).outlined(Stroke::of(look::KEPT, 1.4))
}

const fn planned_panel() -> Style {
    Style::line(Stroke::of(look::MARK, 1.0).dashed(3.0))
}

const fn high_line() -> Stroke {
    Stroke::ink(1.0)
}

const fn low_line() -> Stroke {
    Stroke::of(look::QUIET, 0.8).dashed(3.0)
}

fn wall_of<'j>(job: &'j Job, wall: &WallSweep) -> Option<&'j Wall> {
    job.after.walls.get(&wall.wall)
}

fn height_of(job: &Job, wall: &WallSweep) -> f64 {
    let height = wall_of(job, wall).and_then(|w| w.height.get());
    height.map_or(USUAL_HEIGHT, |h| h.0)
}

/// Cliffs worth a line: those with a price, the highest first.
fn told(wall: &WallSweep) -> Vec<&Cliff> {
    let mut cliffs: Vec<&Cliff> = wall
        .cliffs
        .iter()
        .filter(|c| c.steps.iter().any(|s| !matches!(s, Step::Refused { .. })))
        .collect();
    cliffs.sort_by_key(|c| std::cmp::Reverse(c.adds.high));
    cliffs.truncate(MOST);
    cliffs.sort_by(|a, b| a.at.0.total_cmp(&b.at.0));
    cliffs
}

/// Cliffs in lines that fit under the wall, each line with what stands before it.
fn lines(wall: &WallSweep) -> Vec<String> {
    let room = (wall.length.0 + RIGHT).max(200.0) / WIDER;
    let mut all = Vec::new();
    for (i, cliff) in told(wall).iter().enumerate() {
        let mut line = format!("{}  ", i + 1);
        for word in cliff.words.split(' ') {
            let longer = format!("{line}{word} ");
            if drawing::width_of(longer.trim_end(), CLIFF) > room {
                all.push(std::mem::replace(&mut line, format!("     {word} ")));
            } else {
                line = longer;
            }
        }
        all.push(line);
    }
    all
}

fn block_height(job: &Job, wall: &WallSweep) -> f64 {
    let lines = lines(wall).len() as f64;
    8.0 + height_of(job, wall) + 12.0 + CURVE + 11.0 + lines * SMALL * 1.4 + GAP
}

/// The largest price on the axis, in dollars, rounded up to a hundred.
fn most_dollars(sweep: &Sweep) -> f64 {
    let places = sweep.walls.iter().flat_map(|w| &w.places);
    let most = places.map(|p| p.cost.price.high.cents()).max().unwrap_or(0);
    ((most as f64 / 10_000.0).ceil() * 100.0).max(100.0)
}

/// One wall and its curve.
struct Block<'a> {
    job: &'a Job,
    sweep: &'a Sweep,
    wall: &'a WallSweep,
    best: Option<&'a Candidate>,
    y: f64,
    most: f64,
    /// For the title, which may be longer than the wall.
    room: f64,
}

impl Block<'_> {
    fn draw(&self, svg: &mut Svg) {
        let way = match self.wall.way {
            Way::SpliceBox => "old cabinet stays as splice box",
            Way::Removed => "old cabinet removed",
            Way::InPlace => "in the old place",
        };
        let title = format!("{}, {} long; {way}", self.wall.wall, tape(self.wall.length));
        let letters = Lettering::new(6.0).bold();
        svg.text_in(Spot::new(LEFT, self.y + 4.0), &title, self.room, letters);
        self.elevation(svg);
        self.axis(svg);
        self.refusals(svg);
        self.curve(svg);
        self.cliffs(svg);
    }

    fn height(&self) -> f64 {
        height_of(self.job, self.wall)
    }

    fn floor(&self) -> f64 {
        self.y + 8.0 + self.height()
    }

    fn x(&self, along: Inches) -> f64 {
        LEFT + along.0
    }

    fn area(&self, x: (Inches, Inches), y: (Inches, Inches)) -> Area {
        let top = y.1.0.min(self.height());
        Area::new(
            self.x(x.0),
            self.floor() - top,
            (x.1 - x.0).0,
            (top - y.0.0).max(0.0),
        )
    }

    fn elevation(&self, svg: &mut Svg) {
        let frame = Area::new(LEFT, self.y + 8.0, self.wall.length.0, self.height());
        let paper = Style::fill(Fill::Plain(look::PAPER)).outlined(Stroke::ink(0.8));
        svg.rect(frame, &paper);
        let Some(wall) = wall_of(self.job, self.wall) else {
            return;
        };
        for thing in &wall.obstacles {
            let top = thing.top.unwrap_or(Inches(self.height()));
            let area = self.area((thing.from, thing.to), (thing.bottom, top));
            let opposite = thing.opposite_at.0 > 0.0;
            let words = match (opposite, thing.stands_out.0 > 0.0) {
                (true, _) => format!("{}, opposite at {}", thing.what, tape(thing.opposite_at)),
                (_, true) => format!("{}, stands out {}", thing.what, tape(thing.stands_out)),
                _ => thing.what.clone(),
            };
            svg.group(&words, |svg| {
                let open = Style::line(Stroke::of(look::QUIET, 0.6).dashed(2.0));
                let style = if opposite { open } else { obstacle() };
                svg.rect(area, &style);
                let spot = Spot::new(area.x + 1.5, area.y + TINY + 1.0);
                self.label(svg, spot, &words, area.width - 3.0);
            });
        }
        for stretch in &wall.stretches {
            let what = stretch.kept_free.clone();
            let what = what.unwrap_or_else(|| stretch.location.join(", ").replace('_', " "));
            let area = self.area((stretch.from, stretch.to), (Inches::ZERO, Inches(8.0)));
            svg.group(&what, |svg| {
                svg.rect(area, &refused());
                let spot = Spot::new(area.x + 1.0, area.y - 1.5);
                self.label(svg, spot, &what, area.width.max(30.0));
            });
        }
        self.panels(svg);
    }

    /// Letters on a ground of paper, so that they read over hatching.
    fn label(&self, svg: &mut Svg, at: Spot, words: &str, room: f64) {
        let shown = drawing::width_of(words, TINY).min(room.max(0.0));
        let ground = Area::new(at.x - 0.5, at.y - TINY, shown + 1.0, TINY * 1.3);
        svg.rect(ground, &Style::fill(Fill::Plain(look::PAPER)));
        svg.text_in(at, words, room, Lettering::new(TINY));
    }

    fn panels(&self, svg: &mut Svg) {
        let old = self.job.before.boards.get(self.sweep.board.as_str());
        self.cabinet(svg, old, "as it is", &old_panel());
        let planned = self.job.after.boards.get(self.sweep.board.as_str());
        let moved = planned.and_then(|p| p.position.as_ref()) != self.sweep.old.as_ref();
        if moved {
            self.cabinet(svg, planned, "plan", &planned_panel());
        }
        let (width, height) = self.sweep.cabinet;
        if let Some(best) = self.best {
            // The space need not be centered; it is drawn so as far as the wall goes.
            let space = self.working_space();
            let middle = best.at.x + width / 2.0;
            let from = (middle - space.0 / 2.0)
                .max(Inches::ZERO)
                .min((self.wall.length - space.0).max(Inches::ZERO));
            let area = self.area((from, from + space.0), (Inches::ZERO, space.1));
            let words = format!("working space {} by {}", tape(space.0), tape(space.1));
            svg.group(&words, |svg| {
                svg.rect(area, &Style::line(Stroke::of(look::KEPT, 0.8).dashed(1.5)));
            });
            let area = self.area(
                (best.at.x, best.at.x + width),
                (best.at.y, best.at.y + height),
            );
            svg.group("cheapest place", |svg| {
                svg.rect(area, &new_panel());
                svg.text(area.middle(), "new", Lettering::new(SMALL).middle().bold());
            });
        }
    }

    fn cabinet(&self, svg: &mut Svg, board: Option<&Board>, word: &str, style: &Style) {
        let Some(board) = board else { return };
        let Some(at) = board.position.as_ref().filter(|p| p.wall == self.wall.wall) else {
            return;
        };
        let width = board.cabinet.width.get().unwrap_or(self.sweep.cabinet.0);
        let height = board.cabinet.height.get().unwrap_or(self.sweep.cabinet.1);
        let area = self.area((at.x, at.x + width), (at.y, at.y + height));
        svg.group(word, |svg| {
            svg.rect(area, style);
            let spot = Spot::new(area.middle().x, area.y + area.height - 2.0);
            svg.text(spot, word, Lettering::new(TINY).middle());
        });
    }

    /// Width and height that the requirements of the edition ask for, as far as the sweep had them.
    fn working_space(&self) -> (Inches, Inches) {
        (
            self.sweep.working_space.0.max(self.sweep.cabinet.0),
            self.sweep.working_space.1,
        )
    }

    fn base(&self) -> f64 {
        self.floor() + 12.0 + CURVE
    }

    fn price_y(&self, cents: i64) -> f64 {
        self.base() - CURVE * (cents as f64 / 100.0 / self.most)
    }

    fn axis(&self, svg: &mut Svg) {
        let grid = Stroke::of(look::FAINT, 0.5);
        let feet = (self.wall.length.0 / 12.0).floor() as u32;
        for foot in (0..=feet).step_by(2) {
            let x = self.x(Inches(f64::from(foot) * 12.0));
            let floor = self.floor();
            svg.line(
                Spot::new(x, floor),
                Spot::new(x, floor + 2.0),
                Stroke::ink(0.5),
            );
            let words = format!("{foot} ft");
            svg.text(
                Spot::new(x, floor + 7.0),
                &words,
                Lettering::new(TINY).middle(),
            );
            svg.line(
                Spot::new(x, self.base() - CURVE),
                Spot::new(x, self.base()),
                grid,
            );
        }
        for part in 0..=4 {
            let dollars = self.most * f64::from(part) / 4.0;
            let y = self.base() - CURVE * f64::from(part) / 4.0;
            let end = LEFT + self.wall.length.0;
            svg.line(Spot::new(LEFT, y), Spot::new(end, y), grid);
            let words = model::Dollars::from_cents((dollars * 100.0).round() as i64).to_string();
            let spot = Spot::new(LEFT - 2.0, y + TINY / 3.0);
            svg.text(spot, &words, Lettering::new(TINY).end());
        }
    }

    /// Bands over places where no panel may go. The curve is drawn at the left edge of the cabinet.
    fn refusals(&self, svg: &mut Svg) {
        let why = |c: &Candidate| match &c.legality {
            Legality::No(refusals) => refusals.first().map(|r| match r.section.as_str() {
                "" => r.why.clone(),
                section => format!("{} ({section})", r.why),
            }),
            _ => None,
        };
        let places = &self.wall.places;
        let mut start = 0;
        while start < places.len() {
            let Some(reason) = places.get(start).and_then(why) else {
                start += 1;
                continue;
            };
            let same = |c: &&Candidate| why(c).as_ref() == Some(&reason);
            let count = places.iter().skip(start).take_while(same).count();
            let last = places.get(start + count - 1);
            let from = places.get(start).map_or(0.0, |p| self.x(p.at.x));
            let to = last.map_or(from, |p| self.x(p.at.x));
            let area = Area::new(from, self.base() - CURVE, (to - from).max(0.3), CURVE);
            svg.group(&reason, |svg| {
                svg.rect(area, &refused());
                if area.width > 12.0 {
                    let spot = Spot::new(area.x + 1.0, area.y + TINY + 1.0);
                    self.label(svg, spot, &reason, area.width - 2.0);
                }
            });
            start += count;
        }
    }

    fn curve(&self, svg: &mut Svg) {
        for (high, stroke) in [(false, low_line()), (true, high_line())] {
            let price = |c: &Candidate| {
                let span = c.cost.price;
                (if high { span.high } else { span.low }).cents()
            };
            let mut run: Vec<Spot> = Vec::new();
            for place in &self.wall.places {
                if place.legality.is_possible() {
                    run.push(Spot::new(self.x(place.at.x), self.price_y(price(place))));
                } else {
                    svg.path(&run, false, &Style::line(stroke));
                    run.clear();
                }
            }
            svg.path(&run, false, &Style::line(stroke));
        }
        if let Some(best) = self.best {
            let spot = Spot::new(
                self.x(best.at.x),
                self.price_y(best.cost.price.high.cents()),
            );
            svg.circle(spot, 2.0, &new_panel());
            let words = format!("{} at {}", best.cost.price.high, tape(best.at.x));
            let over = Spot::new(spot.x + 3.0, spot.y - 3.0);
            self.label(svg, over, &words, 80.0);
        }
    }

    fn cliffs(&self, svg: &mut Svg) {
        let mut before = f64::MIN;
        let mut low = false;
        for (number, cliff) in told(self.wall).iter().enumerate() {
            let x = self.x(cliff.at);
            let mark = Stroke::of(look::MARK, 0.7).dashed(2.0);
            let top = Spot::new(x, self.base() - CURVE);
            svg.line(top, Spot::new(x, self.base()), mark);
            // Numbers that stand close together take turns in two rows.
            low = x - before < SMALL * 1.2 && !low;
            before = x;
            let y = self.base() + if low { SMALL * 1.9 } else { SMALL };
            let letters = Lettering::new(SMALL * 0.9).middle().bold();
            let number = (number + 1).to_string();
            svg.text(Spot::new(x, y), &number, letters.color(look::MARK));
        }
        for (i, line) in lines(self.wall).iter().enumerate() {
            let y = self.base() + 11.0 + SMALL * 1.4 * (i as f64 + 1.0);
            svg.text(Spot::new(LEFT, y), line, Lettering::new(CLIFF));
        }
    }
}
