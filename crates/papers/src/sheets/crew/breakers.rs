//! Which breaker does each circuit get? The one that is bought for it, where one is.
//! Source: the take-off behind the price; it knows what requirements ask of breakers, which the positions do not.

use std::collections::BTreeMap;

use engine::facts::Place;
use engine::price::{Group, What};

use super::tongue::Tongue;
use crate::material::Material;
use crate::words;

/// Breakers by circuit or feeder.
pub(super) struct Breakers<'m> {
    bought: BTreeMap<&'m str, &'m str>,
    /// Circuits whose breaker hangs on an open question.
    open: Vec<&'m str>,
}

impl<'m> Breakers<'m> {
    pub(super) fn of(material: &'m Material<'m>) -> Self {
        let price = &material.price;
        let mut bought = BTreeMap::new();
        for line in &price.lines {
            let What::Part(name) = &line.what else {
                continue;
            };
            if !name.starts_with("breaker-") || line.group == Group::Options {
                continue;
            }
            for place in line.places.iter().filter(|p| is_circuit(p)) {
                bought.insert(place_name(place), name.as_ref());
            }
        }
        let open = price
            .open_parts
            .iter()
            .filter(|p| p.name.starts_with("breaker-"));
        let open = open.flat_map(|p| p.places.iter().filter(|p| is_circuit(p)).map(place_name));
        let mut open: Vec<&str> = open.collect();
        // Both circuits of a shared-neutral set are on one breaker, which is counted with the first.
        for (id, circuit) in &material.report.job.after.circuits {
            let Some(partner) = &circuit.shared_with else {
                continue;
            };
            if let Some(name) = bought.get(partner.as_str()).copied() {
                bought.entry(id.as_str()).or_insert(name);
            } else if open.contains(&partner.as_str()) && !open.contains(&id.as_str()) {
                open.push(id.as_str());
            }
        }
        Self { bought, open }
    }

    /// What is bought for it in words, or that it is not settled; `None` where its own breaker stays as the job states it.
    pub(super) fn said(
        &self,
        material: &Material<'_>,
        tongue: &Tongue<'_>,
        circuit: &str,
    ) -> Option<String> {
        if let Some(name) = self.bought.get(circuit) {
            let part = material.book.parts.get(name);
            let text = part.map_or(*name, |p| p.what.as_str());
            return Some(words::part(tongue.language(), text).to_owned());
        }
        let open = self.open.contains(&circuit);
        open.then(|| tongue.word("crew-breaker-open"))
    }

    /// Whether there is a test button to press; `None` where nobody can tell yet.
    pub(super) fn has_button(&self, circuit: &str) -> Option<bool> {
        match self.bought.get(circuit) {
            Some(name) => Some(
                ["-afci", "-gfci", "-dual"]
                    .iter()
                    .any(|end| name.ends_with(end)),
            ),
            None if self.open.contains(&circuit) => None,
            None => Some(false),
        }
    }
}

const fn is_circuit(place: &&Place<'_>) -> bool {
    matches!(place, Place::Circuit(_) | Place::Feeder(_))
}

fn place_name<'m>(place: &Place<'m>) -> &'m str {
    match place {
        Place::Circuit(id) => id.as_str(),
        Place::Feeder(id) => id.as_str(),
        _ => "",
    }
}
