//! The papers of a job, all printed from one value, so that they cannot disagree.
//!
//! - [`Material`]: everything that papers are made of, worked out once: job, report, faces, cut-over, price;
//! - [`Paper`]: which papers there are; each has a module in `sheets` that picks its words and numbers out of the material as a [`Sheet`];
//! - [`Press`]: templates, fonts and typesetting: a sheet goes in, a PDF comes out;
//! - [`print()`]: one paper; [`set`]: all of them;
//! - [`mod@text`]: which characters may stand on paper; [`words`]: the message catalogue; [`directory`]: may this stand on a directory?
//!
//! Templates lay out and never compute; what a user wrote reaches them as data and is never read as template code.

pub mod directory;
mod material;
mod paper;
mod press;
mod problem;
mod sheet;
mod sheets;
mod templates;
pub mod text;
pub mod words;

use std::sync::atomic::{AtomicUsize, Ordering};

pub use material::{Language, Material, Setting, Size};
pub use paper::Paper;
pub use press::{Press, Printed};
pub use problem::Problem;
pub use sheet::Sheet;

/// Prints one paper.
///
/// # Errors
/// When the material contradicts itself, or a template cannot be printed.
pub fn print(paper: Paper, material: &Material<'_>, press: &Press) -> Result<Printed, Problem> {
    let printed = print_one(paper, material, press);
    Press::tidy();
    printed
}

fn print_one(paper: Paper, material: &Material<'_>, press: &Press) -> Result<Printed, Problem> {
    press.print(&sheets::sheet(paper, material)?)
}

/// Prints every paper of a set, in order; the first problem of each.
pub fn set<'m>(
    papers: &'m [Paper],
    material: &'m Material<'m>,
    press: &'m Press,
) -> Vec<(Paper, Result<Printed, Problem>)> {
    // Two papers at a time, the long ones first: the typesetting of one leaves a second core idle.
    let mut order: Vec<usize> = (0..papers.len()).collect();
    order.sort_by_key(|i| std::cmp::Reverse(papers[*i].weight()));
    let (order, next) = (&order, &AtomicUsize::new(0));
    let work = move || -> Vec<(usize, Result<Printed, Problem>)> {
        let mut done = Vec::new();
        while let Some(i) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
            done.push((*i, print_one(papers[*i], material, press)));
        }
        done
    };
    let mut all = std::thread::scope(|threads| {
        let second = threads.spawn(work);
        let mut all = work();
        match second.join() {
            Ok(rest) => all.extend(rest),
            Err(fault) => std::panic::resume_unwind(fault),
        }
        all
    });
    Press::tidy();
    all.sort_by_key(|(i, _)| *i);
    all.into_iter()
        .map(|(i, printed)| (papers[i], printed))
        .collect()
}
