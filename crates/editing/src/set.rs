//! Puts a value at a path of the file, in the place where a hand would have written it.
//! Source: the outline of the text. Every byte beside the value stays.

use serde_json::{Map, Value};

use crate::outline::{Entry, Node, Outline, Section};
use crate::shape;
use crate::text::{line_end_of, splice};
use crate::{Refused, remove, write};

/// The text with the value at the path. `beside`: a path next to which a new entry goes.
pub(crate) fn set(
    text: &str,
    path: &[String],
    value: &Value,
    beside: Option<&[String]>,
) -> Result<String, Refused> {
    let Some(last) = path.last() else {
        return Err(Refused::new(
            "an edit at no place",
            "a path into the job file",
        ));
    };
    let outline = outline(text)?;
    if let Some(node) = node(&outline, path) {
        return Ok(splice(text, node.at().clone(), &write::value(value)));
    }
    if is_table(&outline, path) {
        let without = remove::cut(text, path)?;
        return set(&without, path, value, beside);
    }
    for depth in (1..path.len()).rev() {
        match node(&outline, &path[..depth]) {
            Some(Node::Braces(at, entries)) => {
                return Ok(into_braces(text, at, entries, &path[depth..], value));
            }
            Some(Node::List(at, items)) => {
                return into_list(text, at, items, &path[depth..], value);
            }
            Some(Node::Scalar(_)) => {
                return Err(Refused::new(
                    format!(
                        "`{last}` inside of `{}`, which holds a single value",
                        path[depth - 1]
                    ),
                    "a place that can hold it",
                ));
            }
            None => {}
        }
    }
    Ok(into_section(text, &outline, path, value, beside))
}

/// The outline, or why there is none.
pub(crate) fn outline(text: &str) -> Result<Outline, Refused> {
    Outline::of(text).ok_or_else(|| {
        Refused::new(
            "a text that is no TOML, so that nothing can be edited in it",
            "the job file mended by hand first",
        )
    })
}

/// The value at a path, where one expression holds it.
pub(crate) fn node<'o>(outline: &'o Outline, path: &[String]) -> Option<&'o Node> {
    outline
        .sections
        .iter()
        .filter(|s| !s.listed && s.leads_to(path))
        .find_map(|s| in_entries(&s.lines, &path[s.path.len()..]))
}

fn in_entries<'o>(entries: &'o [Entry], rest: &[String]) -> Option<&'o Node> {
    entries
        .iter()
        .filter(|e| e.leads_to(rest))
        .find_map(|e| in_node(&e.value, &rest[e.keys.len()..]))
}

fn in_node<'o>(node: &'o Node, rest: &[String]) -> Option<&'o Node> {
    let Some((first, below)) = rest.split_first() else {
        return Some(node);
    };
    match node {
        Node::Scalar(_) => None,
        Node::Braces(_, entries) => in_entries(entries, rest),
        Node::List(_, items) => in_node(items.get(first.parse::<usize>().ok()?)?, below),
    }
}

/// Headers or dotted names make a table of this path.
pub(crate) fn is_table(outline: &Outline, path: &[String]) -> bool {
    outline.sections.iter().any(|s| {
        s.is_under(path)
            || (s.leads_to(path) && {
                let rest = &path[s.path.len()..];
                s.lines.iter().any(|l| l.goes_beyond(rest))
            })
    })
}

fn into_braces(
    text: &str,
    at: &std::ops::Range<usize>,
    entries: &[Entry],
    rest: &[String],
    value: &Value,
) -> String {
    let entry = match entries.iter().any(|e| shares_dots(e, rest)) {
        true => format!("{} = {}", write::keys(rest), write::value(value)),
        false => nested(rest, value),
    };
    match entries.last() {
        Some(last) => {
            let end = last.value.at().end;
            splice(text, end..end, &format!(", {entry}"))
        }
        None => splice(text, at.clone(), &format!("{{ {entry} }}")),
    }
}

/// `a.b = 1` stands where `a.c` is to go: the table `a` can only be written with dots.
fn shares_dots(entry: &Entry, rest: &[String]) -> bool {
    entry.keys.len() > 1 && rest.len() > 1 && rest.first() == entry.keys.first().map(|k| &k.name)
}

fn nested(rest: &[String], value: &Value) -> String {
    match rest {
        [] => String::new(),
        [only] => format!("{} = {}", write::key(only), write::value(value)),
        [first, below @ ..] => format!("{} = {{ {} }}", write::key(first), nested(below, value)),
    }
}

fn into_list(
    text: &str,
    at: &std::ops::Range<usize>,
    items: &[Node],
    rest: &[String],
    value: &Value,
) -> Result<String, Refused> {
    let next = items.len();
    let index = rest.first().and_then(|i| i.parse::<usize>().ok());
    if index != Some(next) {
        return Err(Refused::new(
            format!("`{}` as a place in a list of {next}", rest.join(".")),
            format!("0 to {next}; {next} adds one"),
        ));
    }
    let item = match &rest[1..] {
        [] => write::value(value),
        below => format!("{{ {} }}", nested(below, value)),
    };
    Ok(match items.last() {
        Some(last) => {
            let end = last.at().end;
            splice(text, end..end, &format!(", {item}"))
        }
        None => splice(text, at.clone(), &format!("[{item}]")),
    })
}

fn into_section(
    text: &str,
    outline: &Outline,
    path: &[String],
    value: &Value,
    beside: Option<&[String]>,
) -> String {
    let line_end = line_end_of(text);
    if let Value::Object(entries) = value
        && (shape::has_header(path) || shape::is_passed_through(path))
    {
        let sections = write::sections(path, entries, line_end);
        return new_section(text, outline, path, &sections, beside);
    }
    let above = outline
        .sections
        .iter()
        .filter(|s| !s.listed && s.leads_to(path));
    let above = above.max_by_key(|s| s.path.len());
    let home = shape::home(path);
    let dotted = above.and_then(|section| {
        let rest = &path[section.path.len()..];
        let same = |l: &&Entry| shares_dots(l, rest);
        section.lines.iter().rev().find(same)
    });
    match above {
        Some(section) if section.path.len() >= home || dotted.is_some() => {
            let rest = &path[section.path.len()..];
            let neighbour = beside.and_then(|b| line_of(section, b));
            let after = dotted.or(neighbour).map(|l| l.value.at().end);
            let line = match dotted {
                Some(_) => format!("{} = {}", write::keys(rest), write::value(value)),
                None => nested(rest, value),
            };
            new_line(text, after.unwrap_or_else(|| section.end()), &line)
        }
        _ => {
            let mut entries = Map::new();
            put(&mut entries, &path[home..], value);
            let section = write::sections(&path[..home], &entries, line_end);
            new_section(text, outline, &path[..home], &section, beside)
        }
    }
}

fn put(entries: &mut Map<String, Value>, rest: &[String], value: &Value) {
    match rest {
        [] => {}
        [only] => {
            entries.insert(only.clone(), value.clone());
        }
        [first, below @ ..] => {
            let mut inner = Map::new();
            put(&mut inner, below, value);
            entries.insert(first.clone(), Value::Object(inner));
        }
    }
}

fn line_of<'s>(section: &'s Section, path: &[String]) -> Option<&'s Entry> {
    section
        .leads_to(path)
        .then(|| &path[section.path.len()..])
        .and_then(|rest| section.lines.iter().find(|l| l.is(rest)))
}

/// A line below the one in which `end` is.
fn new_line(text: &str, end: usize, line: &str) -> String {
    let line_end = line_end_of(text);
    match text[end..].find('\n') {
        Some(n) => {
            let at = end + n + 1;
            splice(text, at..at, &format!("{line}{line_end}"))
        }
        None if text.is_empty() => format!("{line}{line_end}"),
        None => format!("{text}{line_end}{line}{line_end}"),
    }
}

/// Sections after the last one that is closest of kin, a blank line between.
fn new_section(
    text: &str,
    outline: &Outline,
    path: &[String],
    sections: &str,
    beside: Option<&[String]>,
) -> String {
    let kin = |s: &Section| {
        let shared = s.path.iter().zip(path).take_while(|(k, p)| k.name == **p);
        shared.count()
    };
    let closest = outline.sections.iter().map(kin).max().unwrap_or(0);
    let by_name = beside.and_then(|b| outline.sections.iter().rfind(|s| s.is_under(b)));
    let by_kin = || outline.sections.iter().rfind(|s| kin(s) == closest);
    let end = by_name.or_else(by_kin).map_or(0, Section::end);
    new_line(text, end, &format!("{}{sections}", line_end_of(text)))
}
