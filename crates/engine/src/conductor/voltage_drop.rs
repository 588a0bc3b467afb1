//! How much voltage is lost on a run?
//! Source: circuit theory with NFPA 70 Chapter 9 Table 9; the percentages are recommendations in informational notes, not rules.
//! Amperes and feet (one way) in, volts and percent of the nominal voltage out. Conductors at the table's 75 C.

use model::house::System;
use model::units::{Amperes, Feet, OhmsPerKft, Percent, Volts};
use rulebook::NoValue;
use rulebook::tables::{Subject, TablesIn, limit};
use serde::Serialize;

use super::phasor::Phasor;
use super::run::{Impedance, Run, impedance};
use crate::worksheet::{Line, Quantity, Worksheet};

/// Load at the far end of a run. Loads from leg to leg and from a leg to the neutral add up in the legs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Loading {
    /// From leg to leg.
    pub line_to_line: Amperes,
    /// From the first leg to the neutral.
    pub leg_a: Amperes,
    /// From the second leg to the neutral.
    pub leg_b: Amperes,
    /// Power factor, lagging: 1 for heat, about 0.8 to 0.9 for motors. Between 0 and 1.
    pub power_factor: f64,
}

/// Loss of one voltage along the run. Negative where the far end is higher, as a leg can be when the other is loaded.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Drop {
    /// By the hand formula: current times (R cos + X sin), summed over the way out and back.
    pub hand: Volts,
    /// Difference of the two voltages' sizes in the solved circuit.
    pub exact: Volts,
}

/// Losses of all three voltages.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Drops {
    /// First leg to neutral.
    pub leg_a: Drop,
    /// Second leg to neutral.
    pub leg_b: Drop,
    /// Leg to leg.
    pub line_to_line: Drop,
    /// Current in the neutral.
    pub neutral: Amperes,
    /// The largest loss as a share of its nominal voltage, from the larger of both figures.
    pub worst: Percent,
}

/// Voltage drop of one run under `load`. Without a neutral conductor the leg-to-neutral loads are taken from leg to leg.
pub fn voltage_drop(
    id: &str,
    system: System,
    run: &Run,
    load: &Loading,
    book: &TablesIn<'_>,
) -> (Worksheet, Option<Drops>) {
    let mut sheet = Worksheet::new(format!("{id}.voltage-drop"), "Voltage drop", book.edition());
    match solve(system, run, load, book, &mut sheet) {
        Ok(drops) => (sheet, Some(drops)),
        Err(why) => {
            sheet.push(Line::no_value("Voltage drop", &why));
            (sheet, None)
        }
    }
}

/// Drop of a two-wire circuit out and back, from a resistance per length: 2 x length x resistance x current.
#[must_use]
pub fn two_wire(resistance: OhmsPerKft, length: Feet, current: Amperes) -> Volts {
    2.0 * (current * (resistance * length))
}

fn solve(
    system: System,
    run: &Run,
    load: &Loading,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<Drops, NoValue> {
    let warm = book.limit(limit::RESISTANCE_TABLE_TEMPERATURE)?.value;
    let leg = impedance(run, run.leg, warm, book)?;
    let neutral = match run.neutral {
        Some(wire) => impedance(run, wire, warm, book)?,
        None => leg.clone(),
    };
    let load = if run.neutral.is_some() {
        *load
    } else {
        as_leg_to_leg(load)
    };
    let drops = circuit(system, leg.value, neutral.value, &load);

    sheet.push(
        Line::number("Resistance of one leg", leg.value.resistance)
            .how("Table 9 resistance x length / sets")
            .input_text("conductor", run.leg.to_string())
            .input("length, one way", run.length)
            .input("sets", Quantity::number(f64::from(run.sets)))
            .source(&leg),
    );
    sheet.push(
        Line::number("Reactance of one leg", leg.value.reactance)
            .how("Table 9 reactance x length / sets")
            .source(&leg),
    );
    if let Some(wire) = run.neutral {
        sheet.push(
            Line::number("Resistance of the neutral", neutral.value.resistance)
                .input_text("conductor", wire.to_string())
                .source(&neutral),
        );
        sheet.push(
            Line::number("Current in the neutral", drops.neutral)
                .how("sum of the leg currents as vectors"),
        );
    }
    for (label, drop, nominal) in named(&drops, system) {
        let line = Line::number(format!("Drop, {label}"), drop.hand)
            .how("current x (R x power factor + X x reactive factor), out and back")
            .input("line-to-line load", load.line_to_line)
            .input("load on leg A", load.leg_a)
            .input("load on leg B", load.leg_b)
            .input("power factor", Quantity::number(load.power_factor));
        sheet.push(line.source(&leg));
        sheet.push(
            Line::number(
                format!("Drop, {label}, of nominal"),
                share(drop.hand, nominal),
            )
            .how("drop / nominal voltage")
            .note(format!("Solved as a circuit: {:.2}.", drop.exact)),
        );
    }
    cross_check(run, &load, drops.neutral, book, sheet)?;
    recommendation(&drops, book, sheet)?;
    Ok(drops)
}

fn as_leg_to_leg(load: &Loading) -> Loading {
    Loading {
        line_to_line: load.line_to_line + load.leg_a.max(load.leg_b),
        leg_a: Amperes::ZERO,
        leg_b: Amperes::ZERO,
        power_factor: load.power_factor,
    }
}

fn named(drops: &Drops, system: System) -> [(&'static str, Drop, Volts); 3] {
    [
        ("leg A to neutral", drops.leg_a, system.line_to_neutral()),
        ("leg B to neutral", drops.leg_b, system.line_to_neutral()),
        ("leg to leg", drops.line_to_line, system.line_to_line()),
    ]
}

fn share(drop: Volts, nominal: Volts) -> Percent {
    Percent(100.0 * (drop / nominal))
}

/// The two legs and the neutral as a circuit of constant-current loads.
/// The hand figure takes every current's angle from the nominal voltages; the exact one from the voltages at the load.
fn circuit(system: System, leg: Impedance, neutral: Impedance, load: &Loading) -> Drops {
    let (z, zn) = (leg.phasor(), neutral.phasor());
    let (va, vb) = sources(system);
    let factor = load.power_factor.clamp(0.0, 1.0);
    let lagging = Phasor::new(factor, -(1.0 - factor * factor).sqrt());
    let currents = |a: Phasor, b: Phasor, ab: Phasor| {
        let at = |i: Amperes, v: Phasor| v.direction() * lagging * i.0;
        let across = at(load.line_to_line, ab);
        (at(load.leg_a, a) + across, at(load.leg_b, b) - across)
    };
    let losses = |ia: Phasor, ib: Phasor| {
        let back = (ia + ib) * zn;
        (ia * z + back, ib * z + back, ia * z - ib * z)
    };

    let (ia, ib) = currents(va, vb, va - vb);
    let hand = losses(ia, ib);
    let (mut a, mut b, mut ab) = (va, vb, va - vb);
    // Currents turn with the voltages they hang on; the correction shrinks by the drop's share each round.
    for _ in 0..16 {
        let (ia, ib) = currents(a, b, ab);
        let (da, db, dab) = losses(ia, ib);
        (a, b, ab) = (va - da, vb - db, va - vb - dab);
    }
    let drop = |source: Phasor, loss: Phasor, end: Phasor| Drop {
        hand: Volts(loss.along(source)),
        exact: Volts(source.size() - end.size()),
    };
    let mut drops = Drops {
        leg_a: drop(va, hand.0, a),
        leg_b: drop(vb, hand.1, b),
        line_to_line: drop(va - vb, hand.2, ab),
        neutral: Amperes((ia + ib).size()),
        worst: Percent::ZERO,
    };
    drops.worst = named(&drops, system)
        .into_iter()
        .map(|(_, d, nominal)| share(d.hand.max(d.exact), nominal))
        .fold(Percent::ZERO, Percent::max);
    drops
}

/// Nominal voltages of the two legs to neutral.
fn sources(system: System) -> (Phasor, Phasor) {
    let other = match system {
        System::SinglePhase120_240 => Phasor::new(-1.0, 0.0),
        // A third of a turn behind.
        System::TwoLegs208Y120 => Phasor::new(-0.5, -0.75_f64.sqrt()),
    };
    let volts = system.line_to_neutral().0;
    (Phasor::new(volts, 0.0), other * volts)
}

/// The short formula with one constant per metal, as a check on the size of the answer.
fn cross_check(
    run: &Run,
    load: &Loading,
    neutral: Amperes,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<(), NoValue> {
    let k = book.limit(if run.leg.material.is_aluminum_column() {
        limit::K_ALUMINUM
    } else {
        limit::K_COPPER
    })?;
    let amperes = load.line_to_line + load.leg_a.max(load.leg_b);
    let area = run.leg.size.area() * f64::from(run.sets.max(1));
    let volts = Volts(2.0 * k.value.0 * amperes.0 * run.length.0 / area.0);
    sheet.push(
        Line::number("Drop leg to leg by the short formula", volts)
            .how("2 x K x current x length / circular mils")
            .input("current of the heavier leg", amperes)
            .input("circular mils", area)
            .note(format!(
                "A cross-check without reactance; takes the heavier leg in both conductors and leaves out {neutral:.1} in the neutral."
            ))
            .source(&k),
    );
    Ok(())
}

fn recommendation(
    drops: &Drops,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<(), NoValue> {
    let limit = book.limit(limit::VOLTAGE_DROP_FEEDER)?;
    sheet.push(
        Line::passes(
            "Drop within the recommendation",
            drops.worst <= limit.value,
        )
        .how("largest drop in percent of its nominal voltage, against the recommended percentage")
        .input("largest drop", drops.worst)
        .input("recommended", limit.value)
        .checked(limit.check)
        .cite(book.cite(Subject::VoltageDrop))
        .note("An informational note, not a rule: nothing is violated when it is exceeded."),
    );
    Ok(())
}
