//! Do the conductors fit: in the raceway, in the box, in the cabinet, around the bend?
//! Source: NFPA 70 Chapter 9 Tables 1, 4, 5, 5A and notes; 314.16; 312.8; 312.6, by edition.
//! Square inches, cubic inches and inches; counts of conductors.
//!
//! - [`raceway`]: share of the bore, smallest raceway, how many of one size;
//! - [`boxes`]: volume allowances of an outlet or junction box;
//! - [`gutter`]: wiring space of a cabinet, with splices;
//! - [`bending`]: room for the bend at a terminal.

pub mod bending;
pub mod boxes;
pub mod gutter;
pub mod raceway;
