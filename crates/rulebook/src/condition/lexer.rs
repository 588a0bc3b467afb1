//! Which signs, numbers and names does a condition's text hold?
//! Source: `docs/condition-language.md`. Offsets are bytes of the text.

use super::ConditionError;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Token<'a> {
    Name(&'a str),
    Number(f64),
    Sign(&'static str),
    End,
}

#[derive(Clone, Copy, Debug)]
pub(crate) struct Placed<'a> {
    pub(crate) token: Token<'a>,
    pub(crate) at: usize,
}

/// Longer signs before their beginnings.
const SIGNS: [&str; 12] = [
    "!=", "<=", ">=", "=", "<", ">", "(", ")", "[", "]", ",", "*",
];

/// Cuts the text into tokens, ended by [`Token::End`].
pub(crate) fn tokens(text: &str) -> Result<Vec<Placed<'_>>, ConditionError> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(next) = text[at..].chars().next() {
        let rest = &text[at..];
        let len = if next.is_whitespace() {
            next.len_utf8()
        } else {
            let (token, len) = one(rest).map_err(|(expected, help)| {
                let found = format!("`{}`", rest.chars().take(12).collect::<String>());
                ConditionError::at(text, at, expected, &found, help)
            })?;
            found.push(Placed { token, at });
            len
        };
        at += len;
    }
    found.push(Placed {
        token: Token::End,
        at: text.trim_end().len(),
    });
    Ok(found)
}

fn one(rest: &str) -> Result<(Token<'_>, usize), (&'static str, &'static str)> {
    let first = rest.as_bytes().first().copied().unwrap_or_default();
    if first.is_ascii_alphabetic() || first == b'_' {
        let len = run(rest, |b| {
            b.is_ascii_alphanumeric() || b == b'_' || b == b'.'
        });
        return Ok((Token::Name(&rest[..len]), len));
    }
    if first.is_ascii_digit() || first == b'-' {
        let len = 1 + run(&rest[1..], |b| b.is_ascii_digit() || b == b'.');
        let number = rest[..len].parse().ok().filter(|n: &f64| n.is_finite());
        let number = number.ok_or(("a number", "write digits with at most one decimal point"))?;
        return Ok((Token::Number(number), len));
    }
    SIGNS
        .iter()
        .find(|sign| rest.starts_with(**sign))
        .map(|sign| (Token::Sign(sign), sign.len()))
        .ok_or((
            "a name, a number or one of = != < <= > >= ( ) [ ] , *",
            "remove or replace this character",
        ))
}

fn run(text: &str, belongs: impl Fn(u8) -> bool) -> usize {
    text.bytes().take_while(|b| belongs(*b)).count()
}
