//! `papers`: the papers of a job as PDF files in a folder.

use std::path::Path;
use std::time::SystemTime;

use model::Date;
use papers::{Language, Material, Paper, Press, Printed, Setting};
use serde_json::json;

use super::setting::open;
use super::{book, decisions};
use crate::Answer;
use crate::args::{Format, PaperLanguage, PapersArgs, SheetSize};
use crate::page::{Page, columns};
use crate::problem::Failure;
use crate::reading;
use crate::report::{cautions, head};

/// Largest template file, in bytes.
const LARGEST_TEMPLATE: usize = 1_000_000;

/// Prints and writes them.
pub(crate) fn run(args: &PapersArgs, format: Format) -> Result<Answer, Failure> {
    let of = &args.of;
    let job = open(of)?;
    let prices = book::open(args.book.as_deref())?;
    decisions::offer_is_sound(&job, of, &prices)?;
    let press = press(args.templates.as_deref())?;
    let report = engine::check(&job.file.job, &job.book);
    let setting = |language| Setting {
        language,
        size: match args.size {
            SheetSize::Letter => papers::Size::Letter,
            SheetSize::A4 => papers::Size::A4,
        },
        date: args.date.unwrap_or_else(today),
    };
    let first = match args.language {
        Some(PaperLanguage::Es) => Language::Spanish,
        Some(PaperLanguage::En) | None => Language::English,
    };
    let text = job.file.text();
    let gathered = Material::gather(&report, &prices, text, &job.notices, setting(first));
    let material = gathered
        .map_err(|missing| Failure::new(missing.to_string(), "add its line to labour.csv"))?;
    let wanted = wanted(args)?;
    let mut all = papers::set(&wanted, &material, &press);
    // The crew may read either language.
    if args.language.is_none() && wanted.contains(&Paper::Crew) {
        let material = material.printed_as(setting(Language::Spanish));
        all.push((Paper::Crew, papers::print(Paper::Crew, &material, &press)));
    }
    std::fs::create_dir_all(&args.out).map_err(|e| cannot_write(&args.out, &e))?;
    let (mut printed, mut refused) = (Vec::new(), Vec::new());
    for (_, result) in all {
        match result {
            Ok(paper) => {
                write(&args.out, &paper)?;
                printed.push(paper);
            }
            Err(why) => refused.push(why),
        }
    }
    if !refused.is_empty() {
        return Err(refusal(&refused, &printed, &args.out));
    }
    Ok(Answer::plain(match format {
        Format::Json => {
            let each = printed.iter().map(|p| {
                json!({ "file": p.file, "pages": p.pages, "bytes": p.pdf.len(), "warnings": p.warnings })
            });
            let files: Vec<_> = each.collect();
            let body = answers::Cautioned::new(json!({ "papers": files }));
            let (of, book) = (&job.file.job, &job.book);
            answers::pretty(&answers::Answer::new(
                "papers",
                of,
                book,
                &job.notices,
                body,
            ))
        }
        Format::Text => {
            let mut page = Page::new();
            head::write(&mut page, &job.file.job, &job.book, &job.notices);
            page.heading(&format!("Papers in {}", reading::name(&args.out)));
            let rows: Vec<Vec<String>> = printed
                .iter()
                .map(|p| vec![p.file.clone(), p.pages.to_string()])
                .collect();
            columns(&mut page, "", &["file", "pages"], &rows);
            for (paper, warning) in printed
                .iter()
                .flat_map(|p| p.warnings.iter().map(move |w| (p, w)))
            {
                page.paragraph("NOTE     ", &format!("{}: {warning}", paper.file));
            }
            cautions::write(&mut page);
            page.finish()
        }
    }))
}

fn wanted(args: &PapersArgs) -> Result<Vec<Paper>, Failure> {
    if args.paper.is_empty() {
        return Ok(Paper::ALL.to_vec());
    }
    let named = |name: &String| {
        Paper::named(name).ok_or_else(|| {
            let names = || Paper::ALL.iter().map(|p| p.name());
            let otherwise = format!("papers: {}", model::nearest::list(names()));
            Failure::new(
                format!("there is no paper `{name}`"),
                model::nearest::advice(name, names(), &otherwise),
            )
        })
    };
    args.paper.iter().map(named).collect()
}

/// The built-in templates, with the files of a folder laid over them.
fn press(folder: Option<&Path>) -> Result<Press, Failure> {
    let mut files = Vec::new();
    if let Some(folder) = folder {
        let advice = "name the folder that holds your templates";
        let cannot = |e: std::io::Error| {
            let found = format!("cannot open the folder `{}`: {e}", reading::name(folder));
            Failure::new(found, advice)
        };
        let mut names: Vec<String> = std::fs::read_dir(folder)
            .map_err(cannot)?
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .filter(|name| name.ends_with(".typ"))
            .collect();
        names.sort();
        if names.is_empty() {
            let found = format!("no template in the folder `{}`", reading::name(folder));
            return Err(Failure::new(
                found,
                "templates end in .typ; see docs/add-a-paper.md",
            ));
        }
        for name in names {
            let text = reading::text(&folder.join(&name))?;
            if text.len() > LARGEST_TEMPLATE {
                let found = format!("the template `{name}` has {} bytes", text.len());
                let advice = format!("a template has at most {LARGEST_TEMPLATE}");
                return Err(Failure::new(found, advice));
            }
            files.push((name, text));
        }
    }
    let own = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()));
    Press::new(own).map_err(|why| Failure::new(why.to_string(), why.advice()))
}

/// Writes a file beside its place first, so that an older one is whole until the new one is.
fn write(folder: &Path, paper: &Printed) -> Result<(), Failure> {
    let path = folder.join(&paper.file);
    let part = folder.join(format!("{}.part", paper.file));
    let written = std::fs::write(&part, &paper.pdf).and_then(|()| std::fs::rename(&part, &path));
    written.map_err(|e| {
        let _ = std::fs::remove_file(&part);
        cannot_write(&path, &e)
    })
}

fn cannot_write(path: &Path, e: &std::io::Error) -> Failure {
    Failure::new(
        format!("cannot write `{}`: {e}", reading::name(path)),
        "name a folder that can be written",
    )
}

fn refusal(refused: &[papers::Problem], printed: &[Printed], out: &Path) -> Failure {
    let mut all: Vec<crate::problem::Problem> = Vec::new();
    for why in refused {
        let one = Failure::new(why.to_string(), why.advice());
        all.extend(one.0);
    }
    if !printed.is_empty() {
        let names: Vec<&str> = printed.iter().map(|p| p.file.as_str()).collect();
        let found = format!(
            "the others are written to {}: {}",
            reading::name(out),
            names.join(", ")
        );
        all.extend(Failure::new(found, "print the refused ones again when they are mended").0);
    }
    Failure(all)
}

/// Today by the clock of the machine, in universal time.
pub(super) fn today() -> Date {
    let seconds = SystemTime::now()
        .duration_since(SystemTime::UNIX_EPOCH)
        .map_or(0, |d| d.as_secs());
    Date::of_day(seconds / 86_400)
}
