//! The cut-over as a worksheet: each circuit's dark time and weight, the sum, what it cannot be below, the gap.
//! Source: the plan of [`super::plan`]. Hours; weighted hours are hours times a pure number.

use model::Edition;

use super::{CutOver, Proof, Step};
use crate::worksheet::{Line, Quantity, Worksheet};

/// The worksheet.
#[must_use]
pub fn sheet(cut: &CutOver<'_>, edition: Edition) -> Worksheet {
    let mut sheet = Worksheet::new("cutover", "Dark time of the household", edition);
    let workers = f64::from(cut.plan.workers);
    sheet.push(Line::number("Workers", Quantity::number(workers)));
    let work = cut
        .tasks
        .iter()
        .map(|t| (t.end - t.start).hours())
        .sum::<model::units::Hours>();
    sheet.push(
        Line::number("Work of one person", work)
            .how("sum of all tasks, by the shop's labour table")
            .note("labour values are defaults of the shop, not published ones"),
    );
    for (step, label) in [
        (Step::LockOut, "First lock-out begins"),
        (Step::Prove, "Last proof ends"),
    ] {
        let tasks = cut.tasks.iter().filter(|t| t.step == step);
        let at = match step {
            Step::LockOut => tasks.map(|t| t.start).min(),
            _ => tasks.map(|t| t.end).max(),
        };
        if let Some(at) = at {
            sheet.push(Line::number(label, at.hours()).how("hours after the crew's arrival"));
        }
    }
    for circuit in &cut.circuits {
        let hours = circuit.total().hours();
        let weighted = hours.0 * circuit.weight as f64;
        sheet.push(
            Line::number(
                format!("Weighted dark hours of {}", circuit.id),
                Quantity::number(weighted),
            )
            .how("dark hours x weight")
            .input("dark", hours)
            .input("longest on end", circuit.longest().hours())
            .input("weight", Quantity::number(circuit.weight as f64))
            .input_text("kind", circuit.kind),
        );
    }
    sheet.push(
        Line::number(
            "Weighted dark hours of all",
            Quantity::number(cut.score.dark_hours()),
        )
        .how("sum of the lines above")
        .note("weights are our own judgement, set in the plan"),
    );
    sheet.push(
        Line::number(
            "They cannot be less than",
            Quantity::number(cut.score.least_hours()),
        )
        .how(proof(cut)),
    );
    sheet.push(
        Line::number("Gap", model::units::Percent(cut.score.gap() * 100.0)).how(
            "(weighted dark hours - what they cannot be less than) / what they cannot be less than",
        ),
    );
    sheet.push(Line::passes(
        "Proven to be the least",
        cut.score.is_optimal(),
    ));
    sheet
}

/// Why the sum cannot be less, in a sentence.
#[must_use]
pub fn proof(cut: &CutOver<'_>) -> &'static str {
    match (cut.score.proof, cut.plan.workers) {
        (Proof::Order, 1) => {
            "one worker: the work in the dark adds up the same in any order, and circuits come back heaviest per second first (Smith's rule)"
        }
        (Proof::Order, _) => {
            "work in the dark shared among the workers so that it ends soonest; circuits come back heaviest per second first (Smith's rule)"
        }
        (Proof::AllChoices, _) => {
            "every choice of what is landed before the first restore was weighed"
        }
        (Proof::OwnTime, _) => {
            "each circuit is dark for its own transfer alone, whatever the order"
        }
        (Proof::Shared, _) => {
            "work shared evenly, no repeated lock-out: the best of one worker / m + (m - 1) / 2m of weight x time"
        }
        (Proof::None, _) => "not proven: too many choices to weigh them all",
    }
}
