//! The load calculation of each board: every method that was run, which one is used and why, every line of it.
//! Source: the report's load comparisons. VA and amperes.

use engine::Quantity;
use engine::load::{Outcome, Share, Standing, Told};
use model::units::Unit;
use serde_json::{Value, json};

use super::super::worksheet::worksheet;
use crate::material::Material;
use crate::words::say;

/// One entry for each board that is service equipment, or that the work touches.
pub(super) fn sheets(material: &Material<'_>) -> Vec<Value> {
    let report = material.report;
    let language = material.setting.language;
    let touched = |board: &str| {
        let board_changes = report
            .scope
            .board(board)
            .is_some_and(|b| b.change != model::scope::Change::Kept || b.relocated);
        let feeder = report.sheets.feeders.iter().find(|f| f.board == board);
        let feeder = feeder.and_then(|f| report.scope.feeder(f.id));
        board_changes || feeder.is_some_and(|f| f != model::scope::Change::Kept)
    };
    let chosen = report
        .sheets
        .loads
        .iter()
        .filter(|l| l.share == Share::Service || touched(l.board));
    let each = chosen.map(|load| {
        let compared = &load.comparison;
        let method = compared.recommended.name();
        let share = match load.share {
            Share::Service => "permit-share-service",
            Share::WholeFeeder => "permit-share-whole",
            Share::PartFeeder => "permit-share-part",
        };
        let rows: Vec<Value> = compared
            .outcomes
            .iter()
            .map(|o| outcome(o, o.method == compared.recommended, material))
            .collect();
        // The one that counts stands first.
        let mut order: Vec<&Outcome> = compared.outcomes.iter().collect();
        order.sort_by_key(|o| o.method != compared.recommended);
        let sheets: Vec<Value> = order
            .into_iter()
            .map(|o| worksheet(&o.worksheet, language))
            .collect();
        json!({
            "title": say(language, "permit-load-of", &[("board", load.board)]),
            "share": say(language, share, &[]),
            "used": say(language, "permit-method-used", &[("method", method)]),
            "why": compared.why,
            "said": load.said,
            "methods": rows,
            "sheets": sheets,
        })
    });
    each.collect()
}

fn outcome(outcome: &Outcome, used: bool, material: &Material<'_>) -> Value {
    let language = material.setting.language;
    let word = |name: &str| say(language, name, &[]);
    let (may, why) = match &outcome.standing {
        Standing::Applies => (word("permit-yes"), String::new()),
        Standing::DoesNotApply(why) => (word("permit-no"), why.join("; ")),
        Standing::CannotTell(why) => (word("permit-cannot-tell"), why.join("; ")),
    };
    json!({
        "method": outcome.method.name(),
        "used": used,
        "demand": told(&outcome.demand, material),
        "amperes": told(&outcome.rounded, material),
        "neutral": told(&outcome.neutral, material),
        "rating": told(&outcome.rating, material),
        "may": may,
        "why": why,
    })
}

/// The number, or the least it can be.
fn told<T: Unit>(value: &Told<T>, material: &Material<'_>) -> String {
    match value.exact() {
        Some(exact) => Quantity::from(exact).to_string(),
        None => {
            let least = Quantity::from(value.lower_bound()).to_string();
            say(
                material.setting.language,
                "permit-at-least",
                &[("value", &least)],
            )
        }
    }
}
