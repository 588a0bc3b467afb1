//! A page of plain text: headings, paragraphs and columns, at most 100 characters wide, without colour.

use std::fmt::Write;

/// Widest line, in characters.
pub(crate) const WIDTH: usize = 100;

/// Text as it grows.
#[derive(Default)]
pub(crate) struct Page(String);

impl Page {
    /// An empty page.
    pub(crate) fn new() -> Self {
        Self::default()
    }

    /// A section heading, underlined, with an empty line before it.
    pub(crate) fn heading(&mut self, text: &str) {
        if !self.0.is_empty() {
            self.0.push('\n');
        }
        self.paragraph("", text);
        let length = text.chars().count().min(WIDTH);
        let _ = writeln!(self.0, "{}", "=".repeat(length));
    }

    /// A smaller heading.
    pub(crate) fn subheading(&mut self, text: &str) {
        self.0.push('\n');
        self.paragraph("", text);
        let length = text.chars().count().min(WIDTH);
        let _ = writeln!(self.0, "{}", "-".repeat(length));
    }

    /// A line as it is.
    pub(crate) fn line(&mut self, text: &str) {
        self.0.push_str(text.trim_end());
        self.0.push('\n');
    }

    /// Text wrapped after `lead`; further lines are indented to stand under it.
    pub(crate) fn paragraph(&mut self, lead: &str, text: &str) {
        let indent = lead.chars().count();
        let room = WIDTH.saturating_sub(indent).max(20);
        let lines = wrap(text, room);
        for (i, line) in lines.iter().enumerate() {
            let start = if i == 0 {
                lead.to_owned()
            } else {
                " ".repeat(indent)
            };
            self.line(&format!("{start}{line}"));
        }
    }

    /// Cells in columns of these widths, two spaces apart; a cell that is longer wraps within its column.
    pub(crate) fn fixed(&mut self, cells: &[(&str, usize)]) {
        let widths: Vec<usize> = cells.iter().map(|(_, width)| *width).collect();
        let texts: Vec<String> = cells.iter().map(|(text, _)| (*text).to_owned()).collect();
        row(self, "", &widths, 2, &texts);
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) {
        self.0.push('\n');
    }

    /// The text.
    pub(crate) fn finish(self) -> String {
        self.0
    }
}

/// Breaks a text at spaces into lines of at most `room` characters. A longer word breaks after its hyphens and underscores where it can.
/// Always at least one line. Control characters are replaced, so that a text cannot command a terminal.
pub(crate) fn wrap(text: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut length = 0;
    for word in text.split_whitespace() {
        let whole = word.chars().count() <= room;
        let mut space = usize::from(length > 0);
        for part in word.split_inclusive(|c| !whole && BREAKS.contains(&c)) {
            let letters = part.chars().count();
            if length > 0 && length + space + letters > room {
                lines.push(String::new());
                (length, space) = (0, 0);
            }
            if let Some(line) = lines.last_mut() {
                line.push_str(&" ".repeat(space));
                line.extend(part.chars().map(printable));
                length += space + letters;
            }
            space = 0;
        }
    }
    lines
}

const BREAKS: [char; 2] = ['-', '_'];

fn printable(c: char) -> char {
    if c.is_control() { '\u{fffd}' } else { c }
}

/// Rows under a header. Every column is as wide as it needs; when the page is too narrow, the widest ones give way and their cells wrap.
pub(crate) fn columns(page: &mut Page, indent: &str, header: &[&str], rows: &[Vec<String>]) {
    let header: Vec<String> = header.iter().map(|h| (*h).to_owned()).collect();
    let widest = |i: usize, part: &dyn Fn(&str) -> usize| {
        let cells = rows.iter().filter_map(|r| r.get(i)).map(|c| part(c));
        cells.chain([part(&header[i])]).max().unwrap_or(0)
    };
    let whole = |text: &str| text.chars().count();
    let word = |text: &str| {
        let parts = text.split(' ').flat_map(|w| w.split_inclusive(BREAKS));
        parts.map(|w| w.chars().count()).max().unwrap_or(0)
    };
    let least: Vec<usize> = (0..header.len()).map(|i| widest(i, &word)).collect();
    let mut widths: Vec<usize> = (0..header.len()).map(|i| widest(i, &whole)).collect();
    let room = |gap: usize| {
        let gaps = gap * header.len().saturating_sub(1);
        WIDTH.saturating_sub(indent.chars().count() + gaps)
    };
    let gap = if least.iter().sum::<usize>() > room(2) {
        1
    } else {
        2
    };
    while widths.iter().sum::<usize>() > room(gap) {
        let can_give = (0..widths.len()).filter(|i| widths[*i] > least[*i]);
        match can_give.max_by_key(|i| widths[*i]) {
            Some(i) => widths[i] -= 1,
            None => break,
        }
    }
    if header.iter().any(|h| !h.is_empty()) {
        row(page, indent, &widths, gap, &header);
    }
    for cells in rows {
        row(page, indent, &widths, gap, cells);
    }
}

fn row(page: &mut Page, indent: &str, widths: &[usize], gap: usize, cells: &[String]) {
    let wrapped: Vec<Vec<String>> = widths
        .iter()
        .enumerate()
        .map(|(i, width)| {
            let cell = cells.get(i).map_or("", String::as_str);
            wrap(cell, *width)
        })
        .collect();
    let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
    for line in 0..height {
        let mut text = indent.to_owned();
        for (cell, width) in wrapped.iter().zip(widths) {
            let part = cell.get(line).map_or("", String::as_str);
            text.push_str(part);
            let fill = width.saturating_sub(part.chars().count()) + gap;
            text.push_str(&" ".repeat(fill));
        }
        page.line(&text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, room: usize, expected: &[&str]) {
        assert_eq!(wrap(text, room), expected);
    }

    #[test]
    fn text_breaks_at_spaces_and_a_long_word_stands_alone() {
        check("one two three", 7, &["one two", "three"]);
        check("a verylongword b", 6, &["a", "verylongword", "b"]);
        check("x in-the-box y", 5, &["x in-", "the-", "box y"]);
        check("", 6, &[""]);
    }

    #[test]
    fn a_text_cannot_command_a_terminal() {
        check("a\u{1b}[31m", 20, &["a\u{fffd}[31m"]);
    }

    #[test]
    fn columns_line_up() {
        let mut page = Page::new();
        let rows = [vec!["1".into(), "x".into()], vec!["222".into(), "y".into()]];
        columns(&mut page, " ", &["n", "what"], &rows);
        assert_eq!(page.finish(), " n    what\n 1    x\n 222  y\n");
    }
}
