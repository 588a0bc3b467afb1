//! Whole pictures through every calculation. Expected figures: NFPA 70 Table 310.16 (2 AWG Al is 90 A at 75 C, 1 AWG Al 100 A) and the
//! dwelling rule of 310.12 as published examples give it: 100 A on 2 AWG Al passes for an entire dwelling, and takes 90 A for a part of one.

#![allow(clippy::expect_used, clippy::unwrap_used)]

use engine::conductor::Verdict;
use engine::sheets::{self, Depth, Sheets};
use engine::tree::SupplyTree;
use model::units::Amperes;
use model::{Edition, House, JobFile};
use rulebook::tables::Tables;

fn with<T>(rest: &str, edition: Edition, look: impl FnOnce(&Sheets<'_>) -> T) -> T {
    let head = "format = 1\ntitle = 't'\n[place]\nstate = 'OH'\nedition = '2023'\n";
    let job = JobFile::read(&format!("{head}{rest}"))
        .expect("the job reads")
        .job;
    let tables = Tables::built_in().expect("the tables load");
    let house: &House = &job.before;
    look(&sheets::all(
        house,
        None,
        &SupplyTree::of(house),
        Depth::Remedies,
        &tables.edition(edition),
    ))
}

const SUBPANEL: &str = r#"
[before.dwelling]
kind = "one_family"
system = "120/240"
area = 1500
small_appliance_circuits = 2
laundry_circuits = 1
[before.supply]
transformer = { kva = 25, impedance = 1.5, x_over_r = 1.1 }
[before.boards]
M = { main = "main_breaker", main_amps = 200, bus = 200, terminals = 75, short_circuit_rating = 10000 }
Q = { main = "main_lugs", bus = 125, terminals = 75, short_circuit_rating = 10000 }
[before.feeders]
service = { from = "utility", to = "M", wire = "4/0 Al", insulation = "XHHW-2", method = "SEU", length = 25, in_thermal_insulation = false, ambient = 30, current_carrying = 2, outside = false }
F = { from = "M", to = "Q", breaker = 100, wires = 4, wire = "2 Al", neutral = "2 Al", ground = "6 Al", insulation = "XHHW-2", method = "SER", length = 55, ambient = 30, current_carrying = 2, in_thermal_insulation = false, outside = false }
[before.loads]
range = { kind = "range", va = 12000 }
[before.circuits]
kitchen-1 = { board = "Q", amps = 20, wire = "12 Cu", method = "NM", purpose = "small_appliance" }
kitchen-2 = { board = "Q", amps = 20, wire = "12 Cu", method = "NM", purpose = "small_appliance" }
laundry = { board = "Q", amps = 20, wire = "12 Cu", method = "NM", purpose = "laundry" }
bed = { board = "Q", amps = 20, wire = "14 Cu", method = "NM" }
range = { board = "Q", poles = 2, amps = 50, wire = "6 Cu", method = "NM", purpose = "individual", loads = ["range"] }
"#;

#[test]
fn two_awg_aluminum_at_100_amperes_passes_only_for_the_entire_dwelling() {
    with(SUBPANEL, Edition::Y2023, |sheets| {
        let feeder = sheets.feeder("F").unwrap();
        assert_eq!(feeder.check.ampacity.exact(), Some(Amperes(90.0)));
        assert_eq!(feeder.check.verdict, Verdict::Pass, "{:#?}", feeder.check);
        assert!(feeder.changes.is_empty());
    });
    let part = format!(
        "{SUBPANEL}ac = {{ board = 'M', poles = 2, amps = 30, wire = '10 Cu', method = 'NM' }}\n"
    );
    with(&part, Edition::Y2023, |sheets| {
        let feeder = sheets.feeder("F").unwrap();
        assert_eq!(feeder.check.verdict, Verdict::Fail, "{:#?}", feeder.check);
        let said: Vec<String> = feeder
            .changes
            .iter()
            .map(engine::conductor::Change::describe)
            .collect();
        for change in ["90 A", "1 AWG Al", "Cu"] {
            assert!(
                said.iter().any(|s| s.contains(change)),
                "{change} in {said:?}"
            );
        }
    });
}

#[test]
fn a_part_load_board_counts_its_own_circuits_and_says_what_area_it_took() {
    let part =
        format!("{SUBPANEL}k3 = {{ board = 'M', amps = 20, purpose = 'small_appliance' }}\n");
    with(&part, Edition::Y2023, |sheets| {
        let load = sheets.load("Q").unwrap();
        assert!(
            load.said.iter().any(|s| s.contains("boards.Q.area_served")),
            "{:?}",
            load.said
        );
        // 1,500 ft2 x 3 VA + 2 x 1,500 + 1,500 = 9,000 VA; 3,000 + 35 % of 6,000 = 5,100; range 8,000 VA: as NFPA 70 Annex D, D1(a) without dryer.
        assert_eq!(
            load.outcome().unwrap().demand.exact().map(|d| d.0),
            Some(13_100.0)
        );
    });
}

#[test]
fn fourteen_gauge_copper_is_refused_on_a_20_ampere_breaker() {
    with(SUBPANEL, Edition::Y2023, |sheets| {
        let verdict = |id: &str| {
            sheets
                .circuits
                .iter()
                .find(|c| c.id == id)
                .map(|c| c.verdict)
        };
        assert_eq!(verdict("bed"), Some(Verdict::Fail));
        assert_eq!(verdict("laundry"), Some(Verdict::Pass));
    });
}

#[test]
fn fault_current_falls_from_board_to_board() {
    with(SUBPANEL, Edition::Y2023, |sheets| {
        let highest = |b: &str| sheets.fault(b).unwrap().fault.highest.high.unwrap();
        assert!(highest("M") > highest("Q"));
        assert_eq!(sheets.fault("Q").unwrap().fault.verdict, Verdict::Pass);
    });
}

#[test]
fn every_worksheet_has_its_own_name_and_is_found_by_it() {
    with(SUBPANEL, Edition::Y2020, |sheets| {
        let mut names: Vec<&str> = sheets.worksheets().map(|w| w.id.as_str()).collect();
        let count = names.len();
        assert!(count > 10);
        for name in &names {
            assert_eq!(sheets.find(name).map(|w| w.id.as_str()), Some(*name));
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count);
    });
}

#[test]
fn nothing_known_gives_no_verdict_and_no_panic() {
    let bare = "[before.boards]\nA = {}\n[before.feeders]\ns = { from = 'utility', to = 'A' }\n[before.circuits]\nc = { board = 'A' }\n";
    for edition in Edition::ALL {
        with(bare, edition, |sheets| {
            assert_eq!(
                sheets.feeder("s").unwrap().check.verdict,
                Verdict::CannotTell
            );
            assert_eq!(sheets.load("A").unwrap().amperes(), None);
            assert_eq!(sheets.circuits[0].verdict, Verdict::CannotTell);
        });
    }
}

/// Room at the lugs of a board fed by 2 AWG Al, whose supply leaves as told; NFPA 70 Tables 312.6(A) and (B) as carried.
fn check_bends(cabinet: &str, expected: Option<Verdict>) {
    let board = format!("Q = {{ cabinet = {{ {cabinet} }}, ");
    let text = SUBPANEL.replace("Q = { main", &format!("{board}main"));
    assert_ne!(text, SUBPANEL);
    with(&text, Edition::Y2023, |sheets| {
        let found = sheets.bends.iter().find(|b| b.board == "Q");
        assert_eq!(found.map(|b| b.verdict), expected, "{cabinet}: {found:#?}");
    });
}

#[test]
fn a_cabinet_is_judged_by_the_bend_of_its_supply_conductors() {
    check_bends("width = 14.25", None);
    check_bends("lug_space = 3.5, gutter = 3", Some(Verdict::Pass));
    check_bends("lug_space = 2, gutter = 3", Some(Verdict::Fail));
    // Between the tables for turning and for opposite conductors it depends on how they leave.
    check_bends("lug_space = 2.75, gutter = 3", Some(Verdict::CannotTell));
    check_bends(
        "lug_space = 2.75, supply_leaves = 'turning', gutter = 3",
        Some(Verdict::Pass),
    );
    check_bends("gutter = 3", Some(Verdict::CannotTell));
}
