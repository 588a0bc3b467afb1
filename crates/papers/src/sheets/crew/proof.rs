//! Which tests are made dead and live, how, and what reading is accepted, with where that comes from?
//! Source: practice of the trade and published values, each said beside it with how far it was checked; sections from the rulebook.

use engine::tree::Role;
use model::house::{Protection, Purpose, System};
use serde_json::{Value, json};

use super::breakers::Breakers;
use super::landed;
use super::tongue::Tongue;
use crate::material::Material;

pub(super) fn tests(
    material: &Material<'_>,
    tongue: &Tongue<'_>,
    boards: &[&str],
    breakers: &Breakers<'_>,
) -> Value {
    let circuits = landed(material);
    let named = |c: &model::house::Circuit, id: &str| {
        if c.purpose == Purpose::Spare {
            format!("{id}: {}", tongue.word("crew-spare"))
        } else {
            format!("{id}: {}", c.serves)
        }
    };
    let live = circuits.iter().map(|(id, c)| {
        let stated = c.protection.get().is_none_or(|p| p != Protection::None);
        let has_device = stated || breakers.has_button(id) != Some(false);
        let trip = if has_device {
            String::new()
        } else {
            tongue.word("crew-trip-none")
        };
        [named(c, id), trip]
    });
    let named_boards = boards.iter().map(|b| {
        let name = tongue.board_named(b);
        tongue.say("crew-board-live", &[("board", &name)])
    });
    json!({
        "dead": dead(material, tongue, boards),
        "live": self::live(material, tongue),
        "circuits": circuits.iter().map(|(id, c)| named(c, id)).collect::<Vec<_>>(),
        "circuits_live": live.collect::<Vec<_>>(),
        "boards": named_boards.collect::<Vec<_>>(),
    })
}

/// A row of test, how, accept, source; each word by its name in the catalogue.
fn row(tongue: &Tongue<'_>, name: &str, source: &str) -> [String; 4] {
    [
        tongue.word(name),
        tongue.word(&format!("{name}-how")),
        tongue.word(&format!("{name}-accept")),
        tongue.word(source),
    ]
}

fn dead(material: &Material<'_>, tongue: &Tongue<'_>, boards: &[&str]) -> Vec<[String; 4]> {
    let practice = "crew-practice";
    let mut all = vec![
        row(tongue, "crew-test-feeder", practice),
        row(tongue, "crew-test-bus", practice),
    ];
    for board in boards {
        let role = material
            .report
            .tree
            .node(board)
            .map_or(Role::Unfed, |n| n.role);
        let (name, requirement) = match role {
            Role::FeederFed => ("crew-test-apart", "neutral-isolated-subpanel"),
            Role::Service => ("crew-test-bonded", "main-bonding-jumper"),
            Role::Unfed => ("crew-test-place-unknown", ""),
        };
        let mut test = row(tongue, name, practice);
        test[0] = tongue.say(name, &[("board", board)]);
        let bound = material.report.book.requirement(requirement);
        if let Some(cite) = bound.and_then(|r| r.cite()) {
            let check = tongue.word(&format!("crew-check-{}", cite.check));
            test[3] = format!("{cite} ({check}); {}", test[3]);
        }
        all.push(test);
    }
    all.push(row(tongue, "crew-test-electrode", practice));
    all.push(row(tongue, "crew-test-ir-new", "crew-test-ir-new-source"));
    all.push(row(tongue, "crew-test-ir-old", "crew-test-ir-old-source"));
    all
}

fn live(material: &Material<'_>, tongue: &Tongue<'_>) -> Vec<[String; 4]> {
    let (line, sum) = match material.report.job.after.dwelling.system.get() {
        Some(System::SinglePhase120_240) => ("crew-test-line-240", "crew-test-sum-240"),
        Some(System::TwoLegs208Y120) => ("crew-test-line-208", "crew-test-sum-208"),
        None => ("crew-test-line-unknown", "crew-test-sum-unknown"),
    };
    let (practice, band) = ("crew-practice", "crew-test-band-source");
    let given = |name: &str, how: &str, accept: &str, source: &str| {
        [name, how, accept, source].map(|word| tongue.word(word))
    };
    vec![
        row(tongue, "crew-test-leg", band),
        given("crew-test-line", "crew-test-leg-how", line, band),
        given(
            "crew-test-sum",
            "crew-test-sum-how",
            sum,
            "crew-test-sum-source",
        ),
        row(tongue, "crew-test-ng", practice),
        row(tongue, "crew-test-neutral", practice),
        row(tongue, "crew-test-branch", "crew-test-course"),
        row(tongue, "crew-test-drop", "crew-test-course"),
        row(tongue, "crew-test-trip", "crew-test-trip-source"),
        row(tongue, "crew-test-balance", "crew-test-balance-source"),
    ]
}
