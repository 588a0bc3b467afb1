//! Every place along every wall, and the cheapest possible one.
//! Source: the sibling modules. Inches along walls; prices are those of the price book that is handed in.

use std::borrow::Cow;

use model::house::{OldCabinet, Point};
use model::units::{Feet, Inches};
use model::{Fact, Job};
use rulebook::Rulebook;
use rulebook::tables::{Limit, limit};

use super::along::{Along, OldPlace, legality};
use super::judged::{InPlace, Judged, judge};
use super::limits::Limits;
use super::request::{CannotSweep, Plan, Request, plan};
use super::runs::{FeederRun, FeederWork, feeder_at, feeders};
use super::setting::{Ground, Needs};
use super::work::count;
use super::{Candidate, Legality, Moved, Pricing, Span, Sweep, WallSweep, Way, sheet, stage};
use crate::worksheet::Text;

/// Looks at every place. `price` tells what the counted work of a place costs.
///
/// # Errors
/// The job does not say which board, walls or sizes are meant.
pub fn sweep(
    job: &Job,
    book: &Rulebook,
    request: &Request,
    price: &dyn Pricing,
) -> Result<Moved, CannotSweep> {
    let plan = plan(job, request, &book.tables())?;
    let limits = Limits::of(book);
    let mut judged = Vec::new();
    let old_place = in_place(job, book, &plan, price, &mut judged);
    let mut walls = Vec::new();
    for way in &plan.ways {
        for wall in &plan.walls {
            let along = Along::new(job, book, &plan, (wall, *way), (&limits, &old_place));
            walls.extend(along.and_then(|mut a| a.sweep(price, &mut judged)));
        }
    }
    let places = || walls.iter().flat_map(|w: &WallSweep| &w.places);
    let looked_at = (places().filter(|p| p.on_grid).count(), places().count());
    let all = || {
        let of = |(i, w): (usize, &'_ WallSweep)| {
            (0..w.places.len())
                .map(move |place| (i, place))
                .collect::<Vec<_>>()
        };
        walls.iter().enumerate().flat_map(of)
    };
    let at = |(wall, place): (usize, usize)| walls.get(wall)?.places.get(place);
    let every = || all().filter_map(|i| Some((i, at(i)?)));
    let best = best_of(every(), &plan, job);
    let sure = every().filter(|(_, c)| c.legality == Legality::Legal);
    let best_sure = best_of(sure, &plan, job);
    let tables = book.tables();
    let table = |of: Limit<Inches>| tables.limit(of).map_or(Inches::ZERO, |l| l.value);
    let sweep = Sweep {
        board: plan.board.to_owned(),
        old: plan.old.position.clone(),
        cabinet: (plan.width, plan.height),
        highest_handle: plan.handle,
        working_space: (
            table(limit::WORKING_SPACE_WIDTH),
            table(limit::WORKING_SPACE_HEIGHT),
        ),
        step: plan.step,
        in_place: old_place.candidate,
        best,
        best_sure,
        walls,
        judged,
        said: said(job, &plan),
        looked_at,
    };
    let worksheet = sheet::worksheet(job, book, &sweep);
    Ok(Moved { sweep, worksheet })
}

/// The job with the board planned at a place of the sweep: what each place is judged by.
///
/// # Errors
/// The job does not say which board, walls or sizes are meant, or has no such wall.
pub fn placed(
    job: &Job,
    book: &Rulebook,
    board: &str,
    (wall, x): (&str, Inches),
    way: Way,
) -> Result<Job, CannotSweep> {
    let request = Request {
        board: Some(board.to_owned()),
        step: None,
    };
    let plan = plan(job, &request, &book.tables())?;
    let mut staged = match way {
        Way::InPlace => stage::in_place(job, &plan),
        _ => stage::on_wall(job, &plan, wall, way),
    };
    if way != Way::InPlace {
        let keeps = (way == Way::SpliceBox).then_some(OldCabinet::SpliceBox);
        let needs = Needs::of(&book.tables());
        let size = ((plan.width, plan.height), plan.bottom);
        let ground = Ground::of(&job.after, wall, (board, plan.old), keeps, needs, size);
        let setting = ground.ok_or(CannotSweep::NoWalls)?.at(x);
        stage::put(&mut staged.after, board, x, &setting, &plan);
    }
    for (id, feeder) in feeders(job, board) {
        let run = feeder_at(job, &staged, board, (id, feeder), way);
        if let Some(feeder) = staged.after.feeders.get_mut(id) {
            feeder.length = run.after.map_or(Fact::Unknown, Fact::derived);
        }
    }
    Ok(staged)
}

/// The new panel at the old place, and what is asked there.
fn in_place(
    job: &Job,
    book: &Rulebook,
    plan: &Plan<'_>,
    price: &dyn Pricing,
    judged: &mut Vec<Judged>,
) -> OldPlace {
    let staged = stage::in_place(job, plan);
    let mut here = judge(&staged, book, plan.board, &InPlace::default());
    here.asked.clear();
    let asks = InPlace {
        keys: here.keys.clone(),
        feeders: here.feeders.clone(),
    };
    let feeders: Vec<FeederRun> = feeders(job, plan.board)
        .into_iter()
        .map(|f| feeder_at(job, &staged, plan.board, f, Way::InPlace))
        .filter(|f| f.work != FeederWork::Reaches)
        .collect();
    let legality = legality(Vec::new(), &here);
    let cost = price.work(&count(Way::InPlace, &[], &feeders));
    judged.push(here);
    let candidate = Candidate {
        at: plan.old.position.clone().unwrap_or(Point {
            wall: String::new(),
            x: Inches::ZERO,
            y: plan.bottom,
        }),
        way: Way::InPlace,
        on_grid: false,
        legality,
        extended: Span::exactly(0),
        splices: Span::exactly(0),
        boxes: Span::exactly(0),
        added_outside: Span::exactly(Feet::ZERO),
        added_total: Some(Feet::ZERO),
        beyond: Vec::new(),
        asked: 0,
        judged: judged.len() - 1,
        feeders,
        cost,
    };
    OldPlace { candidate, asks }
}

/// The cheapest possible one by the upper end of its price, then by the lower; of equals the one nearest to the old place, then the
/// leftmost. A place whose price is incomplete comes after all others.
pub(super) fn best_of<'c, I: Copy>(
    places: impl Iterator<Item = (I, &'c Candidate)>,
    plan: &Plan<'_>,
    job: &Job,
) -> Option<I> {
    let far = |c: &Candidate| {
        let old = plan.old.position.as_ref();
        old.and_then(|o| job.after.path(o, &c.at))
            .map_or(f64::MAX, |i| i.0)
    };
    let order = |a: &Candidate, b: &Candidate| {
        let price = |c: &Candidate| {
            (
                !c.cost.unpriced.is_empty(),
                c.cost.price.high,
                c.cost.price.low,
            )
        };
        let by_price = price(a).cmp(&price(b));
        by_price
            .then(far(a).total_cmp(&far(b)))
            .then(a.at.x.0.total_cmp(&b.at.x.0))
    };
    places
        .filter(|(_, c)| c.legality.is_possible())
        .min_by(|(_, a), (_, b)| order(a, b))
        .map(|(i, _)| i)
}

fn said(job: &Job, plan: &Plan<'_>) -> Vec<Text> {
    let mut said = plan.said.clone();
    if plan.old.position.is_none() {
        said.push(Cow::Owned(format!(
            "Where board {0} stands now is unknown (`before.boards.{0}.position`): no length to another place can be told.",
            plan.board
        )));
    }
    let stated = plan.new.route_from_old.get();
    let drawn = plan.old.position.as_ref().zip(plan.new.position.as_ref());
    let drawn = drawn.and_then(|(old, new)| job.after.path(old, new));
    if let (Some(stated), Some(drawn)) = (stated, drawn)
        && stated != drawn
    {
        said.push(Cow::Owned(format!(
            "The plan's own route was given as {stated}; between the two positions on the walls it is {drawn}. Here the walls count."
        )));
    }
    said.push(Cow::Borrowed(
        "What requirements ask of a breaker is in the range as far as it cannot be told. Whether splices, boxes and cables will be done right cannot be told before the work either; what mending that would cost is not in it.",
    ));
    said.push(Cow::Borrowed(
        "Lengths run from corner to corner of the cabinets, along framing. Patching, painting and what else is the same at every place are not counted.",
    ));
    said
}
