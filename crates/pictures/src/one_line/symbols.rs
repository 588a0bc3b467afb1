//! The symbols of a one-line diagram, drawn by hand after the trade's plain conventions: breaker, transformer, meter, ground.
//! Drawing units.

use drawing::{Area, Fill, Lettering, Spot, Stroke, Style, Svg, look};

/// Line of what stays.
pub(super) const KEPT: Stroke = Stroke::ink(0.8);
/// Line of what is new or replaced.
pub(super) const NEW: Stroke = Stroke::ink(2.2);

/// A thin line of ink.
pub(super) const THIN: Stroke = Stroke::ink(0.8);

/// Two ends of a line with an arc over the gap: an overcurrent device. Height 18.
pub(super) fn breaker(svg: &mut Svg, at: Spot, stroke: Stroke) {
    let dot = Style::fill(Fill::Plain(look::INK));
    svg.line(at, Spot::new(at.x, at.y + 3.0), stroke);
    svg.line(
        Spot::new(at.x, at.y + 15.0),
        Spot::new(at.x, at.y + 18.0),
        stroke,
    );
    svg.circle(Spot::new(at.x, at.y + 3.0), 1.4, &dot);
    svg.circle(Spot::new(at.x, at.y + 15.0), 1.4, &dot);
    let arc: Vec<Spot> = (0..=8)
        .map(|i| {
            let turn = std::f64::consts::PI * f64::from(i) / 8.0;
            Spot::new(at.x + 6.0 * turn.sin(), at.y + 9.0 - 6.0 * turn.cos())
        })
        .collect();
    svg.path(&arc, false, &Style::line(stroke));
}

/// Two circles that overlap: a transformer. Height 26.
pub(super) fn transformer(svg: &mut Svg, at: Spot) {
    for y in [8.0, 18.0] {
        svg.circle(Spot::new(at.x, at.y + y), 8.0, &Style::line(THIN));
    }
}

/// A circle with a letter: a meter or a source. Height 18.
pub(super) fn lettered(svg: &mut Svg, at: Spot, letters: &str, stroke: Stroke) {
    let style = Style::fill(Fill::Plain(look::PAPER)).outlined(stroke);
    svg.circle(Spot::new(at.x, at.y + 9.0), 9.0, &style);
    let size = if letters.len() > 1 { 7.0 } else { 9.0 };
    let spot = Spot::new(at.x, at.y + 9.0 + size * 0.35);
    svg.text(spot, letters, Lettering::new(size).middle().bold());
}

/// A line that ends in three shorter ones: an electrode. It comes from the left; width 14.
pub(super) fn ground(svg: &mut Svg, at: Spot) {
    svg.line(at, Spot::new(at.x + 7.0, at.y), THIN);
    for (x, half) in [(7.0, 5.0), (10.0, 3.3), (13.0, 1.6)] {
        let x = at.x + x;
        svg.line(
            Spot::new(x, at.y - half),
            Spot::new(x, at.y + half),
            Stroke::ink(1.2),
        );
    }
}

/// A bar with a letter beside it: neutral or ground bar.
pub(super) fn bar(svg: &mut Svg, at: Spot, letter: &str) {
    svg.rect(
        Area::new(at.x, at.y - 2.0, 30.0, 4.0),
        &Style::fill(Fill::Plain(look::INK)),
    );
    svg.text(
        Spot::new(at.x - 9.0, at.y + 3.0),
        letter,
        Lettering::new(8.5).bold(),
    );
}

/// An arrow downwards: branch circuits.
pub(super) fn arrow(svg: &mut Svg, from: Spot, to: f64) {
    svg.line(from, Spot::new(from.x, to), THIN);
    let tip = [
        Spot::new(from.x - 3.0, to - 5.0),
        Spot::new(from.x, to),
        Spot::new(from.x + 3.0, to - 5.0),
    ];
    svg.path(&tip, false, &Style::line(THIN));
}

/// Bond between neutral and ground bar: there, not there, or not known.
pub(super) fn bond(svg: &mut Svg, from: Spot, to: Spot, bonded: Option<bool>) {
    match bonded {
        Some(true) => svg.line(from, to, NEW),
        Some(false) => {
            let third = (to.y - from.y) / 3.0;
            svg.line(from, Spot::new(from.x, from.y + third), THIN);
            svg.line(Spot::new(to.x, to.y - third), to, THIN);
        }
        None => {
            svg.line(from, to, THIN.dashed(2.0));
            let middle = Spot::new(from.x + 4.0, f64::midpoint(from.y, to.y) + 3.0);
            svg.text(middle, "?", Lettering::new(9.0).bold());
        }
    }
}
