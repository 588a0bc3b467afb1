//! What uses power in the house, as its nameplate tells it.
//! Kinds follow the groups that the load calculations treat apart (NFPA 70 Article 220; 120 in 2026). VA at nameplate.

use serde::{Deserialize, Serialize};

use crate::fact::Fact;
use crate::units::{Amperes, VoltAmperes, Volts};

/// One appliance or machine, or several alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Load {
    /// What it is, for the load calculation.
    pub kind: LoadKind,
    /// Words for worksheets and directory, for example `wall oven, upper`.
    #[serde(default)]
    pub name: String,
    /// Nameplate volt-amperes of one.
    #[serde(default)]
    pub va: Fact<VoltAmperes>,
    /// Nameplate amperes of one, where the plate gives no VA; used with `volts`.
    #[serde(default)]
    pub amps: Fact<Amperes>,
    /// Nameplate voltage.
    #[serde(default)]
    pub volts: Fact<Volts>,
    /// How many alike.
    #[serde(default = "one")]
    pub count: u32,
    /// Motor horsepower, where a motor is the load or the largest part of it; the amperes then come from the motor table or the plate.
    #[serde(default)]
    pub horsepower: Fact<f64>,
    /// Heating: separately controlled units among `count`. For a central unit leave it out.
    #[serde(default)]
    pub separately_controlled: bool,
    /// Heat pump: true when the compressor cannot run together with the supplementary heat.
    #[serde(default)]
    pub compressor_locked_out: Fact<bool>,
    /// True when the load runs three hours or more at a time.
    #[serde(default)]
    pub continuous: Fact<bool>,
    /// True when the load uses the neutral (a 120 V part).
    #[serde(default)]
    pub uses_neutral: Fact<bool>,
    /// Setting of a listed load-management system that limits this load, if there is one.
    #[serde(default)]
    pub managed_limit: Fact<Amperes>,
    /// True when the load does not exist yet: a wish of the customer, counted for spare capacity only.
    #[serde(default)]
    pub future: bool,
    /// After picture only: taken out.
    #[serde(default)]
    pub gone: bool,
}

const fn one() -> u32 {
    1
}

impl Load {
    /// A load known by kind and nameplate VA alone.
    #[must_use]
    pub fn new(kind: LoadKind, va: VoltAmperes) -> Self {
        Self {
            kind,
            name: String::new(),
            va: Fact::seen(va),
            amps: Fact::Unknown,
            volts: Fact::Unknown,
            count: 1,
            horsepower: Fact::Unknown,
            separately_controlled: false,
            compressor_locked_out: Fact::Unknown,
            continuous: Fact::Unknown,
            uses_neutral: Fact::Unknown,
            managed_limit: Fact::Unknown,
            future: false,
            gone: false,
        }
    }

    /// Nameplate VA of one: stated, or amperes times volts.
    #[must_use]
    pub fn nameplate(&self) -> Fact<VoltAmperes> {
        let product = match (&self.amps, &self.volts) {
            (Fact::Known { is: amps, by }, Fact::Known { is: volts, .. }) => Fact::Known {
                is: *volts * *amps,
                by: *by,
            },
            _ => Fact::Unknown,
        };
        self.va.clone().or(product)
    }
}

/// The groups that load calculations treat apart.
#[derive(
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum LoadKind {
    /// Range: oven and cooktop in one.
    Range,
    /// Wall-mounted oven.
    WallOven,
    /// Counter-mounted cooking unit.
    Cooktop,
    /// Electric clothes dryer.
    Dryer,
    /// Storage or tankless water heater.
    WaterHeater,
    /// Dishwasher, fastened in place.
    Dishwasher,
    /// Food-waste disposer.
    Disposer,
    /// Microwave oven, fastened in place or on its own circuit.
    Microwave,
    /// Refrigerator or freezer on its own circuit.
    Refrigerator,
    /// Any other appliance fastened in place.
    FixedAppliance,
    /// Pump, opener, fan or other motor fastened in place.
    Motor,
    /// Well pump.
    WellPump,
    /// Sump or ejector pump.
    SumpPump,
    /// Pool, spa or hot tub equipment.
    Spa,
    /// Air conditioning or another cooling machine.
    Cooling,
    /// Heat pump, compressor side, used for both heating and cooling.
    HeatPump,
    /// Electric heat that supplements a heat pump.
    SupplementalHeat,
    /// Electric space heat: central furnace, or room units with `separately_controlled`.
    SpaceHeat,
    /// Electric thermal storage heat, or heat that normally runs continuously at nameplate.
    StorageHeat,
    /// Blower or circulator that runs with heating or cooling.
    Blower,
    /// Electric vehicle supply equipment.
    VehicleCharger,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amperes_times_volts_stand_in_for_missing_va() {
        let mut load = Load::new(LoadKind::Cooling, VoltAmperes(1.0));
        load.va = Fact::Unknown;
        assert!(load.nameplate().is_unknown());
        load.amps = Fact::seen(Amperes(29.0));
        load.volts = Fact::seen(Volts(240.0));
        assert_eq!(load.nameplate().get(), Some(VoltAmperes(6960.0)));
    }
}
