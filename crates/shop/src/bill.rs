//! What is one remedy, option or allowance made of: so many of these parts, so many of these tasks?
//! Form in a cell: `ground-rod x 2; rod-clamp x 2`; one of a thing needs no `x`. Counts of parts and of labour units.

use crate::amount::Count;
use crate::reader::{Row, hundredths};

/// Most things on one line of a table.
const MOST: usize = 20;

/// So many of a thing, by its name in the book.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Counted {
    /// Name of the part or task.
    pub item: String,
    /// How many.
    pub count: Count,
}

/// Reads a cell; an empty one is nothing.
pub(crate) fn read(row: &mut Row<'_>, column: &str) -> Option<Vec<Counted>> {
    let text = row.text(column).to_owned();
    let mut all = Vec::new();
    for part in text.split(';').map(str::trim).filter(|p| !p.is_empty()) {
        let (item, count) = part.split_once(" x ").unwrap_or((part, "1"));
        let count = hundredths(count.trim()).filter(|n| (1..=1_000_000).contains(n));
        let Some(count) = count else {
            let expected = "`name` or `name x 2`, things parted by `;`";
            row.wrong(column, format!("`{part}`"), expected, "correct the count");
            return None;
        };
        all.push(Counted {
            item: item.trim().to_owned(),
            count: Count::from_hundredths(count),
        });
    }
    if all.len() > MOST {
        let expected = format!("at most {MOST}");
        row.wrong(
            column,
            format!("{} things", all.len()),
            expected,
            "shorten the list",
        );
        return None;
    }
    Some(all)
}
