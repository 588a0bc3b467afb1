//! Reads a job file: TOML in, [`Job`] out, or a list of mistakes with line, column, what was expected and what to do.
//! Format: docs/job-file.md and the JSON Schema of [`schema`]. The `after` picture starts as a copy of `before`.

mod check;
mod check_plan;
mod merge;
mod mistake;
mod reader;
mod schema;
mod walls;

use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub use merge::FACTS_OF_THE_PLACE;
pub use mistake::{Mistake, Mistakes};
pub use schema::schema;

use crate::candidates::Candidates;
use crate::house::House;
use crate::id::CircuitId;
use crate::job::{FORMAT, Job};
use crate::map::Map;
use crate::offer::Offer;
use crate::place::Place;
use crate::plan::Plan;

/// Largest job file read, in bytes.
pub const LARGEST_FILE: usize = 1_000_000;

/// A job together with the text it came from, so that later checks can still point into the file.
#[derive(Clone, Debug)]
pub struct JobFile {
    /// The job.
    pub job: Job,
    text: String,
    stated_after: StatedAfter,
}

/// What the text itself says of the after picture, as far as the merged pictures do not tell it.
#[derive(Clone, Debug, Default)]
struct StatedAfter {
    /// Paths below `after` that are spelled `"unknown"`.
    unknown: Vec<Vec<String>>,
    /// Boards that are said to move.
    moved: Vec<String>,
}

impl StatedAfter {
    fn of(patch: &DeTable<'_>) -> Self {
        let mut stated = Self::default();
        stated.seek_unknown(patch, &mut Vec::new());
        if let Some(DeValue::Table(boards)) = patch.get("boards").map(|b| b.get_ref()) {
            let moves = |board: &DeValue<'_>| match board {
                DeValue::Table(changes) => merge::moves(changes),
                _ => false,
            };
            let moved = boards.iter().filter(|(_, b)| moves(b.get_ref()));
            stated.moved = moved.map(|(id, _)| id.get_ref().to_string()).collect();
        }
        stated
    }

    fn seek_unknown(&mut self, table: &DeTable<'_>, above: &mut Vec<String>) {
        for (key, value) in table {
            above.push(key.get_ref().to_string());
            match value.get_ref() {
                DeValue::String(text) if text == "unknown" => self.unknown.push(above.clone()),
                DeValue::Table(inner) => self.seek_unknown(inner, above),
                _ => {}
            }
            above.pop();
        }
    }
}

impl JobFile {
    /// Reads a job file. Never panics; collects every mistake of a stage before giving up.
    ///
    /// # Errors
    /// Mistakes in TOML syntax, names, types, ranges, references or sizes.
    pub fn read(text: &str) -> Result<Self, Mistakes> {
        if text.len() > LARGEST_FILE {
            return Err(Mistake::new(
                0..0,
                format!("the file has {} bytes", text.len()),
                format!("at most {LARGEST_FILE} bytes in a job file"),
            )
            .alone(text));
        }
        let root = DeTable::parse(text).map_err(|e| Mistake::from_toml(&e).alone(text))?;
        let file = read_root(root).map_err(|m| m.alone(text))?;
        let mut mistakes = check::job(&file.job, &file.head, &file.after);
        mistakes.extend(check_plan::plan(&file.job, &file.plan));
        if mistakes.is_empty() {
            Ok(Self {
                job: file.job,
                text: text.to_owned(),
                stated_after: file.stated_after,
            })
        } else {
            Err(Mistakes::new(mistakes, text))
        }
    }

    /// The text the job was read from.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text says of the after picture itself that nobody knows this; the path is that below `after`.
    #[must_use]
    pub fn is_asked_of_after(&self, path: &[String]) -> bool {
        self.stated_after.unknown.iter().any(|p| p == path)
    }

    /// The text says that this board moves, so that what was seen at its old place is forgotten.
    #[must_use]
    pub fn is_said_to_move(&self, board: &str) -> bool {
        self.stated_after.moved.iter().any(|b| b == board)
    }

    /// The two pictures as the text spells them, so that what was written as unknown can be told from what was left out.
    #[must_use]
    pub fn spelled<T: DeserializeOwned + Default>(&self) -> Spelled<T> {
        let read = |table: &DeTable<'_>| reader::read(table).unwrap_or_default();
        let Ok(mut root) = DeTable::parse(&self.text) else {
            return Spelled::default();
        };
        let mut take = |name| take_table(root.get_mut(), name).ok();
        let (Some(before), Some(patch)) = (take("before"), take("after")) else {
            return Spelled::default();
        };
        let as_it_stands = read(before.get_ref());
        Spelled {
            before: as_it_stands,
            after: read(merge::merged(before, patch.get_ref()).get_ref()),
            stated_after: read(patch.get_ref()),
            beside: read(root.get_ref()),
        }
    }

    /// A mistake at the entry with this path, for example `["after", "boards", "P", "facts", "ws_lit"]`.
    /// Points at the longest part of the path that the file spells; `after` falls back on `before`.
    #[must_use]
    pub fn mistake_at(&self, path: &[&str], what: String, expected: String) -> Mistake {
        let span = DeTable::parse(&self.text)
            .ok()
            .and_then(|root| {
                merge::locate(root.get_ref(), path).or_else(|| match path.split_first() {
                    Some((&"after", rest)) => {
                        let before: Vec<&str> = std::iter::once("before")
                            .chain(rest.iter().copied())
                            .collect();
                        merge::locate(root.get_ref(), &before)
                    }
                    _ => None,
                })
            })
            .unwrap_or(0..0);
        Mistake::new(span, what, expected)
    }
}

/// The pictures of a job as they are spelled.
#[derive(Clone, Debug, Default)]
pub struct Spelled<T> {
    /// The house as it stands.
    pub before: T,
    /// The house as it will stand; what is gone is still in it.
    pub after: T,
    /// What the text says of the house as it will stand, and no more.
    pub stated_after: T,
    /// Everything beside the two pictures.
    pub beside: T,
}

struct ReadFile<'t> {
    job: Job,
    /// Everything beside the two pictures, with spans.
    head: Spanned<DeTable<'t>>,
    /// The after picture as merged, with spans, for checks that point into the text.
    after: Spanned<DeTable<'t>>,
    /// The plan, with spans.
    plan: Spanned<DeTable<'t>>,
    stated_after: StatedAfter,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    format: u32,
    title: String,
    #[serde(default)]
    reason: String,
    place: Place,
    #[serde(default)]
    candidates: Candidates,
    #[serde(default)]
    offer: Offer,
}

/// Takes the two pictures out, merges them, and reads each part by itself.
fn read_root(mut root: Spanned<DeTable<'_>>) -> Result<ReadFile<'_>, Mistake> {
    let before = take_table(root.get_mut(), "before")?;
    let patch = take_table(root.get_mut(), "after")?;
    let plan = take_table(root.get_mut(), "plan")?;
    let head: Head = read_table(&root)?;
    if head.format != FORMAT {
        return Err(Mistake::new(
            0..0,
            format!("`format = {}`", head.format),
            format!("`format = {FORMAT}`, the only format this version reads"),
        ));
    }
    let as_it_stands = read_table::<House>(&before)?;
    let after = merge::merged(before, patch.get_ref());
    let mut job = Job {
        format: head.format,
        title: head.title,
        reason: head.reason,
        place: head.place,
        plan: read_table::<Plan>(&plan)?,
        candidates: head.candidates,
        offer: head.offer,
        before: as_it_stands,
        after: read_table::<House>(&after)?,
    };
    remove_gone(&mut job.after);
    Ok(ReadFile {
        job,
        head: root,
        after,
        plan,
        stated_after: StatedAfter::of(patch.get_ref()),
    })
}

fn take_table<'t>(root: &mut DeTable<'t>, name: &str) -> Result<Spanned<DeTable<'t>>, Mistake> {
    match root.remove(name) {
        None => Ok(Spanned::new(0..0, DeTable::default())),
        Some(value) => {
            let span = value.span();
            match value.into_inner() {
                DeValue::Table(table) => Ok(Spanned::new(span, table)),
                _ => Err(Mistake::new(
                    span,
                    format!("`{name}` is not a table"),
                    format!("a table `[{name}]`"),
                )),
            }
        }
    }
}

fn read_table<T: for<'d> Deserialize<'d>>(table: &Spanned<DeTable<'_>>) -> Result<T, Mistake> {
    let read = reader::read(table.get_ref());
    read.map_err(|wrong| Mistake::from_reader(&wrong).or_at(table.span()))
}

/// Takes out what is gone, and with it what says that it hangs on it: outlets of a circuit, a partner's shared neutral, a load's name on a circuit.
fn remove_gone(after: &mut House) {
    let gone_loads: Vec<_> = gone(&after.loads, |l| l.gone);
    let gone_circuits: Vec<_> = gone(&after.circuits, |c| c.gone);
    after
        .outlets
        .retain(|_, o| gone_circuits.iter().all(|c| c.as_str() != o.circuit));
    for circuit in after.circuits.values_mut() {
        circuit.loads.retain(|l| !gone_loads.contains(l));
        let alone = |partner: &CircuitId| gone_circuits.contains(partner);
        if circuit.shared_with.as_ref().is_some_and(alone) {
            circuit.shared_with = None;
        }
    }
    after.boards.retain(|_, b| !b.gone);
    for board in after.boards.values_mut() {
        board.devices.retain(|_, d| !d.gone);
    }
    after.feeders.retain(|_, f| !f.gone);
    after.circuits.retain(|_, c| !c.gone);
    after.loads.retain(|_, l| !l.gone);
    after.outlets.retain(|_, o| !o.gone);
    after.sources.retain(|_, s| !s.gone);
    after.buildings.retain(|_, b| !b.gone);
}

fn gone<K: Clone, T>(things: &Map<K, T>, is_gone: impl Fn(&T) -> bool) -> Vec<K> {
    let gone = things.iter().filter(|(_, thing)| is_gone(thing));
    gone.map(|(id, _)| id.clone()).collect()
}

#[cfg(test)]
mod tests;
