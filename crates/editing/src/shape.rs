//! How is a job file laid out by hand: which tables get a header of their own, and which stand in braces on one line?
//! Source: docs/job-file.md and the demo jobs. No units.

/// Sorts of things whose every entry has its own header.
const WITH_HEADERS: [&str; 6] = [
    "boards",
    "feeders",
    "outlets",
    "sources",
    "buildings",
    "walls",
];

/// Sorts of things whose every entry is one line.
const ON_ONE_LINE: [&str; 2] = ["circuits", "loads"];

/// The table at this path has a header of its own.
pub(crate) fn has_header<S: AsRef<str>>(path: &[S]) -> bool {
    let path: Vec<&str> = path.iter().map(AsRef::as_ref).collect();
    let with_headers = |sort: &str| WITH_HEADERS.contains(&sort);
    match path.as_slice() {
        ["place" | "plan" | "candidates" | "offer" | "before" | "after"]
        | ["place", "facts"]
        | ["plan", "weights" | "weight_of" | "follows"]
        | ["offer", "settings"] => true,
        ["before" | "after", rest @ ..] => match rest {
            ["dwelling" | "supply" | "grounding"] | ["supply" | "grounding", "facts"] => true,
            [sort] => ON_ONE_LINE.contains(sort),
            [sort, _] | [sort, _, "facts" | "circuit_facts"] => with_headers(sort),
            ["boards", _, "devices", _] => true,
            _ => false,
        },
        _ => false,
    }
}

/// The table at this path has no header, but what is in it has.
pub(crate) fn is_passed_through<S: AsRef<str>>(path: &[S]) -> bool {
    let path: Vec<&str> = path.iter().map(AsRef::as_ref).collect();
    match path.as_slice() {
        ["before" | "after", sort] => WITH_HEADERS.contains(sort),
        ["before" | "after", "boards", _, "devices"] => true,
        _ => false,
    }
}

/// How many of the path's names the header has under which its last name stands.
pub(crate) fn home(path: &[String]) -> usize {
    (0..path.len())
        .rev()
        .find(|n| has_header(&path[..*n]))
        .unwrap_or(0)
}

/// A thing of a picture with a name of its own: `[picture, sort, id]`.
pub(crate) fn thing(path: &[String]) -> Option<(&str, &str, &str)> {
    match path {
        [picture, sort, id] if matches!(picture.as_str(), "before" | "after") => {
            let sort = sort.as_str();
            (WITH_HEADERS.contains(&sort) || ON_ONE_LINE.contains(&sort))
                .then_some((picture, sort, id))
        }
        _ => None,
    }
}

/// A device in a board.
pub(crate) fn is_device(path: &[String]) -> bool {
    matches!(path, [_, boards, _, devices, _] if boards == "boards" && devices == "devices")
}
