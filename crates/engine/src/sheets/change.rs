//! What can be changed so that the load of a board fits: in words, and made in a picture.
//! Source: [`super::remedy`], which tries each. Amperes.

use model::Fact;
use model::house::House;
use model::id::LoadId;
use model::units::Amperes;
use serde::Serialize;

use super::larger::NewRating;
use crate::load::Method;

/// One change that makes the load of a board fit.
#[derive(Clone, Debug, PartialEq, Serialize, schemars::JsonSchema)]
#[schemars(rename = "LoadChange")]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// Another method, whose conditions are met too.
    OtherMethod(Method),
    /// A vehicle charger of the change under a listed energy management system: the largest setting that fits.
    Setting {
        /// The charger.
        load: LoadId,
        /// Setting of one.
        amperes: Amperes,
    },
    /// Loads of the change left for later; one that was there before stays as it was.
    LeftOut {
        /// The loads.
        loads: Vec<LoadId>,
    },
    /// The next standard rating for what holds the load, with what has to go with it.
    LargerRating(NewRating),
}

impl Change {
    /// The picture after the work with this change made. `before`: the picture whose loads stay as they were.
    pub(super) fn make(&self, board: &str, house: &mut House, before: Option<&House>) {
        match self {
            Self::OtherMethod(_) => {}
            Self::Setting { load, amperes } => {
                if let Some(load) = house.loads.get_mut(load) {
                    load.managed_limit = Fact::derived(*amperes);
                }
            }
            Self::LeftOut { loads } => {
                for id in loads {
                    let was = before.and_then(|b| b.loads.get(id));
                    match (was, house.loads.get_mut(id)) {
                        (Some(was), Some(load)) => load.clone_from(was),
                        (None, Some(load)) => load.future = true,
                        (_, None) => {}
                    }
                }
            }
            Self::LargerRating(rating) => rating.make(board, house),
        }
    }

    pub(super) fn describe(&self, board: &str, house: &House, before: Option<&House>) -> String {
        match self {
            Self::OtherMethod(method) => format!(
                "build on the {method}, whose conditions are met too, where the authority accepts it"
            ),
            Self::Setting { load, amperes } => {
                let each = match house.loads.get(load) {
                    Some(load) if load.count > 1 => "each ",
                    _ => "",
                };
                format!(
                    "`{load}` under a listed energy management system, {each}set to {amperes} at most"
                )
            }
            Self::LeftOut { loads } => {
                let stays = |id: &&LoadId| before.is_some_and(|b| b.loads.contains_key(*id));
                let names = |of: Vec<&LoadId>| {
                    let each = of.into_iter().map(|id| format!("`{id}`"));
                    each.collect::<Vec<_>>().join(", ")
                };
                let (old, new): (Vec<_>, Vec<_>) = loads.iter().partition(stays);
                let old = (!old.is_empty()).then(|| format!("{} as it was", names(old)));
                let new = (!new.is_empty()).then(|| format!("{} left for later", names(new)));
                new.into_iter().chain(old).collect::<Vec<_>>().join(", ")
            }
            Self::LargerRating(rating) => rating.describe(board, house),
        }
    }
}
