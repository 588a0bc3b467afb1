//! Everything the data files say, in all editions, checked as a whole.
//! Source: the files under `data/`. Reading gathers every mistake, not only the first.

use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::sync::Arc;

use crate::LoadError;
use crate::adoption::{self, Adoption};
use crate::condition::{self, Constants};
use crate::facts::{self, FactDictionary};
use crate::publication::{self, Publication};
use crate::reader::Source;
use crate::requirement::{self, Known, Requirement};
use crate::tables::Tables;

/// Folder of the requirement files.
const REQUIREMENTS: &str = "requirements/";

/// Everything the data files say, in all editions. Cheap to clone and to share between threads.
#[derive(Clone, Debug)]
pub struct Library {
    pub(crate) rules: Rules,
    pub(crate) cascades: Arc<Vec<Cascade>>,
    pub(crate) adoption: Arc<Adoption>,
    pub(crate) tables: Arc<Tables>,
}

/// What amendments may change.
#[derive(Clone, Debug, Default)]
pub(crate) struct Rules {
    pub(crate) facts: Arc<FactDictionary>,
    pub(crate) constants: Arc<Constants>,
    pub(crate) publications: Arc<BTreeMap<String, Publication>>,
    pub(crate) triggers: Arc<BTreeMap<String, String>>,
    pub(crate) requirements: Vec<Arc<Requirement>>,
}

/// Requirements to look at again when the job takes a certain turn.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Cascade {
    /// The turn, in words.
    pub when: String,
    /// Requirements, by id.
    pub look_at: Vec<String>,
}

impl Library {
    /// What the program carries.
    ///
    /// # Errors
    /// Every mistake in the data files.
    pub fn built_in() -> Result<Self, Vec<LoadError>> {
        Self::parse(crate::data::FILES.iter().copied())
    }

    /// The built-in library without the requirements' own cases, which only tests and `validate` look at: two fifths of the text
    /// need not be read before a job can be checked.
    ///
    /// # Errors
    /// Every mistake in the data files.
    pub fn without_cases() -> Result<Self, Vec<LoadError>> {
        Self::parse(crate::data::FILES_WITHOUT_CASES.iter().copied())
    }

    /// A library from files: path relative to the data folder, and whole text, of each.
    ///
    /// # Errors
    /// Every mistake in the files.
    pub fn parse<'f>(
        files: impl IntoIterator<Item = (&'f str, &'f str)>,
    ) -> Result<Self, Vec<LoadError>> {
        let files: Vec<(&str, &str)> = files.into_iter().collect();
        let mut errors = Vec::new();
        let tables = Tables::parse(files.iter().copied().filter(|(f, _)| f.ends_with(".csv")))
            .map_err(|e| errors.extend(e.into_iter().map(LoadError::from)))
            .ok();
        let files = Files { files };
        let rules = rules(&files, &mut errors);
        let ids: Vec<&str> = files.requirements().map(|s| id_of(s.file)).collect();
        let cascades = files.one("cascades.toml", &mut errors, |root| cascades(root, &ids));
        let adoption = files.one("adoption.toml", &mut errors, |root| {
            adoption::load(root, &rules.publications)
        });
        match (tables, errors.is_empty()) {
            (Some(tables), true) => Ok(Self {
                rules,
                cascades: Arc::new(cascades.unwrap_or_default()),
                adoption: Arc::new(adoption.unwrap_or_default()),
                tables: Arc::new(tables),
            }),
            _ => Err(errors),
        }
    }

    /// All facts that conditions may read.
    #[must_use]
    pub fn facts(&self) -> &Arc<FactDictionary> {
        &self.rules.facts
    }

    /// All constants.
    #[must_use]
    pub fn constants(&self) -> &Arc<Constants> {
        &self.rules.constants
    }

    /// All requirements, by topic and id.
    #[must_use]
    pub fn requirements(&self) -> &[Arc<Requirement>] {
        &self.rules.requirements
    }

    /// All published sources, by short name.
    #[must_use]
    pub fn publications(&self) -> &BTreeMap<String, Publication> {
        &self.rules.publications
    }

    /// Kinds of work that bring requirements up, with what each means.
    #[must_use]
    pub fn triggers(&self) -> &BTreeMap<String, String> {
        &self.rules.triggers
    }

    /// Requirements to look at again when the job takes a certain turn.
    #[must_use]
    pub fn cascades(&self) -> &[Cascade] {
        &self.cascades
    }

    /// What published lists say about the states. Advice only.
    #[must_use]
    pub fn adoption(&self) -> &Adoption {
        &self.adoption
    }

    /// The tables in all editions.
    #[must_use]
    pub fn tables(&self) -> &Arc<Tables> {
        &self.tables
    }
}

/// Names that files may refer to.
pub(crate) struct Names {
    pub(crate) sources: BTreeSet<String>,
    pub(crate) triggers: BTreeSet<String>,
}

impl Rules {
    pub(crate) fn known(&self) -> Names {
        Names {
            sources: self.publications.keys().cloned().collect(),
            triggers: self.triggers.keys().cloned().collect(),
        }
    }
}

struct Files<'f> {
    files: Vec<(&'f str, &'f str)>,
}

impl<'f> Files<'f> {
    /// Reads one file that must be there.
    fn one<T>(
        &self,
        name: &'static str,
        errors: &mut Vec<LoadError>,
        body: impl FnOnce(&mut crate::reader::Fields<'_>) -> T,
    ) -> Option<T> {
        let text = self.files.iter().find(|(file, _)| *file == name);
        let Some((file, text)) = text else {
            let source = Source {
                file: name,
                text: "",
            };
            let expected = "the file to be there";
            errors.push(source.error(0, expected, "no such file", "add it to the data folder"));
            return None;
        };
        Source { file, text }
            .read(name, body)
            .map_err(|e| errors.extend(e))
            .ok()
    }

    fn requirements(&self) -> impl Iterator<Item = Source<'f>> + '_ {
        self.files
            .iter()
            .filter(|(file, _)| file.starts_with(REQUIREMENTS) && file.ends_with(".toml"))
            .map(|(file, text)| Source { file, text })
    }
}

fn rules(files: &Files<'_>, errors: &mut Vec<LoadError>) -> Rules {
    let mut dictionary = FactDictionary::default();
    files.one("facts.toml", errors, |root| {
        facts::load(root, &mut dictionary);
    });
    let mut constants = Constants::default();
    files.one("constants.toml", errors, |root| {
        condition::load_constants(root, &mut constants);
    });
    let mut publications = BTreeMap::new();
    files.one("sources.toml", errors, |root| {
        publication::load(root, &mut publications);
    });
    let triggers = files.one("triggers.toml", errors, |root| {
        let mut triggers = BTreeMap::new();
        for (name, meaning) in root.every_text() {
            triggers.insert(name, meaning);
        }
        triggers
    });
    let mut rules = Rules {
        facts: Arc::new(dictionary),
        constants: Arc::new(constants),
        publications: Arc::new(publications),
        triggers: Arc::new(triggers.unwrap_or_default()),
        requirements: Vec::new(),
    };
    let names = rules.known();
    let known = Known {
        facts: &rules.facts,
        constants: &rules.constants,
        sources: &names.sources,
        triggers: &names.triggers,
    };
    let mut ids = HashSet::new();
    let mut requirements = Vec::new();
    for source in files.requirements() {
        match source.read("a requirement", |root| requirement::file(root, &known)) {
            Err(more) => errors.extend(more),
            Ok(None) => errors.push(source.error(
                0,
                "a whole requirement",
                "less than that",
                "compare the file with another requirement",
            )),
            Ok(Some(one)) if !ids.insert(one.id.clone()) => errors.push(source.error(
                0,
                "each requirement once",
                &format!("another `{}`", one.id),
                "rename or remove one of the two files",
            )),
            Ok(Some(one)) => requirements.push(Arc::new(one)),
        }
    }
    rules.requirements = requirements;
    rules
}

/// File names, so that a mistake in a requirement is not told a second time where it is referred to.
fn id_of(file: &str) -> &str {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.strip_suffix(".toml").unwrap_or(name)
}

fn cascades(root: &mut crate::reader::Fields<'_>, known: &[&str]) -> Vec<Cascade> {
    let mut all = Vec::new();
    for mut fields in root.tables("cascade") {
        let when = fields.text("when");
        let look_at = fields.located_texts("look_at");
        for one in &look_at {
            if !known.contains(&one.text) {
                let names = known.iter().copied();
                let help = model::nearest::advice(one.text, names, "remove it");
                let found = format!("`{}`", one.text);
                fields.fail(one.start, "the id of a requirement", &found, &help);
            }
        }
        root.absorb(fields);
        if let Some(when) = when {
            let look_at = look_at.into_iter().map(|l| l.text.to_owned()).collect();
            all.push(Cascade { when, look_at });
        }
    }
    all
}
