//! Commands of the house.
fn main() {}
