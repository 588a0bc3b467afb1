//! One line of a comma-separated file as its cells.
//! Form: a cell with a comma or a quote stands in double quotes, a quote inside it is doubled; a record never runs over a line's end.

use std::borrow::Cow;

/// The cells of a line, borrowed from the text wherever they stand there as they are.
pub(crate) struct Record<'t> {
    /// Counted from one, the header being line one.
    pub(crate) line: u64,
    pub(crate) cells: Vec<Cow<'t, str>>,
}

impl Record<'_> {
    /// A cell without surrounding blanks; empty where there is none.
    pub(crate) fn cell(&self, place: usize) -> &str {
        self.cells.get(place).map_or("", |c| c.trim())
    }
}

/// Every line that is not empty, in order; a line with stray quotes is an error that names what is wrong with it.
pub(crate) fn records(text: &str) -> impl Iterator<Item = Result<Record<'_>, (u64, &'static str)>> {
    (1..)
        .zip(text.lines())
        .filter(|(_, text)| !text.trim().is_empty())
        .map(|(line, text)| match split(text) {
            Ok(cells) => Ok(Record { line, cells }),
            Err(what) => Err((line, what)),
        })
}

fn split(mut rest: &str) -> Result<Vec<Cow<'_, str>>, &'static str> {
    let mut cells = Vec::with_capacity(10);
    loop {
        let (cell, after) = match rest.strip_prefix('"') {
            Some(quoted) => quoted_cell(quoted)?,
            None => {
                let end = rest.find(',').unwrap_or(rest.len());
                let (cell, after) = rest.split_at(end);
                (Cow::Borrowed(cell), after)
            }
        };
        cells.push(cell);
        match after.strip_prefix(',') {
            Some(next) => rest = next,
            None if after.is_empty() => return Ok(cells),
            None => return Err("text after a closing quote"),
        }
    }
}

/// The cell up to its closing quote, and what follows it.
fn quoted_cell(text: &str) -> Result<(Cow<'_, str>, &str), &'static str> {
    let mut from = 0;
    loop {
        let Some(quote) = text.get(from..).and_then(|t| t.find('"')).map(|i| from + i) else {
            return Err("a quote that is not closed");
        };
        let after = text.get(quote + 1..).unwrap_or_default();
        if after.starts_with('"') {
            from = quote + 2;
            continue;
        }
        let cell = text.get(..quote).unwrap_or_default();
        let cell = match from {
            0 => Cow::Borrowed(cell),
            _ => Cow::Owned(cell.replace("\"\"", "\"")),
        };
        return Ok((cell, after));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: Result<&[&str], &str>) {
        let got = split(text);
        let got = got
            .as_ref()
            .map(|cells| cells.iter().map(AsRef::as_ref).collect::<Vec<_>>());
        assert_eq!(
            got.map_err(|e| *e),
            expected.map(<[&str]>::to_vec),
            "{text}"
        );
    }

    #[test]
    fn a_comma_in_quotes_belongs_to_the_cell() {
        check("a,\"b, c\",d", Ok(&["a", "b, c", "d"]));
        check("\"a \"\"b\"\"\",", Ok(&["a \"b\"", ""]));
        check("", Ok(&[""]));
    }

    #[test]
    fn stray_quotes_are_refused() {
        check("\"a,b", Err("a quote that is not closed"));
        check("\"a\"b,c", Err("text after a closing quote"));
    }

    proptest::proptest! {
        #[test]
        fn any_cells_read_back_as_they_were_written(
            cells in proptest::collection::vec("[^\r\n]*", 1..6)
        ) {
            let line: Vec<String> =
                cells.iter().map(|c| format!("\"{}\"", c.replace('"', "\"\""))).collect();
            let line = line.join(",");
            proptest::prop_assert_eq!(split(&line).unwrap(), cells);
        }

        #[test]
        fn no_text_panics(text in ".*") {
            proptest::prop_assert!(records(&text).count() <= text.len());
        }
    }
}
