//! Questions on ampacity, devices, the dwelling rule, neutral and grounding.

use engine::conductor::ampacity::{Ampacity, corrected};
use engine::conductor::grounding::{
    Enlarged, ServiceConductors, bonding_jumper, electrode_conductor, equipment_ground,
};
use engine::conductor::load::weighted;
use engine::conductor::neutral::{Floor, smallest_neutral};
use engine::conductor::overcurrent::largest_device;
use engine::conductor::remedy::smallest_for_ampacity;
use engine::conductor::{
    Feeder, Feeds, Installation, Load, Place, Terminals, Verdict, ampacity, check,
    smallest_conductor,
};
use engine::worksheet::Value as Cell;
use model::house::System;
use model::units::{Amperes, Celsius, CircularMils};
use model::{Fact, Material, Wire};
use rulebook::tables::TablesIn;
use toml::Value;

use super::{Answer, Example, amperes, number, on_line, quantity, size, size_on_line};

/// Feeder conductors in a raceway at 30 C and 75 C terminals.
pub(crate) fn plain(wire: Fact<Wire>) -> Installation {
    Installation {
        wire,
        sets: 1,
        insulation: Fact::seen(model::Insulation::XHHW2),
        method: Fact::seen(model::WiringMethod::EMT),
        ambient: Fact::seen(Celsius(30.0)),
        current_carrying: Fact::seen(3),
        terminals: Fact::seen(Terminals::C75),
        in_thermal_insulation: Fact::seen(false),
        wet: Fact::seen(false),
    }
}

fn place(entire: bool, service: Fact<Amperes>) -> Place {
    Place {
        system: System::SinglePhase120_240,
        carries_entire_dwelling: Fact::seen(entire),
        is_service: false,
        service_rating: service,
    }
}

fn feeder(device: Amperes, load: Load, place: Place) -> Feeder {
    Feeder {
        id: "example".into(),
        installation: plain(Fact::Unknown),
        device: Fact::seen(device),
        load: Fact::seen(load),
        feeds: Feeds::Feeder,
        place,
    }
}

fn load(example: &Example) -> Load {
    Load {
        continuous: example.amperes("continuous"),
        noncontinuous: example.amperes("noncontinuous"),
    }
}

fn installation(example: &Example) -> Installation {
    let typed = |name: &str| Value::String(example.text(name).into());
    Installation {
        wire: Fact::seen(example.wire("wire")),
        insulation: Fact::seen(typed("insulation").try_into().unwrap()),
        method: Fact::seen(typed("method").try_into().unwrap()),
        ambient: Fact::seen(Celsius(example.number("ambient"))),
        current_carrying: Fact::seen(example.number("together") as u32),
        terminals: Fact::seen(if example.number("terminals") == 75.0 {
            Terminals::C75
        } else {
            Terminals::C60
        }),
        in_thermal_insulation: Fact::seen(example.given("insulated").as_bool().unwrap()),
        ..plain(Fact::Unknown)
    }
}

fn exact(found: &Ampacity) -> Amperes {
    found
        .value
        .exact()
        .unwrap_or_else(|| panic!("missing: {}", found.value.why()))
}

pub(super) fn ampacity_and_device(example: &Example, book: &TablesIn<'_>) -> Answer {
    let found = ampacity(&installation(example), None, book);
    let case = found.case.clone().unwrap();
    let device = largest_device(exact(&found), example.wire("wire"), 1, Feeds::Feeder, book)
        .unwrap()
        .device;
    let mut answer = Answer::from([
        quantity("start", case.start.value),
        quantity("corrected", case.corrected),
        quantity("ampacity", exact(&found)),
        quantity("device", device),
    ]);
    answer.extend(
        case.cable
            .map(|(_, amperes, _)| quantity("cable", amperes.value)),
    );
    answer
}

pub(super) fn corrected_ampacity(example: &Example, book: &TablesIn<'_>) -> Answer {
    let wire = example.wire("wire");
    let start = book
        .ampacity(wire.size, wire.material, rulebook::tables::Column::C75)
        .unwrap();
    amperes(
        "corrected",
        corrected(start.value, example.number("factor"), 1.0),
    )
}

pub(super) fn dwelling_size(example: &Example, book: &TablesIn<'_>) -> Answer {
    let rating = example.amperes("rating");
    let feeder = feeder(
        rating,
        Load::noncontinuous(rating),
        place(true, Fact::Unknown),
    );
    let (cu, al) = smallest(&feeder, book);
    let mut passing = feeder.clone();
    passing.installation = passing.installation.with_wire(cu);
    let checked = check(&passing, book);
    assert_eq!(checked.verdict, Verdict::Pass);
    [
        quantity("needed", checked.needed.unwrap()),
        size("cu", cu.size),
        size("al", al.size),
        quantity("cu_ampacity", checked.ampacity.exact().unwrap()),
    ]
    .into()
}

fn smallest(feeder: &Feeder, book: &TablesIn<'_>) -> (Wire, Wire) {
    let of = |metal| smallest_conductor(feeder, metal, book).unwrap();
    (of(Material::Copper), of(Material::Aluminum))
}

pub(super) fn dwelling_upper_limit(example: &Example, book: &TablesIn<'_>) -> Answer {
    let service = example.amperes("service");
    let mut feeder = feeder(
        service,
        Load::noncontinuous(Amperes(100.0)),
        place(false, Fact::seen(service)),
    );
    let full = smallest(&feeder, book).0;
    feeder.installation = feeder.installation.with_wire(full);
    let (label, cap) = on_line(
        "cap",
        &check(&feeder, book).worksheet,
        "Upper limit for feeders of the dwelling, disputed",
    );
    let by_cap = |metal| {
        smallest_for_ampacity(
            &feeder.installation,
            metal,
            Amperes(number(&cap).unwrap()),
            None,
            book,
        )
        .unwrap()
    };
    [
        size("cu", by_cap(Material::Copper).size),
        size("al", by_cap(Material::Aluminum).size),
        size("full_cu", full.size),
        (label, cap.clone()),
    ]
    .into()
}

pub(super) fn feeder_size(example: &Example, book: &TablesIn<'_>) -> Answer {
    let feeder = feeder(
        example.amperes("device"),
        load(example),
        place(false, Fact::Unknown),
    );
    let (cu, _) = smallest(&feeder, book);
    let floor = Floor::Feeder {
        device: example.amperes("device"),
    };
    let (_, neutral) = smallest_neutral(
        "example",
        example.amperes("neutral_load"),
        &feeder.installation,
        Material::Copper,
        floor,
        book,
    );
    let mut passing = feeder.clone();
    passing.installation = passing.installation.with_wire(cu);
    [
        quantity("weighted", weighted(load(example), book).unwrap()),
        size("cu", cu.size),
        quantity(
            "cu_ampacity",
            check(&passing, book).ampacity.exact().unwrap(),
        ),
        size("neutral", neutral.unwrap().size),
    ]
    .into()
}

pub(super) fn neutral(example: &Example, book: &TablesIn<'_>) -> Answer {
    let floor = Floor::Feeder {
        device: example.amperes("device"),
    };
    let (sheet, wire) = smallest_neutral(
        "example",
        example.amperes("load"),
        &plain(Fact::Unknown),
        Material::Copper,
        floor,
        book,
    );
    [
        size_on_line("by_load", &sheet, "Size by the neutral load"),
        size("neutral", wire.unwrap().size),
    ]
    .into()
}

pub(super) fn equipment(example: &Example, book: &TablesIn<'_>) -> Answer {
    let enlarged = example.has("leg").then(|| Enlarged {
        leg: example.wire("leg"),
        sets: example.number("sets") as u32,
        base: CircularMils(example.number("base")),
        base_words: "the size the example starts from".into(),
    });
    let (sheet, wire) = equipment_ground(
        "example",
        example.amperes("device"),
        example.metal(),
        enlarged.as_ref(),
        book,
    );
    let mut answer = Answer::from([
        size_on_line("table", &sheet, "Size by the device"),
        size("size", wire.unwrap().size),
    ]);
    if enlarged.is_some() {
        let label = "Circular mils in proportion";
        let line = sheet.lines.iter().find(|l| l.label == label).unwrap();
        let ratio = line.inputs.iter().find(|i| i.name == "ratio").unwrap();
        let Cell::Number(ratio) = &ratio.value else {
            panic!("the ratio is not a number")
        };
        answer.insert("ratio".into(), Value::Float(ratio.value));
        answer.extend([on_line("area", &sheet, label)]);
    }
    answer
}

fn service(example: &Example) -> ServiceConductors {
    ServiceConductors {
        leg: example.wire("leg"),
        sets: example.number("sets") as u32,
    }
}

pub(super) fn electrode(example: &Example, book: &TablesIn<'_>) -> Answer {
    let (sheet, wire) =
        electrode_conductor("example", service(example), example.metal(), None, book);
    [
        on_line(
            "area",
            &sheet,
            "Circular mils of one ungrounded service conductor",
        ),
        size("size", wire.unwrap().size),
    ]
    .into()
}

pub(super) fn jumper(example: &Example, book: &TablesIn<'_>) -> Answer {
    let (_, wire) = bonding_jumper("example", service(example), example.metal(), book);
    [size("size", wire.unwrap().size)].into()
}

pub(super) fn weighted_load(example: &Example, book: &TablesIn<'_>) -> Answer {
    amperes("weighted", weighted(load(example), book).unwrap())
}
