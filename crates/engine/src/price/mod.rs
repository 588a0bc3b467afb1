//! What does the job cost, and what is it offered for?
//! Source: the difference of the two pictures, the findings, and the shop's price book. US dollars, exact to the cent.
//!
//! - [`mod@take_off`]: what is bought and done, counted from the difference and from what requirements ask; [`line`] is one counted thing;
//! - [`open`]: lines that hang on unknown facts, over every combination of answers;
//! - [`cost`]: a line's way from direct cost over overhead, contingency and profit to the price;
//! - [`options`]: what the customer may add, and who asks for it; [`offer`]: the whole of it.
//!
//! Every amount of every line is rounded to the cent, halves away from zero; totals are sums of lines and are never rounded again. A line
//! without a price makes the total incomplete. Fees go to the customer at cost.

pub(crate) mod breakers;
pub(crate) mod circuits;
pub mod cost;
mod feeders;
pub mod line;
pub mod offer;
pub mod open;
pub mod options;
pub mod payment;
mod printed;
mod questions;
mod sheet;
mod sum;
pub mod take_off;
mod wants;
mod work;

pub(crate) use take_off::{Context, is_bought, works_on};

pub use cost::{Cost, Pricer};
pub use line::{Because, Fee, Gap, Group, Line, What};
pub use offer::{Amount, Exposure, OpenPart, Price, PricedQuestion, Printed, price, quick};
pub use open::{Answer, Tree, Unknown};
pub use options::{Offered, check_offer};
pub use take_off::{TakeOff, take_off};
