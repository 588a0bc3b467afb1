//! May this stand on a panel's directory? Each circuit is told apart from every other, by what it serves and where, and by nothing that changes
//! with who lives there. Source: NFPA 70 section 408.4(A), in our own words; the lists of words are our own judgement.

use std::collections::BTreeMap;

/// Words that name a sort of outlet and no place or machine.
const KINDS: &[&str] = &[
    "plug",
    "plugs",
    "outlet",
    "outlets",
    "receptacle",
    "receptacles",
    "light",
    "lights",
    "lighting",
    "lamp",
    "lamps",
    "switch",
    "switches",
    "circuit",
    "circuits",
    "power",
    "general",
    "misc",
    "miscellaneous",
    "various",
    "stuff",
    "other",
    "others",
    "load",
    "loads",
    "appliance",
    "appliances",
    "equipment",
    "breaker",
    "room",
    "rooms",
    "house",
    "home",
    "everything",
    "all",
    "some",
    "more",
    "unknown",
    "unidentified",
    "unlabeled",
    "unused",
    "tbd",
    "na",
    "n/a",
    "v",
    "volt",
    "volts",
    "120",
    "240",
    "amp",
    "amps",
    "a",
    "15",
    "20",
    "30",
];

/// Words that place something no closer than half a house.
const WIDE: &[&str] = &[
    "upstairs",
    "downstairs",
    "front",
    "back",
    "rear",
    "side",
    "north",
    "south",
    "east",
    "west",
    "main",
    "floor",
    "first",
    "second",
    "upper",
    "lower",
    "left",
    "right",
    "half",
    "area",
];

/// Small words.
const SMALL: &[&str] = &[
    "the", "and", "of", "in", "for", "on", "at", "to", "with", "&", "+", "-",
];

/// Words for people: a room is theirs only for a while.
const PEOPLE: &[&str] = &[
    "mom",
    "moms",
    "dad",
    "dads",
    "kid",
    "kids",
    "baby",
    "babys",
    "boy",
    "boys",
    "girl",
    "girls",
    "son",
    "sons",
    "daughter",
    "daughters",
    "grandma",
    "grandmas",
    "grandpa",
    "grandpas",
    "tenant",
    "tenants",
    "roommate",
    "roommates",
    "nanny",
    "teen",
    "teens",
    "wife",
    "husband",
    "owner",
];

/// Words that will not be true for long.
const PASSING: &[&str] = &[
    "new",
    "old",
    "temporary",
    "temp",
    "temporarily",
    "now",
    "current",
    "currently",
    "future",
    "formerly",
    "former",
    "christmas",
    "holiday",
    "party",
];

/// Why a label cannot stand on a directory.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// Nothing is written.
    #[error("says nothing: write what it serves and in which room")]
    Empty,
    /// It is not known what it serves.
    #[error("is a question, not an answer: find out what it serves")]
    Question,
    /// It could be anything.
    #[error(
        "could be anything: write the room, or the machine, and its floor where there are several"
    )]
    Vague,
    /// It says only roughly where.
    #[error("says only roughly where: write the room or the machine")]
    TooWide,
    /// It names a person.
    #[error(
        "`{0}` names people, and they move: write where the room is, for example by compass or floor"
    )]
    Person(String),
    /// It will not be true for long.
    #[error("`{0}` will not be true for long: leave it out")]
    Passing(String),
    /// Another circuit has the same words.
    #[error("reads the same as `{0}`: write what tells the two apart")]
    Same(String),
}

/// What is wrong with one label; `None` when nothing is.
#[must_use]
pub fn fault(label: &str) -> Option<Fault> {
    let label = label.trim();
    if label.is_empty() {
        return Some(Fault::Empty);
    }
    let asks = label.contains('?') || label.to_lowercase().contains("labeled");
    if asks || !label.chars().any(char::is_alphanumeric) {
        return Some(Fault::Question);
    }
    let words = words(label);
    if let Some(owner) = words.iter().find(|w| is_possessive(w)) {
        return Some(Fault::Person(owner.clone()));
    }
    let lower: Vec<String> = words.iter().map(|w| w.to_lowercase()).collect();
    if let Some(person) = lower.iter().find(|w| PEOPLE.contains(&w.as_str())) {
        return Some(Fault::Person(person.clone()));
    }
    if let Some(passing) = lower.iter().find(|w| PASSING.contains(&w.as_str())) {
        return Some(Fault::Passing(passing.clone()));
    }
    let mut telling = lower
        .iter()
        .filter(|w| !SMALL.contains(&w.as_str()) && w.parse::<f64>().is_err());
    let vague = |w: &&String| KINDS.contains(&w.as_str());
    if telling.clone().all(|w| vague(&w)) {
        return Some(Fault::Vague);
    }
    let wide = |w: &String| vague(&w) || WIDE.contains(&w.as_str());
    if telling.all(wide) {
        return Some(Fault::TooWide);
    }
    None
}

/// What is wrong with the labels of one panel: circuit, its label, why.
#[must_use]
pub fn faults<'l>(labels: &[(&'l str, &'l str)]) -> Vec<(&'l str, &'l str, Fault)> {
    let mut seen: BTreeMap<String, &str> = BTreeMap::new();
    let mut all = Vec::new();
    for (circuit, label) in labels {
        if let Some(why) = fault(label) {
            all.push((*circuit, *label, why));
            continue;
        }
        let key = words(label).join(" ").to_lowercase();
        match seen.get(&key) {
            Some(other) => all.push((*circuit, *label, Fault::Same((*other).to_owned()))),
            None => {
                seen.insert(key, circuit);
            }
        }
    }
    all
}

fn words(label: &str) -> Vec<String> {
    let between =
        |c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '/' | '(' | ')' | '.');
    let parts = label.split(between).filter(|w| !w.is_empty());
    parts.map(|w| w.replace('\u{2019}', "'")).collect()
}

/// `Billy's`, `Joneses'`. Rooms named for a use, such as `men's`, are none of a person's.
fn is_possessive(word: &str) -> bool {
    let lower = word.to_lowercase();
    let of_use = ["men's", "women's", "butler's", "it's"].contains(&lower.as_str());
    !of_use && (lower.ends_with("'s") || lower.ends_with("s'"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(label: &str, expected: Option<Fault>) {
        assert_eq!(fault(label), expected, "{label}");
    }

    #[test]
    fn a_label_that_tells_what_and_where_may_stand() {
        for label in [
            "northeast bedroom",
            "kitchen counter, sink side",
            "water heater",
            "sump pump in the crawl space",
            "hall and bathroom lights",
            "men's washroom",
            "bedroom over the garage, receptacles",
        ] {
            check(label, None);
        }
    }

    #[test]
    fn a_label_that_could_be_anything_may_not() {
        for label in [
            "plugs",
            "Lights",
            "outlets & lights",
            "misc.",
            "20 A circuit",
            "house",
        ] {
            check(label, Some(Fault::Vague));
        }
        for label in [
            "upstairs lights",
            "front plugs",
            "2nd floor rear",
            "main floor",
        ] {
            assert!(fault(label).is_none_or(|f| f == Fault::TooWide), "{label}");
        }
        check("upstairs lights", Some(Fault::TooWide));
        check("", Some(Fault::Empty));
        check("bedroom?", Some(Fault::Question));
        check("--", Some(Fault::Question));
        check("not labeled; goes up", Some(Fault::Question));
    }

    #[test]
    fn people_and_passing_states_may_not() {
        check("Billy's room", Some(Fault::Person("Billy's".into())));
        check("Billy\u{2019}s room", Some(Fault::Person("Billy's".into())));
        check("kids bedroom", Some(Fault::Person("kids".into())));
        check("new kitchen counter", Some(Fault::Passing("new".into())));
    }

    #[test]
    fn two_labels_on_one_panel_differ() {
        let labels = [
            ("a", "bedroom, north"),
            ("b", "Bedroom north"),
            ("c", "bath"),
        ];
        let found = faults(&labels);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].0, "b");
        assert_eq!(found[0].2, Fault::Same("a".into()));
    }
}
