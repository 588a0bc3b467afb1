//! What is left of the fault current from board to board, by impedance and by the point-to-point method?
//! Source: circuit theory with NFPA 70 Chapter 9 Table 9, conductors cold; the handbook method with its C values.
//! Ohms of the runs and amperes along the chain.

use model::house::System;
use model::units::{Amperes, Celsius};
use rulebook::NoValue;
use rulebook::tables::{TablesIn, limit};

use super::board::{against_rating, at_board};
use super::loops::SourceLoops;
use super::point_to_point::{Joins, step};
use super::{BoardFault, Motors, Segment};
use crate::conductor::phasor::Phasor;
use crate::conductor::run::{Run, conduit, impedance};
use crate::worksheet::{Line, Quantity, Text, Worksheet};

/// What has been added up so far along the chain.
pub(super) struct Walked {
    pub(super) line_to_line: Phasor,
    pub(super) line_to_neutral: Phasor,
    pub(super) hand_line_to_line: Amperes,
    pub(super) hand_line_to_neutral: Amperes,
    /// A run was not known: figures are upper bounds from here on.
    pub(super) open: bool,
    /// The source was not fully known, which the point-to-point method cannot show as a range.
    pub(super) vague_source: bool,
    /// A table had no value for a conductor: the method has no figure of its own from here on.
    pub(super) impedance_lost: bool,
    pub(super) hand_lost: bool,
    pub(super) missing: Vec<Text>,
}

pub(super) fn walk(
    system: System,
    told: &SourceLoops,
    chain: &[Segment],
    motors: Motors,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<Vec<BoardFault>, NoValue> {
    let start = told
        .line_to_line
        .current(system.line_to_line(), Phasor::ZERO)
        .1;
    let mut at = Walked {
        line_to_line: Phasor::ZERO,
        line_to_neutral: Phasor::ZERO,
        hand_line_to_line: start,
        hand_line_to_neutral: start * told.neutral_factor,
        open: false,
        vague_source: !told.missing.is_empty(),
        impedance_lost: false,
        hand_lost: false,
        missing: told.missing.clone(),
    };
    let motors = motor_share(motors, book, sheet)?;
    let cold = book.limit(limit::FAULT_CONDUCTOR_TEMPERATURE)?.value;
    let mut boards = vec![at_board("source", system, told, &at, motors, sheet)];
    for segment in chain {
        match segment.run.known() {
            Some(run) => along(run, &segment.board, system, cold, book, &mut at, sheet),
            None => {
                at.missing
                    .push(format!("conductors and length of the run to {}", segment.board).into());
                at.open = true;
            }
        }
        let mut board = at_board(&segment.board, system, told, &at, motors, sheet);
        board.verdict = against_rating(&board, &segment.rating, book, sheet);
        boards.push(board);
    }
    Ok(boards)
}

fn motor_share(
    motors: Motors,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Result<Amperes, NoValue> {
    match motors {
        Motors::LeftOut => {
            sheet.push(
                Line::number("Motor contribution", Amperes::ZERO)
                    .note("Left out, as is usual in dwellings."),
            );
            Ok(Amperes::ZERO)
        }
        Motors::Running(full_load) => {
            let factor = book.limit(limit::MOTOR_FAULT_CURRENT)?;
            let share = full_load.max(Amperes::ZERO) * factor.value;
            sheet.push(
                Line::number("Motor contribution", share)
                    .how("full-load current of the running motors x factor")
                    .input("full-load current", full_load)
                    .input("factor", Quantity::number(factor.value))
                    .source(&factor),
            );
            Ok(share)
        }
    }
}

/// Adds one run to what has been walked. A method whose table has no value for the conductor keeps its last figure, which is
/// an upper bound; it is used only where the other method is lost too.
fn along(
    run: &Run,
    name: &str,
    system: System,
    cold: Celsius,
    book: &TablesIn<'_>,
    at: &mut Walked,
    sheet: &mut Worksheet,
) {
    let back = run.neutral.unwrap_or(run.leg);
    let tables = impedance(run, run.leg, cold, book)
        .and_then(|leg| Ok((leg, impedance(run, back, cold, book)?)));
    match tables {
        Ok((leg, neutral)) => {
            let (z, zn) = (leg.value.phasor(), neutral.value.phasor());
            at.line_to_line = at.line_to_line + z * 2.0;
            at.line_to_neutral = at.line_to_neutral + z + zn;
            sheet.push(
                Line::number(
                    format!("{name}: resistance of one leg"),
                    leg.value.resistance,
                )
                .how("Table 9 resistance, taken back to a cold conductor, x length / sets")
                .input_text("conductor", run.leg.to_string())
                .input("length, one way", run.length)
                .input("conductor temperature", cold)
                .source(&leg)
                .note(format!(
                    "Reactance {:.5}. A cold conductor gives the larger current.",
                    leg.value.reactance
                )),
            );
        }
        Err(why) => {
            at.impedance_lost = true;
            sheet.push(Line::no_value(
                format!("{name}: impedance of the run"),
                &why,
            ));
        }
    }
    let constants = book
        .c_value(run.leg.size, run.leg.material, conduit(run.method))
        .and_then(|c| {
            Ok((
                c,
                book.c_value(back.size, back.material, conduit(run.method))?,
            ))
        });
    match constants {
        Ok((c, c_back)) => {
            let ll = step(
                Joins::LineToLine,
                system.line_to_line(),
                at.hand_line_to_line,
                run.length,
                c.value,
                c_back.value,
                run.sets,
            );
            let ln = step(
                Joins::LineToNeutral,
                system.line_to_neutral(),
                at.hand_line_to_neutral,
                run.length,
                c.value,
                c_back.value,
                run.sets,
            );
            for (label, step, from) in [
                ("leg to leg", ll, at.hand_line_to_line),
                ("leg to neutral", ln, at.hand_line_to_neutral),
            ] {
                sheet.push(
                    Line::number(format!("{name}: point to point, {label}"), step.current)
                        .how("current before the run x M; M = 1 / (1 + f); f = length x current x (sum of 1/C out and back) / (sets x volts)")
                        .input("current before the run", from)
                        .input("C", Quantity::number(c.value))
                        .input("f", Quantity::number(step.f))
                        .input("M", Quantity::number(step.m))
                        .source(&c),
                );
            }
            (at.hand_line_to_line, at.hand_line_to_neutral) = (ll.current, ln.current);
        }
        Err(why) => {
            at.hand_lost = true;
            sheet.push(Line::no_value(format!("{name}: point to point"), &why));
        }
    }
    if at.impedance_lost && at.hand_lost {
        at.missing
            .push(format!("impedance of the run to {name}: no table has the conductor").into());
    }
}
