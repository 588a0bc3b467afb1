//! Names of the single numbers and yes-or-no rules that calculations use, each with its unit.
//! Source: `data/tables/limits.csv` and `data/tables/flags.csv`; the loader checks that every name here has its rows and unit.

use std::marker::PhantomData;

use model::units::{
    Amperes, Celsius, CircularMils, Feet, Inches, OhmCircularMilsPerFoot, Percent, VoltAmperes,
    VoltAmperesPerSquareFoot,
};

/// Name of a number in `limits.csv`, in the unit `U`.
#[derive(Clone, Copy, Debug)]
pub struct Limit<U> {
    pub(crate) slot: usize,
    pub(crate) name: &'static str,
    pub(crate) unit: PhantomData<fn() -> U>,
}

/// Name of a yes-or-no rule in `flags.csv`.
#[derive(Clone, Copy, Debug)]
pub struct Flag {
    pub(crate) slot: usize,
    pub(crate) name: &'static str,
}

impl<U> Limit<U> {
    /// Its name in the data file.
    #[must_use]
    pub const fn name(self) -> &'static str
    where
        U: Copy,
    {
        self.name
    }
}

impl Flag {
    /// Its name in the data file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.name
    }
}

/// A quantity that a limit may be: made from the bare number in its unit.
pub trait Quantity: Copy {
    /// The quantity of that many units.
    fn of(number: f64) -> Self;
}

impl Quantity for f64 {
    fn of(number: f64) -> Self {
        number
    }
}

macro_rules! quantities {
    ($($unit:ident)*) => {$(
        impl Quantity for $unit {
            fn of(number: f64) -> Self {
                Self(number)
            }
        }
    )*};
}

quantities! { Amperes Celsius CircularMils Feet Inches OhmCircularMilsPerFoot Percent VoltAmperes VoltAmperesPerSquareFoot }

macro_rules! limits {
    ($($id:ident: $unit:ty = $name:literal, $symbol:literal, $doc:literal;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        #[derive(Clone, Copy)]
        enum LimitSlot { $($id),* }

        /// Names and units of all limits, in the order of their slots.
        pub(crate) const LIMITS: &[(&str, &str)] = &[$(($name, $symbol)),*];

        /// Every limit by name.
        pub mod limit {
            use super::*;
            $(
                #[doc = $doc]
                pub const $id: Limit<$unit> =
                    Limit { slot: LimitSlot::$id as usize, name: $name, unit: PhantomData };
            )*
        }
    };
}

macro_rules! flags {
    ($($id:ident = $name:literal, $doc:literal;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
        #[derive(Clone, Copy)]
        enum FlagSlot { $($id),* }

        /// Names of all yes-or-no rules, in the order of their slots.
        pub(crate) const FLAGS: &[&str] = &[$($name),*];

        /// Every yes-or-no rule by name.
        pub mod flag {
            use super::*;
            $(
                #[doc = $doc]
                pub const $id: Flag = Flag { slot: FlagSlot::$id as usize, name: $name };
            )*
        }
    };
}

limits! {
    AMPACITY_TABLE_AMBIENT: Celsius = "ampacity-table-ambient", "C", "Ambient temperature the ampacity table is printed for, C.";
    BUILDING_ONE_CIRCUIT_LEAST: Amperes = "building-one-circuit-least", "A", "Building one circuit least, A.";
    BUILDING_ONE_FAMILY_LEAST: Amperes = "building-one-family-least", "A", "Building one family least, A.";
    BUILDING_OTHER_LEAST: Amperes = "building-other-least", "A", "Building other least, A.";
    BUILDING_TWO_CIRCUITS_LEAST: Amperes = "building-two-circuits-least", "A", "Building two circuits least, A.";
    BUSBAR_SHARE: Percent = "busbar-share", "%", "Busbar share, %.";
    BUSBAR_SOURCE_FACTOR: Percent = "busbar-source-factor", "%", "Busbar source factor, %.";
    CONDUCTOR_COUNT_ROUND_UP_FROM: f64 = "conductor-count-round-up-from", "", "Conductor count round up from, a count or factor.";
    CONTINUOUS_LOAD_FACTOR: Percent = "continuous-load-factor", "%", "Continuous load factor, %.";
    COOLING_DEMAND: Percent = "cooling-demand", "%", "Cooling demand, %.";
    DEDICATED_SPACE_HEIGHT: Inches = "dedicated-space-height", "in", "Dedicated space height, in.";
    DRYER_LEAST: VoltAmperes = "dryer-least", "VA", "Dryer least, VA.";
    DWELLING_CONDUCTOR_SHARE: Percent = "dwelling-conductor-share", "%", "Dwelling conductor share, %.";
    DWELLING_RATING_LEAST: Amperes = "dwelling-rating-least", "A", "Dwelling rating least, A.";
    DWELLING_RATING_MOST: Amperes = "dwelling-rating-most", "A", "Dwelling rating most, A.";
    EGRESS_HEIGHT: Inches = "egress-height", "in", "Egress height, in.";
    EGRESS_WIDTH: Inches = "egress-width", "in", "Egress width, in.";
    EVSE_LEAST: VoltAmperes = "evse-least", "VA", "EVSE least, VA.";
    EXISTING_FIRST_STEP: VoltAmperes = "existing-first-step", "VA", "Existing first step, VA.";
    EXISTING_NEW_HEAT_FOUR_OR_MORE_DEMAND: Percent = "existing-new-heat-four-or-more-demand", "%", "Existing new heat four or more demand, %.";
    EXISTING_NEW_HVAC_DEMAND: Percent = "existing-new-hvac-demand", "%", "Existing new HVAC demand, %.";
    EXISTING_REMAINDER_DEMAND: Percent = "existing-remainder-demand", "%", "Existing remainder demand, %.";
    FAULT_CONDUCTOR_TEMPERATURE: Celsius = "fault-conductor-temperature", "C", "Fault conductor temperature, C.";
    FAULT_TO_NEUTRAL: f64 = "fault-to-neutral", "", "Fault to neutral, a count or factor.";
    FIXED_APPLIANCE_LEAST_MOTOR: f64 = "fixed-appliance-least-motor", "hp", "Fixed appliance least motor, horsepower.";
    FIXED_APPLIANCE_LEAST_POWER: f64 = "fixed-appliance-least-power", "W", "Fixed appliance least power, watts.";
    FIXED_APPLIANCES_DEMAND: Percent = "fixed-appliances-demand", "%", "Fixed appliances demand, %.";
    FIXED_APPLIANCES_FROM: f64 = "fixed-appliances-from", "", "Fixed appliances from, a count or factor.";
    FREE_CONDUCTOR: Inches = "free-conductor", "in", "Free conductor, in.";
    GROUNDING_UPSIZING_CAP: Percent = "grounding-upsizing-cap", "%", "Grounding upsizing cap, %.";
    GUTTER_FILL: Percent = "gutter-fill", "%", "Gutter fill, %.";
    GUTTER_FILL_MONITORING: Percent = "gutter-fill-monitoring", "%", "Gutter fill monitoring, %.";
    GUTTER_FILL_SPLICES: Percent = "gutter-fill-splices", "%", "Gutter fill splices, %.";
    HALF_WINDING_REACTANCE: f64 = "half-winding-reactance", "", "Half winding reactance, a count or factor.";
    HALF_WINDING_RESISTANCE: f64 = "half-winding-resistance", "", "Half winding resistance, a count or factor.";
    HANDLE_HEIGHT_TO: Inches = "handle-height-to", "in", "Handle height to, in.";
    HEATING_DEMAND: Percent = "heating-demand", "%", "Heating demand, %.";
    K_ALUMINUM: OhmCircularMilsPerFoot = "k-aluminum", "ohm-cmil/ft", "K aluminum, ohm-cmil/ft.";
    K_COPPER: OhmCircularMilsPerFoot = "k-copper", "ohm-cmil/ft", "K copper, ohm-cmil/ft.";
    LARGEST_MOTOR_EXTRA: Percent = "largest-motor-extra", "%", "Largest motor extra, %.";
    LAUNDRY_CIRCUIT: VoltAmperes = "laundry-circuit", "VA", "Laundry circuit, VA.";
    LAUNDRY_CIRCUITS_LEAST: f64 = "laundry-circuits-least", "", "Laundry circuits least, a count or factor.";
    LOW_HEADROOM_SERVICE_TO: Amperes = "low-headroom-service-to", "A", "Low headroom service to, A.";
    LOWER_AMPACITY_LENGTH_SHARE: Percent = "lower-ampacity-length-share", "%", "Lower ampacity length share, %.";
    LOWER_AMPACITY_LENGTH_TO: Feet = "lower-ampacity-length-to", "ft", "Lower ampacity length to, ft.";
    MEASURED_DEMAND: Percent = "measured-demand", "%", "Measured demand, %.";
    MEASURED_INTERVAL: f64 = "measured-interval", "min", "Measured interval, minutes.";
    MEASURED_PERIOD: f64 = "measured-period", "d", "Measured period, days.";
    MEASURED_SHORT_PERIOD: f64 = "measured-short-period", "d", "Measured short period, days.";
    DROP_POWER_FACTOR: f64 = "drop-power-factor", "", "Power factor of a dwelling's load for voltage drop, a factor.";
    MOTOR_FAULT_CURRENT: f64 = "motor-fault-current", "", "Motor fault current, a count or factor.";
    TRANSFORMER_IMPEDANCE_TOLERANCE: Percent = "transformer-impedance-tolerance", "%", "Manufacturing tolerance of a transformer's impedance, %.";
    MULTIFAMILY_UNIT_LOAD: VoltAmperesPerSquareFoot = "multifamily-unit-load", "VA/ft2", "Multifamily unit load, VA/ft2.";
    MULTIFAMILY_UNITS_FROM: f64 = "multifamily-units-from", "", "Multifamily units from, a count or factor.";
    MULTIFAMILY_WITHOUT_ELECTRIC_COOKING: VoltAmperes = "multifamily-without-electric-cooking", "VA", "Multifamily without electric cooking, VA.";
    NEUTRAL_COOKING_DRYING_DEMAND: Percent = "neutral-cooking-drying-demand", "%", "Neutral cooking drying demand, %.";
    NEUTRAL_EXCESS_DEMAND: Percent = "neutral-excess-demand", "%", "Neutral excess demand, %.";
    NEUTRAL_EXCESS_OVER: Amperes = "neutral-excess-over", "A", "Neutral excess over, A.";
    NEXT_SIZE_UP_TO: Amperes = "next-size-up-to", "A", "Next size up to, A.";
    NIPPLE_FILL: Percent = "nipple-fill", "%", "Nipple fill, %.";
    NIPPLE_LENGTH_TO: Inches = "nipple-length-to", "in", "Nipple length to, in.";
    NONCOINCIDENT_MOTOR_DEMAND: Percent = "noncoincident-motor-demand", "%", "Noncoincident motor demand, %.";
    OPTIONAL_COOLING_DEMAND: Percent = "optional-cooling-demand", "%", "Optional cooling demand, %.";
    OPTIONAL_EVSE_DEMAND: Percent = "optional-evse-demand", "%", "Optional EVSE demand, %.";
    OPTIONAL_FIRST_STEP: VoltAmperes = "optional-first-step", "VA", "Optional first step, VA.";
    OPTIONAL_HEAT_FOUR_OR_MORE_DEMAND: Percent = "optional-heat-four-or-more-demand", "%", "Optional heat four or more demand, %.";
    OPTIONAL_HEAT_PUMP_COMPRESSOR_DEMAND: Percent = "optional-heat-pump-compressor-demand", "%", "Optional heat pump compressor demand, %.";
    OPTIONAL_HEAT_PUMP_DEMAND: Percent = "optional-heat-pump-demand", "%", "Optional heat pump demand, %.";
    OPTIONAL_HEAT_SEPARATE_UNITS_FROM: f64 = "optional-heat-separate-units-from", "", "Optional heat separate units from, a count or factor.";
    OPTIONAL_HEAT_UNDER_FOUR_DEMAND: Percent = "optional-heat-under-four-demand", "%", "Optional heat under four demand, %.";
    OPTIONAL_LEAST_AMPACITY: Amperes = "optional-least-ampacity", "A", "Optional least ampacity, A.";
    OPTIONAL_REMAINDER_DEMAND: Percent = "optional-remainder-demand", "%", "Optional remainder demand, %.";
    OPTIONAL_STORAGE_HEAT_DEMAND: Percent = "optional-storage-heat-demand", "%", "Optional storage heat demand, %.";
    OPTIONAL_SUPPLEMENTAL_HEAT_DEMAND: Percent = "optional-supplemental-heat-demand", "%", "Optional supplemental heat demand, %.";
    PANEL_REDUCED_BENDING_DEVICES_TO: f64 = "panel-reduced-bending-devices-to", "", "Panel reduced bending devices to, a count or factor.";
    PANEL_REDUCED_BENDING_TO: Amperes = "panel-reduced-bending-to", "A", "Panel reduced bending to, A.";
    PARALLEL_LEAST: CircularMils = "parallel-least", "cmil", "Parallel least, cmil.";
    RANGE_CIRCUIT_LEAST: Amperes = "range-circuit-least", "A", "Range circuit least, A.";
    RANGE_CIRCUIT_LEAST_FROM: VoltAmperes = "range-circuit-least-from", "VA", "Range circuit least from, VA.";
    RANGE_COLUMN_A_BELOW: VoltAmperes = "range-column-a-below", "VA", "Range column a below, VA.";
    RANGE_COLUMN_B_TO: VoltAmperes = "range-column-b-to", "VA", "Range column b to, VA.";
    RANGE_INCREASE_OVER: VoltAmperes = "range-increase-over", "VA", "Range increase over, VA.";
    RANGE_INCREASE_PER_KW: Percent = "range-increase-per-kw", "%", "Range increase per kw, %.";
    RANGE_INCREASE_TO: VoltAmperes = "range-increase-to", "VA", "Range increase to, VA.";
    RANGE_TABLE_OVER: VoltAmperes = "range-table-over", "VA", "Range table over, VA.";
    RANGE_THREE_PHASE_COUNT_MULTIPLIER: f64 = "range-three-phase-count-multiplier", "", "Range three phase count multiplier, a count or factor.";
    RANGE_UNEQUAL_OVER: VoltAmperes = "range-unequal-over", "VA", "Range unequal over, VA.";
    RESISTANCE_CHANGE_ALUMINUM: f64 = "resistance-change-aluminum", "1/C", "Resistance change aluminum, per degree Celsius.";
    RESISTANCE_CHANGE_COPPER: f64 = "resistance-change-copper", "1/C", "Resistance change copper, per degree Celsius.";
    RESISTANCE_TABLE_TEMPERATURE: Celsius = "resistance-table-temperature", "C", "Resistance table temperature, C.";
    ROUND_DOWN_ABOVE: Amperes = "round-down-above", "A", "Round down above, A.";
    ROUNDING_DROP_BELOW: Amperes = "rounding-drop-below", "A", "Rounding drop below, A.";
    SERVICE_ONE_CIRCUIT_LEAST: Amperes = "service-one-circuit-least", "A", "Service one circuit least, A.";
    SERVICE_ONE_FAMILY_LEAST: Amperes = "service-one-family-least", "A", "Service one family least, A.";
    SERVICE_OTHER_LEAST: Amperes = "service-other-least", "A", "Service other least, A.";
    SERVICE_TWO_CIRCUITS_LEAST: Amperes = "service-two-circuits-least", "A", "Service two circuits least, A.";
    SHORT_BUNDLE_TO: Inches = "short-bundle-to", "in", "Short bundle to, in.";
    SMALL_APPLIANCE_CIRCUIT: VoltAmperes = "small-appliance-circuit", "VA", "Small appliance circuit, VA.";
    SMALL_APPLIANCE_CIRCUITS_LEAST: f64 = "small-appliance-circuits-least", "", "Small appliance circuits least, a count or factor.";
    TERMINAL_COLUMN_HIGH: Celsius = "terminal-column-high", "C", "Terminal column high, C.";
    TERMINAL_COLUMN_LOW: Celsius = "terminal-column-low", "C", "Terminal column low, C.";
    TERMINAL_COLUMN_TO: Amperes = "terminal-column-to", "A", "Terminal column to, A.";
    TWO_FAMILY_AS_UNITS: f64 = "two-family-as-units", "", "Two family as units, a count or factor.";
    TWO_WIRE_CIRCUIT_COUNTS: f64 = "two-wire-circuit-counts", "", "Two wire circuit counts, a count or factor.";
    UNIT_LOAD: VoltAmperesPerSquareFoot = "unit-load", "VA/ft2", "Unit load, VA/ft2.";
    UNIT_LOAD_CIRCUITS: VoltAmperesPerSquareFoot = "unit-load-circuits", "VA/ft2", "Unit load circuits, VA/ft2.";
    VOLTAGE_DROP_BRANCH: Percent = "voltage-drop-branch", "%", "Voltage drop branch, %.";
    VOLTAGE_DROP_FEEDER: Percent = "voltage-drop-feeder", "%", "Voltage drop feeder, %.";
    VOLTAGE_DROP_TOTAL: Percent = "voltage-drop-total", "%", "Voltage drop total, %.";
    WORKING_SPACE_HEIGHT: Inches = "working-space-height", "in", "Working space height, in.";
    WORKING_SPACE_PROJECTION: Inches = "working-space-projection", "in", "Working space projection, in.";
    WORKING_SPACE_WIDTH: Inches = "working-space-width", "in", "Working space width, in.";
}

flags! {
    DWELLING_83_FEEDER_208Y120 = "dwelling-83-feeder-208y120", "Dwelling 83 feeder 208Y/120?";
    DWELLING_TABLE_EXISTS = "dwelling-table-exists", "Dwelling table exists?";
    DWELLING_TABLE_WITHOUT_FACTORS_ONLY = "dwelling-table-without-factors-only", "Dwelling table without factors only?";
    DWELLING_TABLE_NEEDS_75C = "dwelling-table-needs-75c", "Dwelling table needs 75c?";
    FIXED_APPLIANCE_LEAST_SIZE_APPLIES = "fixed-appliance-least-size-applies", "Fixed appliance least size applies?";
    FIXED_APPLIANCE_LEAVES_OUT_EVSE = "fixed-appliance-leaves-out-evse", "Fixed appliance leaves out EVSE?";
    NONCOINCIDENT_OMITTED_MOTOR_COUNTS = "noncoincident-omitted-motor-counts", "Noncoincident omitted motor counts?";
    NONCOINCIDENT_NAMES_AIR_CONDITIONING = "noncoincident-names-air-conditioning", "Noncoincident names air conditioning?";
    EXISTING_DEPENDS_ON_NEW_HVAC = "existing-depends-on-new-hvac", "Existing depends on new HVAC?";
    MEASURED_REFUSES_RENEWABLES = "measured-refuses-renewables", "Measured refuses renewables?";
    EMS_SETTING_IS_LOAD = "ems-setting-is-load", "Ems setting is load?";
    NEUTRAL_COUNTED_UNBALANCE_ONLY = "neutral-counted-unbalance-only", "Neutral counted unbalance only?";
    NEUTRAL_COUNTED_TWO_LEGS_OF_WYE = "neutral-counted-two-legs-of-wye", "Neutral counted two legs of wye?";
    NEUTRAL_COUNTED_NONLINEAR_WYE = "neutral-counted-nonlinear-wye", "Neutral counted nonlinear wye?";
    GROUNDING_CONDUCTOR_COUNTED = "grounding-conductor-counted", "Grounding conductor counted?";
    NM_SEALED_OPENING_ALLOWS_LOWER_AMPACITY_EXCEPTION = "nm-sealed-opening-allows-lower-ampacity-exception", "Nm sealed opening allows lower ampacity exception?";
    EGRESS_MEASURED_WITH_DOORS_OPEN = "egress-measured-with-doors-open", "Egress measured with doors open?";
    EGRESS_DOORS_AT_90_DEGREES = "egress-doors-at-90-degrees", "Egress doors at 90 degrees?";
    TORQUE_TOOL_REQUIRED = "torque-tool-required", "Torque tool required?";
    NEUTRAL_REDUCTION_ON_TWO_LEGS_OF_WYE = "neutral-reduction-on-two-legs-of-wye", "Neutral reduction on two legs of wye?";
}
