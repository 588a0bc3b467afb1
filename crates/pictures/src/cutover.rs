//! The cut-over as a drawn timeline: a row for each worker, a row for each dark circuit, gates as marks, a time axis.
//! Drawing units are minutes to the right, nights left out.

use drawing::{
    Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, legend, legend_height, look,
};
use engine::cutover::{Clock, CutOver, Limit, Seconds, Step};
use model::Job;

const ROW: f64 = 15.0;
const LEFT: f64 = 150.0;
const RIGHT: f64 = 30.0;
const TOP: f64 = 62.0;
const SMALL: f64 = 9.0;

/// Draws it.
#[must_use]
pub fn draw(job: &Job, cut: &CutOver<'_>) -> String {
    let axis = Axis::of(cut);
    let workers = usize::from(cut.plan.workers);
    let rows = workers + cut.circuits.len();
    let entries = key();
    let bottom = TOP + ROW * (rows as f64 + 1.0);
    let height = bottom + 34.0 + legend_height(entries.len(), SMALL);
    let width = LEFT + axis.length() + RIGHT;
    let mut svg = Svg::new(
        "cutover",
        &format!("Cut-over: {}", job.title),
        Area::new(0.0, 0.0, width, height),
        1100,
    );
    svg.describe("Rows of workers and of dark circuits over time; marks are safety gates.");
    svg.hatch_step(3.0);
    svg.text_in(
        Spot::new(8.0, 18.0),
        &job.title,
        width - 16.0,
        Lettering::new(13.0).bold(),
    );
    axis.draw(&mut svg, cut, bottom);
    for worker in 1..=workers {
        let y = TOP + ROW * (worker as f64 - 1.0);
        svg.text(
            Spot::new(8.0, y + ROW * 0.75),
            &format!("worker {worker}"),
            Lettering::new(SMALL),
        );
        for task in cut.tasks.iter().filter(|t| t.worker == worker) {
            let (from, to) = (axis.x(task.start), axis.x(task.end));
            let words = format!(
                "{} to {}: {} {}",
                axis.clock.at(task.start),
                axis.clock.at(task.end),
                task.words,
                task.subject
            );
            svg.group(&words, |svg| {
                svg.rect(
                    Area::new(from, y + 1.5, to - from, ROW - 3.0),
                    &style(task.step),
                );
            });
        }
    }
    let mut circuits: Vec<_> = cut.circuits.iter().collect();
    circuits.sort_by(|a, b| b.weight.cmp(&a.weight).then(a.id.cmp(b.id)));
    for (i, circuit) in circuits.iter().enumerate() {
        let y = TOP + ROW * (workers as f64 + 1.0 + i as f64);
        let broken = matches!(circuit.limit, Limit::Broken(_));
        let name = match (broken, circuit.critical) {
            (true, _) => format!("{} (limit broken)", circuit.id),
            (_, Some(_)) => format!("{} (critical)", circuit.id),
            _ => circuit.id.to_owned(),
        };
        let letters = if broken {
            Lettering::new(SMALL).bold().color(look::MARK)
        } else {
            Lettering::new(SMALL)
        };
        svg.text_in(Spot::new(8.0, y + ROW * 0.75), &name, LEFT - 14.0, letters);
        for dark in &circuit.dark {
            let (from, to) = (axis.x(dark.from), axis.x(dark.to));
            let words = format!(
                "{} dark from {} to {}, {}",
                circuit.id,
                axis.clock.at(dark.from),
                axis.clock.at(dark.to),
                dark.length()
            );
            let edge = if broken {
                Stroke::of(look::MARK, 1.2)
            } else {
                Stroke::ink(0.5)
            };
            let style = Style::fill(Fill::Hatched(Hatch::Crossed, look::FAINT)).outlined(edge);
            svg.group(&words, |svg| {
                svg.rect(
                    Area::new(from, y + 3.0, (to - from).max(0.5), ROW - 6.0),
                    &style,
                );
            });
        }
    }
    gates(&mut svg, &axis, cut, bottom);
    legend(
        &mut svg,
        Spot::new(8.0, bottom + 26.0),
        width - 16.0,
        &entries,
        Lettering::new(SMALL),
    );
    svg.finish()
}

/// Gates at one moment share one mark; its title tells all of them.
fn gates(svg: &mut Svg, axis: &Axis, cut: &CutOver<'_>, bottom: f64) {
    let mut at = 0;
    while let Some(gate) = cut.gates.get(at) {
        let same: Vec<&str> = cut.gates[at..]
            .iter()
            .take_while(|g| g.at == gate.at)
            .map(|g| g.words.as_str())
            .collect();
        at += same.len();
        let x = axis.x(gate.at);
        let words = format!("{}: {}", axis.clock.at(gate.at), same.join("; "));
        svg.group(&words, |svg| {
            svg.line(
                Spot::new(x, TOP - 4.0),
                Spot::new(x, bottom),
                Stroke::of(look::KEPT, 0.8).dashed(3.0),
            );
            let mark = [
                (x, TOP - 12.0),
                (x + 4.0, TOP - 8.0),
                (x, TOP - 4.0),
                (x - 4.0, TOP - 8.0),
            ];
            let mark: Vec<Spot> = mark.iter().map(|(x, y)| Spot::new(*x, *y)).collect();
            svg.path(&mark, true, &Style::fill(Fill::Plain(look::KEPT)));
        });
    }
}

/// Days side by side, each from its first task to its last.
struct Axis {
    /// Day, its first and last moment, where it begins in the drawing.
    days: Vec<(u64, Seconds, Seconds, f64)>,
    clock: Clock,
}

const BETWEEN_DAYS: f64 = 24.0;

impl Axis {
    fn of(cut: &CutOver<'_>) -> Self {
        let mut days: Vec<(u64, Seconds, Seconds, f64)> = Vec::new();
        for task in &cut.tasks {
            let day = task.start.0 / Seconds::DAY.0;
            match days.iter_mut().find(|(d, ..)| *d == day) {
                Some((_, from, to, _)) => {
                    *from = (*from).min(task.start);
                    *to = (*to).max(task.end);
                }
                None => days.push((day, task.start, task.end, 0.0)),
            }
        }
        days.sort_by_key(|(day, ..)| *day);
        let mut x = LEFT;
        for (_, from, to, at) in &mut days {
            *at = x;
            x += minutes(*to - *from) + BETWEEN_DAYS;
        }
        Self {
            days,
            clock: Clock(cut.plan.start),
        }
    }

    fn length(&self) -> f64 {
        let each = self
            .days
            .iter()
            .map(|(_, from, to, _)| minutes(*to - *from) + BETWEEN_DAYS);
        each.sum::<f64>().max(60.0)
    }

    /// A moment of the night stands at the end of the day before.
    fn x(&self, moment: Seconds) -> f64 {
        let day = self.days.iter().rev().find(|(_, from, ..)| *from <= moment);
        let Some((_, from, to, at)) = day.or(self.days.first()) else {
            return LEFT;
        };
        at + minutes(moment.min(*to) - *from)
    }

    fn draw(&self, svg: &mut Svg, cut: &CutOver<'_>, bottom: f64) {
        for (day, from, to, at) in &self.days {
            let start = cut.plan.start.map_or(0, |s| u64::from(s.minutes()) * 60);
            let first = (from.0 + start).div_ceil(3600) * 3600;
            let hours = (first..=to.0 + start).step_by(3600);
            for moment in hours.map(|h| Seconds(h.saturating_sub(start))) {
                let x = self.x(moment);
                svg.line(
                    Spot::new(x, TOP),
                    Spot::new(x, bottom),
                    Stroke::of(look::FAINT, 0.8),
                );
                let label = self.clock.at(moment);
                let label = label.rsplit(' ').next().unwrap_or(&label);
                svg.text(
                    Spot::new(x, TOP - 16.0),
                    label,
                    Lettering::new(SMALL).middle().color(look::QUIET),
                );
            }
            if self.days.len() > 1 {
                svg.text(
                    Spot::new(*at, 34.0),
                    &format!("day {}", day + 1),
                    Lettering::new(SMALL).bold(),
                );
            }
        }
    }
}

fn minutes(time: Seconds) -> f64 {
    time.0 as f64 / 60.0
}

fn style(step: Step) -> Style {
    let edge = Stroke::ink(0.4);
    let fill = match step {
        Step::Site | Step::Map | Step::Prepare | Step::Temporary | Step::Finish => {
            Fill::Plain(look::FAINT)
        }
        Step::LockOut => Fill::Hatched(Hatch::Crossed, look::SECOND),
        Step::Panel | Step::SupplyEnd | Step::Feeder | Step::Land => {
            Fill::Hatched(Hatch::Rising, look::SECOND)
        }
        Step::Torque | Step::Shorts | Step::Prove => Fill::Hatched(Hatch::Falling, look::FIRST),
        Step::Restore => Fill::Plain(look::FIRST),
    };
    Style::fill(fill).outlined(edge)
}

fn key() -> Vec<Entry> {
    vec![
        Entry::new(
            style(Step::Map),
            "in the live house: set up, map, prepare, papers",
        ),
        Entry::new(style(Step::LockOut), "lock out, test dead"),
        Entry::new(
            style(Step::Land),
            "work while dead: panel, feeder, circuits",
        ),
        Entry::new(
            style(Step::Prove),
            "torque, short check, energize with branches off, prove",
        ),
        Entry::new(style(Step::Restore), "switch circuits on"),
        Entry::new(
            Style::fill(Fill::Hatched(Hatch::Crossed, look::FAINT)).outlined(Stroke::ink(0.5)),
            "circuit is dark",
        ),
        Entry::new(
            Style::fill(Fill::Plain(look::KEPT)),
            "green mark and dashed line: safety gate",
        ),
    ]
}
