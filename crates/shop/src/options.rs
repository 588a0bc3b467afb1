//! What may the customer add, who asks for it, and what does it come to in parts and work?
//! Source: `options.csv` of the book. An option whose requirement bites on a job is code there, whatever the table says.

use crate::bill::{self, Counted};
use crate::mistake::Mistake;
use crate::reader::Table;

/// Name of the table.
pub const FILE: &str = "options.csv";
const HEADER: &[&str] = &[
    "option", "title", "asked_by", "per", "parts", "labour", "excludes", "covers", "note",
];

/// Who asks for it.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum AskedBy {
    /// The code, as it stands for this job.
    Code,
    /// An insurer.
    Insurer,
    /// Only the customer's wish; no code asks for it.
    Wish,
}

/// What it is counted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Per {
    /// Once.
    Job,
    /// For each board that is new or replaced.
    Board,
}

/// One line of the table.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShopOption {
    /// Its name in the book.
    pub name: String,
    /// As the customer reads it.
    pub title: String,
    /// Who asks for it where no requirement does.
    pub asked_by: AskedBy,
    /// What it is counted by.
    pub per: Per,
    /// Parts of one.
    pub parts: Vec<Counted>,
    /// Work of one.
    pub labour: Vec<Counted>,
    /// Options it cannot go with.
    pub excludes: Vec<String>,
    /// Requirements that it answers.
    pub covers: Vec<String>,
    /// A remark.
    pub note: String,
    /// Line in the file.
    pub line: u64,
}

/// The options table, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Options {
    all: Vec<ShopOption>,
}

impl Options {
    pub(crate) fn read(text: &str, mistakes: &mut Vec<Mistake>) -> Self {
        let table = Table {
            file: FILE,
            header: HEADER,
            mistakes,
        };
        let asked_by = [
            ("code", AskedBy::Code),
            ("insurer", AskedBy::Insurer),
            ("wish", AskedBy::Wish),
        ];
        let rows = table.rows(text, |row| {
            let words = |text: &str| text.split_whitespace().map(str::to_owned).collect();
            let title = row.needed("title");
            let asked_by = row.one_of("asked_by", &asked_by);
            let per = row.one_of("per", &[("job", Per::Job), ("board", Per::Board)]);
            let parts = bill::read(row, "parts");
            let labour = bill::read(row, "labour");
            Some(ShopOption {
                name: row.text("option").to_owned(),
                title: title?,
                asked_by: asked_by?,
                per: per?,
                parts: parts?,
                labour: labour?,
                excludes: words(row.text("excludes")),
                covers: words(row.text("covers")),
                note: row.text("note").to_owned(),
                line: row.line,
            })
        });
        let all: Vec<ShopOption> = rows.into_iter().map(|(_, one)| one).collect();
        for one in &all {
            for other in one
                .excludes
                .iter()
                .filter(|e| !all.iter().any(|o| o.name == **e))
            {
                let names = || all.iter().map(|o| o.name.as_str());
                mistakes.push(Mistake {
                    file: FILE.to_owned(),
                    line: one.line,
                    column: "excludes".to_owned(),
                    found: format!("`{other}`"),
                    expected: "the name of another option".to_owned(),
                    advice: model::nearest::advice(other, names(), "take it out"),
                });
            }
        }
        Self { all }
    }

    /// An option by its name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&ShopOption> {
        self.all.iter().find(|o| o.name == name)
    }

    /// Every option, in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = &ShopOption> {
        self.all.iter()
    }

    /// Two options cannot go together when either says so.
    #[must_use]
    pub fn exclude_each_other(one: &ShopOption, other: &ShopOption) -> bool {
        one.excludes.contains(&other.name) || other.excludes.contains(&one.name)
    }
}
