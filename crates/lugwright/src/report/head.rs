//! The first lines of a report: which job, where, under which edition, and how sure all of it is.

use model::Job;
use rulebook::Rulebook;

use crate::page::Page;

/// Writes the head.
pub(crate) fn write(page: &mut Page, job: &Job, book: &Rulebook, notices: &[String]) {
    page.heading(&job.title);
    let place = &job.place;
    if !job.reason.is_empty() {
        page.paragraph("Reason   ", &job.reason);
    }
    let known = [&place.authority, &place.city, &place.state];
    let known: Vec<&str> = known
        .iter()
        .map(|s| s.as_str())
        .filter(|s| !s.is_empty())
        .collect();
    page.paragraph("Place    ", &known.join(", "));
    let permit = match place.permit_date {
        Some(date) => format!("permit application {date}"),
        None => "no permit date given".to_owned(),
    };
    page.paragraph(
        "Rules    ",
        &format!(
            "National Electrical Code, edition {}; {permit}",
            book.edition()
        ),
    );
    page.paragraph(
        "Sure?    ",
        "Values come from published secondary sources or recall, not from the code text. Each carries how far it was checked: \
         2+ sources, 1 source, memory, or not found.",
    );
    for notice in notices {
        page.paragraph("NOTE     ", notice);
    }
}
