//! Who names whom in a job file: what follows when a thing gets another name or is taken out.
//! Source: the references that the reader of job files checks (`model::file`). No units.

use std::ops::Range;

use model::house::UTILITY;

use crate::outline::{Entry, Node, Outline};
use crate::remove::cut;
use crate::set::{is_table, node, outline};
use crate::text::splice;
use crate::{Refused, write};

/// Things that others name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// Named by feeders, circuits, sources and candidates.
    Board,
    /// Named by their partners, by outlets and by the plan.
    Circuit,
    /// Named by circuits.
    Load,
    /// Named by boards.
    Building,
    /// Named by positions, by the wall behind and by candidates.
    Wall,
}

impl Sort {
    /// By the word of the job file; `None` for what nothing else names.
    pub(crate) fn of(word: &str) -> Option<Self> {
        Some(match word {
            "boards" => Self::Board,
            "circuits" => Self::Circuit,
            "loads" => Self::Load,
            "buildings" => Self::Building,
            "walls" => Self::Wall,
            _ => return None,
        })
    }

    /// A value at this path names a thing of this sort.
    fn is_named_at(self, path: &[&str]) -> bool {
        match (self, path) {
            (Self::Board, ["candidates", "board"])
            | (Self::Circuit, ["plan", "temporary_power", _] | ["plan", "follows", _])
            | (Self::Wall, ["candidates", "walls", _]) => true,
            (_, ["before" | "after", rest @ ..]) => match self {
                Self::Board => matches!(
                    rest,
                    ["feeders", _, "from" | "to"] | ["circuits" | "sources", _, "board"]
                ),
                Self::Circuit => {
                    matches!(
                        rest,
                        ["circuits", _, "shared_with"] | ["outlets", _, "circuit"]
                    )
                }
                Self::Load => matches!(rest, ["circuits", _, "loads", _]),
                Self::Building => matches!(rest, ["boards", _, "building"]),
                Self::Wall => matches!(
                    rest,
                    ["boards", _, "position", "wall"]
                        | ["circuits" | "feeders", _, "home_run", "wall"]
                        | ["walls", _, "back_of"]
                ),
            },
            _ => false,
        }
    }

    /// What has to go with a name that is no longer there; `None`: only a person can say.
    fn goes_with_it<'p>(self, path: &'p [&'p str]) -> Option<&'p [&'p str]> {
        match (self, path) {
            (Self::Circuit, [_, "outlets", _, "circuit"]) => Some(&path[..3]),
            (Self::Circuit | Self::Load | Self::Building, _) => Some(path),
            (Self::Board | Self::Wall, ["candidates", ..] | [_, _, _, "back_of"]) => Some(path),
            _ => None,
        }
    }
}

/// A thing of this path stands in the text.
pub(crate) fn stands(outline: &Outline, path: &[String]) -> bool {
    node(outline, path).is_some() || is_table(outline, path)
}

/// The text with every name of a thing that is gone taken out, where that is safe.
pub(crate) fn forget(mut text: String, sort: Sort, id: &str) -> Result<String, Refused> {
    loop {
        let outline = outline(&text)?;
        let mut gone: Option<Vec<String>> = None;
        each_value(&outline, &mut |path, at| {
            if gone.is_none() && sort.is_named_at(path) && names(&text[at.clone()], id) {
                let all = sort.goes_with_it(path);
                gone = all.map(|all| all.iter().map(|p| (*p).to_owned()).collect());
            }
        });
        if sort == Sort::Circuit && gone.is_none() {
            let keyed = |map: &str| vec!["plan".to_owned(), map.to_owned(), id.to_owned()];
            gone = [keyed("follows"), keyed("weight_of")]
                .into_iter()
                .find(|path| stands(&outline, path));
        }
        match gone {
            Some(path) => text = cut(&text, &path)?,
            None => return Ok(text),
        }
    }
}

/// The text with a thing of both pictures under another name, and everybody who names it along with it.
pub(crate) fn rename(text: &str, path: &[String], new: &str) -> Result<String, Refused> {
    let outline = outline(text)?;
    let mut changes: Vec<(Range<usize>, String)> = Vec::new();
    let mut paths = vec![path.to_vec()];
    if let [picture, rest @ ..] = path
        && let Some(other) = match picture.as_str() {
            "before" => Some("after"),
            "after" => Some("before"),
            _ => None,
        }
    {
        let twin = std::iter::once(other.to_owned()).chain(rest.iter().cloned());
        paths.push(twin.collect());
    }
    let sort = crate::shape::thing(path).and_then(|(_, sort, _)| Sort::of(sort));
    let old = path.last().map_or("", String::as_str);
    if sort == Some(Sort::Circuit) {
        for map in ["follows", "weight_of"] {
            paths.push(vec!["plan".to_owned(), map.to_owned(), old.to_owned()]);
        }
    }
    if !paths.iter().any(|p| stands(&outline, p)) {
        return Err(Refused::new(
            format!("there is no `{}`", path.join(".")),
            "something of the job to rename",
        ));
    }
    for path in &paths {
        let mut fresh = path.clone();
        if let Some(last) = fresh.last_mut() {
            new.clone_into(last);
        }
        if old != new && stands(&outline, &fresh) {
            return Err(Refused::new(
                format!("`{}` is there already", fresh.join(".")),
                "a name that nothing else has",
            ));
        }
        changes.extend(
            keys_of(&outline, path)
                .into_iter()
                .map(|at| (at, write::key(new))),
        );
    }
    if sort == Some(Sort::Board) && new == UTILITY {
        return Err(no_utility());
    }
    if let Some(sort) = sort {
        each_value(&outline, &mut |path, at| {
            if sort.is_named_at(path) && names(&text[at.clone()], old) {
                changes.push((at.clone(), write::text(new)));
            }
        });
    }
    changes.sort_by_key(|(at, _)| std::cmp::Reverse(at.start));
    let renamed = changes
        .into_iter()
        .fold(text.to_owned(), |text, (at, by)| splice(&text, at, &by));
    Ok(renamed)
}

/// The one name that no board can have.
pub(crate) fn no_utility() -> Refused {
    Refused::new(
        format!("a board named `{UTILITY}`"),
        "another name: this one stands for the utility, from which the service comes",
    )
}

/// Every place at which the last name of the path is written as a key.
fn keys_of(outline: &Outline, path: &[String]) -> Vec<Range<usize>> {
    let Some(last) = path.len().checked_sub(1) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for section in &outline.sections {
        if section.is_under(path) {
            found.extend(section.path.get(last).map(|k| k.at.clone()));
        } else if section.leads_to(path) {
            keys_in(&section.lines, &path[section.path.len()..], &mut found);
        }
    }
    found
}

fn keys_in(entries: &[Entry], rest: &[String], found: &mut Vec<Range<usize>>) {
    for entry in entries {
        if entry.is(rest) || entry.goes_beyond(rest) {
            found.extend(entry.keys.get(rest.len() - 1).map(|k| k.at.clone()));
        } else if entry.leads_to(rest)
            && let Node::Braces(_, inner) = &entry.value
        {
            keys_in(inner, &rest[entry.keys.len()..], found);
        }
    }
}

/// The value is this text.
fn names(value: &str, id: &str) -> bool {
    value == write::text(id)
        || value.strip_prefix('\'').and_then(|v| v.strip_suffix('\'')) == Some(id)
}

/// Calls `visit` with path and place of every single value.
fn each_value(outline: &Outline, visit: &mut dyn FnMut(&[&str], &Range<usize>)) {
    for section in outline.sections.iter().filter(|s| !s.listed) {
        let path: Vec<&str> = section.path.iter().map(|k| k.name.as_str()).collect();
        in_entries(&section.lines, &path, visit);
    }
}

fn in_entries(entries: &[Entry], above: &[&str], visit: &mut dyn FnMut(&[&str], &Range<usize>)) {
    for entry in entries {
        let names = entry.keys.iter().map(|k| k.name.as_str());
        let path: Vec<&str> = above.iter().copied().chain(names).collect();
        in_value(&entry.value, &path, visit);
    }
}

fn in_value(node: &Node, path: &[&str], visit: &mut dyn FnMut(&[&str], &Range<usize>)) {
    match node {
        Node::Scalar(at) => visit(path, at),
        Node::Braces(_, entries) => in_entries(entries, path, visit),
        Node::List(_, items) => {
            for (index, item) in items.iter().enumerate() {
                let index = index.to_string();
                let at: Vec<&str> = path.iter().copied().chain([index.as_str()]).collect();
                in_value(item, &at, visit);
            }
        }
    }
}
