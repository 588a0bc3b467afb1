//! What one load brings into a calculation: its VA, whether it uses the neutral, its motor.
//! Source: the nameplate; managed loads by the edition's energy-management section. VA of one.

use model::Fact;
use model::house::{Load, LoadKind, System};
use model::units::{VoltAmperes, Volts};
use rulebook::tables::{TablesIn, flag};

use super::told::Told;

/// What to call the load on a worksheet, with the setting that holds it down, where that counts.
pub(super) fn held_label(load: &Load, book: &TablesIn<'_>) -> String {
    match load.managed_limit.get() {
        Some(limit) if setting_is_load(book) => {
            format!("{}, held to {limit}", label(load))
        }
        _ => label(load),
    }
}

/// What to call the load.
pub(super) fn label(load: &Load) -> String {
    let name = if load.name.is_empty() {
        kind_words(load.kind)
    } else {
        &load.name
    };
    if load.count == 1 {
        name.to_owned()
    } else {
        format!("{} x {name}", load.count)
    }
}

const fn kind_words(kind: LoadKind) -> &'static str {
    match kind {
        LoadKind::Range => "range",
        LoadKind::WallOven => "wall oven",
        LoadKind::Cooktop => "cooktop",
        LoadKind::Dryer => "dryer",
        LoadKind::WaterHeater => "water heater",
        LoadKind::Dishwasher => "dishwasher",
        LoadKind::Disposer => "disposer",
        LoadKind::Microwave => "microwave oven",
        LoadKind::Refrigerator => "refrigerator",
        LoadKind::FixedAppliance => "fixed appliance",
        LoadKind::Motor => "motor",
        LoadKind::WellPump => "well pump",
        LoadKind::SumpPump => "sump pump",
        LoadKind::Spa => "spa",
        LoadKind::Cooling => "air conditioning",
        LoadKind::HeatPump => "heat pump compressor",
        LoadKind::SupplementalHeat => "supplementary heat",
        LoadKind::SpaceHeat => "space heat",
        LoadKind::StorageHeat => "storage heat",
        LoadKind::Blower => "blower",
        LoadKind::VehicleCharger => "vehicle charger",
    }
}

/// Nameplate VA of one, or nothing with the reason.
pub(super) fn plate(load: &Load) -> Told<VoltAmperes> {
    match load.nameplate() {
        Fact::Known { is, .. } if is.0.is_finite() && is.0 >= 0.0 => Told::exactly(is),
        Fact::Known { is, .. } => Told::at_least(
            VoltAmperes::ZERO,
            format!(
                "nameplate of the {}, given as {is}: expected a size of zero or more",
                label(load)
            ),
        ),
        Fact::Unknown => Told::at_least(
            VoltAmperes::ZERO,
            format!("nameplate VA of the {}", label(load)),
        ),
    }
}

/// VA of one as the calculation takes it: the nameplate, or the setting that a listed system holds it to,
/// in the editions that let a setting stand for the load.
pub(super) fn rated(load: &Load, book: &TablesIn<'_>) -> Told<VoltAmperes> {
    let plate = plate(load);
    let Some(limit) = load.managed_limit.get() else {
        return plate;
    };
    if !setting_is_load(book) {
        return plate;
    }
    let setting = volts(load) * limit;
    match plate.exact() {
        Some(va) => Told::exactly(va.min(setting)),
        None => Told::exactly(setting),
    }
}

/// An edition that does not say so, or of which it was not found, keeps the nameplate: that is the safe one.
fn setting_is_load(book: &TablesIn<'_>) -> bool {
    book.flag(flag::EMS_SETTING_IS_LOAD)
        .is_ok_and(|named| named.value)
}

/// All alike together.
pub(super) fn rated_all(load: &Load, book: &TablesIn<'_>) -> Told<VoltAmperes> {
    rated(load, book).times(f64::from(load.count))
}

/// Where nobody read the voltage, the higher nominal one: it gives the larger load.
fn volts(load: &Load) -> Volts {
    load.volts.get().unwrap_or(NOMINAL.line_to_line())
}

const NOMINAL: System = System::SinglePhase120_240;

/// Whether the load puts current on the neutral. Where nobody knows, it does: that is the safer neutral.
pub(super) fn uses_neutral(load: &Load) -> bool {
    if let Some(known) = load.uses_neutral.get() {
        return known;
    }
    if let Some(volts) = load.volts.get() {
        return volts < 0.5 * (NOMINAL.line_to_line() + NOMINAL.line_to_neutral());
    }
    !matches!(
        load.kind,
        LoadKind::WaterHeater
            | LoadKind::Cooling
            | LoadKind::HeatPump
            | LoadKind::SupplementalHeat
            | LoadKind::SpaceHeat
            | LoadKind::StorageHeat
            | LoadKind::VehicleCharger
            | LoadKind::WellPump
    )
}

/// Full-load VA of one motor, when the load is driven by a motor.
/// Another appliance counts as one only when its horsepower is known.
pub(super) fn motor(load: &Load) -> Option<Told<VoltAmperes>> {
    let driven = matches!(
        load.kind,
        LoadKind::Motor
            | LoadKind::WellPump
            | LoadKind::SumpPump
            | LoadKind::Disposer
            | LoadKind::Cooling
            | LoadKind::HeatPump
            | LoadKind::Blower
    ) || load.horsepower.get().is_some();
    driven.then(|| plate(load))
}

/// Household cooking.
pub(super) const fn is_cooking(kind: LoadKind) -> bool {
    matches!(
        kind,
        LoadKind::Range | LoadKind::WallOven | LoadKind::Cooktop
    )
}

/// Electric clothes dryers.
pub(super) const fn is_dryer(kind: LoadKind) -> bool {
    matches!(kind, LoadKind::Dryer)
}

/// Vehicle charging.
pub(super) const fn is_charger(kind: LoadKind) -> bool {
    matches!(kind, LoadKind::VehicleCharger)
}

/// Fastened in place, and neither cooking, drying, heating, cooling nor vehicle charging.
pub(super) const fn is_appliance(kind: LoadKind) -> bool {
    matches!(
        kind,
        LoadKind::WaterHeater
            | LoadKind::Dishwasher
            | LoadKind::Disposer
            | LoadKind::Microwave
            | LoadKind::FixedAppliance
            | LoadKind::Motor
            | LoadKind::WellPump
            | LoadKind::SumpPump
            | LoadKind::Spa
    )
}

/// On a circuit of its own but not fastened in place.
pub(super) const fn is_free_standing(kind: LoadKind) -> bool {
    matches!(kind, LoadKind::Refrigerator)
}

/// Heating, cooling and the fans that go with them.
pub(super) const fn is_climate(kind: LoadKind) -> bool {
    matches!(
        kind,
        LoadKind::Cooling
            | LoadKind::HeatPump
            | LoadKind::SupplementalHeat
            | LoadKind::SpaceHeat
            | LoadKind::StorageHeat
            | LoadKind::Blower
    )
}
