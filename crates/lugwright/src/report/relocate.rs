//! Where to put the new panel, on a page: the places that matter, each wall in a few rows, and its cliffs in words.
//! Lengths as a tape reads them, hours of one person, US dollars for what depends on the place.

use engine::relocate::{
    Candidate, Cliff, FeederWork, Legality, Moved, Span, Step, Sweep, WallSweep, Way, grouped,
    signed, tape,
};
use model::units::Hours;
use model::{Dollars, Job};

use super::sheet;
use crate::page::{Page, columns};

/// Rows and cliffs shown for one wall; JSON has all.
const MOST: usize = 14;

/// Writes the whole answer.
pub(crate) fn write(page: &mut Page, job: &Job, moved: &Moved) {
    let sweep = &moved.sweep;
    page.heading(&format!("Where to put panel {}", sweep.board));
    page.paragraph(
        "",
        "Prices are those of what depends on the place: lengthening, splices, boxes, feeders, the old cabinet, and protection that the place brings up. \
         The range holds while facts are unknown. Figures of the built-in price book are invented for the demo unless it names a source.",
    );
    page.gap();
    short(page, job, sweep);
    for wall in &sweep.walls {
        along(page, wall, sweep);
    }
    asked(page, sweep);
    sheet::write(page, &moved.worksheet);
    page.subheading("What was taken, and what is left out");
    for text in &sweep.said {
        page.paragraph("- ", text);
    }
}

/// Cliffs in the brief answer.
const FEW: usize = 3;

/// The places that matter and the highest cliffs.
pub(crate) fn brief(page: &mut Page, job: &Job, moved: &Moved) {
    let sweep = &moved.sweep;
    page.heading(&format!("Where to put panel {}", sweep.board));
    short(page, job, sweep);
    let chosen = sweep.best.and_then(|(wall, _)| sweep.walls.get(wall));
    for cliff in chosen.map(cliffs).unwrap_or_default().iter().take(FEW) {
        page.paragraph("- ", &cliff.words);
    }
    page.line("All of it: lugwright move");
}

/// The place that the plan has, where it was looked at.
pub(crate) fn planned<'s>(job: &Job, sweep: &'s Sweep) -> Option<&'s Candidate> {
    let board = job.after.boards.get(sweep.board.as_str())?;
    let position = board.position.as_ref()?;
    let way = board.old_cabinet.get().map(Way::from);
    let here = |c: &&Candidate| {
        (c.at.wall == position.wall && c.at.x == position.x)
            && (c.way == Way::InPlace || way.is_none_or(|w| w == c.way))
    };
    sweep.walls.iter().flat_map(|w| &w.places).find(here)
}

fn short(page: &mut Page, job: &Job, sweep: &Sweep) {
    let best = sweep.best();
    match best {
        Some(best) => row(page, "Cheapest", best, None),
        None => page.paragraph(
            "Cheapest  ",
            "no place on these walls is possible: try other walls, another height, or a smaller cabinet",
        ),
    }
    if sweep.best_sure != sweep.best {
        match sweep.best_sure() {
            Some(sure) => row(page, "Surest", sure, best),
            None => page.paragraph(
                "Surest    ",
                "every place has an open question about the place itself",
            ),
        }
    }
    if let Some(planned) = planned(job, sweep) {
        row(page, "Planned", planned, best);
    }
    row(page, "As it is", &sweep.in_place, best);
    let (grid, all) = sweep.looked_at;
    page.paragraph(
        "Proven    ",
        &format!(
            "cheapest of {all} places looked at: {grid} on a grid of {}, the others where a verdict, a cost or a course can change and 1/64 in \
             beside; between neighbours no verdict changes and lengths run evenly",
            tape(sweep.step)
        ),
    );
}

/// One place in a paragraph.
fn row(page: &mut Page, lead: &str, place: &Candidate, best: Option<&Candidate>) {
    let wall = if place.at.wall.is_empty() {
        "the old place".to_owned()
    } else {
        format!("{}, {} along the wall", place.at.wall, tape(place.at.x))
    };
    let mut text = format!(
        "{wall}, {}: {}; {}",
        way(place.way),
        range(place.cost.price),
        hours(place.cost.hours)
    );
    if let Some(best) = best.filter(|b| b.at != place.at || b.way != place.way) {
        let more = Span {
            low: place.cost.price.low - best.cost.price.low,
            high: place.cost.price.high - best.cost.price.high,
        };
        text.push_str(&format!(" ({} against the cheapest)", signed(more)));
    }
    if !place.cost.unpriced.is_empty() {
        text.push_str(&format!(
            "; INCOMPLETE, no price for {}",
            place.cost.unpriced.join(", ")
        ));
    }
    text.push_str(&format!("; {}", legality(&place.legality)));
    page.paragraph(&format!("{lead:<10}"), &text);
}

/// A stretch of places that are alike.
struct Alike<'s> {
    first: &'s Candidate,
    last: &'s Candidate,
}

fn along(page: &mut Page, wall: &WallSweep, sweep: &Sweep) {
    page.subheading(&format!("Along {}, {}", wall.wall, way(wall.way)));
    if wall.places.is_empty() {
        page.line("The wall is narrower than the cabinet.");
        return;
    }
    let stretches = stretches(wall);
    let rows: Vec<Vec<String>> = stretches.iter().take(MOST).map(cells).collect();
    let limit = wall.places.iter().find_map(|p| p.beyond.first());
    let beyond = limit.map_or("beyond".to_owned(), |b| format!("beyond {}", tape(b.limit)));
    let header = [
        "left edge at",
        "price",
        "hours",
        "longer",
        &beyond,
        "allowed?",
    ];
    columns(page, "", &header, &rows);
    more(page, stretches.len(), "stretches");
    let cliffs = cliffs(wall);
    if !cliffs.is_empty() {
        page.gap();
        page.line("Cliffs, those of a requirement first, then the highest:");
    }
    for cliff in cliffs.iter().take(MOST) {
        page.paragraph("- ", &cliff.words);
    }
    more(page, cliffs.len(), "cliffs");
    if let Some(best) = wall.best.and_then(|b| wall.places.get(b)) {
        let sit = match best.way {
            Way::SpliceBox => "in the old cabinet".to_owned(),
            _ => format!("in {} new boxes", count(best.boxes)),
        };
        page.line(&format!(
            "Splices at the cheapest place here: {} sets, {sit}.",
            count(best.splices)
        ));
        feeders(page, best);
        if let Some(fits) = sweep.judged(best).and_then(|j| j.splice_fill) {
            let word = if fits { "within" } else { "NOT within" };
            page.line(&format!(
                "Old cabinet as splice box: fill {word} its limits."
            ));
        }
    }
}

/// Cliffs with a price, those that a requirement is behind first, then the highest; what only ends what is allowed stands in the rows.
fn cliffs(wall: &WallSweep) -> Vec<&Cliff> {
    let mut cliffs: Vec<&Cliff> = wall.cliffs.iter().collect();
    cliffs.retain(|c| c.steps.iter().any(|s| !matches!(s, Step::Refused { .. })));
    let required = |c: &Cliff| {
        let sure = |s: &Step| matches!(s, Step::Asked { places, .. } if places.low > 0);
        c.steps.iter().any(sure)
    };
    cliffs.sort_by_key(|c| std::cmp::Reverse((required(c), c.adds.high)));
    cliffs
}

fn feeders(page: &mut Page, place: &Candidate) {
    for run in &place.feeders {
        let what = match run.work {
            FeederWork::Reaches => continue,
            FeederWork::SplicedInOldCabinet => "spliced in the old cabinet and run on",
            FeederWork::TooShort => "too short, a longer one in its place",
            FeederWork::NewAnyway => "new by plan",
        };
        let length = match (run.before, run.after) {
            (Some(before), Some(after)) => format!("{before} before, {after} after"),
            _ => "length unknown".to_owned(),
        };
        let most = if run.at_most { ", at most" } else { "" };
        page.paragraph(
            "",
            &format!(
                "Feeder {} at the cheapest place here: {what}; {length}{most}.",
                run.feeder
            ),
        );
    }
}

fn more(page: &mut Page, count: usize, what: &str) {
    if count > MOST {
        page.line(&format!(
            "... and {} more {what}: see --format json",
            count - MOST
        ));
    }
}

/// Neighbours with the same verdict on the place, the same circuits beyond limits, and the same things asked.
fn stretches(wall: &WallSweep) -> Vec<Alike<'_>> {
    let mut found: Vec<Alike<'_>> = Vec::new();
    let alike = |a: &Candidate, b: &Candidate| {
        let asked = |c: &Candidate| {
            c.beyond
                .iter()
                .map(|b| b.circuits.high > 0)
                .collect::<Vec<_>>()
        };
        (first_reason(&a.legality) == first_reason(&b.legality))
            && asked(a) == asked(b)
            && a.way == b.way
    };
    for place in &wall.places {
        match found.last_mut() {
            Some(last) if alike(last.last, place) => last.last = place,
            _ => found.push(Alike {
                first: place,
                last: place,
            }),
        }
    }
    found
}

fn cells(stretch: &Alike<'_>) -> Vec<String> {
    let (a, b) = (stretch.first, stretch.last);
    let ends = |one: String, other: String| {
        if one == other {
            one
        } else {
            format!("{one} ... {other}")
        }
    };
    let dollars = |s: Span<Dollars>| {
        let whole =
            |d: Dollars| Dollars::from_cents((d.cents() as f64 / 100.0).round() as i64 * 100);
        if s.low == s.high {
            whole(s.high).to_string()
        } else {
            format!("{} to {}", whole(s.low), whole(s.high))
        }
    };
    let circuits = |c: &Candidate| count(c.extended);
    let beyond = |c: &Candidate| {
        c.beyond
            .first()
            .map_or("0".to_owned(), |b| count(b.circuits))
    };
    vec![
        ends(tape(a.at.x), tape(b.at.x)),
        ends(dollars(a.cost.price), dollars(b.cost.price)),
        ends(plain_hours(a.cost.hours), plain_hours(b.cost.hours)),
        ends(circuits(a), circuits(b)),
        ends(beyond(a), beyond(b)),
        first_reason(&a.legality),
    ]
}

fn count(span: Span<u32>) -> String {
    if span.low == span.high {
        span.high.to_string()
    } else {
        format!("{} to {}", span.low, span.high)
    }
}

fn plain_hours(span: Span<Hours>) -> String {
    if span.low == span.high {
        format!("{:.1}", span.high.0)
    } else {
        format!("{:.1} to {:.1}", span.low.0, span.high.0)
    }
}

fn hours(span: Span<Hours>) -> String {
    format!("{} h of one person", plain_hours(span))
}

fn range(span: Span<Dollars>) -> String {
    if span.low == span.high {
        span.high.to_string()
    } else {
        format!("{} to {}", span.low, span.high)
    }
}

const fn way(way: Way) -> &'static str {
    match way {
        Way::SpliceBox => "old cabinet as splice box",
        Way::Removed => "old cabinet removed",
        Way::InPlace => "new panel in the old place",
    }
}

fn legality(legality: &Legality) -> String {
    let with = |title: &str, section: &str| match section {
        "" => title.to_owned(),
        section => format!("{title} ({section})"),
    };
    match legality {
        Legality::Legal => "yes".to_owned(),
        Legality::Open(open) => {
            let open: Vec<String> = open.iter().map(|a| with(&a.title, &a.section)).collect();
            format!("if: {}", open.join("; "))
        }
        Legality::No(refusals) => {
            let why: Vec<String> = refusals.iter().map(|r| with(&r.why, &r.section)).collect();
            format!("NO: {}", why.join("; "))
        }
    }
}

/// The first reason alone.
fn first_reason(of: &Legality) -> String {
    match of {
        Legality::No(refusals) if refusals.len() > 1 => {
            legality(&Legality::No(refusals.iter().take(1).cloned().collect()))
        }
        other => legality(other),
    }
}

/// What the cheapest place brings up, requirement by requirement.
fn asked(page: &mut Page, sweep: &Sweep) {
    let Some(judged) = sweep.best().and_then(|b| sweep.judged(b)) else {
        return;
    };
    let groups = grouped(judged);
    if groups.is_empty() && judged.feeders.is_empty() {
        return;
    }
    page.subheading("What the cheapest place brings up, and the old place would not");
    for group in groups {
        let state = match (group.places.low, group.places.high) {
            (low, high) if low == high => "required",
            (0, _) => "cannot be told yet",
            _ => "required, at some cannot be told yet",
        };
        page.paragraph(
            "- ",
            &format!(
                "{} [{}] ({}): {state}; at {}",
                group.title,
                group.requirement,
                group.section,
                group.names()
            ),
        );
    }
    for feeder in &judged.feeders {
        page.paragraph("- ", feeder);
    }
}
