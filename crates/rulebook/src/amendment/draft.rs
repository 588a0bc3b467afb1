//! What does each change of an amendment do to the rules at hand?
//! Source: the tables of the amendment's file. Changes are laid on in order; one that does not fit is a mistake with its place.

use std::collections::BTreeMap;
use std::sync::Arc;

use model::{Edition, nearest};
use toml::Spanned;
use toml::de::DeValue;

use crate::condition::{self, Constants};
use crate::facts::{self, FactDictionary};
use crate::library::{Names, Rules};
use crate::publication;
use crate::reader::Fields;
use crate::requirement::{self, Amended, Known, Requirement};
use crate::rulebook::SwitchedOff;
use crate::source::{Check, Cite};

/// What every change carries with it.
pub(super) struct Origin {
    pub(super) title: Arc<str>,
    pub(super) check: Check,
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

/// Lays every change of the file on the rules.
pub(super) fn body(root: &mut Fields<'_>, origin: &Origin, draft: &mut Draft) {
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
