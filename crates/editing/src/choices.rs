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

/// Fields that take one word of a list, or several (`rooms`, `location`, `hazards`, `place`, `appliance`).
const FIELDS: [&str; 38] = [
    "by",
    "boards.cabinet.mounting",
    "boards.cabinet.supply_leaves",
    "boards.devices.kind",
    "boards.leg_rows",
    "boards.location",
    "boards.main",
    "boards.numbering",
    "boards.old_cabinet",
    "candidates.old_cabinet",
    "circuits.entry.side",
    "circuits.hazards",
    "circuits.method",
    "circuits.protection",
    "circuits.protection_at",
    "circuits.purpose",
    "circuits.rooms",
    "circuits.wire",
    "dwelling.kind",
    "dwelling.system",
    "feeders.ground",
    "feeders.insulation",
    "feeders.method",
    "feeders.neutral",
    "feeders.raceway_size",
    "feeders.wire",
    "grounding.electrodes.conductor",
    "grounding.electrodes.kind",
    "loads.kind",
    "outlets.appliance",
    "outlets.place",
    "place.edition",
    "plan.approach",
    "plan.transfer",
    "runs",
    "sources.kind",
    "walls.location",
    "walls.stretches.location",
];

/// The words of every such field.
#[must_use]
pub fn choices(facts: &FactDictionary) -> Choices {
    let each = FIELDS.iter();
    each.filter_map(|name| Some((*name, of_field(name, facts)?)))
        .collect()
}

/// The words of one field; `None` when it takes something else.
pub(crate) fn of_field(name: &str, facts: &FactDictionary) -> Option<Vec<String>> {
    let vocabulary = |fact: &str| {
        let entry = facts.find(fact).and_then(|id| facts.get(id));
        entry.map(|e| e.words.clone()).unwrap_or_default()
    };
    Some(match name {
        "by" => said(),
        "boards.cabinet.mounting" => words_of::<Mounting>(),
        "boards.cabinet.supply_leaves" => words_of::<Leaves>(),
        "boards.devices.kind" => words_of::<DeviceKind>(),
        "boards.leg_rows" => vec!["AB".to_owned(), "BA".to_owned()],
        "boards.location" | "walls.location" | "walls.stretches.location" => {
            vocabulary("panel.location")
        }
        "boards.main" => words_of::<MainKind>(),
        "boards.numbering" => words_of::<Numbering>(),
        "boards.old_cabinet" | "candidates.old_cabinet" => words_of::<OldCabinet>(),
        "circuits.entry.side" => words_of::<Side>(),
        "circuits.hazards" => words_of::<Hazard>(),
        "circuits.method" | "feeders.method" => words_of::<WiringMethod>(),
        "circuits.protection" => words_of::<Protection>(),
        "circuits.protection_at" => words_of::<ProtectionAt>(),
        "circuits.purpose" => words_of::<Purpose>(),
        "circuits.rooms" => vocabulary("circuit.areas"),
        "circuits.wire"
        | "feeders.ground"
        | "feeders.neutral"
        | "feeders.wire"
        | "grounding.electrodes.conductor" => wires(),
        "dwelling.kind" => words_of::<DwellingKind>(),
        "dwelling.system" => words_of::<System>(),
        "feeders.insulation" => words_of::<Insulation>(),
        "feeders.raceway_size" => raceways(),
        "grounding.electrodes.kind" => words_of::<ElectrodeKind>(),
        "loads.kind" => words_of::<LoadKind>(),
        "outlets.appliance" => vocabulary("outlet.appliance"),
        "outlets.place" => vocabulary("receptacle.place"),
        "place.edition" => words_of::<Edition>(),
        "plan.approach" => words_of::<Approach>(),
        "plan.transfer" => words_of::<Transfer>(),
        "runs" => words_of::<Runs>(),
        "sources.kind" => words_of::<SourceKind>(),
        _ => return None,
    })
}

fn wires() -> Vec<String> {
    let metals = [Material::Copper, Material::Aluminum];
    let of =
        |metal: Material| WireSize::all().map(move |size| format!("{} {}", size.name(), metal));
    metals.into_iter().flat_map(of).collect()
}

fn raceways() -> Vec<String> {
    TradeSize::all()
        .map(|size| size.name().to_owned())
        .collect()
}

/// Who may stand behind a fact; what the engine works out is not for a person to say.
fn said() -> Vec<String> {
    let mut words = words_of::<Said>();
    words.retain(|word| word != "derived");
    words
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
