//! Which edition does a state use, as far as published lists say? Advice only: the permit office decides, and no edition is picked here.
//! Source: `data/adoption.toml`, from lists of mixed age that disagree. No units.

use std::collections::BTreeMap;

use model::{Edition, nearest};

use crate::reader::Fields;

/// What published lists say about the states.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct Adoption {
    /// Printed wherever an entry is shown.
    pub warning: String,
    /// How the list was made.
    pub method: String,
    /// What is known of the newest edition.
    pub newest_edition: String,
    /// Printed wherever state amendments are shown.
    pub amendments_warning: String,
    states: Vec<StateAdoption>,
}

/// What is said about one state or district.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct StateAdoption {
    /// Two capital letters.
    pub code: String,
    /// Its name.
    pub name: String,
    /// The edition the lists give; `None` where it is chosen locally.
    pub edition: Option<Edition>,
    /// Since when, as the lists say; may be doubtful.
    pub effective: Option<String>,
    /// Statewide, local, with amendments and so on.
    pub scope: String,
    /// How much the entry may be trusted.
    pub confidence: Confidence,
    /// A remark.
    pub note: Option<String>,
    /// Published sources.
    pub sources: Vec<String>,
    /// State amendments that a page speaks of. None listed means not looked up.
    pub amendments: Vec<AmendmentHint>,
}

/// How much an adoption entry may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Confidence {
    /// Lists conflict, or a single weak one.
    Low,
    /// One fair list, or two alike.
    Medium,
    /// A page of the state, or several alike.
    High,
}

/// A state amendment that a page speaks of: a hint to look it up, not a rule.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct AmendmentHint {
    /// What it says, in our words.
    pub says: String,
    /// What it would change for a panel job.
    pub effect: String,
    /// The code cycle or date it was seen for.
    pub as_of: String,
    /// Published sources.
    pub sources: Vec<String>,
}

/// The text names no state that the list knows.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{found}` is not a known state: expected two letters such as OH; {help}")]
pub struct UnknownState {
    /// What was given.
    pub found: String,
    /// What to do.
    pub help: String,
}

impl Adoption {
    /// The entry of a state by its two letters or its name, in any case.
    ///
    /// # Errors
    /// An unknown state, with the nearest name. Never a default.
    pub fn state(&self, text: &str) -> Result<&StateAdoption, UnknownState> {
        let name = text.trim();
        let by = |s: &&StateAdoption| {
            s.code.eq_ignore_ascii_case(name) || s.name.eq_ignore_ascii_case(name)
        };
        self.states.iter().find(by).ok_or_else(|| UnknownState {
            found: text.to_owned(),
            help: self.advice(name),
        })
    }

    /// All entries, in order of the file.
    #[must_use]
    pub fn states(&self) -> &[StateAdoption] {
        &self.states
    }

    fn advice(&self, text: &str) -> String {
        let names = self.states.iter().map(|s| s.name.as_str());
        let near = nearest::nearest(text, names);
        let state = self.states.iter().find(|s| Some(s.name.as_str()) == near);
        match state {
            Some(state) => format!("did you mean {} ({})?", state.code, state.name),
            None => "use the two letters of the postal service".to_owned(),
        }
    }
}

/// Reads the file.
pub(crate) fn load(
    root: &mut Fields<'_>,
    sources: &BTreeMap<String, crate::Publication>,
) -> Adoption {
    let mut adoption = Adoption {
        warning: root.text("warning").unwrap_or_default(),
        method: root.text("method").unwrap_or_default(),
        newest_edition: root.text("newest_edition").unwrap_or_default(),
        amendments_warning: root.text("amendments_warning").unwrap_or_default(),
        states: Vec::new(),
    };
    let mut states = match root.table("state") {
        Some(states) => states,
        None => return adoption,
    };
    for (code, mut fields) in states.every_table() {
        adoption.states.extend(state(code, &mut fields, sources));
        states.absorb(fields);
    }
    root.absorb(states);
    adoption
}

fn state(
    code: &str,
    fields: &mut Fields<'_>,
    known: &BTreeMap<String, crate::Publication>,
) -> Option<StateAdoption> {
    if code.len() != 2 || !code.bytes().all(|b| b.is_ascii_uppercase()) {
        let at = fields.start();
        fields.fail(
            at,
            "two capital letters",
            &format!("`{code}`"),
            "use the postal letters",
        );
    }
    let local = fields.text_is("edition", "local");
    let edition = (!local).then(|| fields.edition("edition"));
    let name = fields.text("name");
    let effective = fields.optional_text("effective");
    let scope = fields.text("scope");
    let confidence = fields.one_of(
        "confidence",
        &[
            ("low", Confidence::Low),
            ("medium", Confidence::Medium),
            ("high", Confidence::High),
        ],
    );
    let note = fields.optional_text("note");
    let sources = sources(fields, known);
    let mut amendments = Vec::new();
    for mut hint in fields.tables("amendment") {
        let (says, effect, as_of) = (hint.text("says"), hint.text("effect"), hint.text("as_of"));
        let sources = self::sources(&mut hint, known);
        fields.absorb(hint);
        if let (Some(says), Some(effect), Some(as_of)) = (says, effect, as_of) {
            amendments.push(AmendmentHint {
                says,
                effect,
                as_of,
                sources,
            });
        }
    }
    Some(StateAdoption {
        code: code.to_owned(),
        name: name?,
        edition: match edition {
            Some(read) => Some(read?),
            None => None,
        },
        effective,
        scope: scope?,
        confidence: confidence?,
        note,
        sources,
        amendments,
    })
}

fn sources(fields: &mut Fields<'_>, known: &BTreeMap<String, crate::Publication>) -> Vec<String> {
    let found = fields.located_texts("sources");
    for source in &found {
        if !known.contains_key(source.text) {
            let names = known.keys().map(String::as_str);
            let help = nearest::advice(source.text, names, "declare it in sources.toml");
            let expected = "a name declared in sources.toml";
            fields.fail(source.start, expected, &format!("`{}`", source.text), &help);
        }
    }
    found.into_iter().map(|s| s.text.to_owned()).collect()
}
