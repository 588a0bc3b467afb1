//! The papers of a job as downloads: the same as `lugwright papers` prints, one at a time.
//! Options, as texts: `language` (en, es), `size` (letter, a4), `date` (2026-11-25), `customer` (true: only what the customer may see).

use std::path::Path;

use ::papers::{Language, Material, Paper, Press, Setting, Size};
use model::{Date, JobFile};
use rulebook::Library;
use serde_json::Value;
use shop::Book;

use crate::commands::{book, decisions, library, papers::today, setting};
use crate::problem::Failure;

/// What every paper is printed with, read once.
pub(super) struct Printer {
    library: Library,
    prices: Book,
    press: Press,
}

/// What is asked of a paper.
struct Wish {
    setting: Setting,
    for_customer: bool,
}

impl Printer {
    /// # Errors
    /// When something that the program carries cannot be read.
    pub(super) fn new() -> Result<Self, Failure> {
        Ok(Self {
            library: library::for_jobs()?,
            prices: book::open(None)?,
            press: Press::new([]).map_err(|why| Failure::new(why.to_string(), why.advice()))?,
        })
    }

    /// The paper of this name; `None` when there is none.
    pub(super) fn print(
        &self,
        name: &str,
        text: &str,
        options: &Value,
    ) -> Result<Option<server::Paper>, Value> {
        let Some(paper) = Paper::named(name) else {
            return Ok(None);
        };
        self.printed(paper, text, options)
            .map(Some)
            .map_err(|failure| failure.json())
    }

    fn printed(&self, paper: Paper, text: &str, options: &Value) -> Result<server::Paper, Failure> {
        let wish = wish(options)?;
        if wish.for_customer && paper == Paper::Cost {
            return Err(Failure::new(
                "the cost sheet is not for the customer",
                "ask for the proposal, or leave `customer` out",
            ));
        }
        // The mistakes of a job that lies in the store name no file.
        let nowhere = Path::new("");
        let file = JobFile::read(text).map_err(|mistakes| Failure::of_job("", &mistakes))?;
        let mut notices = Vec::new();
        setting::state(nowhere, &file, &self.library, &mut notices)?;
        // Amendments are files beside a job file, and there is none here.
        for name in &file.job.place.amendments {
            notices.push(format!(
                "Amendment NOT applied: `{name}` is a file beside the job file; this paper is without it."
            ));
        }
        let rules = setting::bind(&self.library, &file, &[])?;
        setting::stated(&file, rules.facts(), nowhere)?;
        decisions::offered(&file, nowhere, &self.prices)?;
        let report = engine::check(&file.job, &rules);
        let material = Material::gather(&report, &self.prices, text, &notices, wish.setting)
            .map_err(|missing| Failure::new(missing.to_string(), "add its line to labour.csv"))?;
        let printed = ::papers::print(paper, &material, &self.press)
            .map_err(|why| Failure::new(why.to_string(), why.advice()))?;
        Ok(server::Paper {
            bytes: printed.pdf,
            content_type: "application/pdf",
            file_name: format!("{}-{}", stem(&file.job.title), printed.file),
        })
    }
}

fn wish(options: &Value) -> Result<Wish, Failure> {
    let mut wish = Wish {
        setting: Setting {
            language: Language::English,
            size: Size::Letter,
            date: today(),
        },
        for_customer: false,
    };
    for (name, value) in options.as_object().into_iter().flatten() {
        let value = value.as_str().unwrap_or_default();
        let wrong = |expected: &str| {
            Failure::new(
                format!("`{name}` is `{value}`"),
                format!("say {expected}, or leave `{name}` out"),
            )
        };
        match (name.as_str(), value) {
            ("language", "en") => wish.setting.language = Language::English,
            ("language", "es") => wish.setting.language = Language::Spanish,
            ("language", _) => return Err(wrong("`en` or `es`")),
            ("size", "letter") => wish.setting.size = Size::Letter,
            ("size", "a4") => wish.setting.size = Size::A4,
            ("size", _) => return Err(wrong("`letter` or `a4`")),
            ("date", day) => {
                wish.setting.date = day
                    .parse::<Date>()
                    .map_err(|_| wrong("a day as 2026-11-25"))?;
            }
            ("customer", "true") => wish.for_customer = true,
            ("customer", "false") => wish.for_customer = false,
            ("customer", _) => return Err(wrong("`true` or `false`")),
            _ => {
                return Err(Failure::new(
                    format!("a paper has no option `{name}`"),
                    "options of a paper: language, size, date, customer",
                ));
            }
        }
    }
    Ok(wish)
}

/// The title in a few words that a file can be named by.
fn stem(title: &str) -> String {
    let words: Vec<String> = title
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
        .take(4)
        .map(str::to_ascii_lowercase)
        .collect();
    words.join("-")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    const JOB: &str = include_str!("../../../../../examples/swap-clean.toml");

    #[test]
    fn a_paper_is_a_pdf_named_by_its_job() {
        let printer = Printer::new().unwrap();
        let options = json!({ "size": "a4", "date": "2026-11-25" });
        let paper = printer.print("directory", JOB, &options).unwrap().unwrap();
        assert!(paper.bytes.starts_with(b"%PDF-"));
        assert_eq!(
            paper.file_name,
            "laundry-room-subpanel-replaced-directory.pdf"
        );
        assert!(printer.print("menu", JOB, &json!({})).unwrap().is_none());
    }

    #[test]
    fn what_a_paper_cannot_be_is_said() {
        let printer = Printer::new().unwrap();
        for (name, options, found) in [
            (
                "cost",
                json!({ "customer": "true" }),
                "not for the customer",
            ),
            ("crew", json!({ "language": "it" }), "`it`"),
            ("crew", json!({ "date": "tomorrow" }), "`tomorrow`"),
            ("crew", json!({ "colour": "red" }), "`colour`"),
        ] {
            let wrong = printer.print(name, JOB, &options).unwrap_err();
            let text = wrong["mistakes"][0]["found"].as_str().unwrap();
            assert!(text.contains(found), "{text}");
        }
        let wrong = printer.print("crew", "format = 1", &json!({})).unwrap_err();
        assert_eq!(wrong["command"], "error");
    }
}
