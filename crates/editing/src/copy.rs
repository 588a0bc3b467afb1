//! Makes a second thing like the first, under a name of its own: quick entry of circuits, boards, loads.
//! Source: the entry as it reads, in `after` with what `before` says below it. What can be true of one thing only is left out.

use model::JobFile;
use serde_json::{Map, Value};

use crate::{Refused, names, set, shape};

/// What a copy does not take over: a place in a board, a partner, what hangs on the circuit.
fn left_out(sort: &str) -> &'static [&'static str] {
    match sort {
        "circuits" => &["spaces", "pinned", "shared_with", "loads", "entry", "gone"],
        "feeders" | "sources" => &["spaces", "gone"],
        "walls" => &["back_of"],
        "boards" => &["position", "gone"],
        _ => &["gone"],
    }
}

/// The text with the copy beside what it was made from.
pub(crate) fn copy(text: &str, path: &[String], new: &str) -> Result<String, Refused> {
    let Some((picture, sort, id)) = shape::thing(path) else {
        return Err(Refused::new(
            format!("`{}` cannot be copied", path.join(".")),
            "a board, feeder, circuit, load, outlet, source, building or wall",
        ));
    };
    if sort == "boards" && new == model::house::UTILITY {
        return Err(names::no_utility());
    }
    let file = JobFile::read(text).map_err(|m| Refused::unreadable(&m))?;
    let spelled = file.spelled::<Map<String, Value>>();
    let house = match picture {
        "before" => &spelled.before,
        _ => &spelled.after,
    };
    let entry = house.get(sort).and_then(|all| all.get(id));
    let Some(Value::Object(entry)) = entry else {
        return Err(Refused::new(
            format!("there is no `{}`", path.join(".")),
            "something of the job to copy",
        ));
    };
    let target = |picture: &str| [picture.to_owned(), sort.to_owned(), new.to_owned()];
    let outline = set::outline(text)?;
    if ["before", "after"]
        .iter()
        .any(|p| names::stands(&outline, &target(p)))
    {
        return Err(Refused::new(
            format!("there is a `{new}` among the {sort} already"),
            "a name that nothing else has",
        ));
    }
    let kept: Map<String, Value> = entry
        .iter()
        .filter(|(name, _)| !left_out(sort).contains(&name.as_str()))
        .map(|(name, value)| (name.clone(), value.clone()))
        .collect();
    set::set(text, &target(picture), &Value::Object(kept), Some(path))
}
