//! What do the symbols of a one-line diagram mean? Samples beside words, under the diagram.
//! Drawing units.

use drawing::{Lettering, Spot, Stroke, Svg};

use super::{SIZE, WIDTH, symbols};

/// Height that it takes.
pub(super) const HEIGHT: f64 = 82.0;

type Sample = fn(&mut Svg, Spot);

const ENTRIES: [(Sample, &str); 10] = [
    (
        |svg, at| symbols::breaker(svg, Spot::new(at.x + 8.0, at.y), symbols::KEPT),
        "overcurrent device",
    ),
    (
        |svg, at| symbols::transformer(svg, Spot::new(at.x + 8.0, at.y - 4.0)),
        "transformer",
    ),
    (
        |svg, at| symbols::lettered(svg, Spot::new(at.x + 8.0, at.y), "M", symbols::THIN),
        "meter",
    ),
    (
        |svg, at| symbols::ground(svg, Spot::new(at.x, at.y + 9.0)),
        "grounding electrode",
    ),
    (
        |svg, at| bars(svg, at, Some(true)),
        "neutral (N) bonded to ground (G)",
    ),
    (|svg, at| bars(svg, at, Some(false)), "neutral kept apart"),
    (|svg, at| bars(svg, at, None), "bonded or not: not known"),
    (|svg, at| line(svg, at, symbols::NEW), "new or replaced"),
    (|svg, at| line(svg, at, symbols::KEPT), "kept as it is"),
    (|svg, at| line(svg, at, Stroke::ink(3.4)), "bus of a board"),
];

fn bars(svg: &mut Svg, at: Spot, bonded: Option<bool>) {
    let (top, bottom) = (at.y + 2.0, at.y + 16.0);
    for y in [top, bottom] {
        svg.line(
            Spot::new(at.x, y),
            Spot::new(at.x + 18.0, y),
            Stroke::ink(2.6),
        );
    }
    symbols::bond(
        svg,
        Spot::new(at.x + 8.0, top),
        Spot::new(at.x + 8.0, bottom),
        bonded,
    );
}

fn line(svg: &mut Svg, at: Spot, stroke: Stroke) {
    let y = at.y + 9.0;
    svg.line(Spot::new(at.x, y), Spot::new(at.x + 18.0, y), stroke);
}

/// Draws it under `top`.
pub(super) fn draw(svg: &mut Svg, top: f64) {
    let column = WIDTH / 4.0;
    for (i, (sample, meaning)) in ENTRIES.iter().enumerate() {
        let at = Spot::new(
            8.0 + column * (i % 4) as f64,
            top + 8.0 + 25.0 * (i / 4) as f64,
        );
        svg.group(meaning, |svg| {
            sample(svg, at);
            let words = Spot::new(at.x + 25.0, at.y + 12.0);
            svg.text_in(words, meaning, column - 26.0, Lettering::new(SIZE - 1.2));
        });
    }
}
