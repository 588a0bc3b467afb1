//! Where in the job file does the answer to an open question go, and what may stand there?
//! Sources: the engine's own path to the field; the fact dictionary for kind, unit and words; the pictures for which of them is asked.
//!
//! A field of the model takes the answer where it asks the very same thing, or where its words speak for themselves. Else the answer goes into
//! the `facts` table of the thing under the name of the fact: "is it a three-wire circuit without a ground" is not "has it a ground".

use engine::facts::Place;
use model::JobFile;
use rulebook::{AskedOf, FactDictionary, FactEntry, FactKind};
use schemars::JsonSchema;
use serde::Serialize;

use crate::choices::of_field;

/// Where an answer goes, and what it may be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Answerable {
    /// Path of the job file.
    pub at: Vec<String>,
    /// What may stand there.
    pub choices: Takes,
}

/// What an answer may be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Takes {
    /// Its kind.
    pub kind: Kind,
    /// Unit of a number; none for a count.
    pub unit: Option<String>,
    /// Words to choose from, one or several.
    pub choices: Vec<String>,
}

/// Kinds of answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[schemars(rename = "AnswerKind")]
pub enum Kind {
    /// `true` or `false`.
    YesNo,
    /// A number.
    Number,
    /// One of the words.
    Choice,
    /// Any of the words, none included.
    Choices,
    /// A day, as `2026-11-30`.
    Date,
}

/// What is needed to place the answers of one job.
#[derive(Clone, Copy, Debug)]
pub struct Desk<'j> {
    file: &'j JobFile,
    facts: &'j FactDictionary,
}

impl<'j> Desk<'j> {
    /// For the questions of this job.
    #[must_use]
    pub const fn of(file: &'j JobFile, facts: &'j FactDictionary) -> Self {
        Self { file, facts }
    }

    /// Where the answer to a question goes: `fact` as the question names it, `path` as the engine has it. `None` where no single value answers it.
    #[must_use]
    pub fn place(&self, fact: &str, place: Place<'_>, path: &str) -> Option<Answerable> {
        let entry = self.facts.find(fact).and_then(|id| self.facts.get(id));
        let steps = steps(path)?;
        let (steps, choices) = match (entry, self.field(&steps)) {
            (None, field) => (steps, field?),
            (Some(entry), Some(field)) if answers(entry, &field) => (steps, field),
            (Some(entry), _) if entry.asked_of != AskedOf::Derived => {
                (self.in_facts(entry, place, &steps)?, takes(entry))
            }
            _ => return None,
        };
        let planned = entry.is_some_and(|e| e.asked_of == AskedOf::Office);
        Some(Answerable {
            at: self.in_picture(steps, place, planned),
            choices,
        })
    }

    /// What a field of the model takes.
    fn field(&self, steps: &[String]) -> Option<Takes> {
        let names: Vec<&str> = match steps {
            [sort, _, rest @ ..] if is_sort(sort) => std::iter::once(sort)
                .chain(rest)
                .map(String::as_str)
                .collect(),
            all => all.iter().map(String::as_str).collect(),
        };
        let name = names.join(".");
        let words = of_field(&name, self.facts);
        let several = matches!(
            name.as_str(),
            "boards.location" | "circuits.rooms" | "outlets.place" | "outlets.appliance"
        );
        let of = |kind, unit: &str| Takes {
            kind,
            unit: (!unit.is_empty()).then(|| unit.to_owned()),
            choices: Vec::new(),
        };
        if let Some(choices) = words {
            let kind = if several { Kind::Choices } else { Kind::Choice };
            return Some(Takes {
                kind,
                unit: None,
                choices,
            });
        }
        Some(match name.as_str() {
            "boards.bus"
            | "boards.main_amps"
            | "boards.short_circuit_rating"
            | "circuits.amps"
            | "feeders.breaker"
            | "sources.output"
            | "supply.fault_current" => of(Kind::Number, "A"),
            "boards.working_space.depth"
            | "boards.working_space.width"
            | "boards.working_space.height"
            | "boards.working_space.highest_handle"
            | "boards.cabinet.width"
            | "boards.cabinet.lug_space"
            | "circuits.added_outside"
            | "circuits.added_total"
            | "circuits.slack" => of(Kind::Number, "in"),
            "boards.terminals" => of(Kind::Number, "C"),
            "boards.area_served" => of(Kind::Number, "sq ft"),
            "boards.poles_listed" | "feeders.wires" => of(Kind::Number, ""),
            "boards.neutral_bonded"
            | "boards.ground_bar"
            | "circuits.ground"
            | "circuits.cut_shorter"
            | "circuits.outlets_added"
            | "feeders.outside"
            | "feeders.in_thermal_insulation"
            | "sources.opposite_end"
            | "boards.cabinet.combustible_wall"
            | "outlets.receptacle" => of(Kind::YesNo, ""),
            "place.permit_date" => of(Kind::Date, ""),
            _ => return None,
        })
    }

    /// The path below the `facts` table of the thing that the fact is about.
    fn in_facts(
        &self,
        entry: &FactEntry,
        place: Place<'_>,
        steps: &[String],
    ) -> Option<Vec<String>> {
        // The engine's path already leads there where the model has no field.
        if steps.iter().any(|s| s == "facts") {
            return Some(steps.to_vec());
        }
        let (subject, bare) = entry.name.split_once('.')?;
        let sort = match place {
            Place::Board(_) | Place::OldCabinet(_) => "boards",
            Place::Feeder(_) => "feeders",
            Place::Building(_) => "buildings",
            Place::Source(_) => "sources",
            Place::Circuit(_) => "circuits",
            Place::Outlet(_) => "outlets",
            Place::Job => {
                let table: &[&str] = match subject {
                    "service" => &["supply", "facts", bare],
                    "ground" => &["grounding", "facts", bare],
                    _ => &["place", "facts", &entry.name],
                };
                return Some(table.iter().map(|s| (*s).to_owned()).collect());
            }
        };
        // A board answers for its feeder and building only where it has them; they are asked by their own names then.
        let suits = match sort {
            "boards" => matches!(subject, "panel" | "old" | "limited"),
            "circuits" => matches!(subject, "circuit" | "ev"),
            "outlets" => matches!(subject, "receptacle" | "outlet"),
            other => other.trim_end_matches('s') == subject,
        };
        let alone = self.facts.with_bare_name(bare).len() == 1;
        let key = if alone { bare } else { entry.name.as_str() };
        let path = [sort, place.name(), "facts", key];
        suits.then(|| path.map(str::to_owned).to_vec())
    }

    /// The picture that is asked: what stands in `before` is asked there, unless `after` speaks of it, or it is of the work.
    fn in_picture(&self, steps: Vec<String>, place: Place<'_>, planned: bool) -> Vec<String> {
        if steps.first().is_some_and(|s| s == "place") {
            return steps;
        }
        let stands = match steps.as_slice() {
            [sort, id, ..] if is_sort(sort) => self.stands_before(sort, id),
            _ => true,
        };
        let new_board = matches!(place, Place::OldCabinet(_)) || self.is_changed(&steps);
        let of_before = stands && !self.file.is_asked_of_after(&steps) && !new_board && !planned;
        let picture = match of_before && !is_of_the_work(&steps) {
            true => "before",
            false => "after",
        };
        std::iter::once(picture.to_owned()).chain(steps).collect()
    }

    fn stands_before(&self, sort: &str, id: &str) -> bool {
        let house = &self.file.job.before;
        match sort {
            "boards" => house.boards.contains_key(id),
            "feeders" => house.feeders.contains_key(id),
            "circuits" => house.circuits.contains_key(id),
            "loads" => house.loads.contains_key(id),
            "outlets" => house.outlets.contains_key(id),
            "sources" => house.sources.contains_key(id),
            "buildings" => house.buildings.contains_key(id),
            _ => house.walls.contains_key(id),
        }
    }

    /// The thing is a board that is replaced or moves: nothing of it is taken over unasked.
    fn is_changed(&self, steps: &[String]) -> bool {
        let [sort, id, ..] = steps else {
            return false;
        };
        let board = self.file.job.after.boards.get(id.as_str());
        sort == "boards"
            && (self.file.is_said_to_move(id)
                || board.is_some_and(|b| b.replaced || b.interior_only))
    }
}

/// Fields that only the picture after the work has.
fn is_of_the_work(steps: &[String]) -> bool {
    let names = [
        "added_outside",
        "added_total",
        "cut_shorter",
        "outlets_added",
        "old_cabinet",
    ];
    steps
        .last()
        .is_some_and(|last| names.contains(&last.as_str()))
}

fn is_sort(word: &str) -> bool {
    matches!(
        word,
        "boards" | "feeders" | "circuits" | "loads" | "outlets" | "sources" | "buildings" | "walls"
    )
}

/// The field answers what the fact asks.
fn answers(entry: &FactEntry, field: &Takes) -> bool {
    // These fields ask something else than the fact that follows from them, or only a part of it.
    let another = matches!(
        entry.name.as_str(),
        "circuit.three_wire_no_egc"
            | "feeder.interior"
            | "receptacle.new"
            | "receptacle.replaced"
            | "panel.flush_in_combustible"
            | "panel.wire_bend_space_ok"
            | "source.bus_sum_a"
            | "circuit.volts"
    );
    if another {
        return false;
    }
    match field.kind {
        Kind::YesNo => entry.kind == FactKind::Bool,
        Kind::Number => entry.kind == FactKind::Number,
        Kind::Choice | Kind::Choices | Kind::Date => true,
    }
}

fn takes(entry: &FactEntry) -> Takes {
    Takes {
        kind: match entry.kind {
            FactKind::Bool => Kind::YesNo,
            FactKind::Number => Kind::Number,
            FactKind::Word => Kind::Choice,
            FactKind::Set => Kind::Choices,
        },
        unit: entry.unit.clone(),
        choices: entry.words.clone(),
    }
}

/// Names of a path such as `circuits.c1.facts."outlet.a"`; `None` when it is a sentence or empty.
fn steps(path: &str) -> Option<Vec<String>> {
    let mut steps = vec![String::new()];
    let mut quoted = false;
    for c in path.chars() {
        match c {
            '"' => quoted = !quoted,
            '.' if !quoted => steps.push(String::new()),
            ' ' | '(' | ')' => return None,
            c => steps.last_mut()?.push(c),
        }
    }
    steps.iter().all(|s| !s.is_empty()).then_some(steps)
}
