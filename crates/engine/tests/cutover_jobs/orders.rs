//! Do circuits come back in the best order? Every order is tried one by one; more hands and more weight never harm.

use engine::cutover::{Limit, Seconds, Step, plan, plan_as};
use model::plan::{Plan, Transfer};
use proptest::prelude::*;

use crate::holds::check;
use crate::plans::{ELSEWHERE, beside, circuits, job, line, times};

#[test]
fn circuits_come_back_in_the_best_of_all_orders() {
    let list = "\
a = { board = \"Q\", poles = 2 }
b = { board = \"Q\", critical = { why = \"b\" } }
c = { board = \"Q\", purpose = \"smoke_alarms\" }
d = { board = \"Q\", shared_with = \"e\" }
e = { board = \"Q\", shared_with = \"d\" }
f = { board = \"Q\", purpose = \"vehicle_charging\" }
g = { board = \"Q\" }
";
    for follows in [
        "",
        "follows = { b = \"f\" }",
        "follows = { c = \"f\", f = \"g\" }",
    ] {
        let job = job(&format!("workers = 1\nshift = 14\n{follows}"), list, "");
        let cut = plan(&job, &times()).unwrap();
        check(&job, &cut);
        assert!(cut.score.is_optimal());
        let proof = cut
            .tasks
            .iter()
            .filter(|t| t.step == Step::Prove)
            .map(|t| t.end)
            .max()
            .unwrap();
        let out = cut.circuits[0].dark[0].from;
        let dead = (proof - out).0;
        // Lots as the trade lands them: weight and seconds of switching on.
        let lots: Vec<(&str, u64, u64)> = vec![
            ("a", 2, 120),
            ("b", 10, 120),
            ("c", 6, 120),
            ("d", 4, 240),
            ("f", 1, 120),
            ("g", 2, 120),
        ];
        let mut least = u64::MAX;
        permutations(lots.len(), &mut |order| {
            let place = |id: &str| order.iter().position(|i| lots[*i].0 == id);
            let wrong = job
                .plan
                .follows
                .iter()
                .any(|(later, earlier)| place(later.as_str()) < place(earlier.as_str()));
            if wrong {
                return;
            }
            let (mut now, mut sum) = (dead, 0);
            for i in order {
                now += lots[*i].2;
                sum += lots[*i].1 * now;
            }
            least = least.min(sum);
        });
        assert_eq!(cut.score.dark, least, "{follows}");
    }
}

fn permutations(count: usize, look: &mut impl FnMut(&[usize])) {
    fn go(rest: &mut Vec<usize>, from: usize, look: &mut impl FnMut(&[usize])) {
        if from == rest.len() {
            look(rest);
            return;
        }
        for i in from..rest.len() {
            rest.swap(from, i);
            go(rest, from + 1, look);
            rest.swap(from, i);
        }
    }
    go(&mut (0..count).collect(), 0, look);
}

#[test]
fn lifted_out_of_the_old_cabinet_circuits_come_back_in_the_best_of_all_orders() {
    let list = "\
a = { board = \"Q\", purpose = \"vehicle_charging\" }
b = { board = \"Q\", critical = { why = \"b\", longest_dark = 2 } }
c = { board = \"Q\", purpose = \"smoke_alarms\" }
d = { board = \"Q\", shared_with = \"e\" }
e = { board = \"Q\", shared_with = \"d\" }
f = { board = \"Q\" }
";
    let job = job("", list, ELSEWHERE);
    let cut = plan_as(&job, &beside(Transfer::OldCabinet, 1, 12.0), &times()).unwrap();
    check(&job, &cut);
    assert!(cut.score.is_optimal(), "{:?}", cut.score);
    // Weight, minutes: join 10, splices 5, tests 4, on 2 for each circuit. Dark before: lock out 20, legs 3; and the feeder's hour.
    let lots = [(1, 21), (10, 21), (6, 21), (4, 42), (2, 21)];
    let mut least = u64::MAX;
    permutations(lots.len(), &mut |order| {
        let (mut now, mut sum) = (23, 0);
        for i in order {
            now += lots[*i].1;
            sum += lots[*i].0 * now;
        }
        least = least.min(sum);
    });
    let hour = 60 * (1 + 10 + 6 + 4 + 2 + 2);
    assert_eq!(cut.score.dark, (least + hour) * 60);
    let critical = cut.circuits.iter().find(|c| c.id == "b").unwrap();
    assert_eq!(critical.limit, Limit::Kept(model::units::Hours(2.0)));
    for workers in 2..=3 {
        let more = plan_as(&job, &beside(Transfer::OldCabinet, workers, 12.0), &times()).unwrap();
        check(&job, &more);
        assert!(more.score.dark < cut.score.dark && more.score.least <= cut.score.least);
    }
}

#[test]
fn what_follows_never_comes_on_before_what_it_waits_for_also_over_two_days() {
    let follows = "follows = { c03 = \"c29\", c04 = \"c03\" }\nweight_of = { c04 = 500 }";
    let job = job(
        &format!("workers = 1\nshift = 8\n{follows}"),
        &circuits(30),
        "",
    );
    let cut = plan(&job, &times()).unwrap();
    check(&job, &cut);
    assert!(!cut.score.is_optimal(), "nothing is claimed");
    let on = |id: &str| -> Vec<Seconds> {
        let dark = &cut.circuits.iter().find(|c| c.id == id).unwrap().dark;
        dark.iter().map(|d| d.to).collect()
    };
    let (c29, c03, c04) = (on("c29"), on("c03"), on("c04"));
    assert_eq!(
        (c29.len(), c03.len(), c04.len()),
        (2, 2, 2),
        "all three on the first day"
    );
    for day in 0..2 {
        assert!(c29[day] < c03[day] && c03[day] < c04[day]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    /// One dead period: more hands never lengthen it, nor what it cannot be below.
    #[test]
    fn more_workers_never_bring_more_darkness(kinds in prop::collection::vec(0_u8..7, 1..10)) {
        let list: String = kinds.iter().enumerate().map(|(i, k)| line(i, *k)).collect();
        let job = job("shift = 16", &list, "");
        let of = |workers| plan_as(&job, &Plan { workers, ..job.plan.clone() }, &times()).unwrap().score;
        let (one, two, three) = (of(1), of(2), of(3));
        prop_assert!(one.dark >= two.dark && two.dark >= three.dark);
        prop_assert!(one.least >= two.least && two.least >= three.least);
    }

    /// A circuit that weighs more comes back no later.
    #[test]
    fn more_weight_never_brings_more_darkness_to_its_circuit(
        kinds in prop::collection::vec(0_u8..7, 2..12),
        which in 0_usize..12,
        weight in 1_u32..1000,
        workers in 1_u8..=3,
    ) {
        let list: String = kinds.iter().enumerate().map(|(i, k)| line(i, *k)).collect();
        let job = job(&format!("shift = 16\nworkers = {workers}"), &list, "");
        let id = format!("c{:02}", which % kinds.len());
        let dark = |plan: &Plan| {
            let cut = plan_as(&job, plan, &times()).unwrap();
            let found = cut.circuits.iter().find(|c| c.id == id).unwrap();
            (found.total(), found.weight)
        };
        let (before, was) = dark(&job.plan);
        let mut heavier = job.plan.clone();
        let id_of = model::id::CircuitId::try_from(id.as_str()).unwrap();
        heavier.weight_of.insert(id_of, weight.max(was as u32));
        prop_assert!(dark(&heavier).0 <= before);
    }
}
