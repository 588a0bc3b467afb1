//! What impedance does a fault loop have up to the source's terminals?
//! Source: circuit theory; half-winding impedance of a centre-tapped transformer and usual impedances from the tables.
//! Ohms. The primary side is taken as infinitely stiff.

use model::house::System;
use model::units::{Amperes, KilovoltAmperes, Ohms, Percent, Volts};
use rulebook::NoValue;
use rulebook::tables::{TablesIn, limit};

use super::source::Source;
use crate::conductor::phasor::Phasor;
use crate::worksheet::{Line, Quantity, Text, Worksheet};

/// Impedance of a fault loop up to the source's terminals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum SourceLoop {
    /// Known in size and angle.
    Exact(Phasor),
    /// The angle is anywhere between pure resistance and pure reactance; the size, in ohms, is within these bounds.
    AnyAngle { smallest: f64, largest: Option<f64> },
}

impl SourceLoop {
    fn new(size: f64, x_over_r: Option<f64>) -> Self {
        match x_over_r {
            Some(ratio) => Self::Exact(Phasor::of_ratio(size, ratio.max(0.0))),
            None => Self::AnyAngle {
                smallest: size,
                largest: Some(size),
            },
        }
    }

    /// Smallest and largest current that `volts` drive through this loop and `run` behind it.
    pub(crate) fn current(self, volts: Volts, run: Phasor) -> (Option<Amperes>, Amperes) {
        match self {
            Self::Exact(z) => {
                let amperes = Amperes(volts.0 / (z + run).size());
                (Some(amperes), amperes)
            }
            // The sum of two impedances is longest when they point the same way, and shortest at one end of the quarter turn.
            Self::AnyAngle { smallest, largest } => {
                let shortest = (Phasor::new(smallest, 0.0) + run)
                    .size()
                    .min((Phasor::new(0.0, smallest) + run).size());
                let low = largest.map(|size| Amperes(volts.0 / (size + run.size())));
                (low, Amperes(volts.0 / shortest))
            }
        }
    }
}

/// Both loops at the source's terminals, and what could not be told.
#[derive(Clone, Debug)]
pub(crate) struct SourceLoops {
    pub(crate) line_to_line: SourceLoop,
    pub(crate) line_to_neutral: SourceLoop,
    /// Line-to-neutral current over line-to-line current, for the point-to-point method.
    pub(crate) neutral_factor: f64,
    pub(crate) missing: Vec<Text>,
}

/// Why there are no loops: a fact, or a table value.
pub(crate) enum NoSource {
    Missing(Text),
    Table(NoValue),
}

impl From<NoValue> for NoSource {
    fn from(why: NoValue) -> Self {
        Self::Table(why)
    }
}

pub(crate) fn loops(
    source: &Source,
    system: System,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<SourceLoops, NoSource> {
    match source {
        Source::Transformer {
            size,
            impedance,
            tolerance,
            x_over_r,
        } => {
            let size = positive(
                size.get().map(|s| s.0),
                "size of the utility transformer, in kVA",
            )?;
            transformer(
                KilovoltAmperes(size),
                impedance.get(),
                *tolerance,
                x_over_r.get(),
                system,
                book,
                sheet,
            )
        }
        Source::Stated {
            line_to_line,
            line_to_neutral,
            x_over_r,
        } => {
            let stated = positive(
                line_to_line.get().map(|a| a.0),
                "fault current at the service, from the utility",
            )?;
            stated_current(
                Amperes(stated),
                line_to_neutral.get(),
                x_over_r.get(),
                system,
                book,
                sheet,
            )
        }
    }
}

fn positive(value: Option<f64>, what: &'static str) -> Result<f64, NoSource> {
    match value {
        Some(v) if v > 0.0 && v.is_finite() => Ok(v),
        Some(_) => Err(NoSource::Missing(
            format!("{what}: a number above zero is needed").into(),
        )),
        None => Err(NoSource::Missing(what.into())),
    }
}

fn transformer(
    size: KilovoltAmperes,
    impedance: Option<Percent>,
    tolerance: Percent,
    x_over_r: Option<f64>,
    system: System,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<SourceLoops, NoSource> {
    let mut missing = Vec::new();
    let volts = system.line_to_line();
    let base = volts.0 * volts.0 / (size.0 * 1000.0);
    let kept = 1.0 - tolerance.factor().clamp(0.0, 0.99);
    let (percent, exact) = match impedance {
        Some(percent) => (
            positive(Some(percent.0), "impedance of the transformer, in percent")?,
            true,
        ),
        None => {
            let typical = book.transformer(size)?;
            missing.push(Text::from(
                "impedance of the transformer, from its nameplate",
            ));
            sheet.push(
                Line::number(
                    "Lowest usual impedance for the size",
                    typical.value.impedance_low,
                )
                .how("stands in for the nameplate, so that the current is the largest usual one")
                .source(&typical),
            );
            (typical.value.impedance_low.0, false)
        }
    };
    if x_over_r.is_none() {
        missing.push(Text::from("X/R of the transformer"));
    }
    let z = base * percent / 100.0 * kept;
    sheet.push(
        Line::number("Transformer impedance, leg to leg", Ohms(if system == System::SinglePhase120_240 { z } else { 2.0 * z }))
            .how("volts squared / VA x percent impedance x (1 - tolerance); both legs of a three-phase bank count twice")
            .input("size", size)
            .input("impedance", Percent(percent))
            .input("tolerance taken off", tolerance)
            .note("The primary side is taken as infinitely stiff, which gives the larger current."),
    );
    let unbounded = |mut it: SourceLoop| {
        if let (false, SourceLoop::AnyAngle { largest, .. }) = (exact, &mut it) {
            *largest = None;
        }
        it
    };
    let x_over_r = if exact { x_over_r } else { None };
    let (line_to_line, line_to_neutral, neutral_factor) = match system {
        System::SinglePhase120_240 => {
            let r = book.limit(limit::HALF_WINDING_RESISTANCE)?;
            let x = book.limit(limit::HALF_WINDING_REACTANCE)?;
            let factor = book.limit(limit::FAULT_TO_NEUTRAL)?;
            // The half winding stands on the base of its own voltage: a quarter of the ohms.
            let half = match x_over_r {
                Some(ratio) => {
                    let full = Phasor::of_ratio(z, ratio.max(0.0));
                    SourceLoop::Exact(Phasor::new(
                        full.re * r.value / 4.0,
                        full.im * x.value / 4.0,
                    ))
                }
                None => SourceLoop::AnyAngle {
                    smallest: z * r.value.min(x.value) / 4.0,
                    largest: Some(z * r.value.max(x.value) / 4.0),
                },
            };
            sheet.push(
                Line::number(
                    "Half winding over full winding: resistance",
                    Quantity::number(r.value),
                )
                .source(&r)
                .note(format!(
                    "Reactance: {}. Both on the base of the half winding's own voltage.",
                    x.value
                )),
            );
            (SourceLoop::new(z, x_over_r), half, factor.value)
        }
        System::TwoLegs208Y120 => (
            SourceLoop::new(2.0 * z, x_over_r),
            SourceLoop::new(z, x_over_r),
            2.0 / 3f64.sqrt(),
        ),
    };
    Ok(SourceLoops {
        line_to_line: unbounded(line_to_line),
        line_to_neutral: unbounded(line_to_neutral),
        neutral_factor,
        missing,
    })
}

fn stated_current(
    stated: Amperes,
    to_neutral: Option<Amperes>,
    x_over_r: Option<f64>,
    system: System,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<SourceLoops, NoSource> {
    let mut missing = Vec::new();
    sheet.push(
        Line::number("Fault current stated, leg to leg", stated).how("as stated by the utility"),
    );
    if x_over_r.is_none() {
        missing.push(Text::from(
            "X/R at the point where the utility states its current",
        ));
    }
    let z = system.line_to_line().0 / stated.0;
    let neutral_factor = match (to_neutral, system) {
        (Some(amperes), _) => {
            positive(Some(amperes.0), "fault current from leg to neutral")? / stated.0
        }
        (None, System::TwoLegs208Y120) => 2.0 / 3f64.sqrt(),
        (None, System::SinglePhase120_240) => {
            let factor = book.limit(limit::FAULT_TO_NEUTRAL)?;
            missing.push(Text::from(
                "fault current from leg to neutral, from the utility",
            ));
            sheet.push(
                Line::number("Fault current, leg to neutral", stated * factor.value)
                    .how("line-to-line current x factor at a centre-tapped transformer's terminals")
                    .input("factor", Quantity::number(factor.value))
                    .note("Largest at the transformer itself; away from it the true current is smaller.")
                    .source(&factor),
            );
            factor.value
        }
    };
    let zn = system.line_to_neutral().0 / (stated.0 * neutral_factor);
    let line_to_neutral = match (to_neutral, x_over_r, system) {
        (None, _, System::SinglePhase120_240) => SourceLoop::AnyAngle {
            smallest: zn,
            largest: None,
        },
        _ => SourceLoop::new(zn, x_over_r),
    };
    Ok(SourceLoops {
        line_to_line: SourceLoop::new(z, x_over_r),
        line_to_neutral,
        neutral_factor,
        missing,
    })
}
