//! How is a panel, a curve or a timeline drawn? A writer of SVG text and the one look that all drawings share.
//! Source: SVG 1.1 and XML 1.0. Units are the drawing's own (inches of a cabinet, minutes of a day); letters are sized in them too.
//!
//! - [`Svg`] writes shapes and escapes every text it is given;
//! - [`look`] holds colours, strokes and fills that can be told apart in black and white;
//! - [`legend`] says what they mean.

mod legend;
pub mod look;
mod svg;
mod text;

pub use legend::{Entry, legend, legend_height};
pub use look::{Fill, Hatch, Lettering, Stroke, Style};
pub use svg::{Area, Spot, Svg};
pub use text::{fitted, width_of};
