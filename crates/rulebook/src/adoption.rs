//! Which edition does a state use, as far as published lists say? Advice only: the permit office decides, and no edition is picked here.
//! Source: `data/adoption.toml`, from lists of mixed age that disagree. No units.

use std::collections::BTreeMap;

use crate::publication::Publication;
use crate::reader::Fields;
use model::{Edition, nearest};

/// What published lists say about the states.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct Adoption {
    /// Printed wherever an entry is shown.
    pub warning: String,
    /// How the list was made.
    pub method: String,
    /// What is known of the newest edition.
    pub as_2026: String,
    /// When and from what the entries were gathered.
    pub collected: String,
    states: Vec<StateAdoption>,
}

/// What is said about one state or district.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct StateAdoption {
    /// Two capital letters.
    pub state: String,
    /// The edition the lists give; `None` where it is chosen locally or nothing was found.
    pub edition: Option<Edition>,
    /// Since when, in the words of the lists; may be doubtful.
    pub effective: Option<String>,
    /// Statewide, local, with amendments and so on.
    pub scope: String,
    /// How much the entry may be trusted.
    pub confidence: Confidence,
    /// A remark.
    pub note: Option<String>,
    /// Published sources.
    pub sources: Vec<String>,
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
    /// The entry of a state by its two letters, in any case.
    ///
    /// # Errors
    /// An unknown state, with the ones most like it. Never a default.
    pub fn state(&self, text: &str) -> Result<&StateAdoption, UnknownState> {
        let code = text.trim();
        self.states
            .iter()
            .find(|s| s.state.eq_ignore_ascii_case(code))
            .ok_or_else(|| UnknownState {
                found: text.to_owned(),
                help: self.advice(code),
            })
    }

    /// All entries, in order of the file.
    #[must_use]
    pub fn states(&self) -> &[StateAdoption] {
        &self.states
    }

    /// Two letters are too short to compare for likeness: states that share the first one are named.
    fn advice(&self, code: &str) -> String {
        let first = code.chars().next().map(|c| c.to_ascii_uppercase());
        let alike: Vec<&str> = self
            .states
            .iter()
            .map(|s| s.state.as_str())
            .filter(|s| s.chars().next() == first)
            .collect();
        if alike.is_empty() {
            return "use the two letters of the postal service".to_owned();
        }
        format!("did you mean one of {}?", alike.join(", "))
    }
}

/// Reads the file.
pub(crate) fn load(root: &mut Fields<'_>, known: &BTreeMap<String, Publication>) -> Adoption {
    let mut adoption = Adoption {
        warning: root.text("warning").unwrap_or_default(),
        method: root.text("method").unwrap_or_default(),
        as_2026: root.text("as_2026").unwrap_or_default(),
        collected: root.text("collected").unwrap_or_default(),
        states: Vec::new(),
    };
    for mut fields in root.tables("state") {
        let state = state(&mut fields, known);
        if let Some(state) = &state
            && adoption.states.iter().any(|s| s.state == state.state)
        {
            let at = fields.place("state");
            let found = format!("`{}` a second time", state.state);
            fields.fail(at, "each state once", &found, "remove one of the two");
        }
        adoption.states.extend(state);
        root.absorb(fields);
    }
    adoption
}

fn state(fields: &mut Fields<'_>, known: &BTreeMap<String, Publication>) -> Option<StateAdoption> {
    let state = fields.located("state");
    if let Some(state) = state
        && (state.text.len() != 2 || !state.text.bytes().all(|b| b.is_ascii_uppercase()))
    {
        let found = format!("`{}`", state.text);
        let help = "use the letters of the postal service";
        fields.fail(state.start, "two capital letters", &found, help);
    }
    let edition = fields.optional_edition("edition");
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
    Some(StateAdoption {
        state: state?.text.to_owned(),
        edition,
        effective,
        scope: scope?,
        confidence: confidence?,
        note,
        sources,
    })
}

fn sources(fields: &mut Fields<'_>, known: &BTreeMap<String, Publication>) -> Vec<String> {
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
