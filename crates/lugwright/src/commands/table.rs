//! `table`: what does a table of the rulebook say, in which editions, and how far was it checked?
//! Source: the data files as the program carries them, units in their headers.

use model::Edition;
use model::nearest::advice;
use rulebook::data;
use rulebook::tables::Tables;
use serde_json::{Map, Value, json};

use crate::Answer;
use crate::args::Format;
use crate::page::{Page, columns};
use crate::problem::Failure;

const FOLDER: &str = "tables/";

/// One table, or the list of them.
pub(crate) fn run(
    name: Option<&str>,
    edition: Option<Edition>,
    format: Format,
) -> Result<Answer, Failure> {
    let Some(name) = name else {
        return Ok(list(format));
    };
    let text = data::under(FOLDER)
        .find(|(path, _)| stem(path) == Some(name))
        .map(|(_, text)| text)
        .ok_or_else(|| {
            let what = advice(name, names(), "`lugwright table` lists them");
            Failure::new(format!("there is no table `{name}`"), what)
        })?;
    let (header, rows) = read(text, edition)?;
    Ok(match format {
        Format::Json => Answer::json(&as_json(name, edition, &header, &rows)),
        Format::Text => Answer::plain(as_text(name, edition, &header, &rows)),
    })
}

fn names() -> impl Iterator<Item = &'static str> {
    data::under(FOLDER).filter_map(|(path, _)| stem(path))
}

fn stem(path: &str) -> Option<&str> {
    path.strip_prefix(FOLDER)?.strip_suffix(".csv")
}

fn list(format: Format) -> Answer {
    if format == Format::Json {
        let names: Vec<&str> = names().collect();
        return Answer::json(&json!({ "format": 1, "command": "table", "tables": names }));
    }
    let mut page = Page::new();
    page.line("Tables of the rulebook; `lugwright table NAME` shows one.");
    for name in names() {
        page.line(&format!("  {name}"));
    }
    Answer::plain(page.finish())
}

type Rows = Vec<Vec<String>>;

fn read(text: &str, edition: Option<Edition>) -> Result<(Vec<String>, Rows), Failure> {
    let broken = |e: csv::Error| {
        Failure::new(
            format!("the table is broken: {e}"),
            "run `lugwright validate`",
        )
    };
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header: Vec<String> = reader
        .headers()
        .map_err(broken)?
        .iter()
        .map(str::to_owned)
        .collect();
    let at = header.iter().position(|h| h == "editions");
    let mut rows = Vec::new();
    for record in reader.records() {
        let row: Vec<String> = record.map_err(broken)?.iter().map(str::to_owned).collect();
        let holds = match (edition, at.and_then(|i| row.get(i))) {
            (Some(edition), Some(editions)) => Tables::row_holds_in(editions, edition),
            _ => true,
        };
        if holds {
            rows.push(row);
        }
    }
    Ok((header, rows))
}

fn as_text(name: &str, edition: Option<Edition>, header: &[String], rows: &Rows) -> String {
    let mut page = Page::new();
    page.heading(&match edition {
        Some(edition) => format!("Table {name}, edition {edition}"),
        None => format!("Table {name}, all editions"),
    });
    // The source is long and often the same: it is noted by letter below the rows.
    let source = header.iter().position(|h| h == "source");
    let mut sources: Vec<&str> = Vec::new();
    let mut shown: Rows = Vec::new();
    for row in rows {
        let mut cells = row.clone();
        if let (Some(i), Some(text)) = (source, source.and_then(|i| row.get(i))) {
            let number = sources.iter().position(|s| s == text).unwrap_or_else(|| {
                sources.push(text);
                sources.len() - 1
            });
            cells[i] = format!("[{}]", number + 1);
        }
        shown.push(cells);
    }
    let header: Vec<&str> = header.iter().map(String::as_str).collect();
    columns(&mut page, "", &header, &shown);
    page.gap();
    for (i, source) in sources.iter().enumerate() {
        page.paragraph(&format!("[{}] ", i + 1), source);
    }
    page.line("An empty value with `not found` was looked for and not confirmed: look it up in the adopted code.");
    page.finish()
}

fn as_json(name: &str, edition: Option<Edition>, header: &[String], rows: &Rows) -> Value {
    let rows: Vec<Value> = rows
        .iter()
        .map(|row| {
            let cells = header.iter().cloned().zip(row.iter().map(|c| json!(c)));
            Value::Object(cells.collect::<Map<_, _>>())
        })
        .collect();
    json!({ "format": 1, "command": "table", "table": name, "edition": edition, "rows": rows })
}
