//! How much current may a conductor carry where it is?
//! Source: NFPA 70 ampacity table, ambient correction, bundling adjustment, 110.14(C), 334.80, 338.10(B)(4), by edition.
//! Amperes and degrees C in, amperes out; unknown facts widen the answer to a range that holds for all of their values.

use model::units::{Amperes, Celsius};
use model::{Fact, Insulation, Wire, WiringMethod};
use rulebook::tables::{Column, Subject, TablesIn};
use rulebook::{NoValue, Sourced};
use serde::Serialize;

use super::cable;
use super::found::Found;
use super::load::steady;
use crate::worksheet::{Line, Quantity, Text};

/// Temperature the terminals at both ends are marked for. Unknown counts as 75 C over the amperes of 110.14(C)(1), as either below.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Terminals {
    /// 60 C, or not marked on equipment up to 100 A.
    C60,
    /// 75 C, or 60/75 C.
    C75,
}

impl Terminals {
    const fn column(self) -> Column {
        match self {
            Self::C60 => Column::C60,
            Self::C75 => Column::C75,
        }
    }
}

/// Conductors as they are run, with everything their ampacity rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Installation {
    /// One ungrounded conductor.
    pub wire: Fact<Wire>,
    /// Parallel sets; one where there is no other.
    pub sets: u32,
    /// Insulation of the conductor, or of the conductors in the cable.
    pub insulation: Fact<Insulation>,
    /// How they are run.
    pub method: Fact<WiringMethod>,
    /// Hottest surroundings along the run.
    pub ambient: Fact<Celsius>,
    /// Current-carrying conductors that lie together; see [`super::bundle`] for the count.
    pub current_carrying: Fact<u32>,
    /// Marking of the terminals at both ends; the lower of the two.
    pub terminals: Fact<Terminals>,
    /// Cable in contact with thermal insulation anywhere.
    pub in_thermal_insulation: Fact<bool>,
    /// Wet place, or a raceway outdoors or in the ground.
    pub wet: Fact<bool>,
}

impl Installation {
    /// The same installation with another conductor.
    #[must_use]
    pub fn with_wire(&self, wire: Wire) -> Self {
        Self {
            wire: Fact::derived(wire),
            ..self.clone()
        }
    }
}

/// Every step of one ampacity, for one set of settled facts.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Column of the ampacity table that correction and adjustment start from.
    pub column: Column,
    /// Value there.
    pub start: Sourced<Amperes>,
    /// Ambient correction factor.
    pub ambient: Sourced<f64>,
    /// Bundling adjustment factor.
    pub bundling: Sourced<f64>,
    /// After both.
    pub corrected: Amperes,
    /// Most that the terminals allow, and their column.
    pub terminal: (Column, Sourced<Amperes>),
    /// Most that the cable's own rule allows.
    pub cable: Option<(Column, Sourced<Amperes>, Text)>,
    /// The result for all sets.
    pub ampacity: Amperes,
    /// The result before correction and adjustment.
    pub uncorrected: Amperes,
}

impl Case {
    /// True where neither correction nor adjustment changed the value.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.ambient.value == 1.0 && self.bundling.value == 1.0
    }
}

/// Ampacity of an installation.
#[derive(Clone, Debug, PartialEq)]
pub struct Ampacity {
    /// After correction, adjustment and every cap.
    pub value: Found<Amperes>,
    /// The same without correction and adjustment: for the comparison with continuous load.
    pub uncorrected: Found<Amperes>,
    /// Neither correction nor adjustment applies; `None` while that cannot be told.
    pub is_plain: Option<bool>,
    /// The column the caps end at is 75 C or more, whatever is unknown.
    pub is_75: Option<bool>,
    /// Steps of the lowest case, which is the only one when everything is known.
    pub case: Option<Case>,
    /// A table that gave no value.
    pub no_value: Option<NoValue>,
}

/// Facts settled for one case.
#[derive(Clone, Copy)]
pub(super) struct Settled {
    pub(super) wire: Wire,
    pub(super) sets: u32,
    pub(super) insulation: Insulation,
    pub(super) method: WiringMethod,
    pub(super) ambient: Celsius,
    pub(super) together: u32,
    pub(super) terminals: Terminals,
    pub(super) insulated: bool,
    pub(super) wet: bool,
}

/// Ampacity of an installation at a circuit of `rating` (where known), for the terminal rule's limit of 100 A.
#[must_use]
pub fn ampacity(
    installation: &Installation,
    rating: Option<Amperes>,
    book: &TablesIn<'_>,
) -> Ampacity {
    match super::settle::bounds(installation, rating, book) {
        Ok(found) => found,
        Err(why) => Ampacity {
            value: Found::nothing(why.to_string()),
            uncorrected: Found::nothing(why.to_string()),
            is_plain: None,
            is_75: None,
            case: None,
            no_value: Some(why),
        },
    }
}

/// Ampacity after ambient correction and bundling adjustment, before any cap. Both factors are pure numbers.
#[must_use]
pub fn corrected(start: Amperes, ambient: f64, bundling: f64) -> Amperes {
    steady(start * ambient * bundling)
}

/// The hand calculation for one set of settled facts.
pub(super) fn case(it: Settled, book: &TablesIn<'_>) -> Result<Case, NoValue> {
    let column = super::insulation::column(it.insulation, it.wet);
    let start = book.ampacity(it.wire.size, it.wire.material, column)?;
    let ambient = book.ambient_factor(column, it.ambient)?;
    let percent = book.bundling_factor(it.together.max(1))?;
    let bundling = Sourced {
        value: percent.value.factor(),
        cite: percent.cite,
        check: percent.check,
    };
    let corrected = corrected(start.value, ambient.value, bundling.value);
    let ends = it.terminals.column().min(column);
    let terminal = book.ampacity(it.wire.size, it.wire.material, ends)?;
    let cable = cable::cap(it, column, book)?;

    let cap = cable.as_ref().map_or(terminal.value, |(_, amperes, _)| {
        amperes.value.min(terminal.value)
    });
    let sets = f64::from(it.sets.max(1));
    Ok(Case {
        column,
        corrected,
        ampacity: corrected.min(cap) * sets,
        uncorrected: start.value.min(cap) * sets,
        start,
        ambient,
        bundling,
        terminal: (ends, terminal),
        cable,
    })
}

/// The steps as worksheet lines, in the order of the hand calculation.
#[must_use]
pub fn lines(installation: &Installation, ampacity: &Ampacity, book: &TablesIn<'_>) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(case) = &ampacity.case {
        let wire = installation
            .wire
            .get()
            .map(|w| w.to_string())
            .unwrap_or_default();
        lines.push(
            Line::number(
                format!("Ampacity in the {} column", degrees(case.column)),
                case.start.value,
            )
            .input_text("conductor", wire)
            .source(&case.start),
        );
        lines.push(
            Line::number("Ambient correction", Quantity::number(case.ambient.value))
                .how("factor of the insulation's column")
                .source(&case.ambient),
        );
        lines.push(
            Line::number("Bundling adjustment", Quantity::number(case.bundling.value))
                .how("factor for the number of current-carrying conductors together")
                .source(&case.bundling),
        );
        lines.push(
            Line::number("Corrected and adjusted", case.corrected)
                .how("ampacity x correction x adjustment"),
        );
        lines.push(
            Line::number(
                format!(
                    "Most that the terminals allow, {} column",
                    degrees(case.terminal.0)
                ),
                case.terminal.1.value,
            )
            .checked(case.terminal.1.check)
            .cite(book.cite(Subject::TerminalTemperature)),
        );
        if let Some((column, amperes, why)) = &case.cable {
            lines.push(
                Line::number(
                    format!("Most that the cable allows, {} column", degrees(*column)),
                    amperes.value,
                )
                .note(why.clone())
                .source(amperes),
            );
        }
    }
    let mut line = match &ampacity.no_value {
        Some(why) => Line::no_value("Ampacity", why),
        None => Line::new("Ampacity", ampacity.value.value())
            .how("smallest of the values above, x sets"),
    };
    line = line.input(
        "sets",
        Quantity::number(f64::from(installation.sets.max(1))),
    );
    if let Some(case) = &ampacity.case {
        line = line
            .checked(case.start.check)
            .checked(case.ambient.check.min(case.ambient.cite.check))
            .checked(case.bundling.check.min(case.bundling.cite.check));
        if ampacity.value.exact().is_none() {
            line = line.note("The steps above show the lowest case while facts are missing.");
        }
    }
    lines.push(line);
    lines
}

const fn degrees(column: Column) -> &'static str {
    match column {
        Column::C60 => "60 C",
        Column::C75 => "75 C",
        Column::C90 => "90 C",
    }
}
