//! Where may a panel go, how much longer do its cables get there, and is the place called cheapest really the cheapest?
//! Sources: lengths worked out by hand beside each case; sections as the requirements of the rulebook name them; a sweep by brute force that
//! puts the board to every quarter of an inch and asks the ordinary check.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests may stop")]

use std::collections::BTreeSet;

use engine::check::{Report, check};
use engine::relocate::{
    Asked, Candidate, Cost, Legality, Moved, Pricing, Request, Span, Step, Way, Work, sweep,
};
use model::house::{OldCabinet, Point};
use model::scope::added_lengths;
use model::units::{Hours, Inches};
use model::{Dollars, Edition, Fact, Job, JobFile};
use proptest::prelude::*;
use rulebook::{Library, Rulebook};

/// A plain price: so much for each circuit, each foot, each thing asked. Worked by hand in the cases below.
struct Plain;

const PER_CIRCUIT: i64 = 4_000;
const PER_FOOT: f64 = 300.0;
const PER_ASKED: i64 = 50_000;

fn plain(circuits: u32, feet: f64) -> Dollars {
    Dollars::from_cents(PER_CIRCUIT * i64::from(circuits) + (PER_FOOT * feet).round() as i64)
}

impl Pricing for Plain {
    fn work(&self, work: &Work<'_>) -> Cost {
        let feet = |high: bool| -> f64 {
            let length =
                |l: &engine::relocate::Laid| if high { l.length.high } else { l.length.low };
            work.laid.iter().map(|l| length(l).0).sum()
        };
        Cost {
            hours: Span::exactly(Hours(f64::from(work.splices.high))),
            price: Span {
                low: plain(work.extended.low, feet(false)),
                high: plain(work.extended.high, feet(true)),
            },
            ..Cost::default()
        }
    }

    fn asked(&self, asked: &[Asked]) -> Cost {
        let afci = |a: &&Asked| a.requirement == "afci-extension";
        let count = |sure: bool| {
            asked
                .iter()
                .filter(afci)
                .filter(|a| a.sure || !sure)
                .count() as i64
        };
        Cost {
            price: Span {
                low: Dollars::from_cents(PER_ASKED).times(count(true)),
                high: Dollars::from_cents(PER_ASKED).times(count(false)),
            },
            ..Cost::default()
        }
    }
}

/// A subpanel on a wall 20 ft long, its cables coming down from the ceiling at 96 in.
fn text(edition: &str, candidates: &str, wall: &str, circuits: &str) -> String {
    format!(
        r#"
format = 1
title = "a panel moves along a wall"
[candidates]
board = "P"
{candidates}
[place]
state = "OH"
edition = "{edition}"
[place.facts]
"job.ahj_inplace_swap_keeps_location" = false
"job.ahj_measures_outside_only" = true
"job.ahj_shortening_is_modification" = false
[before.dwelling]
kind = "one_family"
area = 1600
system = "120/240"
[before.boards.S]
bus = 200
main = "main_breaker"
main_amps = 200
neutral_bonded = true
[before.boards.P]
bus = 125
main = "main_lugs"
location = ["hall"]
cabinet = {{ width = 14, height = 30, depth = 4, mounting = "flush" }}
position = {{ wall = "w", x = 20, y = 40 }}
working_space = {{ highest_handle = 70 }}
[before.feeders.service]
from = "utility"
to = "S"
wire = "4/0 Al"
method = "SEU"
[before.feeders.F]
from = "S"
to = "P"
breaker = 90
wires = 4
wire = "2 Al"
method = "SER"
length = 40
slack = 600
[before.circuits]
{circuits}
[before.walls.w]
length = 240
height = 96
{wall}
[before.walls.w.facts]
readily_accessible = true
dedicated_space_clear = true
door_opens_90 = true
ws_storage = false
[after.boards.P]
replaced = true
"#
    )
}

const HALL: &str = "location = ['hall']\nclear_depth = 40";
const BEDROOM: &str = "a = { board = 'P', amps = 15, wire = '14 Cu', method = 'NM', ground = true, rooms = ['bedroom'], protection = 'none', slack = 6, facts = { outlets_or_devices_added = false } }";

fn job(text: &str) -> Job {
    match JobFile::read(text) {
        Ok(file) => file.job,
        Err(mistakes) => panic!("{mistakes}\n{text}"),
    }
}

fn book(edition: Edition) -> Rulebook {
    Library::built_in()
        .unwrap()
        .rulebook(edition, &[], None)
        .unwrap()
}

fn run(job: &Job, step: f64) -> Moved {
    let request = Request {
        step: Some(Inches(step)),
        ..Request::default()
    };
    sweep(job, &book(job.place.edition), &request, &Plain).unwrap()
}

fn at(moved: &Moved, x: f64) -> &Candidate {
    let places = moved.sweep.walls.iter().flat_map(|w| &w.places);
    let mut found = places.filter(|p| p.at.x == Inches(x));
    found.next().unwrap_or_else(|| panic!("no place at {x}"))
}

// ---- legality ----

/// What forbids the place at `x`, with its section; nothing where it is allowed.
fn check_place(wall: &str, candidates: &str, x: f64, says: Option<(&str, &str)>) {
    let moved = run(&job(&text("2023", candidates, wall, BEDROOM)), 12.0);
    match (&at(&moved, x).legality, says) {
        (Legality::No(refusals), Some((why, section))) => {
            let found = refusals
                .iter()
                .any(|r| r.why.contains(why) && r.section.contains(section));
            assert!(found, "expected `{why}` ({section}) among {refusals:?}");
        }
        (Legality::Legal, None) => {}
        (other, _) => panic!("{wall}\n{candidates}\nat {x}: {other:?}, expected {says:?}"),
    }
}

#[test]
fn a_place_that_a_requirement_forbids_is_refused_with_its_section() {
    let splice = "old_cabinet = ['removed']";
    check_place(HALL, splice, 120.0, None);
    let there = |tag: &str| format!("location = ['{tag}']\nclear_depth = 40");
    check_place(
        &there("bathroom"),
        splice,
        120.0,
        Some(("bathrooms", "240.24(E)")),
    );
    check_place(
        &there("clothes_closet"),
        splice,
        120.0,
        Some(("ignitible", "240.24(D)")),
    );
    let stairs = format!(
        "{HALL}\nstretches = [{{ from = 100, to = 130, location = ['over_stair_steps'] }}]"
    );
    check_place(&stairs, splice, 120.0, Some(("stairway", "240.24(F)")));
    check_place(&stairs, splice, 84.0, None);
    check_place(
        "location = ['hall']\nclear_depth = 35.5",
        splice,
        120.0,
        Some(("depth", "110.26(A)(1)")),
    );
    let facing = format!(
        "{HALL}\nobstacles = [{{ what = 'dresser', from = 100, to = 140, opposite_at = 34 }}]"
    );
    check_place(&facing, splice, 120.0, Some(("depth", "110.26(A)(1)")));
    // 29 in between a cabinet and a refrigerator that stand out.
    let narrow = format!(
        "{HALL}\nobstacles = [{{ what = 'cabinet', from = 80, to = 111, stands_out = 24 }}, {{ what = 'refrigerator', from = 140, to = 170, stands_out = 30 }}]"
    );
    check_place(&narrow, splice, 120.0, Some(("width", "110.26(A)(2)")));
    // The same with 30 in; the panel need not be in the middle.
    let wide = narrow.replace("to = 111", "to = 110");
    check_place(&wide, splice, 120.0, None);
    check_place(&wide, splice, 110.0, None);
    let swept = format!(
        "{HALL}\nobstacles = [{{ what = 'door', from = 136, to = 166, top = 80, stands_out = 30 }}, {{ what = 'radiator', from = 96, to = 112, stands_out = 5, top = 30 }}]"
    );
    check_place(&swept, splice, 120.0, Some(("width", "110.26(A)(2)")));
    check_place(
        HALL,
        "old_cabinet = ['removed']\nbottom = 50",
        120.0,
        Some(("6 ft 7 in", "240.24(A)")),
    );
    check_place(HALL, "old_cabinet = ['removed']\nbottom = 49", 120.0, None);
}

#[test]
fn a_cabinet_does_not_go_through_things_ceilings_or_ends_of_walls() {
    let removed = "old_cabinet = ['removed']";
    let window = format!(
        "{HALL}\nobstacles = [{{ what = 'window', from = 100, to = 130, bottom = 30, top = 80 }}]"
    );
    check_place(&window, removed, 120.0, Some(("window", "")));
    check_place(&window, removed, 130.0, None);
    let over = window.replace("bottom = 30", "bottom = 71");
    check_place(&over, removed, 120.0, None);
    check_place(
        HALL,
        "old_cabinet = ['removed']\nbottom = 67",
        120.0,
        Some(("ceiling", "")),
    );
    let kept = format!("{HALL}\nstretches = [{{ from = 100, to = 130, kept_free = 'tile' }}]");
    check_place(&kept, removed, 120.0, Some(("tile", "")));
    // Where the old cabinet stays, the new one finds it in its way: it is 20 to 34 in along the wall.
    check_place(
        HALL,
        "old_cabinet = ['splice_box']",
        24.0,
        Some(("old cabinet", "")),
    );
    check_place(HALL, "old_cabinet = ['splice_box']", 36.0, None);
    check_place(
        HALL,
        "old_cabinet = ['removed']\nfarthest = 60",
        84.0,
        Some(("farther", "")),
    );
    // The last place is where the cabinet touches the end of the wall.
    let moved = run(&job(&text("2023", removed, HALL, BEDROOM)), 12.0);
    let last = moved.sweep.walls[0].places.last().unwrap();
    assert_eq!(last.at.x, Inches(240.0 - 14.0));
}

#[test]
fn low_headroom_is_allowed_in_an_existing_dwelling_up_to_200_amperes() {
    // A ceiling at 74 in: allowed in an existing dwelling up to 200 A, not above.
    let low = text("2023", "old_cabinet = ['removed']", HALL, BEDROOM)
        .replace("height = 96", "height = 74");
    let moved = run(&job(&low), 12.0);
    assert_eq!(at(&moved, 120.0).legality, Legality::Legal);
    let large = low.replace("bus = 125", "bus = 225");
    let moved = run(&job(&large), 12.0);
    let Legality::No(refusals) = &at(&moved, 120.0).legality else {
        panic!("a 225 A panel under 74 in of headroom");
    };
    assert!(refusals.iter().any(|r| r.section.contains("110.26(A)(3)")));
}

// ---- lengths and cliffs ----

#[test]
fn back_at_the_old_place_nothing_is_lengthened_and_nothing_asked() {
    for way in ["removed", "splice_box"] {
        let moved = run(
            &job(&text(
                "2023",
                &format!("old_cabinet = ['{way}']"),
                HALL,
                BEDROOM,
            )),
            12.0,
        );
        let here = &moved.sweep.in_place;
        assert_eq!((here.extended, here.asked), (Span::exactly(0), 0));
        assert_eq!(here.cost.price, Span::exactly(Dollars::ZERO));
        assert_eq!(here.way, Way::InPlace);
    }
    let moved = run(
        &job(&text("2023", "old_cabinet = ['removed']", HALL, BEDROOM)),
        12.0,
    );
    assert_eq!(moved.sweep.best().unwrap().at.x, Inches(20.0));
    assert_eq!(at(&moved, 20.0).cost.price, Span::exactly(Dollars::ZERO));
}

/// By hand: as a splice box the old cabinet adds the whole path, |x - 20|. Beyond 72 in, that is past x = 92, the bedroom circuit needs
/// arc-fault protection; at 92 itself it does not. 72 in are 6 ft: $40 and 6 x $3.
#[test]
fn a_splice_box_adds_the_path_and_the_cliff_is_at_six_feet_exactly() {
    let moved = run(
        &job(&text("2023", "old_cabinet = ['splice_box']", HALL, BEDROOM)),
        12.0,
    );
    let before = at(&moved, 92.0);
    assert_eq!(
        before.cost.price,
        Span::exactly(Dollars::from_cents(4_000 + 1_800))
    );
    assert_eq!(before.asked_afci(&moved), 0);
    let beyond = at(&moved, 92.0 + 1.0 / 64.0);
    assert_eq!(beyond.asked_afci(&moved), 1);
    let wall = &moved.sweep.walls[0];
    let cliff = wall.cliffs.iter().find(|c| c.at == Inches(92.0)).unwrap();
    assert!(cliff.to_the_right);
    let crosses = Step::CrossLimit {
        circuits: 1,
        limit: Inches(72.0),
    };
    assert!(cliff.steps.contains(&crosses), "{cliff:?}");
    for part in [
        "past 6 ft to the right of the old place",
        "1 circuit crosses 6 ft",
        "210.12(E)",
    ] {
        assert!(cliff.words.contains(part), "{}", cliff.words);
    }
    // $500, and a sixty-fourth of an inch at $3 a foot.
    assert_eq!(cliff.adds, Span::exactly(Dollars::from_cents(50_000)));
}

/// By hand: the cable comes down at x = 50 from 96 in and has 6 in of slack at (20, 40). There it is 30 + 56 = 86 in long. At x to the right of
/// 50 it is x - 50 + 56; it reaches while x - 50 + 56 <= 86 + 6, to x = 86, and is 72 in too short at x = 158.
#[test]
fn a_cable_pulled_back_is_lengthened_by_its_own_path_less_its_slack() {
    let run_from = BEDROOM.replace(
        "slack = 6",
        "slack = 6, home_run = { wall = 'w', x = 50, y = 96 }",
    );
    let moved = run(
        &job(&text("2023", "old_cabinet = ['removed']", HALL, &run_from)),
        12.0,
    );
    let added = |x: f64| at(&moved, x).added_outside;
    assert_eq!(added(86.0), Span::exactly(model::units::Feet(0.0)));
    assert_eq!(added(96.0), Span::exactly(model::units::Feet(10.0 / 12.0)));
    let cliffs: Vec<(f64, bool)> = moved.sweep.walls[0]
        .cliffs
        .iter()
        .map(|c| (c.at.0, c.to_the_right))
        .collect();
    assert_eq!(
        cliffs,
        [
            (14.0, false),
            (20.0, false),
            (20.0, true),
            (86.0, true),
            (158.0, true)
        ]
    );
}

#[test]
fn an_unknown_slack_makes_a_range_and_no_guess() {
    let unknown = BEDROOM.replace("slack = 6", "slack = 'unknown'");
    let moved = run(
        &job(&text("2023", "old_cabinet = ['removed']", HALL, &unknown)),
        12.0,
    );
    let place = at(&moved, 120.0);
    assert_eq!(place.extended, Span { low: 0, high: 1 });
    // By hand: at most the whole path of 100 in.
    assert_eq!(place.added_outside.high, model::units::Feet(100.0 / 12.0));
    assert_eq!(place.beyond[0].circuits, Span { low: 0, high: 1 });
}

#[test]
fn what_the_job_does_not_say_is_told_with_its_place_in_the_file() {
    let cannot = |text: String| {
        let job = job(&text);
        let error = sweep(&job, &book(Edition::Y2023), &Request::default(), &Plain).unwrap_err();
        (error.to_string(), error.path().join("."), error.expected())
    };
    let whole = text("2023", "", HALL, BEDROOM);
    let (said, path, _) = cannot(whole.replace(
        "cabinet = { width = 14, height = 30, ",
        "cabinet = { width = 14, ",
    ));
    assert!(said.contains("width and height"), "{said}");
    assert_eq!(path, "after.boards.P.cabinet");
    let (said, _, expected) =
        cannot(whole.replace("position = { wall = \"w\", x = 20, y = 40 }", ""));
    assert!(
        said.contains("how high") && expected.contains("bottom"),
        "{said}"
    );
    let nobody = whole.replace("board = \"P\"\n\n[place]", "[place]");
    let (said, _, expected) = cannot(nobody);
    assert!(
        said.contains("moves 0 boards") && expected.contains("P, S"),
        "{said} {expected}"
    );
}

/// A feeder that grows with the distance lets less fault current through. Every place is held to the whole check of the job put there by hand.
#[test]
fn where_a_longer_feeder_changes_a_verdict_every_place_is_still_judged_as_the_check_judges_it() {
    let feeder = "length = 40\nslack = 600";
    let longer = "length = 4\nslack = 0\nhome_run = { wall = 'w', x = 20, y = 96 }";
    let circuits = BEDROOM.replace("slack = 6", "slack = 600");
    let text = text("2023", "old_cabinet = ['removed']", HALL, &circuits)
        .replace(feeder, longer)
        .replace(
            "[before.boards.S]",
            "[before.supply]\nfault_current = 12000\n[before.boards.S]",
        )
        .replace(
            "[after.boards.P]",
            "[after.boards.P]\nshort_circuit_rating = 10000",
        )
        .replace("method = \"SEU\"", "method = \"SEU\"\nlength = 10");
    let job = job(&text);
    let book = book(Edition::Y2023);
    let moved = run(&job, 4.0);
    let mut seen = BTreeSet::new();
    for place in &moved.sweep.walls[0].places {
        let mut staged = put(&job, true, place.at.x.0);
        let same = place.way == Way::InPlace;
        let board = staged.after.boards.get_mut("P").unwrap();
        if !same {
            board.facts.extend(job.after.walls["w"].facts.clone());
            let space = &mut board.working_space;
            space.width = Fact::seen(Inches(240.0));
            space.depth = Fact::seen(Inches(40.0));
            space.height = Fact::seen(Inches(96.0));
        }
        // By hand: 4 ft, and the way from the ceiling is as long as from straight above.
        let length = 4.0 + (place.at.x.0 - 20.0).abs() / 12.0;
        staged.after.feeders.get_mut("F").unwrap().length = Fact::seen(model::units::Feet(length));
        let report = check(&staged, &book);
        let missing: usize = report.findings.missing().map(|f| f.instances.len()).sum();
        let judged = moved.sweep.judged(place).unwrap();
        assert_eq!(judged.missing, missing, "at {}", place.at.x);
        seen.insert(
            report
                .findings
                .missing()
                .any(|f| f.id() == "interrupting-rating"),
        );
    }
    assert_eq!(
        seen.len(),
        2,
        "the rating is too low at some places and enough at others"
    );
}

/// The demo with one number of its walls turned negative, or made large, at a time: told or swept, and nothing stops the program.
#[test]
fn no_damaged_wall_panics() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/ranch-subpanel.toml"
    );
    let text = std::fs::read_to_string(path).unwrap();
    let from = text.find("[before.walls.closet]").unwrap();
    let to = text.find("# ---- feeders").unwrap();
    let book = book(Edition::Y2023);
    let request = Request {
        step: Some(Inches(40.0)),
        ..Request::default()
    };
    let (mut swept, mut told) = (0, 0);
    let starts_number = |i: usize| {
        let bytes = text.as_bytes();
        bytes[i].is_ascii_digit() && !bytes[i - 1].is_ascii_alphanumeric() && bytes[i - 1] != b'.'
    };
    for at in (from..to).filter(|i| starts_number(*i)) {
        for put in ["-", "9"] {
            let mut damaged = text.clone();
            damaged.insert_str(at, put);
            match JobFile::read(&damaged) {
                Ok(file) => {
                    let _ = sweep(&file.job, &book, &request, &Plain);
                    swept += 1;
                }
                Err(mistakes) => {
                    assert!(mistakes.to_string().contains("line "));
                    told += 1;
                }
            }
        }
    }
    assert!(swept > 10 && told > 10, "{swept} swept, {told} told");
}

// ---- brute force ----

trait Afci {
    fn asked_afci(&self, moved: &Moved) -> usize;
}

impl Afci for Candidate {
    fn asked_afci(&self, moved: &Moved) -> usize {
        let asked = &moved.sweep.judged(self).unwrap().asked;
        asked
            .iter()
            .filter(|a| a.requirement == "afci-extension" && a.sure)
            .count()
    }
}

#[derive(Clone, Debug)]
struct Setup {
    edition: Edition,
    removed: bool,
    obstacles: Vec<(u32, u32)>,
    circuits: Vec<(u32, u32, bool)>,
}

impl Setup {
    fn text(&self) -> String {
        let things: Vec<String> = self
            .obstacles
            .iter()
            .map(|(from, width)| {
                format!("{{ what = 'duct', from = {from}, to = {} }}", from + width)
            })
            .collect();
        let wall = format!("{HALL}\nobstacles = [{}]", things.join(", "));
        let circuits: Vec<String> = self
            .circuits
            .iter()
            .enumerate()
            .map(|(i, (x, slack, bedroom))| {
                let room = if *bedroom { "bedroom" } else { "garage" };
                format!(
                    "c{i} = {{ board = 'P', amps = 15, wire = '14 Cu', method = 'NM', ground = true, rooms = ['{room}'], protection = 'none', \
                     slack = {slack}, home_run = {{ wall = 'w', x = {x}, y = 96 }}, facts = {{ outlets_or_devices_added = false }} }}"
                )
            })
            .collect();
        let way = if self.removed {
            "removed"
        } else {
            "splice_box"
        };
        let candidates = format!("old_cabinet = ['{way}']");
        text(
            &self.edition.to_string(),
            &candidates,
            &wall,
            &circuits.join("\n"),
        )
        .replace("[after.boards.P]", "[after.boards.P]\nmake_up = 20")
    }
}

fn setup() -> impl Strategy<Value = Setup> {
    (
        prop::sample::select(Edition::ALL.to_vec()),
        any::<bool>(),
        prop::collection::vec((34u32..110, 4u32..22), 0..3),
        prop::collection::vec((0u32..132, 0u32..24, any::<bool>()), 1..5),
    )
        .prop_map(|(edition, removed, obstacles, circuits)| Setup {
            edition,
            removed,
            obstacles,
            circuits,
        })
}

/// Requirement and circuit of everything that `afci-extension` asks for.
fn afci(report: &Report<'_>) -> BTreeSet<String> {
    let findings = report.findings.of("afci-extension");
    let missing = findings.filter(|f| f.is_missing());
    missing
        .flat_map(|f| f.instances.iter().map(|i| i.place.name().to_owned()))
        .collect()
}

/// The job with the board put at `x` by hand; at its old place when it is there and the cabinet would go.
fn put(job: &Job, removed: bool, x: f64) -> Job {
    let mut job = job.clone();
    let board = job.after.boards.get_mut("P").unwrap();
    let same = removed && x == 20.0;
    board.position = Some(Point {
        wall: "w".to_owned(),
        x: Inches(x),
        y: Inches(40.0),
    });
    board.old_cabinet = match (same, removed) {
        (true, _) => Fact::Unknown,
        (_, true) => Fact::seen(OldCabinet::Removed),
        (_, false) => Fact::seen(OldCabinet::SpliceBox),
    };
    job
}

/// Price at `x` by the ordinary scope and check, and whether the cabinet fits between the things on the wall.
fn brute(job: &Job, setup: &Setup, book: &Rulebook, x: f64) -> (Dollars, bool) {
    let job = put(job, setup.removed, x);
    let lengths: Vec<f64> = job
        .after
        .circuits
        .keys()
        .map(|id| {
            let (outside, total) = added_lengths(&job, id.as_str()).unwrap();
            total.get().or(outside.get()).unwrap().0
        })
        .collect();
    let longer = lengths.iter().filter(|l| **l > 0.0).count() as u32;
    let price = plain(longer, lengths.iter().sum::<f64>() / 12.0)
        + Dollars::from_cents(PER_ASKED).times(afci(&check(&job, book)).len() as i64);
    let hits =
        |(from, width): &(u32, u32)| f64::from(*from) < x + 14.0 && x < f64::from(from + width);
    let old_in_the_way = !setup.removed && 20.0 < x + 14.0 && x < 34.0;
    (price, !setup.obstacles.iter().any(hits) && !old_in_the_way)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 5, ..ProptestConfig::default() })]

    #[test]
    fn no_quarter_of_an_inch_is_cheaper_than_the_stated_best_and_every_jump_is_named(setup in setup()) {
        let job = job(&setup.text());
        let book = book(setup.edition);
        let moved = sweep(&job, &book, &Request { step: Some(Inches(24.0)), ..Request::default() }, &Plain).unwrap();
        let wall = &moved.sweep.walls[0];
        let best = moved.sweep.best().map(|b| b.cost.price.high);
        // One cent for the rounding of the whole length.
        let cent = Dollars::from_cents(1);
        let mut before: Option<(f64, Dollars, bool)> = None;
        for quarter in 0..=(118 * 4) {
            let x = f64::from(quarter) / 4.0;
            let (price, fits) = brute(&job, &setup, &book, x);
            if fits {
                let best = best.expect("a place fits");
                prop_assert!(best <= price + cent, "{x}: {price}, best {best}");
            }
            if let Some((x0, price0, fits0)) = before {
                // Along a quarter of an inch each circuit grows by a quarter at most.
                let even = plain(0, setup.circuits.len() as f64 * 0.25 / 12.0) + cent + cent;
                let jumps = price - price0 > even || price0 - price > even;
                let named = |ok: &dyn Fn(&Step) -> bool| {
                    wall.cliffs.iter().any(|c| (x0..=x).contains(&c.at.0) && c.steps.iter().any(ok))
                };
                if jumps {
                    let refused = |s: &Step| !matches!(s, Step::Refused { .. });
                    prop_assert!(named(&refused), "{x0} to {x}: {price0} to {price}: {:?}", wall.cliffs);
                }
                if fits != fits0 {
                    prop_assert!(named(&|s| matches!(s, Step::Refused { .. })), "{x0} to {x}: {:?}", wall.cliffs);
                }
            }
            before = Some((x, price, fits));
        }
    }

    /// The check itself, at places that the sweep looked at: the same verdicts and the same price.
    #[test]
    fn every_place_of_the_sweep_is_judged_as_the_ordinary_check_judges_it(setup in setup()) {
        let job = job(&setup.text());
        let book = book(setup.edition);
        let moved = sweep(&job, &book, &Request { step: Some(Inches(9.0)), ..Request::default() }, &Plain).unwrap();
        for place in moved.sweep.walls[0].places.iter() {
            let (price, fits) = brute(&job, &setup, &book, place.at.x.0);
            prop_assert_eq!(place.cost.price.high, price, "{}", place.at.x);
            prop_assert_eq!(place.legality.is_possible(), fits, "{}: {:?}", place.at.x, &place.legality);
        }
    }
}
