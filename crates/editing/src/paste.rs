//! Circuits of a board from a spreadsheet: rows of text in, circuits of the job file out, all of them or none.
//! Source: the shop's own list, with whatever words it has over its columns. Amperes; spaces as the board numbers them.

mod cells;
mod grid;

use std::collections::BTreeMap;

use model::house::{House, Numbering};
use model::{JobFile, Mistakes};
use rulebook::FactDictionary;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value, json};

use crate::choices::{Choices, choices};
use crate::edit::{Edit, Refused, apply};
use crate::slug;
use cells::{Bad, Column};

/// One of the two pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Picture {
    /// The house as it stands.
    Before,
    /// The house as it will stand.
    After,
}

impl Picture {
    /// As the job file writes it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Before => "before",
            Self::After => "after",
        }
    }
}

/// What the rows would become.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Pasted {
    /// Each row below the header.
    pub rows: Vec<PastedRow>,
    /// Columns that no circuit has, left out.
    pub ignored: Vec<String>,
    /// The job with the circuits in it; `null` while a row is wrong.
    pub job: Option<String>,
}

/// One row.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PastedRow {
    /// Number of the row, the header being 1.
    pub row: usize,
    /// Name of the circuit in the job file.
    pub id: String,
    /// Fields of the circuit as they will stand in the job file.
    #[serde(flatten)]
    pub fields: BTreeMap<String, Value>,
    /// What cannot be read.
    pub mistakes: Vec<CellMistake>,
}

/// A cell that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CellMistake {
    /// Words over its column.
    pub column: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
}

/// Most rows that are read.
const MOST_ROWS: usize = 400;

/// Reads the rows against the job. A wrong cell is told in its row; `job` is there when no row is wrong.
///
/// # Errors
/// When the job does not read, the board is not there, or the rows have no header that can be understood.
pub fn paste(
    job: &str,
    board: &str,
    picture: Picture,
    rows: &str,
    facts: &FactDictionary,
) -> Result<Pasted, Mistakes> {
    let file = JobFile::read(job)?;
    let house = match picture {
        Picture::Before => &file.job.before,
        Picture::After => &file.job.after,
    };
    let wrong = |found: String, expected: &str| Refused::new(found, expected).into_mistakes("");
    let Some(of_board) = house.boards.get(board) else {
        let names: Vec<&str> = house.boards.keys().map(|b| b.as_str()).collect();
        let what = format!("one of: {}", names.join(", "));
        return Err(wrong(
            format!("there is no board `{board}` in this picture"),
            &what,
        ));
    };
    let grid = grid::read(rows);
    let Some((header, below)) = grid.split_first() else {
        return Err(wrong(
            "no rows".into(),
            "a header line, then a row for each circuit",
        ));
    };
    let columns: Vec<Option<Column>> = header.iter().map(|word| Column::of(word)).collect();
    let has = |column| columns.contains(&Some(column));
    if !has(Column::Serves) && !has(Column::Spaces) {
        return Err(wrong(
            format!(
                "no column of the header says what a circuit serves or its space: {}",
                header.join(", ")
            ),
            "a header such as `space, serves, amps, poles, wire, protection, rooms`",
        ));
    }
    if below.len() > MOST_ROWS {
        return Err(wrong(
            format!("{} rows", below.len()),
            "at most 400 circuits",
        ));
    }
    let mut reader = Reader {
        house,
        board,
        numbering: of_board.numbering,
        words: choices(facts),
        header,
        columns: &columns,
        rows: Vec::new(),
    };
    for (n, cells) in below.iter().enumerate() {
        if cells.iter().any(|c| !c.is_empty()) {
            reader.row(n + 2, cells);
        }
    }
    let rows = reader.rows;
    let unknown = header.iter().zip(&columns).filter(|(_, c)| c.is_none());
    let ignored = unknown
        .map(|(word, _)| word.clone())
        .filter(|w| !w.is_empty())
        .collect();
    let edited = match rows.iter().all(|r| r.mistakes.is_empty()) && !rows.is_empty() {
        true => Some(
            apply(job, &edits(&rows, picture, board), &|_| None)?
                .text()
                .to_owned(),
        ),
        false => None,
    };
    Ok(Pasted {
        rows,
        ignored,
        job: edited,
    })
}

fn edits(rows: &[PastedRow], picture: Picture, board: &str) -> Vec<Edit> {
    let one = |row: &PastedRow| {
        let mut circuit = Map::new();
        circuit.insert("board".to_owned(), json!(board));
        for column in Column::ALL {
            if let Some(value) = row.fields.get(column.field()) {
                circuit.insert(column.field().to_owned(), said(picture, column, value));
            }
        }
        Edit::Set {
            at: vec![
                picture.word().to_owned(),
                "circuits".to_owned(),
                row.id.clone(),
            ],
            to: Value::Object(circuit),
        }
    };
    rows.iter().map(one).collect()
}

/// What is not there yet is planned, and nobody has seen it.
fn said(picture: Picture, column: Column, value: &Value) -> Value {
    match picture {
        Picture::After if column.is_fact() && value != "unknown" => {
            json!({ "is": value, "by": "planned" })
        }
        _ => value.clone(),
    }
}

struct Reader<'a> {
    house: &'a House,
    board: &'a str,
    numbering: Numbering,
    words: Choices,
    header: &'a [String],
    columns: &'a [Option<Column>],
    rows: Vec<PastedRow>,
}

impl Reader<'_> {
    fn row(&mut self, row: usize, cells: &[String]) {
        let mut fields = BTreeMap::new();
        let mut mistakes = Vec::new();
        for ((column, word), cell) in self.columns.iter().zip(self.header).zip(cells) {
            let (Some(column), false) = (column, cell.is_empty()) else {
                continue;
            };
            match column.read(cell, &self.words) {
                Ok(values) => {
                    for (field, value) in values {
                        fields.entry(field.to_owned()).or_insert(value);
                    }
                }
                Err(Bad { found, expected }) => mistakes.push(CellMistake {
                    column: word.clone(),
                    found,
                    expected,
                }),
            }
        }
        if cells.len() > self.columns.len() {
            mistakes.push(CellMistake {
                column: String::new(),
                found: format!("{} cells", cells.len()),
                expected: format!("{} cells, as the header has", self.columns.len()),
            });
        }
        self.both_spaces(&mut fields);
        self.taken(&fields, &mut mistakes);
        let words = fields.get("serves").and_then(Value::as_str).unwrap_or("");
        let space = fields
            .get("spaces")
            .and_then(|s| s.get(0))
            .and_then(Value::as_str);
        let otherwise = space.map_or_else(|| "circuit".to_owned(), |s| format!("space-{s}"));
        let id = slug::unique(&slug::of(words, &otherwise), |id| {
            self.house.circuits.contains_key(id) || self.rows.iter().any(|r| r.id == id)
        });
        self.rows.push(PastedRow {
            row,
            id,
            fields,
            mistakes,
        });
    }

    /// A list names a breaker of two or three poles by its first space; the others follow below it.
    fn both_spaces(&self, fields: &mut BTreeMap<String, Value>) {
        let poles = fields.get("poles").and_then(Value::as_u64).unwrap_or(1);
        let step = match self.numbering {
            Numbering::Across => 2,
            Numbering::Down => 1,
        };
        let first = match fields
            .get("spaces")
            .and_then(Value::as_array)
            .map(Vec::as_slice)
        {
            Some([only]) if poles > 1 => only.as_str().and_then(|s| s.parse::<u64>().ok()),
            _ => None,
        };
        if let Some(first) = first {
            let all = (0..poles).map(|n| json!((first + n * step).to_string()));
            fields.insert("spaces".to_owned(), Value::Array(all.collect()));
        }
    }

    /// Spaces that another circuit of the board has already.
    fn taken(&self, fields: &BTreeMap<String, Value>, mistakes: &mut Vec<CellMistake>) {
        let spaces = fields.get("spaces").and_then(Value::as_array);
        for space in spaces.into_iter().flatten().filter_map(Value::as_str) {
            let of_house = self.house.circuits.iter().find(|(_, c)| {
                c.board == self.board
                    && c.spaces
                        .known()
                        .is_some_and(|s| s.iter().any(|s| s == space))
            });
            let of_rows = self.rows.iter().find(|r| {
                let theirs = r.fields.get("spaces").and_then(Value::as_array);
                theirs.is_some_and(|s| s.iter().any(|s| s == space))
            });
            let by = of_house
                .map(|(id, _)| id.to_string())
                .or_else(|| of_rows.map(|r| r.id.clone()));
            if let Some(by) = by {
                mistakes.push(CellMistake {
                    column: "spaces".to_owned(),
                    found: format!("space {space} is taken by `{by}`"),
                    expected: "a space of its own".to_owned(),
                });
            }
        }
    }
}
