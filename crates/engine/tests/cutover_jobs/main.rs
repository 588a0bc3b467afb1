//! Does a whole plan hold together? Safety first, then the sums, then what it says of hours.
//! References: labour times added up by hand from the shop's table; published bands of hours; every order, tried one by one.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod holds;
mod hours;
mod nights;
mod orders;
mod plans;
mod safe;
mod supply;
mod ways;
