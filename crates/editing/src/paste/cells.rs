//! What a column is about, and what a cell of it says.
//! Source: the words of the trade over the columns of panel lists. Nothing is guessed: what has two readings is refused.

use model::Wire;
use model::nearest::{list, nearest};
use serde_json::{Value, json};

use crate::choices::Choices;

/// A column that a circuit has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    Serves,
    Spaces,
    Poles,
    Amps,
    Protection,
    Wire,
    Method,
    Ground,
    Purpose,
    Rooms,
    Outlets,
}

/// A cell that cannot be read.
#[derive(Debug)]
pub(super) struct Bad {
    pub(super) found: String,
    pub(super) expected: String,
}

type Read = Result<Vec<(&'static str, Value)>, Bad>;

impl Column {
    /// In the order in which a job file has them.
    pub(super) const ALL: [Self; 11] = [
        Self::Serves,
        Self::Spaces,
        Self::Poles,
        Self::Amps,
        Self::Protection,
        Self::Wire,
        Self::Method,
        Self::Ground,
        Self::Purpose,
        Self::Rooms,
        Self::Outlets,
    ];

    /// The column with these words over it.
    pub(super) fn of(words: &str) -> Option<Self> {
        let plain: String = words
            .chars()
            .filter(|c| c.is_alphanumeric())
            .flat_map(char::to_lowercase)
            .collect();
        Some(match plain.as_str() {
            "serves" | "description" | "desc" | "load" | "loadserved" | "name" | "label"
            | "directory" | "feeds" | "circuitdescription" | "loaddescription" | "what" => {
                Self::Serves
            }
            "space" | "spaces" | "circuit" | "circuits" | "circuitno" | "circuitnumber" | "ckt"
            | "cktno" | "no" | "number" | "position" | "pos" | "slot" | "cct" => Self::Spaces,
            "pole" | "poles" | "p" | "numberofpoles" => Self::Poles,
            "amp" | "amps" | "ampere" | "amperes" | "a" | "breaker" | "breakersize"
            | "breakeramps" | "size" | "rating" | "trip" | "ocpd" | "cb" => Self::Amps,
            "protection" | "breakertype" | "type" | "afcigfci" | "gfciafci" => Self::Protection,
            "wire" | "wiresize" | "conductor" | "conductors" | "conductorsize" | "awg" => {
                Self::Wire
            }
            "method" | "wiringmethod" | "cable" | "cabletype" => Self::Method,
            "ground" | "equipmentground" | "egc" => Self::Ground,
            "purpose" | "use" => Self::Purpose,
            "room" | "rooms" | "area" | "areas" | "location" | "locations" => Self::Rooms,
            "outlets" | "outlet" | "numberofoutlets" => Self::Outlets,
            _ => return None,
        })
    }

    /// Field of the job file.
    pub(super) const fn field(self) -> &'static str {
        match self {
            Self::Serves => "serves",
            Self::Spaces => "spaces",
            Self::Poles => "poles",
            Self::Amps => "amps",
            Self::Protection => "protection",
            Self::Wire => "wire",
            Self::Method => "method",
            Self::Ground => "ground",
            Self::Purpose => "purpose",
            Self::Rooms => "rooms",
            Self::Outlets => "outlets",
        }
    }

    /// The field holds a fact, which somebody says.
    pub(super) const fn is_fact(self) -> bool {
        !matches!(self, Self::Serves | Self::Poles | Self::Purpose)
    }

    /// What the cell says, by field of the job file.
    pub(super) fn read(self, cell: &str, words: &Choices) -> Read {
        if matches!(
            cell.to_lowercase().as_str(),
            "?" | "??" | "unknown" | "n/a" | "tbd"
        ) && self.is_fact()
        {
            return Ok(vec![(self.field(), json!("unknown"))]);
        }
        let one = |value: Value| Ok(vec![(self.field(), value)]);
        let word = |key: &str| self.word(cell, words.get(key).map_or(&[], Vec::as_slice));
        match self {
            Self::Serves => one(json!(cell)),
            Self::Spaces => spaces(cell),
            Self::Poles => poles(cell).map(|n| vec![("poles", json!(n))]),
            Self::Amps => amps(cell),
            Self::Protection => protection(cell).map(|p| vec![("protection", json!(p))]),
            Self::Wire => wire(cell).map(|w| vec![("wire", json!(w))]),
            Self::Method => word("circuits.method").and_then(one),
            Self::Purpose => word("circuits.purpose").and_then(one),
            Self::Ground => yes(cell).map(|y| vec![("ground", json!(y))]),
            Self::Rooms => rooms(cell, words.get("circuits.rooms").map_or(&[], Vec::as_slice)),
            Self::Outlets => match cell.parse::<u32>() {
                Ok(n) => one(json!(n)),
                Err(_) => bad(cell, "a whole number"),
            },
        }
    }

    fn word(self, cell: &str, words: &[String]) -> Result<Value, Bad> {
        let plain = plain(cell);
        match words.iter().find(|w| self::plain(w) == plain) {
            Some(word) => Ok(json!(word)),
            None => Err(not_a_word(cell, words)),
        }
    }
}

fn bad<T>(found: &str, expected: &str) -> Result<T, Bad> {
    Err(Bad {
        found: format!("`{found}`"),
        expected: expected.to_owned(),
    })
}

fn not_a_word(cell: &str, words: &[String]) -> Bad {
    let all = || words.iter().map(String::as_str);
    let near = nearest(&plain(cell), all());
    let near = near
        .map(|n| format!("did you mean `{n}`? "))
        .unwrap_or_default();
    Bad {
        found: format!("`{cell}`"),
        expected: format!("{near}one of: {}", list(all())),
    }
}

fn plain(text: &str) -> String {
    let joined: Vec<String> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|p| !p.is_empty())
        .map(str::to_lowercase)
        .collect();
    joined.join("_")
}

/// `5`, `5,7`, `5/7`, `5-7`, `14A`.
fn spaces(cell: &str) -> Read {
    let parts: Vec<String> = cell
        .split(|c: char| !c.is_alphanumeric())
        .filter(|p| !p.is_empty() && *p != "and")
        .map(str::to_uppercase)
        .collect();
    let fine = |s: &String| {
        let digits = s.strip_suffix(['A', 'B']).unwrap_or(s);
        digits.parse::<u32>().is_ok_and(|n| (1..=200).contains(&n))
    };
    if parts.is_empty() || parts.len() > 3 || !parts.iter().all(fine) {
        return bad(cell, "a space such as `5`, `5/7` or `14A`");
    }
    Ok(vec![("spaces", json!(parts))])
}

/// `1`, `2P`, `2-pole`, `single`, `double`.
fn poles(cell: &str) -> Result<u8, Bad> {
    let plain = plain(cell);
    let first = plain.trim_end_matches(|c: char| !c.is_ascii_digit());
    match (plain.as_str(), first) {
        ("single" | "sp" | "one", _) | (_, "1") => Ok(1),
        ("double" | "dp" | "two", _) | (_, "2") => Ok(2),
        ("triple" | "three", _) | (_, "3") => Ok(3),
        _ => bad(cell, "1, 2 or 3 poles"),
    }
}

/// `20`, `20 A`, `20/2` or `2P20` for a breaker of two poles.
fn amps(cell: &str) -> Read {
    let plain = cell.to_lowercase().replace("amps", "").replace("amp", "");
    let plain: String = plain.chars().filter(|c| !c.is_whitespace()).collect();
    let plain = plain.strip_suffix('a').unwrap_or(&plain);
    let number = |text: &str| {
        let text = text.strip_suffix('a').unwrap_or(text);
        text.parse::<u32>().ok().filter(|n| (1..=1200).contains(n))
    };
    if let Some(amps) = number(plain) {
        return Ok(vec![("amps", json!(amps))]);
    }
    let by_slash = plain.split_once('/');
    let by_pole = plain.split_once('p').map(|(p, a)| (a, p));
    if let Some((a, p)) = by_slash.or(by_pole)
        && let (Some(amps), Ok(poles)) = (number(a), poles(p))
    {
        return Ok(vec![("amps", json!(amps)), ("poles", json!(poles))]);
    }
    bad(cell, "amperes such as `20`, or `20/2` for two poles")
}

fn protection(cell: &str) -> Result<&'static str, Bad> {
    Ok(match plain(cell).as_str() {
        "none" | "no" | "standard" | "std" | "plain" | "" => "none",
        "afci" | "af" | "afi" | "arc_fault" | "cafci" => "afci",
        "gfci" | "gf" | "gfi" | "ground_fault" => "gfci",
        "dual" | "df" | "dual_function" | "afci_gfci" | "gfci_afci" | "af_gf" => "dual",
        _ => return bad(cell, "none, afci, gfci or dual"),
    })
}

/// A size and a metal; a size alone could be either metal.
fn wire(cell: &str) -> Result<String, Bad> {
    let text = cell.replace("copper", "Cu").replace("aluminum", "Al");
    let text: Vec<String> = text
        .split_whitespace()
        .map(|part| match part.to_lowercase().as_str() {
            "cu" | "copper" => "Cu".to_owned(),
            "al" | "aluminum" => "Al".to_owned(),
            _ => part.to_owned(),
        })
        .collect();
    match text.join(" ").parse::<Wire>() {
        Ok(wire) => Ok(format!("{} {}", wire.size.name(), wire.material)),
        Err(_) => bad(cell, "a size and a metal such as `12 Cu` or `2 Al`"),
    }
}

fn yes(cell: &str) -> Result<bool, Bad> {
    match plain(cell).as_str() {
        "yes" | "y" | "true" | "x" | "1" => Ok(true),
        "no" | "n" | "false" | "0" | "none" => Ok(false),
        _ => bad(cell, "yes or no"),
    }
}

/// Rooms between commas, semicolons, slashes or `and`; a number behind a room and the plural do not matter.
fn rooms(cell: &str, words: &[String]) -> Read {
    let mut rooms: Vec<&str> = Vec::new();
    let parts = cell.split([',', ';', '/', '&', '+']);
    for part in parts.flat_map(|p| p.split(" and ")).map(str::trim) {
        if part.is_empty() {
            continue;
        }
        let bare =
            plain(part.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ' || c == '#'));
        let singular = bare.strip_suffix('s').unwrap_or(&bare);
        let room = words.iter().find(|w| **w == bare || *w == singular);
        match room {
            Some(room) if !rooms.contains(&room.as_str()) => rooms.push(room),
            Some(_) => {}
            None => return Err(not_a_word(part, words)),
        }
    }
    Ok(vec![("rooms", json!(rooms))])
}
