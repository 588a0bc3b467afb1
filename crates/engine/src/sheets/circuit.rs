//! Breaker against conductor of each branch circuit.
//! Sources: NFPA 70 240.4(B), 240.4(D), 310.16 and the cable articles, by edition; [`crate::conductor`]. Amperes.

use model::Fact;
use model::conductor::{Insulation, Wire, WiringMethod};
use model::house::{Circuit, House, Purpose};
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn, limit};

use crate::conductor::overcurrent::largest_device_over;
use crate::conductor::{Feeds, Installation, Terminals, Verdict, ampacity};
use crate::worksheet::{Line, Worksheet};

/// One branch circuit.
#[derive(Clone, Debug)]
pub struct CircuitSheet<'j> {
    /// The circuit.
    pub id: &'j str,
    /// Steps.
    pub worksheet: Worksheet,
    /// The breaker is within what the conductor allows.
    pub verdict: Verdict,
}

/// Every circuit of the picture. Circuits alike in all that matters are worked out once.
pub(super) fn of_house<'j>(house: &'j House, book: &TablesIn<'_>) -> Vec<CircuitSheet<'j>> {
    let mut known: Vec<(Alike, Vec<Line>, Verdict)> = Vec::new();
    let circuits = house.circuits.iter();
    circuits
        .map(|(id, circuit)| {
            let mut sheet = Worksheet::new(
                format!("circuit.{id}"),
                "Breaker and conductor",
                book.edition(),
            );
            let alike = Alike::of(house, circuit);
            let verdict = match known.iter().find(|(k, _, _)| *k == alike) {
                Some((_, lines, verdict)) => {
                    sheet.lines.clone_from(lines);
                    *verdict
                }
                None => {
                    let verdict = told(&alike, book, &mut sheet).unwrap_or_else(|what| {
                        sheet.push(Line::cannot_tell(
                            "Breaker is within what the conductor allows",
                            what,
                        ));
                        Verdict::CannotTell
                    });
                    known.push((alike, sheet.lines.clone(), verdict));
                    verdict
                }
            };
            CircuitSheet {
                id: id.as_str(),
                worksheet: sheet,
                verdict,
            }
        })
        .collect()
}

/// All of a circuit that its breaker's size depends on.
#[derive(Clone, Debug, PartialEq)]
struct Alike {
    wire: Fact<Wire>,
    breaker: Fact<Amperes>,
    method: Fact<WiringMethod>,
    terminals: Fact<Terminals>,
    feeds: Feeds,
    poles: u8,
}

impl Alike {
    fn of(house: &House, circuit: &Circuit) -> Self {
        let terminals = house
            .boards
            .get(circuit.board.as_str())
            .map_or(Fact::Unknown, |b| {
                b.terminals.map(|c| {
                    if c.0 < 75.0 {
                        Terminals::C60
                    } else {
                        Terminals::C75
                    }
                })
            });
        let feeds = match circuit.purpose {
            Purpose::Individual | Purpose::VehicleCharging | Purpose::SmokeAlarms => Feeds::Feeder,
            _ => Feeds::Receptacles,
        };
        Self {
            wire: circuit.wire.clone(),
            breaker: circuit.amps.clone(),
            method: circuit.method.clone(),
            terminals,
            feeds,
            poles: circuit.poles,
        }
    }
}

fn told(circuit: &Alike, book: &TablesIn<'_>, sheet: &mut Worksheet) -> Result<Verdict, String> {
    let (Some(wire), Some(breaker)) = (circuit.wire.get(), circuit.breaker.get()) else {
        return Err("needs breaker rating and conductor (`amps`, `wire`)".to_owned());
    };
    let base = book
        .limit(limit::AMPACITY_TABLE_AMBIENT)
        .map_or(Fact::Unknown, |base| Fact::derived(base.value));
    let installation = Installation {
        wire: Fact::seen(wire),
        sets: 1,
        insulation: insulation(&circuit.method),
        method: circuit.method.clone(),
        ambient: base,
        current_carrying: Fact::derived(u32::from(circuit.poles.max(2))),
        terminals: circuit.terminals.clone(),
        in_thermal_insulation: Fact::derived(false),
        wet: Fact::derived(false),
    };
    let found = ampacity(&installation, Some(breaker), book);
    let (largest, _) = largest_device_over(&found.value, wire, 1, circuit.feeds, book)
        .map_err(|why| why.to_string())?;
    let verdict = largest.at_least(breaker);
    sheet.push(
        Line::new("Largest breaker for the conductor", largest.value())
            .input_text("conductor", wire.to_string())
            .input("breaker", breaker)
            .cite(book.cite(Subject::SmallConductors))
            .note("at the table's base temperature and unbundled; bundling and heat are asked for as requirements of their own"),
    );
    sheet.push(Line::new(
        "Breaker is within what the conductor allows",
        verdict.value(largest.why()),
    ));
    Ok(verdict)
}

/// Conductors inside modern cable are 90 C; of old cable nobody knows without looking, so 60 C is taken.
fn insulation(method: &Fact<WiringMethod>) -> Fact<Insulation> {
    match method.get() {
        Some(WiringMethod::NM) => Fact::derived(Insulation::NM),
        Some(WiringMethod::UF) => Fact::derived(Insulation::UF),
        _ => Fact::Unknown,
    }
}
