//! What must be bought or picked, how many, and where is it used? No prices.
//! Source: the take-off behind the price, options chosen included. Pieces and feet.

use std::collections::BTreeMap;

use engine::facts::Place;
use engine::price::{Because, What};
use serde_json::{Value, json};
use shop::Count;
use shop::parts::PartUnit;

use super::tongue::Tongue;
use crate::material::Material;
use crate::words;

/// A part over all its lines.
#[derive(Default)]
struct Picked<'m> {
    count: Count,
    places: Vec<Place<'m>>,
    option: bool,
}

pub(super) fn pick(material: &Material<'_>, tongue: &Tongue<'_>) -> Value {
    let price = &material.price;
    let mut parts: BTreeMap<&str, Picked<'_>> = BTreeMap::new();
    for line in &price.lines {
        let What::Part(name) = &line.what else {
            continue;
        };
        let entry = parts.entry(name).or_default();
        entry.count += line.count;
        entry.option |= matches!(line.because, Because::Chosen(..));
        for place in &line.places {
            if !entry.places.contains(place) {
                entry.places.push(*place);
            }
        }
    }
    // In the order of the offer: boards, feeders, circuits, breakers.
    let mut order: Vec<&str> = Vec::new();
    for line in &price.lines {
        if let What::Part(name) = &line.what
            && !order.contains(&name.as_ref())
        {
            order.push(name);
        }
    }
    let rows = order.iter().filter_map(|name| {
        let part = parts.get(name)?;
        let mut used = places(&part.places, tongue);
        if part.option {
            used = format!("{used} ({})", tongue.word("crew-option"));
        }
        Some(row(material, tongue, name, part.count, used))
    });
    let perhaps = price.open_parts.iter().map(|part| {
        let used = places(&part.places, tongue);
        row(material, tongue, &part.name, part.most, used)
    });
    let gaps = price.gaps.len();
    json!({
        "rows": rows.collect::<Vec<_>>(),
        "perhaps": perhaps.collect::<Vec<_>>(),
        "gaps": (gaps > 0).then(|| tongue.say("crew-gaps", &[("count", &gaps.to_string())])),
    })
}

fn row(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    name: &str,
    count: Count,
    used: String,
) -> [String; 4] {
    let part = material.book.parts.get(name);
    let unit = match part.map(|p| p.unit) {
        Some(PartUnit::Each) => tongue.word("crew-unit-each"),
        Some(PartUnit::Foot) => tongue.word("crew-unit-foot"),
        None => tongue.unknown(),
    };
    let text = part.map_or(name, |p| p.what.as_str());
    [
        words::part(tongue.language(), text).to_owned(),
        count.to_string(),
        unit,
        used,
    ]
}

/// Places by their sort.
fn places(places: &[Place<'_>], tongue: &Tongue<'_>) -> String {
    let mut sorts: Vec<(&str, Vec<&str>)> = Vec::new();
    for place in places {
        let sort = match place {
            Place::Job => "crew-whole-job",
            Place::Board(_) => "crew-of-boards",
            Place::OldCabinet(_) => "crew-of-old",
            Place::Feeder(_) => "crew-of-feeders",
            Place::Circuit(_) => "crew-circuits",
            Place::Building(_) | Place::Source(_) | Place::Outlet(_) => "crew-of-others",
        };
        match sorts.iter_mut().find(|(known, _)| *known == sort) {
            Some((_, names)) => names.push(place.name()),
            None => sorts.push((sort, vec![place.name()])),
        }
    }
    let each = sorts
        .iter()
        .map(|(sort, names)| tongue.say(sort, &[("names", &names.join(", "))]));
    each.collect::<Vec<_>>().join("; ")
}
