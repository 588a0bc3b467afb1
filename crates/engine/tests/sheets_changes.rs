//! What a change of the supply does to every calculation after it. Facts of the trade: the first board after the utility bonds the neutral, every
//! board behind it keeps neutral and ground apart; where two panels become one, nothing is left that carries a part of the dwelling;
//! the dwelling rule holds for feeders of 208Y/120 V units from the 2017 edition on.

#![allow(clippy::expect_used, clippy::unwrap_used)]

use engine::conductor::Verdict;
use engine::sheets::{self, Depth, Sheets};
use engine::tree::{Role, SupplyTree};
use model::units::Amperes;
use model::{Edition, Job, JobFile};
use rulebook::tables::Tables;

const TWO_PANELS: &str = r#"
format = 1
title = "Two panels"
[place]
state = "OH"
edition = "2023"
[before.dwelling]
kind = "one_family"
system = "120/240"
area = 1500
small_appliance_circuits = 2
laundry_circuits = 1
[before.supply]
fault_current = 9000
[before.boards.M]
main = "main_breaker"
main_amps = 100
bus = 100
terminals = 75
[before.boards.Q]
main = "main_lugs"
bus = 100
terminals = 75
[before.feeders.service]
from = "utility"
to = "M"
wire = "4 Cu"
method = "SEU"
insulation = "XHHW-2"
in_thermal_insulation = false
outside = false
[before.feeders.F]
from = "M"
to = "Q"
breaker = 100
wires = 4
wire = "2 Al"
insulation = "XHHW-2"
method = "SER"
in_thermal_insulation = false
outside = false
[before.circuits]
kitchen = { board = "M", amps = 20, wire = "12 Cu", method = "NM", purpose = "small_appliance" }
bed = { board = "Q", amps = 15, wire = "14 Cu", method = "NM" }
"#;

fn job(text: &str) -> Job {
    JobFile::read(text).expect("the job reads").job
}

/// Looks at the sheets of the picture after the work.
fn after<T>(
    text: &str,
    edition: Edition,
    look: impl FnOnce(&SupplyTree<'_>, &Sheets<'_>) -> T,
) -> T {
    let job = job(text);
    let tables = Tables::built_in().expect("the tables load");
    let tree = SupplyTree::of(&job.after);
    let sheets = sheets::all(
        &job.after,
        Some(&job.before),
        &tree,
        Depth::Remedies,
        &tables.edition(edition),
    );
    look(&tree, &sheets)
}

#[test]
fn no_change_gives_the_sheets_of_the_house_as_it_stands() {
    let job = job(TWO_PANELS);
    let tables = Tables::built_in().unwrap();
    for edition in Edition::ALL {
        let book = tables.edition(edition);
        let of = |house, before| {
            let sheets = sheets::all(
                house,
                before,
                &SupplyTree::of(house),
                Depth::Remedies,
                &book,
            );
            sheets.worksheets().cloned().collect::<Vec<_>>()
        };
        let stands = of(&job.before, None);
        assert!(stands.len() > 5);
        assert_eq!(of(&job.after, Some(&job.before)), stands);
    }
}

#[test]
fn two_panels_combined_leave_one_board_that_carries_the_entire_dwelling() {
    let combined = format!(
        "{TWO_PANELS}[after.boards.Q]\ngone = true\n[after.feeders.F]\ngone = true\n[after.circuits.bed]\nboard = 'M'\n"
    );
    after(&combined, Edition::Y2023, |tree, sheets| {
        assert!(tree.problems.is_empty(), "{:?}", tree.problems);
        assert_eq!(tree.nodes.len(), 1);
        assert_eq!(tree.nodes[0].carries_entire_dwelling.get(), Some(true));
        assert!(sheets.feeder("F").is_none());
        assert!(sheets.load("Q").is_none());
    });
}

#[test]
fn a_new_service_panel_makes_the_old_one_a_subpanel_that_keeps_its_neutral_apart() {
    let upgrade = format!(
        "{TWO_PANELS}[after.boards.N]\nmain = 'main_breaker'\nmain_amps = 200\nbus = 200\nterminals = 75\n[after.feeders.service]\nto = 'N'\nwire = '4/0 Al'\n[after.feeders.NM]\nfrom = 'N'\nto = 'M'\nbreaker = 100\nwires = 4\nwire = '1 Al'\nground = '6 Al'\n"
    );
    let stood = job(&upgrade);
    assert_eq!(
        SupplyTree::of(&stood.before).node("M").unwrap().role,
        Role::Service
    );
    after(&upgrade, Edition::Y2023, |tree, sheets| {
        let role = |board: &str| tree.node(board).map(|n| (n.role, n.depth));
        assert_eq!(role("N"), Some((Role::Service, 0)));
        assert_eq!(role("M"), Some((Role::FeederFed, 1)));
        assert_eq!(role("Q"), Some((Role::FeederFed, 2)));
        let line = tree
            .lines()
            .into_iter()
            .find(|l| l.contains("- M:"))
            .unwrap();
        assert!(line.contains("neutral kept apart"), "{line}");
        assert_eq!(
            tree.node("M").unwrap().carries_entire_dwelling.get(),
            Some(true)
        );
        assert!(sheets.feeder("service").unwrap().ground.is_none());
        // A 100 A device asks for a 6 AWG aluminum equipment ground (Table 250.122).
        let ground = sheets.feeder("NM").unwrap().ground.as_ref().unwrap();
        assert_eq!(ground.verdict, Verdict::Pass);
    });
}

/// The feeder F carries the entire unit in every case; only system and edition differ.
fn check_wye(edition: Edition, expected: Verdict) {
    let unit = TWO_PANELS
        .replace("system = \"120/240\"", "system = \"208Y/120\"")
        .replace("kitchen = { board = \"M\"", "kitchen = { board = \"Q\"")
        .replace(
            "wires = 4\n",
            "wires = 4\ncurrent_carrying = 3\nambient = 30\n",
        );
    after(&unit, edition, |tree, sheets| {
        assert_eq!(
            tree.node("Q").unwrap().carries_entire_dwelling.get(),
            Some(true)
        );
        let feeder = sheets.feeder("F").unwrap();
        assert_eq!(feeder.check.ampacity.exact(), Some(Amperes(90.0)));
        assert_eq!(
            feeder.check.verdict, expected,
            "{edition:?} {:#?}",
            feeder.check
        );
    });
}

#[test]
fn a_208y120_unit_has_the_dwelling_rule_for_its_feeder_from_2017() {
    check_wye(Edition::Y2014, Verdict::Fail);
    check_wye(Edition::Y2017, Verdict::Pass);
    check_wye(Edition::Y2023, Verdict::Pass);
}

#[test]
fn a_system_nobody_stated_is_taken_as_120_240_and_said() {
    let unsaid = TWO_PANELS.replace("system = \"120/240\"\n", "");
    after(&unsaid, Edition::Y2023, |_, sheets| {
        for feeder in &sheets.feeders {
            assert!(
                feeder.said.iter().any(|s| s.contains("dwelling.system")),
                "{:?}",
                feeder.said
            );
        }
    });
}
