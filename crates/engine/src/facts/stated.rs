//! Facts stated in the job file by their dictionary name: which slot do they fill, and are they written as the dictionary has them?
//! Source: the `facts` tables of the job file. Numbers in the unit the dictionary names.

use model::house::{House, Stated, StatedFacts};
use model::nearest::advice;
use model::{Fact, JobFile, Mistake};
use rulebook::{Datum, FactDictionary, FactEntry, FactId};

use super::place::Subject;

/// Subjects whose facts each thing may state, the first one first for a name that two have.
pub(super) const BOARD: &[Subject] = &[Subject::Panel, Subject::Old, Subject::Limited];
pub(super) const WALL: &[Subject] = &[Subject::Panel];
pub(super) const FEEDER: &[Subject] = &[Subject::Feeder];
pub(super) const CIRCUIT: &[Subject] = &[Subject::Circuit, Subject::Ev];
pub(super) const OUTLET: &[Subject] = &[Subject::Receptacle, Subject::Outlet];
pub(super) const SOURCE: &[Subject] = &[Subject::Source];
pub(super) const BUILDING: &[Subject] = &[Subject::Building];
pub(super) const SUPPLY: &[Subject] = &[Subject::Service];
pub(super) const GROUNDING: &[Subject] = &[Subject::Ground];
pub(super) const PLACE: &[Subject] = Subject::OF_JOB;

/// Slots that a key fills: by full name one, without its prefix every subject of the thing that has it.
pub(super) fn facts_of<'f>(
    key: &'f str,
    subjects: &'f [Subject],
    facts: &'f FactDictionary,
) -> impl Iterator<Item = FactId> + 'f {
    let full = key.contains('.');
    let whole = full
        .then(|| facts.find(key))
        .flatten()
        .filter(|_| subjects.contains(&Subject::of_fact(key)));
    let named = if full { &[] } else { facts.with_bare_name(key) };
    let of_subject = move |subject: &Subject| {
        let prefix = subject.prefix();
        named.iter().copied().find(move |id| {
            let rest = facts.name(*id).strip_prefix(prefix);
            rest.is_some_and(|r| r.len() == key.len() + 1 && r.starts_with('.'))
        })
    };
    whole
        .into_iter()
        .chain(subjects.iter().filter_map(of_subject))
}

/// A stated value as the dictionary holds it.
pub(super) fn datum(entry: &FactEntry, stated: &Stated) -> Result<Datum, String> {
    let wrong = |found: &str| format!("`{found}`");
    match stated {
        Stated::Bool(truth) if entry.kind == rulebook::FactKind::Bool => Ok(Datum::Bool(*truth)),
        Stated::Bool(truth) => Err(wrong(&truth.to_string())),
        Stated::Number(number) => entry
            .number(*number)
            .map_err(|_| wrong(&number.to_string())),
        Stated::Word(word) => entry.word(word).map_err(|_| wrong(word)),
        Stated::Set(words) => entry
            .set(words.iter().map(String::as_str))
            .map_err(|_| wrong(&words.join(", "))),
    }
}

/// Every mistake in the `facts` tables and tag lists of a job file: unknown name, wrong kind, word outside the vocabulary.
#[must_use]
pub fn check_stated(file: &JobFile, facts: &FactDictionary) -> Vec<Mistake> {
    let mut found = Found {
        file,
        facts,
        mistakes: Vec::new(),
    };
    let job = &file.job;
    found.table(&["place"], &job.place.facts, PLACE);
    found.house("before", &job.before, None);
    found.house("after", &job.after, Some(&job.before));
    found.mistakes
}

struct Found<'f> {
    file: &'f JobFile,
    facts: &'f FactDictionary,
    mistakes: Vec<Mistake>,
}

impl Found<'_> {
    /// Checks a picture; what the other one says in the same words is not repeated.
    fn house(&mut self, picture: &str, house: &House, other: Option<&House>) {
        let same = |mine: &StatedFacts, theirs: Option<&StatedFacts>| theirs == Some(mine);
        let supply = &house.supply.facts;
        if !same(supply, other.map(|o| &o.supply.facts)) {
            self.table(&[picture, "supply"], supply, SUPPLY);
        }
        let grounding = &house.grounding.facts;
        if !same(grounding, other.map(|o| &o.grounding.facts)) {
            self.table(&[picture, "grounding"], grounding, GROUNDING);
        }
        macro_rules! every {
            ($things:ident, $subjects:expr) => {
                for (id, thing) in &house.$things {
                    let theirs = other.and_then(|o| o.$things.get(id)).map(|t| &t.facts);
                    if !same(&thing.facts, theirs) {
                        let path = [picture, stringify!($things), id.as_str()];
                        self.table(&path, &thing.facts, $subjects);
                    }
                }
            };
        }
        every!(buildings, BUILDING);
        every!(boards, BOARD);
        every!(feeders, FEEDER);
        every!(circuits, CIRCUIT);
        for (id, board) in &house.boards {
            let theirs = other.and_then(|o| o.boards.get(id));
            if !same(&board.circuit_facts, theirs.map(|b| &b.circuit_facts)) {
                let path = [picture, "boards", id.as_str()];
                self.named(&path, "circuit_facts", &board.circuit_facts, CIRCUIT);
            }
        }
        every!(outlets, OUTLET);
        every!(sources, SOURCE);
        every!(walls, WALL);
        macro_rules! every_tags {
            ($things:ident, $field:ident, $fact:literal) => {
                for (id, thing) in &house.$things {
                    let theirs = other.and_then(|o| o.$things.get(id)).map(|t| &t.$field);
                    if theirs != Some(&thing.$field) {
                        let path = [
                            picture,
                            stringify!($things),
                            id.as_str(),
                            stringify!($field),
                        ];
                        self.tags(&path, &thing.$field, $fact);
                    }
                }
            };
        }
        every_tags!(boards, location, "panel.location");
        every_tags!(walls, location, "panel.location");
        for (name, wall) in &house.walls {
            for stretch in &wall.stretches {
                let tags = Fact::seen(stretch.location.clone());
                self.tags(
                    &[picture, "walls", name, "stretches"],
                    &tags,
                    "panel.location",
                );
            }
        }
        every_tags!(circuits, rooms, "circuit.areas");
        every_tags!(outlets, place, "receptacle.place");
        every_tags!(outlets, appliance, "outlet.appliance");
    }

    fn table(&mut self, path: &[&str], stated: &StatedFacts, subjects: &[Subject]) {
        self.named(path, "facts", stated, subjects);
    }

    /// A table of facts by its name below `path`.
    fn named(&mut self, path: &[&str], table: &str, stated: &StatedFacts, subjects: &[Subject]) {
        for (key, fact) in stated {
            let path: Vec<&str> = path.iter().copied().chain([table, key]).collect();
            let first = facts_of(key, subjects, self.facts).next();
            let Some(entry) = first.and_then(|id| self.facts.get(id)) else {
                let what = format!("there is no fact `{key}` to state here");
                let expected = self.nearest(key, subjects);
                self.add(&path, what, expected);
                continue;
            };
            if let Fact::Known { is, .. } = fact
                && let Err(wrong) = datum(entry, is)
            {
                let what = format!("`{key}` is given as {wrong}");
                let expected = self.advise(entry, is);
                self.add(&path, what, expected);
            }
        }
    }

    fn tags(&mut self, path: &[&str], tags: &Fact<Vec<String>>, fact: &str) {
        let entry = self.facts.find(fact).and_then(|id| self.facts.get(id));
        let (Some(entry), Some(tags)) = (entry, tags.known()) else {
            return;
        };
        for tag in tags {
            if entry.word_index(tag).is_none() {
                let expected = advice(tag, entry.words.iter().map(String::as_str), &entry.takes());
                self.add(path, format!("`{tag}` is not a tag here"), expected);
            }
        }
    }

    /// What the fact takes, with the nearest word where words were given.
    fn advise(&self, entry: &FactEntry, stated: &Stated) -> String {
        let words: Vec<&str> = match stated {
            Stated::Word(word) => vec![word],
            Stated::Set(words) => words.iter().map(String::as_str).collect(),
            _ => Vec::new(),
        };
        let wrong = words.into_iter().find(|w| entry.word_index(w).is_none());
        let near = wrong
            .and_then(|w| model::nearest::nearest(w, entry.words.iter().map(String::as_str)))
            .map(|n| format!("did you mean `{n}`? "))
            .unwrap_or_default();
        format!("{near}{}", entry.takes())
    }

    /// The nearest name that may be stated here, written as it is written here.
    fn nearest(&self, key: &str, subjects: &[Subject]) -> String {
        let full = std::ptr::eq(subjects, PLACE);
        let names: Vec<&str> = self
            .facts
            .iter()
            .filter(|(_, e)| subjects.contains(&Subject::of_fact(&e.name)))
            .map(|(_, e)| match e.name.split_once('.') {
                Some((_, bare)) if !full => bare,
                _ => e.name.as_str(),
            })
            .collect();
        let bare = match key.split_once('.') {
            Some((_, bare)) if !full => bare,
            _ => key,
        };
        let form = if full {
            "a full name such as `job.building_permit_work`"
        } else {
            "the name of a fact about this thing, without its prefix"
        };
        advice(bare, names.iter().copied(), form)
    }

    fn add(&mut self, path: &[&str], what: String, expected: String) {
        let mistake = self.file.mistake_at(path, what, expected);
        if !self.mistakes.contains(&mistake) {
            self.mistakes.push(mistake);
        }
    }
}
