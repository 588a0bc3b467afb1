//! The first page: who may work, what is locked, how it is tested dead, when to stop, whom to call.
//! Source: the locks of the cut-over; the cautions are the trade's usual ones and defer to adopted code and licensed practice.

use engine::cutover::locks::By;
use serde_json::{Value, json};

use super::super::head::joined;
use super::tongue::Tongue;
use crate::material::Material;

pub(super) fn safety(material: &Material<'_>, tongue: &Tongue<'_>) -> Value {
    let place = &material.report.job.place;
    let address = joined([&place.address, &place.city, &place.state].map(String::as_str));
    let address = if place.address.is_empty() {
        let missing = tongue.word("crew-emergency-no-address");
        if address.is_empty() {
            missing
        } else {
            format!("{address} ({missing})")
        }
    } else {
        address
    };
    let locks = material
        .cut
        .as_ref()
        .map_or(&[][..], |c| c.locks.as_slice());
    let rules: Vec<String> = (1..=7)
        .map(|n| tongue.word(&format!("crew-safety-{n}")))
        .collect();
    let stops: Vec<String> = (1..=6)
        .map(|n| tongue.word(&format!("crew-stop-{n}")))
        .collect();
    let rows: Vec<Value> = locks
        .iter()
        .map(|lock| json!({ "at": tongue.word(by(lock.by)), "what": tongue.saying(&lock.words) }))
        .collect();
    let mut dark: Vec<String> = locks
        .iter()
        .filter(|lock| lock.by != By::Source)
        .map(|lock| tongue.say("crew-board", &[("board", lock.board)]))
        .collect();
    dark.dedup();
    let shop = &material.book.identity;
    json!({
        "rules": rules,
        "stops": stops,
        "locks": rows,
        "boards": dark,
        "emergency": tongue.say("crew-emergency-text", &[("address", &address)]),
        "phone": shop.phone,
    })
}

const fn by(by: By) -> &'static str {
    match by {
        By::FeederDevice => "crew-lock-by-feeder_device",
        By::OwnMain => "crew-lock-by-own_main",
        By::Utility => "crew-lock-by-utility",
        By::Source => "crew-lock-by-source",
        By::Unknown => "crew-lock-by-unknown",
    }
}
