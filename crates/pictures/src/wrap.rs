//! How is a text broken into lines of a drawing? At spaces, inside a word only where the word alone is too long.
//! Widths are the estimates of [`drawing::width_of`], with room for fonts that run wider.

/// How much wider than estimated some fonts run.
const WIDER: f64 = 1.12;

/// At most `most` lines no wider than `room`; the last ends with an ellipsis when more is left.
pub(crate) fn wrapped(text: &str, size: f64, room: f64, most: usize) -> Vec<String> {
    let room = (room / WIDER).max(size * 2.0);
    let fits = |line: &str| drawing::width_of(line, size) <= room;
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let joined = match lines.last() {
            Some(last) if last.is_empty() => word.to_owned(),
            Some(last) => format!("{last} {word}"),
            None => word.to_owned(),
        };
        if fits(&joined) {
            lines.pop();
            lines.push(joined);
            continue;
        }
        let mut piece = String::new();
        for c in word.chars() {
            piece.push(c);
            if !fits(&piece) {
                piece.pop();
                lines.push(std::mem::take(&mut piece));
                piece.push(c);
            }
        }
        lines.push(piece);
        // Nobody reads more, and a name may be very long.
        if lines.len() > most + 2 {
            break;
        }
    }
    lines.retain(|l| !l.is_empty());
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            *last = drawing::fitted(&format!("{last} \u{2026}"), size, room);
            if !last.ends_with('\u{2026}') {
                last.push('\u{2026}');
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_room_and_no_word_is_lost() {
        let text = "a feeder to the workshop with wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww in it";
        let lines = wrapped(text, 10.0, 100.0, 50);
        assert!(lines.iter().all(|l| drawing::width_of(l, 10.0) <= 100.0));
        let plain = |t: &str| t.replace(' ', "");
        assert_eq!(plain(&lines.concat()), plain(text));
    }

    #[test]
    fn what_is_left_out_is_marked() {
        let lines = wrapped(&"word ".repeat(100), 10.0, 100.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].ends_with('\u{2026}'));
    }
}
