//! Turns the engine's answers into pages of text and into JSON, section by section.

pub(crate) mod cautions;
pub(crate) mod cutover;
pub(crate) mod explain;
pub(crate) mod face;
pub(crate) mod fault;
pub(crate) mod feeders;
pub(crate) mod findings;
pub(crate) mod head;
pub(crate) mod load;
pub(crate) mod price;
pub(crate) mod questions;
pub(crate) mod relocate;
pub(crate) mod scope;
pub(crate) mod sheet;
pub(crate) mod supply;

use engine::check::Report;

use crate::page::Page;

/// Facts that the file states and the pictures contradict. Silent when there are none.
pub(crate) fn disagreements(page: &mut Page, report: &Report<'_>) {
    if report.disagreements().is_empty() {
        return;
    }
    page.heading("Stated facts that the pictures contradict");
    for d in report.disagreements() {
        let facts = report.book.facts();
        page.paragraph(
            "- ",
            &format!(
                "{} of {}: the file states {}, the pictures give {}, which is used",
                facts.name(d.fact),
                d.place,
                answers::whole::told(report, d.fact, d.stated),
                answers::whole::told(report, d.fact, d.derived),
            ),
        );
    }
}

/// The last line: what the exit code says.
pub(crate) fn outcome(page: &mut Page, (missing, failing): (usize, usize), open: usize) {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    let open = match open {
        0 => "no question is open".to_owned(),
        n => count(n, "question is open", "questions are open"),
    };
    page.gap();
    page.paragraph(
        "",
        &match (missing, failing) {
            (0, 0) => format!("Nothing required is missing, as far as can be told; {open}."),
            _ => format!(
                "{} missing, {}; {open}.",
                count(missing, "required thing is", "required things are"),
                count(failing, "calculation fails", "calculations fail"),
            ),
        },
    );
}
