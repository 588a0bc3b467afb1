//! Who feeds whom, and what is wrong with that.

use engine::tree::SupplyTree;

use crate::page::Page;

/// Writes the tree of the house after the work.
pub(crate) fn write(page: &mut Page, tree: &SupplyTree<'_>) {
    page.heading("Supply tree, after the work");
    for line in tree.lines() {
        let start = line.find(|c| c != ' ').unwrap_or(0);
        let (indent, text) = line.split_at(start);
        match text.split_once(": ") {
            Some((name, rest)) => {
                page.paragraph(indent, name);
                page.paragraph(&format!("{indent}   |  "), rest);
            }
            None => page.paragraph(indent, text),
        }
    }
    for problem in &tree.problems {
        page.paragraph("WRONG    ", &problem.to_string());
    }
}
