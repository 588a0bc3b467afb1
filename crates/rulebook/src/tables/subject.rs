//! What a section of the code is about: the subjects that calculations and papers cite.
//! Source: `data/sections.csv`, which says for each edition where a subject stands.

macro_rules! subjects {
    ($($name:ident $key:literal $doc:literal;)*) => {
        /// A subject with a place in each edition. Its text form is the key in `sections.csv`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Subject {$(
            #[doc = $doc]
            $name,
        )*}

        impl Subject {
            /// Every subject, in the order of the file.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// Its name in the data files, for example `unit-load`.
            #[must_use]
            pub const fn key(self) -> &'static str {
                match self {$(Self::$name => $key,)*}
            }

            /// What it is, in words.
            #[must_use]
            pub const fn title(self) -> &'static str {
                match self {$(Self::$name => $doc,)*}
            }
        }
    };
}

subjects! {
    StandardLoad "standard-load" "Standard calculation as a whole.";
    FloorArea "floor-area" "How floor area is measured.";
    UnitLoad "unit-load" "General lighting load per area.";
    UnitLoadCircuits "unit-load-circuits" "Load per area for counting lighting circuits.";
    LightingDemand "lighting-demand" "Demand on lighting and general-use load.";
    SmallAppliance "small-appliance" "Small-appliance circuits.";
    Laundry "laundry" "Laundry circuit.";
    FixedAppliances "fixed-appliances" "Appliances fastened in place.";
    Dryers "dryers" "Clothes dryers.";
    Ranges "ranges" "Household cooking.";
    RangeCircuit "range-circuit" "Least branch circuit of a range.";
    Heating "heating" "Fixed electric space heating.";
    Motors "motors" "Largest motor.";
    MotorCurrents "motor-currents" "Full-load currents of single-phase motors.";
    Evse "evse" "Vehicle charging equipment.";
    Noncoincident "noncoincident" "Loads that do not run together.";
    Neutral "neutral" "Neutral load.";
    Ems "ems" "Energy management.";
    Optional "optional" "Optional method, one dwelling: general loads.";
    OptionalConditions "optional-conditions" "Optional method, one dwelling: when it may be used.";
    OptionalHvac "optional-hvac" "Optional method, one dwelling: heating and cooling.";
    Existing "existing" "Existing dwelling as a whole.";
    ExistingWithoutNewHvac "existing-without-new-hvac" "Existing dwelling, no new heating or cooling.";
    ExistingWithNewHvac "existing-with-new-hvac" "Existing dwelling, with new heating or cooling.";
    Multifamily "multifamily" "Optional method, three or more units.";
    TwoFamily "two-family" "Two units on one feeder.";
    Measured "measured" "Existing load by measurement.";
    ServiceMinimum "service-minimum" "Least rating of a service disconnect.";
    BuildingDisconnectMinimum "building-disconnect-minimum" "Least rating of a separate building's disconnect.";
    ServiceConductorMinimum "service-conductor-minimum" "Least size of service conductors.";
    Rounding "rounding" "Dropping fractions of an ampere.";
    CalculationVoltages "calculation-voltages" "Voltages to calculate with.";
    Ampacity "ampacity" "Ampacity table.";
    Ambient "ambient" "Correction for ambient temperature.";
    Bundling "bundling" "Adjustment for more than three conductors.";
    ShortBundle "short-bundle" "Bundles too short to adjust.";
    TwoAmpacities "two-ampacities" "Lower ampacity over a short length.";
    NeutralCounting "neutral-counting" "When a neutral counts as current-carrying.";
    GroundingCounting "grounding-counting" "Whether grounding conductors count.";
    NmCable "nm-cable" "Ampacity of nonmetallic-sheathed cable.";
    SeCable "se-cable" "Ampacity of service-entrance cable indoors.";
    TerminalTemperature "terminal-temperature" "Temperature rating of terminals.";
    StandardRatings "standard-ratings" "Standard ratings of breakers and fuses.";
    SmallConductors "small-conductors" "Limits for small conductors.";
    NextSizeUp "next-size-up" "Next standard rating above the ampacity.";
    RoundDown "round-down" "Where the rating may not exceed the ampacity.";
    Dwelling83Rule "dwelling-83-rule" "Dwelling 83 % rule as a whole.";
    Dwelling83Service "dwelling-83-service" "Dwelling 83 % rule, service.";
    Dwelling83Feeder "dwelling-83-feeder" "Dwelling 83 % rule, feeder.";
    Dwelling83Cap "dwelling-83-cap" "Dwelling 83 % rule, upper limit of a feeder.";
    DwellingTable "dwelling-table" "Table of dwelling conductors.";
    FeederSize "feeder-size" "Size of feeder conductors.";
    DwellingFeederCap "dwelling-feeder-cap" "Feeder of a dwelling need not exceed the service conductors.";
    FeederOvercurrent "feeder-overcurrent" "Overcurrent protection of feeders.";
    NeutralMinimumFeeder "neutral-minimum-feeder" "Least neutral of a feeder.";
    NeutralMinimumService "neutral-minimum-service" "Least grounded conductor of a service.";
    Parallel "parallel" "Conductors in parallel.";
    Egc "egc" "Equipment grounding conductor.";
    EgcUpsizing "egc-upsizing" "Enlarging the equipment grounding conductor.";
    Gec "gec" "Grounding electrode conductor.";
    ElectrodeCaps "electrode-caps" "Upper limits by kind of electrode.";
    BondingJumper "bonding-jumper" "Bonding jumpers and grounded service conductor.";
    RacewayFill "raceway-fill" "Share of a raceway that may be filled.";
    Raceways "raceways" "Areas of raceways.";
    ConductorDimensions "conductor-dimensions" "Dimensions of insulated conductors.";
    CompactDimensions "compact-dimensions" "Dimensions of compact aluminum conductors.";
    ConductorProperties "conductor-properties" "Bare conductors and direct-current resistance.";
    Impedance "impedance" "Alternating-current impedance.";
    VoltageDrop "voltage-drop" "Recommended voltage drop.";
    BoxVolume "box-volume" "Volumes of boxes.";
    BoxAllowance "box-allowance" "Volume per conductor.";
    BoxFill "box-fill" "Counting rules in boxes.";
    GutterFill "gutter-fill" "Wiring space of cabinets.";
    WireBendingSameWall "wire-bending-same-wall" "Bending space, conductor not leaving through the opposite wall.";
    WireBendingOppositeWall "wire-bending-opposite-wall" "Bending space, conductor leaving through the opposite wall.";
    PanelBendingException "panel-bending-exception" "Reduced bending space at one end of a panelboard.";
    WorkingSpace "working-space" "Width and height of working space.";
    WorkingSpaceDepth "working-space-depth" "Depth of working space.";
    WorkingSpaceHeadroomException "working-space-headroom-exception" "Low headroom in existing dwellings.";
    WorkingSpaceEgress "working-space-egress" "Way out with equipment doors open.";
    DedicatedSpace "dedicated-space" "Dedicated equipment space.";
    HandleHeight "handle-height" "Highest handle position.";
    FreeConductor "free-conductor" "Free conductor at a box.";
    ShortCircuitRating "short-circuit-rating" "Interrupting and short-circuit ratings.";
    FaultCurrent "fault-current" "Marking the available fault current.";
    Busbar "busbar" "Busbars fed from two sides.";
    Torque "torque" "Tightening torque.";
    TorqueValues "torque-values" "Torque values where the maker gives none.";
}

impl std::fmt::Display for Subject {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key())
    }
}
