//! Which words may stand in which field of a job file?
//! Sources: the model's own types, asked through their readers; the vocabulary of the fact dictionary; trade sizes of conductors and raceways.

use std::collections::BTreeMap;

use model::conductor::{Insulation, Material, WireSize, WiringMethod};
use model::house::{
    DeviceKind, DwellingKind, ElectrodeKind, Hazard, Leaves, LoadKind, MainKind, Mounting,
    Numbering, OldCabinet, Protection, ProtectionAt, Purpose, Runs, Side, SourceKind, System,
};
use model::plan::{Approach, Transfer};
use model::raceway::TradeSize;
use model::{Edition, Said};
use rulebook::FactDictionary;
use serde::Deserialize;
use serde::de::value::Error;
use serde::de::{Deserializer, Error as _, Visitor};

/// Words by field: `circuits.protection`, `boards.cabinet.mounting`; `by` is who may stand behind a fact.
pub type Choices = BTreeMap<&'static str, Vec<String>>;

/// Every field that takes one word of a list, or several (`rooms`, `location`, `hazards`, `place`, `appliance`).
#[must_use]
pub fn choices(facts: &FactDictionary) -> Choices {
    let wires = || -> Vec<String> {
        let metals = [Material::Copper, Material::Aluminum];
        let of =
            |metal: Material| WireSize::all().map(move |size| format!("{} {}", size.name(), metal));
        metals.into_iter().flat_map(of).collect()
    };
    let vocabulary = |fact: &str| {
        let entry = facts.find(fact).and_then(|id| facts.get(id));
        entry.map(|e| e.words.clone()).unwrap_or_default()
    };
    let raceways = TradeSize::all().map(|size| size.name().to_owned());
    let mut by = words_of::<Said>();
    by.retain(|word| word != "derived");
    BTreeMap::from([
        ("by", by),
        ("boards.cabinet.mounting", words_of::<Mounting>()),
        ("boards.cabinet.supply_leaves", words_of::<Leaves>()),
        ("boards.devices.kind", words_of::<DeviceKind>()),
        ("boards.leg_rows", vec!["AB".to_owned(), "BA".to_owned()]),
        ("boards.location", vocabulary("panel.location")),
        ("boards.main", words_of::<MainKind>()),
        ("boards.numbering", words_of::<Numbering>()),
        ("boards.old_cabinet", words_of::<OldCabinet>()),
        ("candidates.old_cabinet", words_of::<OldCabinet>()),
        ("circuits.entry.side", words_of::<Side>()),
        ("circuits.hazards", words_of::<Hazard>()),
        ("circuits.method", words_of::<WiringMethod>()),
        ("circuits.protection", words_of::<Protection>()),
        ("circuits.protection_at", words_of::<ProtectionAt>()),
        ("circuits.purpose", words_of::<Purpose>()),
        ("circuits.rooms", vocabulary("circuit.areas")),
        ("circuits.wire", wires()),
        ("dwelling.kind", words_of::<DwellingKind>()),
        ("dwelling.system", words_of::<System>()),
        ("feeders.ground", wires()),
        ("feeders.insulation", words_of::<Insulation>()),
        ("feeders.method", words_of::<WiringMethod>()),
        ("feeders.neutral", wires()),
        ("feeders.raceway_size", raceways.collect()),
        ("feeders.wire", wires()),
        ("grounding.electrodes.conductor", wires()),
        ("grounding.electrodes.kind", words_of::<ElectrodeKind>()),
        ("loads.kind", words_of::<LoadKind>()),
        ("outlets.appliance", vocabulary("outlet.appliance")),
        ("outlets.place", vocabulary("receptacle.place")),
        ("place.edition", words_of::<Edition>()),
        ("plan.approach", words_of::<Approach>()),
        ("plan.transfer", words_of::<Transfer>()),
        ("runs", words_of::<Runs>()),
        ("sources.kind", words_of::<SourceKind>()),
        ("walls.location", vocabulary("panel.location")),
        ("walls.stretches.location", vocabulary("panel.location")),
    ])
}

/// The words that a type of the model reads.
fn words_of<T: for<'d> Deserialize<'d>>() -> Vec<String> {
    let mut words: &[&str] = &[];
    // The reader is only asked what it takes; it always gets a mistake back.
    let _ = T::deserialize(Listen(&mut words));
    words.iter().map(|w| (*w).to_owned()).collect()
}

struct Listen<'w>(&'w mut &'static [&'static str]);

impl<'de> Deserializer<'de> for Listen<'_> {
    type Error = Error;

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Error> {
        *self.0 = variants;
        Err(Error::custom("asked only for its words"))
    }

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
        Err(Error::custom("not a word of a list"))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit unit_struct newtype_struct
        seq tuple tuple_struct map struct identifier ignored_any
    }
}
