//! Which valid name did the writer probably mean?
//! Source: Jaro-Winkler similarity. No units.

/// The candidate most like `word`, when one is like enough to be worth saying.
pub(crate) fn nearest<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    candidates
        .into_iter()
        .map(|c| (strsim::jaro_winkler(word, c), c))
        .filter(|(likeness, _)| *likeness >= 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, c)| c)
}

/// What to do about an unknown name: the nearest one, or where the list is.
pub(crate) fn advice<'a>(
    word: &str,
    candidates: impl IntoIterator<Item = &'a str>,
    otherwise: &str,
) -> String {
    match nearest(word, candidates) {
        Some(name) => format!("did you mean `{name}`?"),
        None => otherwise.to_owned(),
    }
}

/// A list for a sentence, cut short when it is long: `a, b, c or 9 more`.
pub(crate) fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    if names.len() <= 12 {
        return names.join(", ");
    }
    format!("{} or {} more", names[..10].join(", "), names.len() - 10)
}
