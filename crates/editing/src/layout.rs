//! Is an arrangement of breakers legal, and how do the legs stand? And the edits that put one into the job.
//! Source: the face's own problem and scoring (`engine::face`), so that solver and drag agree. Whole VA; spaces as the board numbers them.

use std::collections::BTreeMap;

use engine::face::problem::{Form, Item, Problem, Score, Seat};
use engine::face::score::score;
use engine::face::{Face, Legs, Prepared, legs};
use model::Job;
use model::house::{Board, Leg};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::{Value, json};

use crate::edit::Edit;

/// Spaces by circuit, feeder, device or source; a tandem half with `A` or `B`. An empty list takes it off.
pub type Spaces = BTreeMap<String, Vec<String>>;

/// What there is to say about an arrangement.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Arrangement {
    /// Nothing is wrong with it.
    pub legal: bool,
    /// What is wrong, by circuit.
    pub refused: Vec<RefusedSeat>,
    /// What has no space yet.
    pub unplaced: Vec<String>,
    /// Loads of both legs, of what has a legal space.
    pub legs: Legs,
    /// Difference between the legs' loads, VA.
    pub imbalance: i64,
    /// How good it is by the face's own measure; `null` while something is wrong or has no space.
    pub score: Option<Score>,
    /// The edits that put it into the picture after the work; none while something is wrong.
    pub edits: Vec<Edit>,
}

/// What is wrong with the spaces of a circuit.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
pub struct RefusedSeat {
    /// Circuit, feeder, source or device.
    pub circuit: String,
    /// Why, in a sentence.
    pub why: String,
}

/// Looks at the arrangement that the job states for a board, with these spaces in place of the stated ones.
#[must_use]
pub fn layout(job: &Job, prepared: &Prepared, asked: &Spaces) -> Arrangement {
    let problem = &prepared.problem;
    let stated = stated(job, &problem.board);
    let mut desk = Desk {
        problem,
        taken: vec![Vec::new(); problem.spaces.len()],
        refused: Vec::new(),
    };
    for name in asked.keys() {
        if !problem
            .items
            .iter()
            .any(|i| names_of(i).contains(&name.as_str()))
        {
            let why = format!("`{name}` is not on board `{}`", problem.board);
            desk.refuse(name, why);
        }
    }
    let mut placed = Vec::new();
    let mut unplaced = Vec::new();
    for item in &problem.items {
        let spaces: Vec<&[String]> = names_of(item)
            .into_iter()
            .map(|name| {
                let spaces = asked.get(name).or_else(|| stated.get(name));
                spaces.map_or(&[][..], Vec::as_slice)
            })
            .collect();
        if spaces.iter().all(|s| s.is_empty()) {
            unplaced.extend(names_of(item).into_iter().map(str::to_owned));
            continue;
        }
        if let Some(seat) = desk.seat(item, &spaces) {
            placed.push((item.clone(), seat));
        }
    }
    desk.conflicts(asked);
    let Desk { mut refused, .. } = desk;
    refused.sort();
    refused.dedup();
    let (items, seats): (Vec<Item>, Vec<Seat>) = placed.into_iter().unzip();
    let part = Problem {
        items,
        ..problem.clone()
    };
    let on: Legs = legs(&part, &seats);
    let legal = refused.is_empty();
    let edits = asked
        .iter()
        .filter(|_| legal)
        .filter_map(|(name, spaces)| put(job, &problem.board, name, spaces))
        .collect();
    Arrangement {
        legal,
        score: (legal && unplaced.is_empty()).then(|| score(&part, &seats)),
        refused,
        unplaced,
        legs: on,
        imbalance: (on.load[0] - on.load[1]).abs(),
        edits,
    }
}

/// The edits that put the layout of a face into the picture after the work; none when there is no layout.
#[must_use]
pub fn edits_of(job: &Job, face: &Face) -> Vec<Edit> {
    let problem = &face.prepared.problem;
    let Ok(solved) = &face.layout else {
        return Vec::new();
    };
    let spaces = spaces_of(problem, &solved.seats);
    let stated = stated(job, &problem.board);
    let changed = spaces
        .iter()
        .filter(|(name, s)| stated.get(*name) != Some(s));
    changed
        .filter_map(|(name, s)| put(job, &problem.board, name, s))
        .collect()
}

/// The spaces that seats give, by circuit, feeder, device or source.
#[must_use]
pub fn spaces_of(problem: &Problem, seats: &[Seat]) -> Spaces {
    let mut spaces = Spaces::new();
    let mut halves = vec!['A'; problem.spaces.len()];
    for (item, seat) in problem.items.iter().zip(seats) {
        let mut mine: Vec<String> = Vec::new();
        let mut at = Some(seat.space);
        for _ in 0..item.width {
            if let Some(space) = at.and_then(|at| problem.spaces.get(at)) {
                mine.push(space.number.to_string());
            }
            at = at.and_then(|at| problem.below(at));
        }
        if let Some(half) = halves.get_mut(seat.space).filter(|_| seat.half) {
            mine.iter_mut().for_each(|space| space.push(*half));
            *half = 'B';
        }
        if seat.turned {
            mine.reverse();
        }
        match names_of(item).as_slice() {
            [one, other] => {
                let mut each = mine.into_iter();
                spaces.insert((*one).to_owned(), each.by_ref().take(1).collect());
                spaces.insert((*other).to_owned(), each.collect());
            }
            _ => {
                spaces.insert(item.id.clone(), mine);
            }
        }
    }
    spaces
}

/// Circuits of an item: two for a pair that shares its neutral.
fn names_of(item: &Item) -> Vec<&str> {
    match (item.form, item.poles.as_slice()) {
        (Form::Tied, [one, other]) => vec![&one.circuit, &other.circuit],
        _ => vec![&item.id],
    }
}

/// Spaces that the picture after the work states.
fn stated(job: &Job, board: &str) -> Spaces {
    let house = &job.after;
    let mut all = Spaces::new();
    let numbers = |spaces: &[u32]| spaces.iter().map(u32::to_string).collect();
    let devices = house.boards.get(board).map(|b: &Board| &b.devices);
    for (id, device) in devices.into_iter().flatten() {
        if let Some(spaces) = device.spaces.known() {
            all.insert(id.to_string(), numbers(spaces));
        }
    }
    for (id, source) in house.sources.iter().filter(|(_, s)| s.board == board) {
        if let Some(spaces) = source.spaces.known() {
            all.insert(id.to_string(), numbers(spaces));
        }
    }
    for (id, feeder) in house.feeders.iter().filter(|(_, f)| f.from == board) {
        if let Some(spaces) = feeder.spaces.known() {
            all.insert(id.to_string(), numbers(spaces));
        }
    }
    for (id, circuit) in house.circuits.iter().filter(|(_, c)| c.board == board) {
        if let Some(spaces) = circuit.spaces.known() {
            all.insert(id.to_string(), spaces.clone());
        }
    }
    all
}

/// The edit that states the spaces of one thing.
fn put(job: &Job, board: &str, name: &str, spaces: &[String]) -> Option<Edit> {
    let house = &job.after;
    let planned = |is: Value| match spaces.is_empty() {
        true => json!("unknown"),
        false => json!({ "is": is, "by": "planned" }),
    };
    let numbers = || {
        let each = spaces.iter().filter_map(|s| s.parse::<u32>().ok());
        planned(json!(each.collect::<Vec<_>>()))
    };
    if house.circuits.get(name).is_some_and(|c| c.board == board) {
        let at = ["after", "circuits", name, "spaces"];
        return Some(Edit::set(at, planned(json!(spaces))));
    }
    if house.feeders.get(name).is_some_and(|f| f.from == board) {
        return Some(Edit::set(["after", "feeders", name, "spaces"], numbers()));
    }
    if house.sources.get(name).is_some_and(|s| s.board == board) {
        return Some(Edit::set(["after", "sources", name, "spaces"], numbers()));
    }
    let devices = house.boards.get(board).map(|b| &b.devices);
    devices?.get(name)?;
    let at = ["after", "boards", board, "devices", name, "spaces"];
    Some(Edit::set(at, numbers()))
}

/// The board while things are put into it.
struct Desk<'p> {
    problem: &'p Problem,
    /// Who sits in each space: the item, and the half it takes.
    taken: Vec<Vec<(&'p Item, Option<char>)>>,
    refused: Vec<RefusedSeat>,
}

impl<'p> Desk<'p> {
    fn refuse(&mut self, circuit: &str, why: String) {
        self.refused.push(RefusedSeat {
            circuit: circuit.to_owned(),
            why,
        });
    }

    /// The seat of an item in its spaces; tells what is wrong and gives none.
    fn seat(&mut self, item: &'p Item, spaces: &[&[String]]) -> Option<Seat> {
        let names = names_of(item);
        let mut found = Vec::new();
        for (name, spaces) in names.iter().zip(spaces) {
            for space in *spaces {
                match self.space(space) {
                    Some((index, half)) => found.push((index, half)),
                    None => {
                        let last = self.problem.spaces.iter().map(|s| s.number).max();
                        let why = format!(
                            "space {space} is not on board `{}`: it has spaces 1 to {}",
                            self.problem.board,
                            last.unwrap_or(0)
                        );
                        self.refuse(name, why);
                        return None;
                    }
                }
            }
        }
        for (index, half) in &found {
            self.taken[*index].push((item, *half));
        }
        let seat = self.fits(item, &found);
        match seat {
            Ok(seat) => Some(seat),
            Err(why) => {
                for name in names {
                    self.refuse(name, why.clone());
                }
                None
            }
        }
    }

    /// `14` or a half, `14A`.
    fn space(&self, text: &str) -> Option<(usize, Option<char>)> {
        let half = text.chars().last().filter(|c| matches!(c, 'A' | 'B'));
        let digits = text.strip_suffix(['A', 'B']).unwrap_or(text);
        let index = self.problem.index(digits.parse().ok()?)?;
        Some((index, half))
    }

    fn fits(&self, item: &Item, found: &[(usize, Option<char>)]) -> Result<Seat, String> {
        let problem = self.problem;
        let width = usize::from(item.width);
        let is_pair = item.form == Form::Tied;
        if found.len() != width {
            return Err(match is_pair {
                true => "two circuits that share a neutral need two spaces, one above the other, with a handle tie or common trip".to_owned(),
                false => format!("it takes {width} spaces, and has {}", found.len()),
            });
        }
        let half = found.iter().any(|(_, half)| half.is_some());
        if half && item.form != Form::Half {
            return Err(match item.form {
                Form::Single => "it has or needs arc-fault or ground-fault protection, which takes a breaker of full width",
                Form::Tied => "circuits that share a neutral need a common trip or handle tie, which two halves of a tandem do not have",
                _ => "it takes more than one pole, and half a tandem breaker has one",
            }
            .to_owned());
        }
        let mut indices: Vec<usize> = found.iter().map(|(index, _)| *index).collect();
        let turned = is_pair && indices.first() > indices.last();
        indices.sort_unstable();
        let one_above_other = indices
            .windows(2)
            .all(|w| problem.below(w[0]) == Some(w[1]));
        let leg = |index: usize| problem.spaces[index].leg;
        let letter = |leg: Leg| if leg == Leg::A { "A" } else { "B" };
        if let (Form::Double | Form::Tied, [one, other]) = (item.form, indices.as_slice())
            && leg(*one) == leg(*other)
        {
            let on = letter(leg(*one));
            return Err(match is_pair {
                true => format!(
                    "both circuits are on leg {on}: the neutral they share would carry the sum of both"
                ),
                false => format!("both poles are on leg {on}"),
            });
        }
        if !one_above_other {
            return Err(match is_pair {
                true => "its two circuits share a neutral and stand apart: a handle tie or common trip needs them one above the other".to_owned(),
                false => "its poles stand apart: they take spaces one above the other".to_owned(),
            });
        }
        let Some(top) = indices.first().and_then(|i| problem.spaces.get(*i)) else {
            return Err("it has no space".to_owned());
        };
        if half && !top.tandem {
            return Err(format!(
                "the label allows no tandem breaker in space {}, or nobody knows that it does",
                top.number
            ));
        }
        if let Some(allowed) = &item.allowed
            && !allowed.contains(&top.number)
        {
            let tops: Vec<String> = allowed.iter().map(u32::to_string).collect();
            return Err(format!(
                "it has to stay: its top may be in space {}",
                tops.join(", ")
            ));
        }
        Ok(Seat {
            space: indices[0],
            half,
            turned,
        })
    }

    /// Spaces that two want. Who was moved is to blame; when nobody or both were, both are.
    fn conflicts(&mut self, asked: &Spaces) {
        let mut found = Vec::new();
        for (space, here) in self.problem.spaces.iter().zip(&self.taken) {
            for (n, (one, half)) in here.iter().enumerate() {
                for (other, other_half) in &here[n + 1..] {
                    let both_fit = half.is_some() && other_half.is_some() && half != other_half;
                    if both_fit || std::ptr::eq(*one, *other) {
                        continue;
                    }
                    let moved = |item: &Item| names_of(item).iter().any(|n| asked.contains_key(*n));
                    let (a, b) = (moved(one), moved(other));
                    let say = |who: &Item, by: &Item| {
                        let why = format!("space {} is taken by `{}`", space.number, by.id);
                        names_of(who)
                            .into_iter()
                            .map(move |n| (n.to_owned(), why.clone()))
                            .collect::<Vec<_>>()
                    };
                    if a || !b {
                        found.extend(say(one, other));
                    }
                    if b || !a {
                        found.extend(say(other, one));
                    }
                }
            }
        }
        for (name, why) in found {
            self.refuse(&name, why);
        }
    }
}
