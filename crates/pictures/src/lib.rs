//! How does the engine's answer look? Drawings for screen and paper, as SVG text in the one look of `drawing`.
//! Each function takes what the engine worked out and works nothing out itself. Units are told by each drawing.
//!
//! - [`face`]: a board before and after; [`cutover`]: the timeline; [`relocate`]: walls and the price along them;
//! - [`one_line`]: how power comes to each board; [`wall_sketch`]: where the boards stand, with the space in front of them.

pub mod cutover;
pub mod face;
pub mod one_line;
pub mod relocate;
pub mod wall_sketch;
mod wrap;
