//! Do the papers name the price that `lugwright price` names? Compared through the program, as a user would: its JSON against the text of its PDFs.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod run;

use std::path::Path;
use std::process::Command;

use run::lugwright;
use serde_json::Value;

/// Dollars as papers write them.
fn dollars(amount: &Value) -> String {
    let cents = (amount.as_f64().expect("an amount") * 100.0).round() as i64;
    model::Dollars::from_cents(cents).to_string()
}

#[test]
fn proposal_and_cost_sheet_name_the_price_of_the_price_command() {
    for job in [
        "examples/ranch-subpanel.toml",
        "examples/workshop-three-wire.toml",
    ] {
        let priced = lugwright(&["price", job, "--format", "json"]);
        let priced: Value = serde_json::from_str(&priced.out).expect("JSON");

        let total = priced["total"].as_object().expect("a total");
        let ends: Vec<String> = total
            .values()
            .flat_map(|of| of.as_object().into_iter().flatten())
            .filter(|(name, _)| *name != "bound")
            .map(|(_, amount)| dollars(amount))
            .collect();
        assert_eq!(ends.len(), 2, "{total:?}");
        let out = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers-price");
        let folder = out.to_str().expect("UTF-8");
        let words = [
            "papers", job, "--paper", "proposal", "--paper", "cost", "--out", folder,
        ];
        let ran = lugwright(&words);
        assert_eq!(ran.code, 0, "{}", ran.err);
        for paper in ["proposal.pdf", "cost.pdf"] {
            let read = Command::new("pdftotext")
                .arg(out.join(paper))
                .arg("-")
                .output()
                .expect("pdftotext of poppler-utils, which .ci/run installs");
            let text = String::from_utf8_lossy(&read.stdout);
            for end in &ends {
                assert!(text.contains(end.as_str()), "{job}, {paper}: {end}");
            }
        }
    }
}
