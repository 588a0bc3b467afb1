//! Names for things of the job, made from the words that people have for them.
//! Source: `model::id`: letters, digits, `-` and `_`, at most 40 characters.

use model::id::LONGEST_ID;

/// As long as a made name gets before a number or a word is put behind it.
const LONG_ENOUGH: usize = 28;

/// A name from words; `otherwise` when no letter or digit is in them.
pub(crate) fn of(words: &str, otherwise: &str) -> String {
    let fine = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let mut name = String::new();
    for part in words.split(|c: char| !fine(c)).filter(|p| !p.is_empty()) {
        let joint = usize::from(!name.is_empty());
        if !name.is_empty() && name.len() + joint + part.len() > LONG_ENOUGH {
            break;
        }
        if joint > 0 {
            name.push('-');
        }
        name.extend(part.chars().take(LONG_ENOUGH));
    }
    match name.is_empty() {
        true => otherwise.to_owned(),
        false => name,
    }
}

/// So much of a name that a word fits behind it.
pub(crate) fn shortened<'n>(name: &'n str, word: &str) -> &'n str {
    let most = LONGEST_ID.saturating_sub(word.len() + 1);
    name.get(..most).unwrap_or(name)
}

/// The name, with a number behind it when it is taken.
pub(crate) fn unique(name: &str, taken: impl Fn(&str) -> bool) -> String {
    if !taken(name) {
        return name.to_owned();
    }
    let numbered = (2..).map(|n: u32| {
        let number = n.to_string();
        format!("{}-{number}", shortened(name, &number))
    });
    numbered.into_iter().find(|n| !taken(n)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_short_plain_and_each_its_own() {
        assert_eq!(
            of("Bedroom, north-east (2nd)", "x"),
            "Bedroom-north-east-2nd"
        );
        assert_eq!(of("  ¿?  ", "circuit"), "circuit");
        assert!(of(&"long ".repeat(30), "x").len() <= LONG_ENOUGH);
        assert_eq!(of(&"y".repeat(90), "x").len(), LONG_ENOUGH);
        assert_eq!(unique("a", |n| n == "a" || n == "a-2"), "a-3");
    }
}
