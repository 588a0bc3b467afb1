//! Is every plan safe, by every crew and approach?

use engine::cutover::plan_as;
use model::plan::{Plan, Transfer};
use proptest::prelude::*;

use crate::holds::check;
use crate::plans::{ELSEWHERE, EXAMPLES, beside, example, job, line, times};

#[test]
fn every_demo_job_has_a_safe_plan_by_every_crew() {
    let times = times();
    for name in EXAMPLES {
        let job = example(name);
        for workers in 1..=3 {
            let with = Plan {
                workers,
                ..job.plan.clone()
            };
            let cut = plan_as(&job, &with, &times).unwrap_or_else(|e| panic!("{name}: {e}"));
            check(&job, &cut);
            assert_eq!(
                format!("{cut:?}"),
                format!("{:?}", plan_as(&job, &with, &times).unwrap())
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn any_subpanel_has_a_safe_plan(
        kinds in prop::collection::vec(0_u8..7, 1..20),
        workers in 1_u8..=3,
        shift in 2_u8..=16,
        way in 0_u8..4,
        pause in 0_u8..3,
    ) {
        let list: String = kinds.iter().enumerate().map(|(i, k)| line(i, *k)).collect();
        let there = way != 0;
        let job = job("", &list, if there { ELSEWHERE } else { "" });
        let with = match way {
            2 => beside(Transfer::OwnBox, workers, f64::from(shift)),
            3 => beside(Transfer::OldCabinet, workers, f64::from(shift)),
            _ => Plan {
                workers,
                shift: model::units::Hours(f64::from(shift)),
                restore_round: (pause > 0).then(|| model::units::Hours(f64::from(pause))),
                ..Plan::default()
            },
        };
        let cut = plan_as(&job, &with, &times()).unwrap();
        check(&job, &cut);
    }
}
