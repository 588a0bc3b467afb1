//! What a conductor is: size, material, insulation, and the way it is run.
//! Sources: American wire gauge sizes and circular-mil areas, NFPA 70 Chapter 9 Table 8; areas in circular mils.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::units::CircularMils;

/// A trade size, from 18 AWG to 2000 kcmil. Ordered by cross-section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WireSize(u8);

/// Names as written in the trade, with circular-mil areas (18 and 16 AWG, 1250 kcmil and up: memory).
const SIZES: [(&str, f64); 32] = [
    ("18", 1_620.0),
    ("16", 2_580.0),
    ("14", 4_110.0),
    ("12", 6_530.0),
    ("10", 10_380.0),
    ("8", 16_510.0),
    ("6", 26_240.0),
    ("4", 41_740.0),
    ("3", 52_620.0),
    ("2", 66_360.0),
    ("1", 83_690.0),
    ("1/0", 105_600.0),
    ("2/0", 133_100.0),
    ("3/0", 167_800.0),
    ("4/0", 211_600.0),
    ("250", 250_000.0),
    ("300", 300_000.0),
    ("350", 350_000.0),
    ("400", 400_000.0),
    ("500", 500_000.0),
    ("600", 600_000.0),
    ("700", 700_000.0),
    ("750", 750_000.0),
    ("800", 800_000.0),
    ("900", 900_000.0),
    ("1000", 1_000_000.0),
    ("1100", 1_100_000.0),
    ("1200", 1_200_000.0),
    ("1250", 1_250_000.0),
    ("1500", 1_500_000.0),
    ("1750", 1_750_000.0),
    ("2000", 2_000_000.0),
];

impl WireSize {
    /// Every size, smallest first.
    pub fn all() -> impl DoubleEndedIterator<Item = Self> + Clone {
        (0..SIZES.len() as u8).map(Self)
    }

    /// The size as written in the trade: `14`, `1/0`, `250`.
    #[must_use]
    pub fn name(self) -> &'static str {
        SIZES[usize::from(self.0)].0
    }

    /// Cross-section of the metal.
    #[must_use]
    pub fn area(self) -> CircularMils {
        CircularMils(SIZES[usize::from(self.0)].1)
    }

    /// Smallest size whose area is not below `area`, if there is one.
    #[must_use]
    pub fn at_least(area: CircularMils) -> Option<Self> {
        Self::all().find(|s| s.area() >= area)
    }

    /// Place in the list of sizes, for tables indexed by size.
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }

    /// True for sizes named in thousands of circular mils.
    #[must_use]
    pub fn is_kcmil(self) -> bool {
        self.area().0 >= 250_000.0
    }
}

impl fmt::Display for WireSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} {}",
            self.name(),
            if self.is_kcmil() { "kcmil" } else { "AWG" }
        )
    }
}

/// A text that should name a conductor, or a part of one, and does not.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadConductor {
    /// Not a trade size.
    #[error("`{0}` is not a conductor size: expected for example 14, 1/0, 250")]
    Size(String),
    /// Not a conductor metal.
    #[error("`{0}` is not a conductor metal: expected Cu, Al or CCA")]
    Material(String),
    /// Size and metal are not both there.
    #[error(
        "`{0}` is not a conductor: expected a size and a metal, for example `2 Al` or `1/0 Cu`"
    )]
    Wire(String),
}

impl FromStr for WireSize {
    type Err = BadConductor;
    /// Accepts `2`, `2 AWG`, `#2`, `250`, `250 kcmil`.
    fn from_str(text: &str) -> Result<Self, BadConductor> {
        let bare = text.trim().trim_start_matches('#');
        let bare = bare
            .strip_suffix("AWG")
            .or_else(|| bare.strip_suffix("kcmil"))
            .unwrap_or(bare)
            .trim();
        SIZES
            .iter()
            .position(|(name, _)| *name == bare)
            .map(|i| Self(i as u8))
            .ok_or_else(|| BadConductor::Size(text.to_owned()))
    }
}

/// Conductor metal.
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
pub enum Material {
    /// Copper.
    #[serde(rename = "Cu")]
    Copper,
    /// Aluminum.
    #[serde(rename = "Al")]
    Aluminum,
    /// Copper-clad aluminum.
    #[serde(rename = "CCA")]
    CopperClad,
}

impl Material {
    /// Symbol as written on drawings.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Copper => "Cu",
            Self::Aluminum => "Al",
            Self::CopperClad => "CCA",
        }
    }

    /// True for the metals that share the aluminum columns of the tables.
    #[must_use]
    pub const fn is_aluminum_column(self) -> bool {
        !matches!(self, Self::Copper)
    }
}

impl fmt::Display for Material {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

impl FromStr for Material {
    type Err = BadConductor;
    fn from_str(text: &str) -> Result<Self, BadConductor> {
        match text.trim() {
            "Cu" | "cu" | "CU" => Ok(Self::Copper),
            "Al" | "al" | "AL" => Ok(Self::Aluminum),
            "CCA" | "cca" => Ok(Self::CopperClad),
            other => Err(BadConductor::Material(other.to_owned())),
        }
    }
}

/// Size and metal of one conductor; written `2 Al`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Wire {
    /// Trade size.
    pub size: WireSize,
    /// Metal.
    pub material: Material,
}

impl fmt::Display for Wire {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.size, self.material)
    }
}

impl FromStr for Wire {
    type Err = BadConductor;
    fn from_str(text: &str) -> Result<Self, BadConductor> {
        let (size, metal) = text
            .trim()
            .rsplit_once(' ')
            .ok_or_else(|| BadConductor::Wire(text.to_owned()))?;
        Ok(Self {
            size: size.parse()?,
            material: metal.parse()?,
        })
    }
}

macro_rules! as_text {
    ($($name:ident $example:literal;)*) => {$(
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.collect_str(&self.to_string().replace(" AWG", "").replace(" kcmil", ""))
            }
        }
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                String::deserialize(d)?.parse().map_err(serde::de::Error::custom)
            }
        }
        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool { true }
            fn schema_name() -> std::borrow::Cow<'static, str> { stringify!($name).into() }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "examples": [$example] })
            }
        }
    )*};
}

as_text! {
    WireSize "1/0";
    Wire "2 Al";
}

/// Insulation of a conductor, or of the conductors in a cable.
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
pub enum Insulation {
    /// Old 60 C thermoplastic.
    TW,
    /// 75 C, wet or dry.
    THW,
    /// 75 C wet.
    THWN,
    /// 90 C dry.
    THHN,
    /// 90 C wet or dry; usually printed beside THHN.
    #[serde(rename = "THWN-2")]
    THWN2,
    /// 90 C dry, 75 C wet.
    XHHW,
    /// 90 C wet or dry.
    #[serde(rename = "XHHW-2")]
    XHHW2,
    /// 90 C underground service entrance.
    #[serde(rename = "USE-2")]
    USE2,
    /// 90 C conductors inside modern nonmetallic-sheathed cable.
    #[serde(rename = "NM-B")]
    NMB,
    /// 60 C conductors inside old nonmetallic-sheathed cable.
    NM,
    /// 75 C rubber.
    RHW,
    /// 90 C rubber.
    #[serde(rename = "RHW-2")]
    RHW2,
    /// Conductors of underground feeder cable, used at 60 C.
    UF,
}

/// How conductors are run.
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
pub enum WiringMethod {
    /// Nonmetallic-sheathed cable.
    NM,
    /// Armored cable.
    AC,
    /// Metal-clad cable.
    MC,
    /// Service-entrance cable, round: insulated neutral and a bare equipment ground.
    SER,
    /// Service-entrance cable, flat: bare concentric neutral, no separate ground.
    SEU,
    /// Underground feeder cable.
    UF,
    /// Underground service-entrance conductors.
    USE,
    /// Electrical metallic tubing.
    EMT,
    /// Rigid metal conduit.
    RMC,
    /// Rigid PVC conduit, schedule 40.
    #[serde(rename = "PVC-40")]
    Pvc40,
    /// Rigid PVC conduit, schedule 80.
    #[serde(rename = "PVC-80")]
    Pvc80,
    /// Flexible metal conduit.
    FMC,
    /// Electrical nonmetallic tubing.
    ENT,
    /// Liquidtight flexible nonmetallic conduit.
    #[serde(rename = "LFNC-B")]
    LfncB,
    /// Knob-and-tube.
    #[serde(rename = "knob-and-tube")]
    KnobAndTube,
    /// Anything else.
    #[serde(rename = "other")]
    Other,
}

impl Insulation {
    /// As printed on the conductor, and as the job file writes it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::TW => "TW",
            Self::THW => "THW",
            Self::THWN => "THWN",
            Self::THHN => "THHN",
            Self::THWN2 => "THWN-2",
            Self::XHHW => "XHHW",
            Self::XHHW2 => "XHHW-2",
            Self::USE2 => "USE-2",
            Self::NMB => "NM-B",
            Self::NM => "NM",
            Self::RHW => "RHW",
            Self::RHW2 => "RHW-2",
            Self::UF => "UF",
        }
    }
}

impl WiringMethod {
    /// As the trade and the job file write it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NM => "NM",
            Self::AC => "AC",
            Self::MC => "MC",
            Self::SER => "SER",
            Self::SEU => "SEU",
            Self::UF => "UF",
            Self::USE => "USE",
            Self::EMT => "EMT",
            Self::RMC => "RMC",
            Self::Pvc40 => "PVC-40",
            Self::Pvc80 => "PVC-80",
            Self::FMC => "FMC",
            Self::ENT => "ENT",
            Self::LfncB => "LFNC-B",
            Self::KnobAndTube => "knob-and-tube",
            Self::Other => "other",
        }
    }

    /// True where single conductors are pulled into a tube.
    #[must_use]
    pub const fn is_raceway(self) -> bool {
        matches!(
            self,
            Self::EMT | Self::RMC | Self::Pvc40 | Self::Pvc80 | Self::FMC | Self::ENT | Self::LfncB
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_as_the_trade_writes_them() {
        for text in ["2 Al", "#2 Al", "2 AWG Al"] {
            assert_eq!(text.parse::<Wire>().unwrap().to_string(), "2 AWG Al");
        }
        assert_eq!(
            "250 kcmil Cu".parse::<Wire>().unwrap().to_string(),
            "250 kcmil Cu"
        );
        assert!("2Al".parse::<Wire>().is_err());
        assert!("5 Al".parse::<Wire>().is_err());
    }

    #[test]
    fn names_are_those_of_the_job_file() {
        use Insulation as I;
        use WiringMethod as W;
        for i in [
            I::TW,
            I::THWN2,
            I::XHHW2,
            I::USE2,
            I::NMB,
            I::NM,
            I::RHW2,
            I::UF,
        ] {
            assert_eq!(toml::Value::try_from(i).unwrap().as_str(), Some(i.name()));
        }
        for w in [
            W::NM,
            W::SER,
            W::Pvc40,
            W::Pvc80,
            W::LfncB,
            W::KnobAndTube,
            W::Other,
            W::ENT,
        ] {
            assert_eq!(toml::Value::try_from(w).unwrap().as_str(), Some(w.name()));
        }
    }

    #[test]
    fn sizes_are_ordered_by_area() {
        let areas: Vec<_> = WireSize::all().map(|s| s.area()).collect();
        assert!(areas.windows(2).all(|w| w[0] < w[1]));
    }

    #[test]
    fn the_next_size_is_never_too_small() {
        assert_eq!(
            WireSize::at_least(CircularMils(77_932.8)).unwrap().name(),
            "1"
        );
        assert_eq!(
            WireSize::at_least(CircularMils(66_360.0)).unwrap().name(),
            "2"
        );
        assert_eq!(WireSize::at_least(CircularMils(3e6)), None);
    }
}
