//! Why a paper is not printed: where, what was expected, what to do. Nothing half-printed is ever given out.

/// Why there is no paper.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Problem {
    /// Numbers that must agree do not.
    #[error("{paper} is not printed: {what}")]
    Disagreement {
        /// Which paper.
        paper: &'static str,
        /// What disagrees with what.
        what: String,
    },
    /// The job lacks what the paper is about.
    #[error("{paper} is not printed: {what}")]
    Nothing {
        /// Which paper.
        paper: &'static str,
        /// What is missing.
        what: String,
    },
    /// Labels that cannot stand on a directory, each with why.
    #[error("directory is not printed: {}", .0.join("; "))]
    Labels(Vec<String>),
    /// A template cannot be read or run.
    #[error("template {file}, line {line}, column {column}: {what}")]
    Template {
        /// File name.
        file: String,
        /// Line, from 1; 0 where none can be told.
        line: usize,
        /// Column, from 1; 0 where none can be told.
        column: usize,
        /// What is wrong, with hints.
        what: String,
    },
    /// A template file that no paper uses.
    #[error("no paper uses a template called `{0}`")]
    NoSuchTemplate(String),
    /// A font that cannot be read.
    #[error("the font {0} cannot be read")]
    Font(String),
}

impl Problem {
    /// What to do about it.
    #[must_use]
    pub fn advice(&self) -> String {
        match self {
            Self::Disagreement { .. } => {
                "the job file contradicts itself there: mend it, then print again".to_owned()
            }
            Self::Labels(_) => "give each circuit a `serves` that tells it apart and holds whoever lives there: what it serves, in which room, on which floor".to_owned(),
            Self::Nothing { .. } => "leave this paper out, or add to the job file what it is about".to_owned(),
            Self::Template { .. } => {
                "mend the template, or take it out of the folder to print with the built-in one"
                    .to_owned()
            }
            Self::NoSuchTemplate(name) => {
                let known = || crate::templates::BUILT_IN.iter().map(|(name, _)| *name);
                let otherwise = format!("templates: {}", model::nearest::list(known()));
                model::nearest::advice(name, known(), &otherwise)
            }
            Self::Font(_) => "put a TrueType or OpenType font there".to_owned(),
        }
    }
}
