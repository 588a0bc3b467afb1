//! Lines as they are printed: the same thing for the same reason on one line, and what hangs on the same unknown facts on another.
//! Source: the take-off. US dollars; what is printed adds up to the total.

use std::collections::BTreeMap;

use model::Dollars;
use shop::{Book, Count};

use super::cost::Pricer;
use super::line::{Because, Gap, Group, Line, Name, What};
use super::offer::{OpenPart, Perhaps, Printed};
use super::open::Tree;
use super::sum::{Sum, gap_of};
use super::take_off::TakeOff;
use super::wants;

pub(super) fn print<'a, 'l>(
    lines: impl Iterator<Item = &'l Line<'a>>,
    pricer: &Pricer<'a>,
    gaps: &mut Vec<Gap>,
) -> Vec<Printed<'a>>
where
    'a: 'l,
{
    let mut printed: Vec<Printed<'a>> = Vec::new();
    let mut places: BTreeMap<(Group, (u8, &str), What<'a>), usize> = BTreeMap::new();
    for line in lines {
        let cost = match pricer.cost(line) {
            Ok(cost) => cost,
            Err(missing) => {
                gaps.push(gap_of(&missing));
                continue;
            }
        };
        let key = (line.group, line.because.key(), line.what.clone());
        match places.get(&key) {
            Some(at) => {
                let known: &mut Printed<'a> = &mut printed[*at];
                known.count += line.count;
                known.cost += cost;
                if !known.places.contains(&line.place) {
                    known.places.push(line.place);
                }
            }
            None => {
                places.insert(key, printed.len());
                let (text, unit) = words(&line.what, pricer.book);
                printed.push(Printed {
                    group: line.group,
                    what: line.what.clone(),
                    text,
                    unit,
                    count: line.count,
                    because: line.because,
                    places: vec![line.place],
                    cost,
                });
            }
        }
    }
    printed.sort_by_key(|line| line.group);
    printed
}

/// What a line says, and the unit it counts.
fn words(what: &What<'_>, book: &Book) -> (String, String) {
    match what {
        What::Part(name) => {
            let part = book.parts.get(name);
            let unit = part.map_or("", |p| match p.unit {
                shop::parts::PartUnit::Each => "each",
                shop::parts::PartUnit::Foot => "ft",
            });
            let text = part.map_or_else(|| name.to_string(), |p| p.what.clone());
            (text, unit.to_owned())
        }
        What::Work(item) => {
            let unit = book.labour.task(item).map(|t| t.unit.to_string());
            (item.replace('-', " "), unit.unwrap_or_default())
        }
        What::Fee(super::line::Fee::Permit) => ("permit fee".to_owned(), "each".to_owned()),
        What::Fee(super::line::Fee::Utility) => ("utility fee".to_owned(), "each".to_owned()),
    }
}

/// Open trees with the same reasons stand on one line; their ends add up.
pub(super) fn perhaps<'a>(
    take: &TakeOff<'a>,
    pricer: &Pricer<'a>,
    gaps: &mut Vec<Gap>,
) -> Vec<Perhaps<'a>> {
    let mut all: BTreeMap<Vec<String>, Perhaps<'a>> = BTreeMap::new();
    let mut sum = Sum::new(pricer);
    for tree in &take.open {
        let mut lines = Vec::new();
        leaves(tree, &mut lines);
        let reasons: BTreeMap<(u8, String), Because<'a>> = lines
            .iter()
            .filter(|l| match l.because {
                Because::Work(words) => [wants::AS_BEFORE, wants::TRACED].contains(&words),
                _ => true,
            })
            .map(|l| {
                let (sort, id) = l.because.key();
                ((sort, id.to_owned()), l.because)
            })
            .collect();
        let lengthened = lines.iter().any(|l| l.group == Group::Circuits);
        let mut because: Vec<String> = reasons.values().map(Because::text).collect();
        if lengthened {
            because.push("how far circuits are lengthened".to_owned());
        }
        let requirements = reasons.values().filter_map(Because::requirement);
        let requirements: Vec<String> = requirements.map(str::to_owned).collect();
        let (low, high) = sum.tree(tree, None);
        let entry = all.entry(because.clone()).or_insert_with(|| Perhaps {
            because,
            requirements,
            places: Vec::new(),
            low: Dollars::ZERO,
            high: Dollars::ZERO,
        });
        entry.low += low;
        entry.high += high;
        for line in lines {
            if !entry.places.contains(&line.place) {
                entry.places.push(line.place);
            }
        }
    }
    gaps.extend(sum.missing.iter().map(gap_of));
    let mut all: Vec<Perhaps<'a>> = all.into_values().collect();
    all.sort_by_key(|p| std::cmp::Reverse(p.high - p.low));
    all
}

/// Parts of the open lines, the most of each over all answers.
pub(super) fn open_parts<'a>(take: &TakeOff<'a>) -> Vec<OpenPart<'a>> {
    let mut all: BTreeMap<Name<'a>, OpenPart<'a>> = BTreeMap::new();
    for tree in &take.open {
        for (name, most) in most_of_each(tree) {
            let entry = all.entry(name.clone()).or_insert_with(|| OpenPart {
                name,
                most: Count::ZERO,
                places: Vec::new(),
            });
            entry.most += most;
        }
        let mut lines = Vec::new();
        leaves(tree, &mut lines);
        for line in lines {
            if let What::Part(name) = &line.what
                && let Some(entry) = all.get_mut(name)
                && !entry.places.contains(&line.place)
            {
                entry.places.push(line.place);
            }
        }
    }
    all.into_values().collect()
}

fn most_of_each<'a>(tree: &Tree<'a>) -> BTreeMap<Name<'a>, Count> {
    let mut all = BTreeMap::new();
    match tree {
        Tree::Lines(lines) | Tree::Between(_, lines) => {
            for line in lines {
                if let What::Part(name) = &line.what {
                    *all.entry(name.clone()).or_insert(Count::ZERO) += line.count;
                }
            }
        }
        Tree::All(trees) => {
            for (name, count) in trees.iter().flat_map(most_of_each) {
                *all.entry(name).or_insert(Count::ZERO) += count;
            }
        }
        Tree::By(_, branches) => {
            for (name, count) in branches.iter().flat_map(|(_, tree)| most_of_each(tree)) {
                let entry = all.entry(name).or_insert(Count::ZERO);
                *entry = (*entry).max(count);
            }
        }
    }
    all
}

fn leaves<'t, 'a>(tree: &'t Tree<'a>, into: &mut Vec<&'t Line<'a>>) {
    match tree {
        Tree::Lines(lines) => into.extend(lines),
        Tree::Between(_, most) => into.extend(most),
        Tree::All(trees) => trees.iter().for_each(|t| leaves(t, into)),
        Tree::By(_, branches) => branches.iter().for_each(|(_, t)| leaves(t, into)),
    }
}
