//! Which editions does a key such as `2014-2020` mean, and is every edition spoken of exactly once?
//! Source: the five editions. No units.

use model::Edition;
use toml::Spanned;
use toml::de::DeValue;

use crate::reader::{Fields, all_editions};

/// Editions from a first to a last one, `all` for every one, or why the text names none.
fn range(text: &str) -> Result<(Edition, Edition), String> {
    if text == "all" {
        return Ok((Edition::Y2014, Edition::Y2026));
    }
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    let edition = |year: &str| year.parse::<Edition>().map_err(|e| e.to_string());
    let (first, last) = (edition(first)?, edition(last)?);
    if first > last {
        return Err(format!("`{text}` runs backwards"));
    }
    Ok((first, last))
}

/// Reads the keys not asked for yet as edition ranges: one value for each edition, none missing, none twice.
pub(crate) fn by_edition<'a, T: Clone>(
    fields: &mut Fields<'a>,
    read: impl Fn(&mut Fields<'a>, &str, &'a Spanned<DeValue<'a>>) -> Option<T>,
) -> Option<[T; 5]> {
    let start = fields.start();
    let mut values: [Option<T>; 5] = Default::default();
    let mut sound = true;
    for (key, at, value) in fields.remaining() {
        let Ok((first, last)) = range(key).map_err(|found| {
            let expected = format!(
                "editions such as `2014-2020` or `2023`, of {}",
                all_editions()
            );
            fields.fail(at, &expected, &found, "name known editions, oldest first");
        }) else {
            sound = false;
            continue;
        };
        let Some(one) = read(fields, key, value) else {
            sound = false;
            continue;
        };
        for edition in Edition::ALL {
            if edition < first || edition > last {
                continue;
            }
            if values[edition.index()].replace(one.clone()).is_some() {
                let found = format!("{edition} a second time in `{key}`");
                fields.fail(
                    at,
                    "each edition once",
                    &found,
                    "let the ranges not overlap",
                );
                sound = false;
            }
        }
    }
    let missing: Vec<String> = Edition::ALL
        .into_iter()
        .filter(|e| values[e.index()].is_none())
        .map(|e| e.to_string())
        .collect();
    if !missing.is_empty() {
        if sound {
            let expected = format!("every edition: {}", all_editions());
            let found = format!("nothing for {}", missing.join(", "));
            fields.fail(
                start,
                &expected,
                &found,
                "add a line, for example `2026 = \"none\"`",
            );
        }
        return None;
    }
    let [Some(a), Some(b), Some(c), Some(d), Some(e)] = values else {
        return None;
    };
    Some([a, b, c, d, e])
}
