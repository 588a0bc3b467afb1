//! The cut-over as a drawn timeline: a row for each worker, a row for each dark circuit, gates as marks, a time axis.
//! Drawing units are minutes to the right, nights left out.

use drawing::{
    Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, legend, legend_height, look,
};
use engine::cutover::{Clock, CutOver, Limit, Seconds, Step};
use engine::patterns;
use engine::saying::{Words, english};
use model::Job;

const ROW: f64 = 12.5;
const LEFT: f64 = 150.0;
const RIGHT: f64 = 30.0;
const TOP: f64 = 62.0;
const SMALL: f64 = 9.0;
/// Longest time axis; a longer one is drawn to a smaller scale.
const LONGEST_AXIS: f64 = 520.0;
/// Room that the label of an hour needs.
const HOUR_LABEL: f64 = 34.0;

patterns! {
    TITLE "drawn-cut-title" "Cut-over: {job}";
    ABOUT "drawn-cut-about" "Rows of workers and of dark circuits over time; marks are safety gates.";
    WORKER "drawn-cut-worker" "worker {number}";
    TASK "drawn-cut-task" "{from} to {to}: {what} {subject}";
    DARK "drawn-cut-dark" "{circuit} dark from {from} to {to}, {time}";
    BROKEN "drawn-cut-broken" "{circuit} (limit broken)";
    CRITICAL "drawn-cut-critical" "{circuit} (critical)";
    DAY "drawn-cut-day" "day {day}";
    KEY_LIVE "drawn-cut-key-live" "in the live house: set up, map, prepare, papers";
    KEY_LOCK "drawn-cut-key-lock" "lock out, test dead";
    KEY_DEAD "drawn-cut-key-dead" "work while dead: panel, feeder, circuits";
    KEY_PROVE "drawn-cut-key-prove" "torque, short check, energize with branches off, prove";
    KEY_RESTORE "drawn-cut-key-restore" "switch circuits on";
    KEY_DARK "drawn-cut-key-dark" "circuit is dark";
    KEY_GATE "drawn-cut-key-gate" "green mark and dashed line: safety gate";
}

/// Draws it in English.
#[must_use]
pub fn draw(job: &Job, cut: &CutOver<'_>) -> String {
    draw_in(job, cut, &english)
}

/// Draws it in a language.
#[must_use]
pub fn draw_in(job: &Job, cut: &CutOver<'_>, words: Words<'_>) -> String {
    let axis = Axis::of(cut);
    let workers = usize::from(cut.plan.workers);
    let rows = workers + cut.circuits.len();
    let entries = key(words);
    let bottom = TOP + ROW * (rows as f64 + 1.0);
    let height = bottom + 34.0 + legend_height(entries.len(), SMALL);
    let width = LEFT + axis.length() + RIGHT;
    let mut svg = Svg::new(
        "cutover",
        &TITLE.with("job", &job.title).in_words(words),
        Area::new(0.0, 0.0, width, height),
        1100,
    );
    svg.describe(words(ABOUT));
    svg.hatch_step(3.0);
    svg.text_in(
        Spot::new(8.0, 18.0),
        &job.title,
        width - 16.0,
        Lettering::new(13.0).bold(),
    );
    axis.draw(&mut svg, cut, bottom, words);
    for worker in 1..=workers {
        let y = TOP + ROW * (worker as f64 - 1.0);
        svg.text(
            Spot::new(8.0, y + ROW * 0.75),
            &WORKER.with("number", worker).in_words(words),
            Lettering::new(SMALL),
        );
        for task in cut.tasks.iter().filter(|t| t.worker == worker) {
            let (from, to) = (axis.x(task.start), axis.x(task.end));
            let title = TASK
                .with("from", axis.clock.saying(task.start).in_words(words))
                .with("to", axis.clock.saying(task.end).in_words(words))
                .with("what", task.words.in_words(words))
                .with("subject", &task.subject);
            svg.group(&title.in_words(words), |svg| {
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
            (true, _) => BROKEN.with("circuit", circuit.id).in_words(words),
            (_, Some(_)) => CRITICAL.with("circuit", circuit.id).in_words(words),
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
            let title = DARK
                .with("circuit", circuit.id)
                .with("from", axis.clock.saying(dark.from).in_words(words))
                .with("to", axis.clock.saying(dark.to).in_words(words))
                .with("time", dark.length())
                .in_words(words);
            let edge = if broken {
                Stroke::of(look::MARK, 1.2)
            } else {
                Stroke::ink(0.5)
            };
            let style = Style::fill(Fill::Hatched(Hatch::Crossed, look::FAINT)).outlined(edge);
            svg.group(&title, |svg| {
                svg.rect(
                    Area::new(from, y + 3.0, (to - from).max(0.5), ROW - 6.0),
                    &style,
                );
            });
        }
    }
    gates(&mut svg, &axis, cut, bottom, words);
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
fn gates(svg: &mut Svg, axis: &Axis, cut: &CutOver<'_>, bottom: f64, words: Words<'_>) {
    let mut at = 0;
    while let Some(gate) = cut.gates.get(at) {
        let same: Vec<String> = cut.gates[at..]
            .iter()
            .take_while(|g| g.at == gate.at)
            .map(|g| g.words.in_words(words))
            .collect();
        at += same.len();
        let x = axis.x(gate.at);
        let title = format!(
            "{}: {}",
            axis.clock.saying(gate.at).in_words(words),
            same.join("; ")
        );
        svg.group(&title, |svg| {
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
    /// Drawing units to a minute.
    scale: f64,
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
        let worked: f64 = days
            .iter()
            .map(|(_, from, to, _)| minutes(*to - *from))
            .sum();
        let between = BETWEEN_DAYS * days.len() as f64;
        let scale = ((LONGEST_AXIS - between) / worked.max(1.0)).clamp(0.1, 1.0);
        let mut x = LEFT;
        for (_, from, to, at) in &mut days {
            *at = x;
            x += minutes(*to - *from) * scale + BETWEEN_DAYS;
        }
        Self {
            scale,
            days,
            clock: Clock(cut.plan.start),
        }
    }

    fn length(&self) -> f64 {
        let each = self
            .days
            .iter()
            .map(|(_, from, to, _)| minutes(*to - *from) * self.scale + BETWEEN_DAYS);
        each.sum::<f64>().max(60.0)
    }

    /// A moment of the night stands at the end of the day before.
    fn x(&self, moment: Seconds) -> f64 {
        let day = self.days.iter().rev().find(|(_, from, ..)| *from <= moment);
        let Some((_, from, to, at)) = day.or(self.days.first()) else {
            return LEFT;
        };
        at + minutes(moment.min(*to) - *from) * self.scale
    }

    fn draw(&self, svg: &mut Svg, cut: &CutOver<'_>, bottom: f64, words: Words<'_>) {
        for (day, from, to, at) in &self.days {
            let start = cut.plan.start.map_or(0, |s| u64::from(s.minutes()) * 60);
            let first = (from.0 + start).div_ceil(3600) * 3600;
            let apart = (HOUR_LABEL / (60.0 * self.scale)).ceil().max(1.0) as usize;
            let hours = (first..=to.0 + start).step_by(3600 * apart);
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
                    &DAY.with("day", day + 1).in_words(words),
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

fn key(words: Words<'_>) -> Vec<Entry> {
    vec![
        Entry::new(style(Step::Map), words(KEY_LIVE)),
        Entry::new(style(Step::LockOut), words(KEY_LOCK)),
        Entry::new(style(Step::Land), words(KEY_DEAD)),
        Entry::new(style(Step::Prove), words(KEY_PROVE)),
        Entry::new(style(Step::Restore), words(KEY_RESTORE)),
        Entry::new(
            Style::fill(Fill::Hatched(Hatch::Crossed, look::FAINT)).outlined(Stroke::ink(0.5)),
            words(KEY_DARK),
        ),
        Entry::new(Style::fill(Fill::Plain(look::KEPT)), words(KEY_GATE)),
    ]
}
