//! Every printed number against a law of physics, geometry or plain order: a mistyped digit cannot hide.
//! Source: each module names its law; the tables are read as text, because the last printed place is part of a tolerance.

#![allow(clippy::unwrap_used, clippy::panic)]

mod ampacity;
mod boxes;
mod cells;
mod demand;
mod grounding;
mod impedance;
mod mutation;
mod raceway;
mod resistance;
mod space;
mod torque;

use cells::Cells;

/// All laws at once.
fn outliers(cells: &Cells) -> Vec<String> {
    [
        resistance::outliers(cells),
        ampacity::outliers(cells),
        raceway::outliers(cells),
        impedance::outliers(cells),
        grounding::outliers(cells),
        demand::outliers(cells),
        torque::outliers(cells),
        boxes::outliers(cells),
        space::outliers(cells),
    ]
    .concat()
}

/// The cells outside tolerance are exactly the known ones.
fn check(found: Vec<String>, known: &[&str]) {
    assert_eq!(
        found,
        known.iter().map(|k| (*k).to_owned()).collect::<Vec<_>>()
    );
}
