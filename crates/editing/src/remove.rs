//! Takes a path out of the file, and with a thing whatever names it.
//! Source: the outline of the text. A comment on a line of its own stays; one behind a value goes with it.

use std::ops::Range;

use crate::names::{self, Sort};
use crate::outline::{Entry, Node, Outline, Section};
use crate::set::{node, outline};
use crate::text::{line_start, next_line, splice};
use crate::{Refused, shape};

/// The text without the path. A thing taken out of `before` goes out of `after` as well, and what names it is mended.
pub(crate) fn remove(text: &str, path: &[String]) -> Result<String, Refused> {
    let mut text = cut(text, path)?;
    if let Some((picture, sort, id)) = shape::thing(path) {
        let twin = |picture: &str| [picture.to_owned(), sort.to_owned(), id.to_owned()];
        if picture == "before" {
            text = cut(&text, &twin("after"))?;
        }
        let is_gone = !names::stands(&outline(&text)?, &twin("before"));
        if let Some(sort) = Sort::of(sort)
            && is_gone
        {
            text = names::forget(text, sort, id)?;
        }
    }
    prune(text, path)
}

/// The text without the path, whatever else names it.
pub(crate) fn cut(text: &str, path: &[String]) -> Result<String, Refused> {
    let mut text = text.to_owned();
    loop {
        let outline = outline(&text)?;
        let Some(span) = next_cut(&text, &outline, path) else {
            return Ok(text);
        };
        // The next item of a list takes the number of the one that went.
        let above = path
            .split_last()
            .and_then(|(_, above)| node(&outline, above));
        text = splice(&text, span, "");
        if matches!(above, Some(Node::List(..))) {
            return Ok(text);
        }
    }
}

/// Empty tables that were left behind are taken out too, unless they say that a thing exists.
fn prune(text: String, path: &[String]) -> Result<String, Refused> {
    let Some((_, above)) = path.split_last() else {
        return Ok(text);
    };
    let outline = outline(&text)?;
    if above.len() < 2 || shape::is_device(above) || !is_empty(&outline, above) {
        return Ok(text);
    }
    if let Some((picture, sort, id)) = shape::thing(above) {
        let before = ["before".to_owned(), sort.to_owned(), id.to_owned()];
        if picture == "before" || !names::stands(&outline, &before) {
            return Ok(text);
        }
    }
    prune(cut(&text, above)?, above)
}

/// A table of this path stands in the text, and nothing is in it.
fn is_empty(outline: &Outline, path: &[String]) -> bool {
    match node(outline, path) {
        Some(Node::Braces(_, entries)) => entries.is_empty(),
        Some(_) => false,
        None => {
            let mut under = outline.sections.iter().filter(|s| s.is_under(path));
            let own = under.next().filter(|s| s.is(path) && s.lines.is_empty());
            own.is_some() && under.next().is_none()
        }
    }
}

/// The next bytes to take out.
fn next_cut(text: &str, outline: &Outline, path: &[String]) -> Option<Range<usize>> {
    outline
        .sections
        .iter()
        .filter(|s| !s.path.is_empty())
        .find(|s| s.is_under(path))
        .map(|s| whole_section(text, s))
        .or_else(|| {
            let above = outline
                .sections
                .iter()
                .filter(|s| !s.listed && s.leads_to(path));
            above
                .filter(|s| s.path.len() < path.len())
                .find_map(|s| in_lines(text, &s.lines, &path[s.path.len()..]))
        })
}

/// A section with the blank line before it.
fn whole_section(text: &str, section: &Section) -> Range<usize> {
    let mut start = line_start(text, section.header.start);
    let above = &text[..start];
    if above.ends_with("\n\n") {
        start -= 1;
    } else if above.ends_with("\n\r\n") {
        start -= 2;
    }
    start..next_line(text, section.end())
}

fn in_lines(text: &str, lines: &[Entry], rest: &[String]) -> Option<Range<usize>> {
    lines.iter().find_map(|line| {
        if line.is(rest) || line.goes_beyond(rest) {
            return Some(line_start(text, line.start())..next_line(text, line.value.at().end));
        }
        let below = line.leads_to(rest).then(|| &rest[line.keys.len()..])?;
        in_node(&line.value, below)
    })
}

fn in_node(node: &Node, rest: &[String]) -> Option<Range<usize>> {
    match node {
        Node::Scalar(_) => None,
        Node::Braces(at, entries) => {
            let hit = entries
                .iter()
                .position(|e| e.is(rest) || e.goes_beyond(rest));
            if let Some(index) = hit {
                let spans: Vec<_> = entries
                    .iter()
                    .map(|e| e.start()..e.value.at().end)
                    .collect();
                return Some(one_of(&spans, index, at));
            }
            entries
                .iter()
                .filter(|e| e.leads_to(rest))
                .find_map(|e| in_node(&e.value, &rest[e.keys.len()..]))
        }
        Node::List(at, items) => {
            let (first, below) = rest.split_first()?;
            let index = first.parse::<usize>().ok().filter(|i| *i < items.len())?;
            if below.is_empty() {
                let spans: Vec<_> = items.iter().map(|i| i.at().clone()).collect();
                return Some(one_of(&spans, index, at));
            }
            in_node(&items[index], below)
        }
    }
}

/// One of several parts between brackets or braces, with the comma that joined it.
fn one_of(parts: &[Range<usize>], index: usize, around: &Range<usize>) -> Range<usize> {
    match (
        index.checked_sub(1).and_then(|i| parts.get(i)),
        parts.get(index + 1),
    ) {
        (Some(before), _) => before.end..parts[index].end,
        (None, Some(after)) => parts[index].start..after.start,
        (None, None) => around.start + 1..around.end - 1,
    }
}
