//! Rows and cells of a text that came from a spreadsheet: by tabs, semicolons or commas, whichever the header has.
//! Source: RFC 4180 for quotes; spreadsheets put tabs on the clipboard.

/// Cells of every line, trimmed; lines that are blank stay, so that rows keep their numbers.
pub(super) fn read(text: &str) -> Vec<Vec<String>> {
    let text = text.trim_start_matches(['\u{feff}', '\n', '\r']).trim_end();
    if text.is_empty() {
        return Vec::new();
    }
    let header = text.lines().next().unwrap_or("");
    let separator = ['\t', ';', ','].into_iter().find(|s| header.contains(*s));
    let mut rows = Vec::new();
    let mut cells = Vec::new();
    let mut cell = String::new();
    let mut quoted = false;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '"' if quoted && rest.peek() == Some(&'"') => {
                rest.next();
                cell.push('"');
            }
            '"' if quoted || cell.trim().is_empty() => quoted = !quoted,
            '\n' if !quoted => {
                cells.push(finished(&mut cell));
                rows.push(std::mem::take(&mut cells));
            }
            c if Some(c) == separator && !quoted => cells.push(finished(&mut cell)),
            c => cell.push(c),
        }
    }
    cells.push(finished(&mut cell));
    rows.push(cells);
    rows
}

fn finished(cell: &mut String) -> String {
    let words: Vec<&str> = cell.split_whitespace().collect();
    let text = words.join(" ");
    cell.clear();
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, rows: &[&[&str]]) {
        let found = read(text);
        assert_eq!(found, rows, "{text:?}");
    }

    #[test]
    fn tabs_semicolons_and_commas_part_cells_and_quotes_keep_them() {
        check("a\tb\n1, 2\t3\n", &[&["a", "b"], &["1, 2", "3"]]);
        check("a;b\r\n1,5;\"x;y\"", &[&["a", "b"], &["1,5", "x;y"]]);
        check(
            "a,b\n\"say \"\"hi\"\"\nto all\",2\n\n",
            &[&["a", "b"], &["say \"hi\" to all", "2"]],
        );
        check("alone", &[&["alone"]]);
        check(
            "a,b\n,\n5\" pipe,2",
            &[&["a", "b"], &["", ""], &["5\" pipe", "2"]],
        );
        check(" \n", &[]);
    }
}
