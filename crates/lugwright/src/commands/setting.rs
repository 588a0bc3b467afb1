//! Which rulebook binds the job: the built-in library, one edition, and the amendments that the job and the command line name.
//! What was taken differently from the job file is said in notices, which every report prints first.

use std::path::{Component, Path};

use model::{JobFile, Mistakes};
use rulebook::{Amendment, FactDictionary, Library, Rulebook, Standing};

use super::adoption::confidence;
use super::library::{amendment, for_jobs};
use crate::args::JobArgs;
use crate::problem::Failure;
use crate::reading;

/// A job with the rulebook that binds it.
pub(crate) struct Setting {
    /// The job as read; its edition is the one asked for.
    pub(crate) file: JobFile,
    /// The rulebook of that edition, as amended.
    pub(crate) book: Rulebook,
    /// What the reader must know before reading on.
    pub(crate) notices: Vec<String>,
    /// The library and the amendments that were laid on it, for looking at the job under another edition.
    pub(crate) library: Library,
    pub(crate) amendments: Vec<Amendment>,
}

/// Reads a job and binds it.
pub(crate) fn open(of: &JobArgs) -> Result<Setting, Failure> {
    let mut file = reading::job(&of.job)?;
    let library = for_jobs()?;
    let mut notices = Vec::new();
    state(&of.job, &file, &library, &mut notices)?;
    if let Some(edition) = of.edition.filter(|e| *e != file.job.place.edition) {
        notices.push(format!(
            "LOOKED AT UNDER EDITION {edition} because the command line says so; the job says {}.",
            file.job.place.edition
        ));
        file.job.place.edition = edition;
    }
    let amendments = amendments(of, &file, &library)?;
    let book = bind(&library, &file, &amendments)?;
    stated(&file, book.facts(), &of.job)?;
    for standing in book.amendments() {
        notices.push(sentence(&standing.title, standing.standing));
    }
    Ok(Setting {
        file,
        book,
        notices,
        library,
        amendments,
    })
}

/// Facts that the job file states by name: are they in the dictionary, and do their values suit?
pub(crate) fn stated(file: &JobFile, facts: &FactDictionary, path: &Path) -> Result<(), Failure> {
    let mistakes = engine::facts::check_stated(file, facts);
    if mistakes.is_empty() {
        return Ok(());
    }
    let mistakes = Mistakes::new(mistakes, file.text());
    Err(Failure::of_job(&reading::name(path), &mistakes))
}

/// The library bound to the job's edition and permit date.
pub(crate) fn bind(
    library: &Library,
    file: &JobFile,
    amendments: &[Amendment],
) -> Result<Rulebook, Failure> {
    let place = &file.job.place;
    library
        .rulebook(place.edition, amendments, place.permit_date)
        .map_err(|errors| Failure::of_data(&errors, |_| None))
}

/// Amendment files: those of the job, in its folder or below, then those of the command line.
fn amendments(of: &JobArgs, file: &JobFile, library: &Library) -> Result<Vec<Amendment>, Failure> {
    let beside = of.job.parent().unwrap_or(Path::new(""));
    let mut paths = Vec::new();
    for name in &file.job.place.amendments {
        let inside = |c: Component<'_>| matches!(c, Component::Normal(_) | Component::CurDir);
        if !Path::new(name).components().all(inside) {
            let found = format!("`{name}` leaves the folder of the job file");
            let expected = "a file beside the job file or below it".to_owned();
            let mistake = file.mistake_at(&["place", "amendments"], found, expected);
            let mistakes = mistake.alone(file.text());
            return Err(Failure::of_job(&reading::name(&of.job), &mistakes));
        }
        paths.push(beside.join(name));
    }
    paths.extend(of.amendment.iter().cloned());
    paths.iter().map(|path| amendment(path, library)).collect()
}

/// An unknown state is a mistake; one whose published edition differs is worth a notice.
pub(crate) fn state(
    path: &Path,
    file: &JobFile,
    library: &Library,
    notices: &mut Vec<String>,
) -> Result<(), Failure> {
    let place = &file.job.place;
    let adoption = library.adoption();
    let state = adoption.state(&place.state).map_err(|unknown| {
        let found = format!("`{}` is not a state", unknown.found);
        let expected = format!("two capital letters; {}", unknown.help);
        let mistake = file.mistake_at(&["place", "state"], found, expected);
        Failure::of_job(&reading::name(path), &mistake.alone(file.text()))
    })?;
    match state.edition {
        Some(edition) if edition != place.edition => notices.push(format!(
            "The job says edition {}; published lists give {edition} for {} ({}, confidence {}). Ask the permit office which one is in force.",
            place.edition, state.name, state.scope, confidence(state)
        )),
        _ => {}
    }
    Ok(())
}

fn sentence(title: &str, standing: Standing) -> String {
    match standing {
        Standing::InForce => format!("Amendment in force and applied: {title}."),
        Standing::OtherEdition => {
            format!("Amendment NOT applied: {title} was written on another edition.")
        }
        Standing::NotYet { from } => {
            format!(
                "Amendment NOT applied: {title} is in force from {from} only, after the permit."
            )
        }
        Standing::Over { to } => {
            format!("Amendment NOT applied: {title} was in force until {to}, before the permit.")
        }
        Standing::DateUnknown => format!(
            "Amendment NOT applied: nobody can tell whether {title} is in force, because the job has no `permit_date`."
        ),
    }
}
