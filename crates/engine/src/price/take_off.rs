//! Everything that must be bought and done, counted: certain lines, and lines that hang on what nobody knows yet.
//! Source: the difference of the two pictures, the findings, the remedies and options of the price book. Pieces, feet, labour units.

use std::collections::BTreeMap;

use model::scope::{Change, Scope, most_added};
use model::{Job, Offer};
use rulebook::requirement::{BoundRequirement, Verdict};
use shop::remedies::CountedBy;
use shop::{Book, Does};

use super::breakers::{self, Units};
use super::cost::Pricer;
use super::feeders::{self, Run, runs};
use super::line::{Because, Gap, Line, Lines, Name, What};
use super::open::{Solver, Tree, Unknown};
use super::wants::{Ask, Want, Wish};
use super::{circuits, options, wants, work};
use crate::check::Report;
use crate::facts::{Place, Row};
use crate::findings::Finding;

/// What a job takes.
#[derive(Clone, Debug)]
pub struct TakeOff<'a> {
    /// Lines that are certain, in order of the offer.
    pub lines: Vec<Line<'a>>,
    /// Certain lines of what is lengthened: cables and feeders. They alone follow from where a board goes.
    pub lengths: Vec<Line<'a>>,
    /// Lines that hang on unknown facts.
    pub open: Vec<Tree<'a>>,
    /// The unknown facts, as the trees number them.
    pub unknowns: Vec<Unknown<'a>>,
    /// What cannot be counted.
    pub gaps: Vec<Gap>,
    /// What is required and no part helps: the plan must change, and where.
    pub plan_first: Vec<PlanFirst<'a>>,
    /// Requirements that bite for certain and cost something, with the lines of each by itself.
    pub triggered: Vec<Triggered<'a>>,
    /// The span is exact over all combinations of answers; otherwise no less and no more than it says.
    pub exact: bool,
}

/// A requirement that asks for another plan.
#[derive(Clone, Debug)]
pub struct PlanFirst<'a> {
    /// The requirement.
    pub requirement: &'a BoundRequirement,
    /// Where.
    pub places: Vec<Place<'a>>,
    /// What usually helps.
    pub what: &'a str,
}

/// A requirement that bites for certain.
#[derive(Clone, Debug)]
pub struct Triggered<'a> {
    /// The requirement.
    pub requirement: &'a BoundRequirement,
    /// Where.
    pub places: Vec<Place<'a>>,
    /// What it alone adds to the work; what the work brings anyway stands as its own line of the book.
    pub lines: Vec<Line<'a>>,
    /// Lines that the addition takes the place of: the plain breaker of an arc-fault one.
    pub instead_of: Vec<Line<'a>>,
}

/// What lines are made from.
pub(crate) struct Context<'a> {
    pub(crate) job: &'a Job,
    pub(crate) scope: &'a Scope,
    pub(crate) units: Units<'a>,
    pub(crate) runs: Vec<Run<'a>>,
}

impl<'a> Context<'a> {
    pub(crate) fn of(report: &'a Report<'a>) -> Self {
        Self {
            job: report.job,
            scope: &report.scope,
            units: Units::of(report.job, &report.scope),
            runs: runs(report.job, &report.scope, &report.sheets),
        }
    }

    /// The feeder that a place is about: its own, or the one that feeds a board.
    pub(crate) fn run_of(&self, place: Place<'_>) -> Option<usize> {
        let feeds = |board: &str| {
            let of_board = |run: &Run<'a>| {
                let feeder = self.job.after.feeders.get(run.id);
                feeder.is_some_and(|f| f.to == board)
            };
            self.runs.iter().position(of_board)
        };
        match place {
            Place::Feeder(id) => self.runs.iter().position(|run| run.id == id),
            Place::Board(id) => feeds(id.as_str()),
            Place::Job => {
                let services = self.job.after.feeders.iter();
                let mut services = services.filter(|(_, f)| f.from == model::house::UTILITY);
                let (id, _) = services.next()?;
                self.runs.iter().position(|run| run.id == id)
            }
            _ => None,
        }
    }
}

/// True when a board of the after picture is new, replaced, or has a new interior.
pub(crate) fn works_on(scope: &Scope, board: &str) -> bool {
    scope
        .board(board)
        .is_some_and(|b| b.change != Change::Kept && b.change != Change::Removed || b.relocated)
}

/// True when the board itself is bought: one that only moves keeps its panel and its breakers.
pub(crate) fn is_bought(scope: &Scope, board: &str) -> bool {
    scope
        .board(board)
        .is_some_and(|b| matches!(b.change, Change::New | Change::Replaced))
}

type Counted<'a> = BTreeMap<(Name<'a>, What<'a>, Place<'a>), shop::Count>;

/// Counts a job.
#[must_use]
pub fn take_off<'a>(report: &'a Report<'a>, book: &'a Book, offer: &'a Offer) -> TakeOff<'a> {
    let pricer = Pricer::new(book, offer);
    let context = Context::of(report);
    let mut base = Lines::new();
    work::lines(report.job, &report.scope, &pricer, &mut base);
    if !report.scope.is_empty() {
        circuits::lines(report.job, &report.scope, &pricer, &mut base);
    }
    let lengths = lengths(&context, &pricer);
    let mut counted = count(&base.all);
    let chosen = options::wishes(book, offer, &context);
    let mut with_options = Lines::new();
    wants::lines(
        &chosen.iter().collect::<Vec<_>>(),
        &pricer,
        &context,
        &counted,
        &mut with_options,
    );
    for (key, more) in count(&with_options.all) {
        *counted.entry(key).or_default() += more;
    }
    base.all.extend(with_options.all);
    let mut gaps = base.gaps;
    gaps.extend(lengths.gaps);

    let facts = report.book.facts();
    let mut solver = Solver::new(&report.facts, facts, &context, &pricer, &counted);
    if !report.scope.is_empty() {
        plain_wishes(&context, &mut solver);
    }
    let mut plan_first: Vec<PlanFirst<'a>> = Vec::new();
    let mut triggered: Vec<Triggered<'a>> = Vec::new();
    for finding in &report.findings.findings {
        if finding.is_note() || !(finding.verdict == Verdict::Required || finding.is_open()) {
            continue;
        }
        let requirement = finding.requirement;
        let mut wished = Vec::new();
        for (row, place) in targets(report, finding, book) {
            match wants::of(requirement, place, &pricer, &context) {
                Ask::Wishes(wishes) if finding.is_open() => {
                    solver.verdict(requirement, row, wishes);
                }
                Ask::Wishes(wishes) => {
                    wished.extend(wishes.iter().cloned());
                    solver.always(wishes);
                }
                Ask::Plan(what) if finding.is_missing() => {
                    match plan_first
                        .iter_mut()
                        .find(|p| std::ptr::eq(p.requirement, requirement))
                    {
                        Some(known) => known.places.push(place),
                        None => plan_first.push(PlanFirst {
                            requirement,
                            places: vec![place],
                            what,
                        }),
                    }
                }
                Ask::NotInBook(advice) if finding.is_missing() => {
                    let what = format!("`{}` at {}", finding.id(), place);
                    let gap = Gap { what, advice };
                    if !gaps.contains(&gap) {
                        gaps.push(gap);
                    }
                }
                Ask::Plan(_) | Ask::NotInBook(_) | Ask::Nothing => {}
            }
        }
        if finding.verdict == Verdict::Required {
            let places = finding.instances.iter().map(|i| i.place).collect();
            triggered.extend(alone(
                requirement,
                places,
                &wished,
                &pricer,
                &context,
                &count_only(&base.all),
            ));
        }
    }
    let tree = solver.solve();
    let (exact, unknowns) = (solver.exact, std::mem::take(&mut solver.unknowns));
    gaps.extend(std::mem::take(&mut solver.gaps.gaps));
    gaps.sort();
    gaps.dedup();
    let (mut lines, mut open) = (base.all, Vec::new());
    match tree {
        Tree::Lines(more) => lines.extend(more),
        Tree::All(trees) => {
            for tree in trees {
                match tree {
                    Tree::Lines(more) => lines.extend(more),
                    tree => open.push(tree),
                }
            }
        }
        tree => open.push(tree),
    }
    for tree in &mut open {
        lines.extend(tree.take_certain());
    }
    lines.sort_by_key(|line| line.group);
    TakeOff {
        lines,
        lengths: lengths.all,
        open,
        unknowns,
        gaps,
        plan_first,
        triggered,
        exact,
    }
}

/// Where the remedy of a finding is counted: with the row of facts that decides there. A requirement may be decided for a whole board or for
/// one circuit, depending on which facts are known; what it costs must not hang on that.
fn targets<'a>(
    report: &'a Report<'a>,
    finding: &Finding<'a>,
    book: &Book,
) -> Vec<(usize, Place<'a>)> {
    let remedy = book.remedies.get(finding.id());
    let per = remedy.map_or(CountedBy::Place, |r| r.per);
    let rows = report.facts.rows();
    let mut all: Vec<(usize, Place<'a>)> = Vec::new();
    for instance in &finding.instances {
        let (row, place) = (instance.row, instance.place);
        let finer = |sort: &dyn Fn(&Place<'a>) -> bool| -> Vec<(usize, Place<'a>)> {
            let board = rows.get(row).and_then(|r| r.board);
            let within = |r: &&Row<'a>| board.is_none() || r.board == board;
            let below = rows.iter().enumerate();
            below
                .filter(|(_, r)| sort(&r.place) && r.touched && within(r))
                .map(|(i, r)| (i, r.place))
                .collect()
        };
        let circuit = |p: &Place<'a>| matches!(p, Place::Circuit(_));
        let board = |p: &Place<'a>| matches!(p, Place::Board(_));
        let here = match (per, place) {
            (CountedBy::Circuit, Place::Outlet(_)) => {
                let own = rows.get(row).and_then(|r| r.circuit);
                vec![(row, own.unwrap_or(place))]
            }
            (CountedBy::Circuit, p) if !circuit(&p) => finer(&circuit),
            (CountedBy::Board, Place::Job) => finer(&board),
            (CountedBy::Board, _) => {
                let own = rows.get(row).and_then(|r| r.board);
                vec![(row, own.unwrap_or(place))]
            }
            (CountedBy::Job, _) => vec![(row, Place::Job)],
            _ => vec![(row, place)],
        };
        if here.is_empty() {
            all.push((row, place));
        }
        all.extend(here);
    }
    all
}

impl<'a> TakeOff<'a> {
    /// The same job with what is lengthened as another scope has it: for trying places of a board between which no verdict changes.
    #[must_use]
    pub fn with_lengths_of(
        &self,
        job: &'a Job,
        scope: &'a Scope,
        report: &'a Report<'a>,
        pricer: &Pricer<'a>,
    ) -> Self {
        let context = Context {
            job,
            scope,
            units: Units::of(job, scope),
            runs: runs(job, scope, &report.sheets),
        };
        Self {
            lengths: lengths(&context, pricer).all,
            ..self.clone()
        }
    }

    /// Every certain line.
    pub fn certain(&self) -> impl Iterator<Item = &Line<'a>> {
        self.lines.iter().chain(&self.lengths)
    }
}

fn lengths<'a>(context: &Context<'a>, pricer: &Pricer<'a>) -> Lines<'a> {
    let mut lines = Lines::new();
    circuits::extensions(context.job, context.scope, pricer, &mut lines);
    for run in &context.runs {
        run.extension(context.job, context.scope, pricer, &mut lines);
    }
    lines
}

fn count<'a>(lines: &[Line<'a>]) -> Counted<'a> {
    let mut counted = Counted::new();
    for line in lines {
        *counted.entry(line.key()).or_default() += line.count;
    }
    counted
}

fn count_only<'a>(lines: &[Line<'a>]) -> Counted<'a> {
    let without_options = lines
        .iter()
        .filter(|l| !matches!(l.because, Because::Chosen(..)));
    count(&without_options.cloned().collect::<Vec<_>>())
}

/// What the work asks of breakers and feeders by itself, and what nobody knows of them.
fn plain_wishes<'a>(context: &Context<'a>, solver: &mut Solver<'_, 'a>) {
    let plain = |want| Wish {
        want,
        because: None,
    };
    for (i, unit) in context.units.all.iter().enumerate() {
        if unit.bought.is_none() {
            continue;
        }
        solver.always(vec![plain(Want::Breaker(i, breakers::Asked::default()))]);
        if let (Some(perhaps), Some(first)) = (unit.perhaps, unit.circuits.first()) {
            let because = Some(Because::Work(wants::AS_BEFORE));
            let want = Want::Breaker(i, perhaps);
            solver.if_so(Unknown::ProtectionAt(first), Wish { want, because });
        }
    }
    for i in 0..context.runs.len() {
        solver.always(vec![plain(Want::Feeder(i, feeders::Asked::default()))]);
    }
    for (id, circuit) in &context.job.after.circuits {
        let spare = circuit.purpose == model::house::Purpose::Spare;
        if !spare && most_added(context.job, id.as_str()).is_some() {
            solver.added(id);
        }
        if !spare && circuits::must_be_traced(id, circuit, context.scope) {
            solver.if_so(Unknown::Traced(id), plain(Want::Trace(id)));
        }
    }
}

/// What a requirement adds by itself, and in place of what.
fn alone<'a>(
    requirement: &'a BoundRequirement,
    places: Vec<Place<'a>>,
    wished: &[Wish<'a>],
    pricer: &Pricer<'a>,
    context: &Context<'a>,
    counted: &Counted<'a>,
) -> Option<Triggered<'a>> {
    let remedy = pricer.book.remedies.get(&requirement.requirement().id)?;
    let (mut with, mut without) = (Lines::new(), Lines::new());
    match remedy.does {
        Does::None | Does::Plan => return None,
        // The work brings it; missed, it would have cost what the book's line says.
        Does::Covered => {
            let because = Some(Because::Requirement(requirement));
            let place = *places.first()?;
            let wish = Wish {
                want: Want::Bill(remedy, place),
                because,
            };
            wants::lines(&[&wish], pricer, context, &Counted::new(), &mut with);
        }
        _ => {
            let all: Vec<&Wish<'a>> = wished.iter().collect();
            wants::lines(&all, pricer, context, counted, &mut with);
            let plain: Vec<Wish<'a>> = wished.iter().filter_map(plainly).collect();
            let plain: Vec<&Wish<'a>> = plain.iter().collect();
            wants::lines(&plain, pricer, context, counted, &mut without);
        }
    }
    Some(Triggered {
        requirement,
        places,
        lines: with.all,
        instead_of: without.all,
    })
}

/// The same breaker or feeder without anything asked of it.
fn plainly<'a>(wish: &Wish<'a>) -> Option<Wish<'a>> {
    let want = match &wish.want {
        Want::Breaker(unit, _) => Want::Breaker(*unit, breakers::Asked::default()),
        Want::Feeder(run, _) => Want::Feeder(*run, feeders::Asked::default()),
        _ => return None,
    };
    Some(Wish {
        want,
        because: None,
    })
}
