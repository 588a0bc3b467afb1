//! What does a state, county or city change, and is it in force on the permit's date?
//! Source: an amendment file, `docs/add-a-rule.md` describes the form. Applied only when its edition and dates fit.

use std::collections::BTreeMap;
use std::sync::Arc;

use model::{Date, Edition, nearest};
use toml::Spanned;
use toml::de::DeValue;

use crate::LoadError;
use crate::condition::{self, Constants};
use crate::facts::{self, FactDictionary};
use crate::library::{Library, Names, Rules};
use crate::publication;
use crate::reader::{Fields, Source};
use crate::requirement::{self, Amended, Known, Requirement};
use crate::rulebook::SwitchedOff;
use crate::source::{Check, Cite};

/// An amendment file, checked against a library.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amendment {
    /// Its title.
    pub title: Arc<str>,
    /// Who made it.
    pub authority: String,
    /// Two letters of the state it belongs to.
    pub state: String,
    /// Editions it was written on.
    pub editions: Vec<Edition>,
    /// First day it is in force.
    pub from: Date,
    /// Last day it is in force; `None` while nobody knows an end.
    pub to: Option<Date>,
    /// How far it was checked.
    pub check: Check,
    /// A remark.
    pub note: Option<String>,
    file: String,
    text: String,
}

/// Whether an amendment binds a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case", tag = "standing")]
pub enum Standing {
    /// It does, and is applied.
    InForce,
    /// It was written on other editions.
    OtherEdition,
    /// The permit is older.
    NotYet {
        /// First day it is in force.
        from: Date,
    },
    /// The permit is younger.
    Over {
        /// Last day it was in force.
        to: Date,
    },
    /// Nobody knows the permit's date, so nobody can tell. Not applied.
    DateUnknown,
}

/// An amendment by title, and whether it binds.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct StandingOf {
    /// Title of the amendment.
    #[serde(serialize_with = "crate::source::as_text")]
    pub title: Arc<str>,
    /// Whether it binds.
    #[serde(flatten)]
    pub standing: Standing,
}

impl Amendment {
    /// Reads an amendment and tries it on the library.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub fn parse(file: &str, text: &str, library: &Library) -> Result<Self, Vec<LoadError>> {
        let source = Source { file, text };
        let mut draft = Draft::new(&library.rules);
        let read = source.read("an amendment", |root| {
            let header = header(root, library, &source);
            let origin = header.as_ref().map(Amendment::origin).unwrap_or_default();
            body(root, &origin, &mut draft);
            header
        })?;
        read.ok_or_else(|| {
            vec![source.error(
                0,
                "a whole amendment",
                "less than that",
                "complete its first lines",
            )]
        })
    }

    /// Whether it binds a job of that edition and permit date.
    #[must_use]
    pub fn standing(&self, edition: Edition, permit: Option<Date>) -> Standing {
        if !self.editions.contains(&edition) {
            return Standing::OtherEdition;
        }
        match (permit, self.to) {
            (None, _) => Standing::DateUnknown,
            (Some(day), _) if day < self.from => Standing::NotYet { from: self.from },
            (Some(day), Some(to)) if day > to => Standing::Over { to },
            _ => Standing::InForce,
        }
    }

    /// Lays it on what is there already.
    pub(crate) fn apply(&self, draft: &mut Draft) -> Result<(), Vec<LoadError>> {
        let source = Source {
            file: &self.file,
            text: &self.text,
        };
        source.read("an amendment", |root| {
            for key in HEADER {
                root.allow(key);
            }
            body(root, &self.origin(), draft);
        })
    }

    fn origin(&self) -> Origin {
        Origin {
            title: Arc::clone(&self.title),
            check: self.check,
        }
    }
}

const HEADER: [&str; 8] = [
    "title",
    "authority",
    "state",
    "editions",
    "from",
    "to",
    "check",
    "note",
];

fn header(root: &mut Fields<'_>, library: &Library, source: &Source<'_>) -> Option<Amendment> {
    let title = root.text("title");
    let authority = root.text("authority");
    let state = root.located("state");
    if let Some(state) = state
        && let Err(unknown) = library.adoption.state(state.text)
    {
        let found = format!("`{}`", state.text);
        root.fail(
            state.start,
            "the two letters of a state",
            &found,
            &unknown.help,
        );
    }
    let editions = root.editions("editions");
    if editions.is_empty() {
        let at = root.place("editions");
        let help = "add the editions it was written on, for example editions = [2023]";
        root.fail(at, "at least one edition", "none", help);
    }
    let from = root.optional_date("from");
    if !root.has("from") {
        let at = root.start();
        root.fail(
            at,
            "`from` in an amendment",
            "none",
            "add the first day it is in force",
        );
    }
    let to = root.optional_date("to");
    if let (Some(from), Some(to)) = (from, to)
        && to < from
    {
        let at = root.place("to");
        let expected = format!("a day not before {from}");
        root.fail(at, &expected, &to.to_string(), "swap `from` and `to`");
    }
    let check = root.check("check");
    let note = root.optional_text("note");
    Some(Amendment {
        title: title?.into(),
        authority: authority?,
        state: state?.text.to_owned(),
        editions,
        from: from?,
        to,
        check: check?,
        note,
        file: source.file.to_owned(),
        text: source.text.to_owned(),
    })
}

/// What every change carries with it.
struct Origin {
    title: Arc<str>,
    check: Check,
}

impl Default for Origin {
    fn default() -> Self {
        Self {
            title: Arc::default(),
            check: Check::NotFound,
        }
    }
}

/// The rules while amendments are being laid on.
pub(crate) struct Draft {
    rules: Rules,
    facts: FactDictionary,
    constants: Constants,
    publications: BTreeMap<String, publication::Publication>,
    switched_off: Vec<SwitchedOff>,
}

impl Draft {
    pub(crate) fn new(rules: &Rules) -> Self {
        Self {
            facts: (*rules.facts).clone(),
            constants: (*rules.constants).clone(),
            publications: (*rules.publications).clone(),
            rules: rules.clone(),
            switched_off: Vec::new(),
        }
    }

    pub(crate) fn finish(mut self) -> (Rules, Vec<SwitchedOff>) {
        self.rules.facts = Arc::new(self.facts);
        self.rules.constants = Arc::new(self.constants);
        self.rules.publications = Arc::new(self.publications);
        (self.rules, self.switched_off)
    }

    fn names(&self) -> Names {
        Names {
            sources: self.publications.keys().cloned().collect(),
            ..self.rules.known()
        }
    }

    fn find(&self, id: &str) -> Option<usize> {
        self.rules.requirements.iter().position(|r| r.id == id)
    }
}

fn body(root: &mut Fields<'_>, origin: &Origin, draft: &mut Draft) {
    if root.has("source")
        && let Some(mut sources) = root.table("source")
    {
        publication::load(&mut sources, &mut draft.publications);
        root.absorb(sources);
    }
    if root.has("fact")
        && let Some(mut added) = root.table("fact")
    {
        facts::load(&mut added, &mut draft.facts);
        root.absorb(added);
    }
    if root.has("constant")
        && let Some(mut replaced) = root.table("constant")
    {
        for (name, at, value) in replaced.every() {
            constant(&mut replaced, name, at, value, draft);
        }
        root.absorb(replaced);
    }
    for mut fields in root.tables("switch_off") {
        switch_off(&mut fields, origin, draft);
        root.absorb(fields);
    }
    for mut fields in root.tables("replace") {
        replace(&mut fields, origin, draft);
        root.absorb(fields);
    }
    for mut fields in root.tables("add") {
        add(&mut fields, origin, draft);
        root.absorb(fields);
    }
    for key in ["source", "fact", "constant"] {
        root.allow(key);
    }
}

fn constant(
    fields: &mut Fields<'_>,
    name: &str,
    at: usize,
    value: &Spanned<DeValue<'_>>,
    draft: &mut Draft,
) {
    let Some(old) = draft.constants.find(name) else {
        let help = nearest::advice(name, draft.constants.names(), "remove it");
        fields.fail(at, "the name of a constant", &format!("`{name}`"), &help);
        return;
    };
    let sort = old.sample().sort();
    let Some(new) = condition::read_value(value.get_ref()).filter(|v| v.sort() == sort) else {
        fields.wrong_kind(value, value.get_ref(), name, sort);
        return;
    };
    let replaced = old.with(new);
    let clash = draft
        .rules
        .requirements
        .iter()
        .flat_map(|r| r.conditions())
        .flat_map(condition::Condition::lists)
        .filter(|(fact, constant)| constant == name && draft.facts.get(*fact).is_some())
        .find_map(|(fact, _)| replaced.suits(draft.facts.get(fact)?).err());
    if let Some((expected, found, help)) = clash {
        fields.fail(value.span().start, &expected, &found, &help);
        return;
    }
    draft.constants.put(replaced);
}

fn switch_off(fields: &mut Fields<'_>, origin: &Origin, draft: &mut Draft) {
    let index = which(fields, draft);
    let because = fields.text("because");
    if let (Some(index), Some(because)) = (index, because) {
        let requirement = draft.rules.requirements.remove(index);
        draft.switched_off.push(SwitchedOff {
            requirement,
            by: Arc::clone(&origin.title),
            because,
        });
    }
}

fn replace(fields: &mut Fields<'_>, origin: &Origin, draft: &mut Draft) {
    let index = which(fields, draft);
    let because = fields.text("because");
    let names = draft.names();
    let known = Known {
        facts: &draft.facts,
        constants: &draft.constants,
        sources: &names.sources,
        triggers: &names.triggers,
    };
    let mut one = |key| {
        fields.allow(key);
        fields
            .has(key)
            .then(|| requirement::condition(fields, key, &known))
            .flatten()
    };
    let (applies, satisfied) = (one("applies"), one("satisfied"));
    let section = fields.optional_text("section");
    if !["applies", "satisfied", "section"]
        .iter()
        .any(|k| fields.has(k))
    {
        let at = fields.start();
        let help = "write what it is replaced by";
        fields.fail(
            at,
            "`applies`, `satisfied` or `section`",
            "none of them",
            help,
        );
    }
    let (Some(index), Some(because)) = (index, because) else {
        return;
    };
    let Some(slot) = draft.rules.requirements.get_mut(index) else {
        return;
    };
    let mut changed = Requirement::clone(slot);
    changed.applies = applies.unwrap_or(changed.applies);
    changed.satisfied = satisfied.or(changed.satisfied);
    if let Some(section) = section {
        let section: Arc<str> = section.into();
        changed.sections = Edition::ALL.map(|edition| {
            Some(Cite {
                edition,
                section: Arc::clone(&section),
                check: origin.check,
            })
        });
    }
    changed.amended.push(Amended {
        by: Arc::clone(&origin.title),
        because,
    });
    *slot = Arc::new(changed);
}

fn add(fields: &mut Fields<'_>, origin: &Origin, draft: &mut Draft) {
    let names = draft.names();
    let known = Known {
        facts: &draft.facts,
        constants: &draft.constants,
        sources: &names.sources,
        triggers: &names.triggers,
    };
    let Some(mut new) = requirement::inline(fields, &known) else {
        return;
    };
    if draft.find(&new.id).is_some() {
        let at = fields.place("id");
        let help = "rename it, or use [[replace]]";
        fields.fail(
            at,
            "each requirement once",
            &format!("another `{}`", new.id),
            help,
        );
        return;
    }
    new.amended.push(Amended {
        by: Arc::clone(&origin.title),
        because: new.why.clone(),
    });
    draft.rules.requirements.push(Arc::new(new));
}

fn which(fields: &mut Fields<'_>, draft: &Draft) -> Option<usize> {
    let id = fields.located("requirement")?;
    let index = draft.find(id.text);
    if index.is_none() {
        let ids = draft.rules.requirements.iter().map(|r| r.id.as_str());
        let help = nearest::advice(id.text, ids, "remove it");
        let found = format!("`{}`", id.text);
        fields.fail(id.start, "the id of a requirement in force", &found, &help);
    }
    index
}
