//! Boxes: volumes, volume per conductor, and how things in a box are counted.
//! Source: NFPA 70 Tables 314.16(A) and (B) and 314.16(B) (`box_volumes.csv`, `box_allowances.csv`, `box_counting.csv`). Cubic inches.

use std::sync::Arc;

use model::units::CubicInches;
use model::{Edition, WireSize};

use super::TablesIn;
use super::entry::{BySize, Entry, found};
use super::reader::{Reader, nearest};
use super::subject::Subject;
use crate::source::{Lookup, Sourced};

/// Things that take room in a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BoxItem {
    /// Conductor that comes from outside and ends or is spliced in the box.
    ConductorEnding,
    /// Conductor that passes through unbroken.
    ConductorPassing,
    /// Conductor that passes through with a loop of at least twice the free length.
    ConductorLooped,
    /// Conductor wholly inside the box.
    Pigtail,
    /// Internal cable clamps, any number together.
    InternalClamps,
    /// Luminaire stud or hickey, each type.
    SupportFitting,
    /// Device yoke, each gang it takes.
    DeviceYoke,
    /// Equipment grounding and bonding conductors.
    EquipmentGrounding,
    /// Second set of grounding conductors, isolated from the first.
    IsolatedGrounding,
    /// Terminal block, each conductor size on it.
    TerminalBlock,
}

impl BoxItem {
    /// Every item with its name in the data file.
    pub const ALL: [(Self, &'static str); 10] = [
        (Self::ConductorEnding, "conductor-ending"),
        (Self::ConductorPassing, "conductor-passing"),
        (Self::ConductorLooped, "conductor-looped"),
        (Self::Pigtail, "pigtail"),
        (Self::InternalClamps, "internal-clamps"),
        (Self::SupportFitting, "support-fitting"),
        (Self::DeviceYoke, "device-yoke"),
        (Self::EquipmentGrounding, "equipment-grounding"),
        (Self::IsolatedGrounding, "isolated-grounding"),
        (Self::TerminalBlock, "terminal-block"),
    ];
}

/// Conductor whose volume counts for an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CountedAs {
    /// The conductor itself.
    OwnSize,
    /// Largest conductor in the box.
    LargestInBox,
    /// Largest conductor on the device.
    LargestOnDevice,
    /// Largest grounding conductor in the box.
    LargestGrounding,
    /// Largest conductor on the terminal block.
    LargestTerminated,
}

const COUNTED: [(CountedAs, &str); 5] = [
    (CountedAs::OwnSize, "own-size"),
    (CountedAs::LargestInBox, "largest-in-box"),
    (CountedAs::LargestOnDevice, "largest-on-device"),
    (CountedAs::LargestGrounding, "largest-grounding"),
    (CountedAs::LargestTerminated, "largest-terminated"),
];

/// How an item is counted, in volume allowances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoxCount {
    /// Allowances for the first `covers` pieces together.
    pub allowances: f64,
    /// How many pieces that covers; `None`: any number.
    pub covers: Option<u32>,
    /// Allowances for each further piece.
    pub each_further: f64,
    /// Conductor whose volume one allowance is.
    pub counted_as: CountedAs,
}

impl BoxCount {
    /// Allowances for a number of pieces.
    #[must_use]
    pub fn allowances_for(&self, pieces: u32) -> f64 {
        match (pieces, self.covers) {
            (0, _) => 0.0,
            (_, None) => self.allowances,
            (n, Some(covers)) => {
                self.allowances + f64::from(n.saturating_sub(covers)) * self.each_further
            }
        }
    }
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Boxes {
    /// Sorted by name.
    volumes: Vec<(String, Entry<CubicInches>)>,
    allowances: BySize<CubicInches>,
    counting: [Option<Entry<BoxCount>>; 10],
}

pub(crate) fn load(reader: &mut Reader<'_>) -> [Boxes; 5] {
    let header = &["box", "outside_in", "volume_in3"];
    let volumes = reader.rows("tables/box_volumes.csv", header, 1, |cells| {
        Some((
            cells.text("box").to_owned(),
            cells.number("volume_in3", CubicInches),
        ))
    });
    const ALLOWANCES: &str = "tables/box_allowances.csv";
    let allowances = reader.rows(ALLOWANCES, &["size", "volume_in3"], 1, |cells| {
        Some((
            cells.sizes("size")?,
            cells.number("volume_in3", CubicInches),
        ))
    });
    const COUNTING: &str = "tables/box_counting.csv";
    let header = &[
        "item",
        "allowances",
        "covers",
        "each_further",
        "based_on",
        "section",
    ];
    let counting = reader.rows(COUNTING, header, 1, |cells| {
        let name = cells.text("item").to_owned();
        let Some((item, _)) = BoxItem::ALL.into_iter().find(|(_, n)| *n == name) else {
            let near = nearest(&name, BoxItem::ALL.iter().map(|(_, n)| *n));
            cells.wrong(
                "item",
                "an item that counting knows",
                format!("`{name}`"),
                near,
            );
            return None;
        };
        let based = cells.text("based_on").to_owned();
        let Some((counted_as, _)) = COUNTED.into_iter().find(|(_, n)| *n == based) else {
            let near = nearest(&based, COUNTED.iter().map(|(_, n)| *n));
            cells.wrong(
                "based_on",
                "whose volume counts",
                format!("`{based}`"),
                near,
            );
            return None;
        };
        let covers = cells.count("covers");
        let each_further = cells.number("each_further", |n| n);
        let value = cells
            .number("allowances", |n| n)
            .map(|allowances| BoxCount {
                allowances,
                covers,
                each_further: each_further.unwrap_or_default(),
                counted_as,
            });
        Some((item, value, Arc::<str>::from(cells.text("section"))))
    });
    Edition::ALL.map(|edition| {
        let mut by_name: Vec<_> = volumes
            .iter()
            .filter(|r| r.holds_in(edition))
            .map(|r| {
                let entry = Entry {
                    value: r.value.1,
                    check: r.check,
                    section: None,
                };
                (r.value.0.clone(), entry)
            })
            .collect();
        by_name.sort_by(|a, b| a.0.cmp(&b.0));
        let mut by_size = BySize::default();
        for row in allowances.iter().filter(|r| r.holds_in(edition)) {
            let entry = Entry {
                value: row.value.1,
                check: row.check,
                section: None,
            };
            by_size.put(row.value.0, entry, (ALLOWANCES, row.line), reader);
        }
        Boxes {
            volumes: by_name,
            allowances: by_size,
            counting: BoxItem::ALL.map(|(item, _)| {
                counting
                    .iter()
                    .find(|r| r.holds_in(edition) && r.value.0 == item)
                    .map(|r| Entry {
                        value: r.value.1,
                        check: r.check,
                        section: Some(r.value.2.clone()),
                    })
            }),
        }
    })
}

impl TablesIn<'_> {
    /// Least volume of a standard box by its name, for example `4 x 1-1/2 square`.
    pub fn box_volume(&self, name: &str) -> Lookup<CubicInches> {
        let volumes = &self.tables.boxes.volumes;
        let at = volumes.binary_search_by(|(n, _)| n.as_str().cmp(name)).ok();
        let entry = at.and_then(|i| volumes.get(i)).map(|(_, e)| e.clone());
        found(entry, self.cite(Subject::BoxVolume), || {
            format!("a box `{name}`")
        })
    }

    /// Every standard box with its least volume, by name.
    pub fn box_volumes(&self) -> impl Iterator<Item = (&str, CubicInches)> {
        self.tables
            .boxes
            .volumes
            .iter()
            .filter_map(|(n, e)| e.value.map(|v| (n.as_str(), v)))
    }

    /// Volume of one allowance of a conductor size.
    pub fn box_allowance(&self, size: WireSize) -> Lookup<CubicInches> {
        let entry = self.tables.boxes.allowances.get(size);
        found(entry.cloned(), self.cite(Subject::BoxAllowance), || {
            format!("{size}")
        })
    }

    /// How an item in a box is counted.
    pub fn box_count(&self, item: BoxItem) -> Lookup<BoxCount> {
        let entry = self.tables.boxes.counting[item as usize].clone();
        found(entry, self.cite(Subject::BoxFill), || format!("{item:?}"))
    }

    /// Allowances for a number of equipment grounding conductors, each of the largest one's volume.
    pub fn box_grounds(&self, conductors: u32) -> Lookup<f64> {
        self.box_count(BoxItem::EquipmentGrounding)
            .map(|count| Sourced {
                value: count.value.allowances_for(conductors),
                cite: count.cite,
                check: count.check,
            })
    }
}
