//! The best layout of a board, level by level, and what is proven of it.
//! Source: [`super::balance`] fixes the sums, [`super::search`] finds the cheapest layout with those sums. Whole VA, whole inches.

use serde::Serialize;

use super::balance::Balance;
use super::columns::Columns;
use super::legs::Target;
use super::problem::{Form, LEVELS, MOST_SPACES, Problem, Score, Seat};
use super::score::{faults, score, sign};
use super::search::{Outcome, search, taken};

/// Steps of the search that are spent before what is not proven by then is left unproven: most boards are proven long before.
const EFFORT: usize = 40_000;
/// The same for a large board, each of whose steps takes longer.
const EFFORT_LARGE: usize = 6_000;
/// The same for the largest boards: more of them are proven with it.
const EFFORT_LARGEST: usize = 12_000;
/// Spaces from which a board is large.
pub(super) const LARGE: usize = 48;
/// Spaces from which it is one of the largest.
const LARGEST: usize = 60;

/// Steps that a board of this size is worth.
#[must_use]
pub fn usual_effort(problem: &Problem) -> usize {
    if problem.spaces.len() < LARGE {
        EFFORT
    } else if problem.spaces.len() < LARGEST {
        EFFORT_LARGE
    } else {
        EFFORT_LARGEST
    }
}

/// Largest sum of loads on single poles, VA: keeps sums in small tables.
const MOST_LOAD: i64 = 1_000_000;

/// Longest distance from an entry to a space, inches.
const MOST_REACH: i64 = 2_000;

/// What is proven of one level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "FaceProof")]
pub struct Proof {
    /// The level.
    pub level: &'static str,
    /// What the layout has.
    pub value: i64,
    /// No layout that is as good on the levels above has less.
    pub bound: i64,
    /// The layout is proven best on this level and all above it.
    pub proven: bool,
}

/// A layout with its proof.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Layout {
    /// Where each item sits, in the order of the items.
    pub seats: Vec<Seat>,
    /// How good it is.
    pub score: Score,
    /// What is proven, level by level.
    pub proofs: Vec<Proof>,
    /// Steps the search took.
    pub steps: usize,
}

impl Layout {
    /// True when it is proven best on every level.
    #[must_use]
    pub fn is_proven(&self) -> bool {
        self.proofs.iter().all(|p| p.proven)
    }
}

/// Why there is no layout.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error, Serialize)]
pub enum Unsolved {
    /// The board or its loads are beyond what is worked on.
    #[error("{0}")]
    TooLarge(String),
    /// No seat at all for one item.
    #[error("there is no space that `{0}` may be in")]
    NoSeat(String),
    /// Not enough spaces for the widths.
    #[error("{needed} spaces are needed and {there} are there")]
    TooFew {
        /// Full-size spaces needed, those to be left free included, after all tandems that the label allows.
        needed: u32,
        /// Full-size spaces there.
        there: u32,
    },
    /// It does not fit although there are enough spaces.
    #[error("there are enough spaces, but not where they are needed")]
    NoLayout,
    /// Neither a layout nor a proof that there is none was found.
    #[error("no layout was found within {0} steps, and none was ruled out")]
    GaveUp(usize),
}

/// The best layout, with the usual effort.
///
/// # Errors
///
/// When nothing fits, or the board is too large.
pub fn solve(problem: &Problem) -> Result<Layout, Unsolved> {
    solve_within(problem, usual_effort(problem))
}

/// The best layout, with this many steps of search at most.
///
/// # Errors
///
/// When nothing fits, or the board is too large.
pub fn solve_within(problem: &Problem, effort: usize) -> Result<Layout, Unsolved> {
    check_size(problem)?;
    let (width, spaces) = (problem.width(), problem.spaces.len() as u32);
    let over = (width + problem.spare).saturating_sub(spaces);
    let tandem_spaces = problem.spaces.iter().filter(|s| s.tandem).count() as u32;
    let may_halve = problem
        .items
        .iter()
        .filter(|i| i.form == Form::Half)
        .count() as u32;
    let most_saved = tandem_spaces.min(may_halve / 2);
    if over > most_saved {
        return Err(Unsolved::TooFew {
            needed: width + problem.spare - most_saved,
            there: spaces,
        });
    }
    let mut spent = 0;
    let mut is_open = false;
    // The fewest tandem halves first; more only where fewer are ruled out.
    let most_halves = if over == 0 {
        0
    } else {
        (2 * tandem_spaces).min(may_halve)
    };
    for halves in (2 * over)..=most_halves.max(2 * over) {
        let found = with_halves(problem, i64::from(halves), effort, &mut spent, is_open)?;
        match found {
            Found::Layout(layout) => return Ok(layout),
            Found::None => {}
            Found::Open => is_open = true,
        }
    }
    if is_open {
        Err(Unsolved::GaveUp(spent))
    } else {
        Err(Unsolved::NoLayout)
    }
}

enum Found {
    Layout(Layout),
    None,
    Open,
}

fn check_size(problem: &Problem) -> Result<(), Unsolved> {
    let too_large = |what: String| Err(Unsolved::TooLarge(what));
    if problem.spaces.len() > MOST_SPACES {
        return too_large(format!(
            "the board has {} spaces; at most {MOST_SPACES} are worked on",
            problem.spaces.len()
        ));
    }
    if problem.items.len() > 2 * MOST_SPACES {
        return too_large(format!("{} breakers are too many", problem.items.len()));
    }
    let poles = || problem.items.iter().flat_map(|i| &i.poles);
    let mut total = 0i64;
    for pole in poles() {
        if pole.load.0 < 0
            || pole.load.0 > MOST_LOAD
            || !(0..=pole.load.0).contains(&pole.continuous.0)
        {
            return too_large(format!(
                "`{}`: a load is 0 to {MOST_LOAD} VA, and its continuous part no more than it",
                pole.circuit
            ));
        }
        total += pole.load.0;
    }
    if total > MOST_LOAD {
        return too_large(format!(
            "the loads come to {total} VA; at most {MOST_LOAD} VA are worked on"
        ));
    }
    for cable in problem.items.iter().flat_map(|i| &i.cables) {
        let lengths = cable.distance.iter().chain(&cable.free);
        if lengths
            .into_iter()
            .any(|d| !(0..=MOST_REACH).contains(&d.0))
        {
            return too_large(format!("a conductor is 0 to {MOST_REACH} in long"));
        }
    }
    Ok(())
}

fn with_halves(
    problem: &Problem,
    halves: i64,
    effort: usize,
    spent: &mut usize,
    mut is_open: bool,
) -> Result<Found, Unsolved> {
    // Fewer tandem halves have been tried before, and not ruled out.
    let halves_open = is_open;
    let mut columns = Columns::of(problem, halves > 0);
    for item in 0..problem.items.len() {
        if columns.of_item(item).is_empty() {
            return Err(Unsolved::NoSeat(problem.items[item].id.clone()));
        }
    }
    let (count, counted) = single_spaces(problem, halves);
    if count.0 > count.1 {
        return Ok(Found::None);
    }
    let balance = Balance::of(&columns.effects, count, counted);
    // The least imbalance that is not ruled out, until one is met.
    let mut bounds: Option<(i64, i64)> = None;
    let loads = balance.loads();
    'targets: for imbalance in &loads {
        let imbalance = *imbalance;
        let continuous = balance.continuous(imbalance);
        let exact = continuous.is_some();
        if !exact {
            // Too many sums to be exact in both loads: the first one stays exact, the second is left as it comes.
            columns.forget_continuous();
        }
        for second in continuous.unwrap_or_else(|| vec![0]) {
            let target = target(imbalance, second, count, counted);
            let outcome = search(
                problem,
                &columns,
                halves,
                &target,
                effort.max(*spent + 1) - *spent,
            );
            *spent += outcome.steps;
            // What is found is looked at once more, space by space, before it is believed.
            let best = outcome.best.as_ref();
            match best.filter(|(_, seats)| faults(problem, seats).is_empty()) {
                Some((_, seats)) => {
                    let first = bounds.unwrap_or((imbalance, second.max(0)));
                    let layout = judge(
                        problem,
                        &columns,
                        seats,
                        &outcome,
                        Upper {
                            halves_open,
                            balance: first,
                            exact: exact && bounds.is_none(),
                            steps: *spent,
                            least_halves: halves,
                        },
                    );
                    return Ok(Found::Layout(layout));
                }
                None if outcome.finished && outcome.best.is_none() => {}
                None => {
                    bounds.get_or_insert((imbalance, second.max(0)));
                    is_open = true;
                    if *spent >= effort {
                        break 'targets;
                    }
                }
            }
        }
    }
    if !is_open {
        return Ok(Found::None);
    }
    // Better a layout that is not proven than none: first with the least imbalance of all loads and any of continuous ones, then with more.
    columns.forget_continuous();
    for most in [1, 4, 40, 400, 4_000] {
        let mut sums: Vec<i64> = loads
            .iter()
            .take(most)
            .flat_map(|i| [i << 24, -i << 24])
            .collect();
        sums.sort_unstable();
        sums.dedup();
        let target = Target {
            sums,
            count,
            counted,
        };
        // As much again as was spent on the proof, and no more, however many tandem halves are tried.
        let left = (2 * effort).saturating_sub(*spent);
        if left == 0 {
            break;
        }
        let outcome = search(
            problem,
            &columns,
            halves,
            &target,
            left.min(effort / 2).max(1),
        );
        *spent += outcome.steps;
        let best = outcome.best.as_ref();
        if let Some((_, seats)) = best.filter(|(_, seats)| faults(problem, seats).is_empty()) {
            let upper = Upper {
                halves_open,
                balance: bounds.unwrap_or_default(),
                exact: false,
                steps: *spent,
                least_halves: halves,
            };
            return Ok(Found::Layout(judge(
                problem, &columns, seats, &outcome, upper,
            )));
        }
    }
    Ok(Found::Open)
}

/// What is known of the levels above the search.
struct Upper {
    halves_open: bool,
    balance: (i64, i64),
    exact: bool,
    least_halves: i64,
    steps: usize,
}

fn judge(
    problem: &Problem,
    columns: &Columns,
    seats: &[Seat],
    outcome: &Outcome,
    upper: Upper,
) -> Layout {
    let score = score(problem, seats);
    let w = columns.weights;
    let free = problem.spaces.len() as i64 - taken(problem, seats);
    // The bound in the terms of the levels, by dividing it up again.
    let bound = outcome.bound.unwrap_or(0) + free / 2 * w.pair;
    let mut rest = bound;
    let mut split = |weight: i64| {
        let part = rest.div_euclid(weight);
        rest -= part * weight;
        part
    };
    let lower = [
        split(w.shortfall),
        split(w.reach),
        split(w.moves),
        split(w.touching),
        2 * split(w.pair) + free % 2,
    ];
    let bounds = [
        if upper.halves_open {
            0
        } else {
            upper.least_halves
        },
        upper.balance.0,
        upper.balance.1,
    ];
    let mut proofs = Vec::new();
    let mut proven = true;
    for (i, value) in score.levels().into_iter().enumerate() {
        let bound = if i < 3 { bounds[i] } else { lower[i - 3] };
        let sure = match i {
            0 => !upper.halves_open,
            2 => upper.exact,
            // Lone tandem halves would change how many spaces are free.
            7 => {
                upper.least_halves
                    == 2 * ((problem.width() + problem.spare) as i64 - problem.spaces.len() as i64)
                        .max(0)
            }
            _ => true,
        };
        let above = proven;
        proven = proven && sure && bound >= value;
        proofs.push(Proof {
            level: LEVELS[i],
            value,
            // Below a level that is not proven nothing is known.
            bound: if above { bound.min(value) } else { 0 },
            proven,
        });
    }
    Layout {
        seats: seats.to_vec(),
        score,
        proofs,
        steps: upper.steps,
    }
}

fn target(imbalance: i64, continuous: i64, count: (i64, i64), counted: bool) -> Target {
    let mut sums = Vec::new();
    for a in [imbalance, -imbalance] {
        for b in [continuous, -continuous] {
            sums.push((a << 24) + b);
        }
    }
    sums.sort_unstable();
    sums.dedup();
    Target {
        sums,
        count,
        counted,
    }
}

/// Least and most single spaces on leg A, and whether that can matter.
fn single_spaces(problem: &Problem, halves: i64) -> ((i64, i64), bool) {
    let on = |leg: i64| problem.spaces.iter().filter(move |s| sign(s.leg) == leg);
    let two_poles = |f: Form| matches!(f, Form::Double | Form::Tied);
    let pairs = problem.items.iter().filter(|i| two_poles(i.form)).count() as i64;
    let singles = problem.items.iter().filter(|i| i.width == 1).count() as i64;
    let room = |leg: i64| {
        let tandem = on(leg).filter(|s| s.tandem).count() as i64;
        on(leg).count() as i64 - pairs + tandem.min(halves / 2)
    };
    let (a, b) = (room(1), room(-1));
    let count = ((singles - b).max(0), a.min(singles));
    (count, count.0 > 0 || count.1 < singles)
}
