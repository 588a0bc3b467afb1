//! Who feeds whom, and what follows. Facts of the trade: the first board after the utility is service equipment; a board that carries
//! every branch circuit carries the entire dwelling; a main-lug board is protected by the device upstream.

#![allow(clippy::expect_used, clippy::unwrap_used)]

use engine::tree::{Role, SupplyTree, TreeProblem};
use model::units::Amperes;
use model::{Fact, House, JobFile};

fn house(rest: &str) -> House {
    let head = "format = 1\ntitle = 't'\n[place]\nstate = 'OH'\nedition = '2023'\n";
    JobFile::read(&format!("{head}{rest}"))
        .expect("the job reads")
        .job
        .before
}

const SUBPANEL: &str = r#"
[before.boards]
M = { main = "main_breaker", main_amps = 200, bus = 200 }
Q = { main = "main_lugs", bus = 125 }
[before.feeders]
service = { from = "utility", to = "M" }
F = { from = "M", to = "Q", breaker = 100 }
[before.circuits]
a = { board = "Q", amps = 15 }
"#;

#[test]
fn a_subpanel_with_every_circuit_carries_the_entire_dwelling() {
    let house = house(SUBPANEL);
    let tree = SupplyTree::of(&house);
    let q = tree.node("Q").unwrap();
    assert_eq!((q.role, q.depth), (Role::FeederFed, 1));
    assert_eq!(q.carries_entire_dwelling, Fact::derived(true));
    assert_eq!(q.protected_by, Fact::seen(Amperes(100.0)));
    assert_eq!(tree.node("M").unwrap().role, Role::Service);
    assert!(tree.problems.is_empty());
}

#[test]
fn one_circuit_elsewhere_makes_it_a_part_load_feeder() {
    let house = house(&format!("{SUBPANEL}b = {{ board = 'M', amps = 20 }}\n"));
    let tree = SupplyTree::of(&house);
    assert_eq!(
        tree.node("Q").unwrap().carries_entire_dwelling,
        Fact::derived(false)
    );
    assert_eq!(
        tree.node("M").unwrap().carries_entire_dwelling,
        Fact::derived(true)
    );
}

#[test]
fn a_spare_breaker_elsewhere_carries_nothing() {
    let house = house(&format!(
        "{SUBPANEL}b = {{ board = 'M', amps = 20, purpose = 'spare' }}\n"
    ));
    assert_eq!(
        SupplyTree::of(&house)
            .node("Q")
            .unwrap()
            .carries_entire_dwelling,
        Fact::derived(true)
    );
}

#[test]
fn circles_double_feeds_and_unfed_boards_are_told() {
    let house = house(
        r#"
[before.boards]
A = {}
B = {}
C = {}
D = {}
[before.feeders]
ab = { from = "A", to = "B" }
ba = { from = "B", to = "A" }
d1 = { from = "utility", to = "D" }
d2 = { from = "B", to = "D" }
"#,
    );
    let tree = SupplyTree::of(&house);
    assert!(tree.problems.contains(&TreeProblem::Unfed("C".into())));
    assert!(tree.problems.contains(&TreeProblem::Circle("A".into())));
    assert!(tree.problems.contains(&TreeProblem::FedTwice {
        board: "D".into(),
        feeders: "`d1` and `d2`".into()
    }));
    assert_eq!(tree.nodes.len(), 4);
}

#[test]
fn a_board_below_an_unfed_one_is_not_said_to_feed_itself() {
    let house =
        house("[before.boards]\nA = {}\nB = {}\n[before.feeders]\nf = { from = 'A', to = 'B' }\n");
    let tree = SupplyTree::of(&house);
    assert_eq!(tree.problems, [TreeProblem::Unfed("A".into())]);
    assert_eq!(tree.node("B").unwrap().role, Role::Unfed);
}

#[test]
fn a_board_fed_twice_stands_behind_the_feeder_that_the_tree_follows() {
    let house = house(
        "[before.boards]\nA = {}\nB = {}\n[before.feeders]\na = { from = 'B', to = 'A' }\nu = { from = 'utility', to = 'A' }\nv = { from = 'utility', to = 'B' }\n",
    );
    let tree = SupplyTree::of(&house);
    let a = tree.node("A").unwrap();
    assert_eq!((a.role, a.feeder.map(|f| f.0)), (Role::Service, Some("u")));
}

#[test]
fn a_chain_of_forty_boards_is_walked_in_order() {
    let boards: String = (0..40).map(|i| format!("B{i} = {{}}\n")).collect();
    let feeders: String = (1..40)
        .map(|i| format!("f{i} = {{ from = 'B{}', to = 'B{i}' }}\n", i - 1))
        .collect();
    let house = house(&format!(
        "[before.boards]\n{boards}[before.feeders]\nf0 = {{ from = 'utility', to = 'B0' }}\n{feeders}"
    ));
    let tree = SupplyTree::of(&house);
    assert_eq!(tree.nodes.last().map(|n| n.depth), Some(39));
    assert_eq!(tree.chain(39).len(), 40);
}
