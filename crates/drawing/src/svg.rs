//! Writes shapes and texts as SVG, each in the order it is given; later ones lie over earlier ones.
//! Source: SVG 1.1. Places are in drawing units, x to the right, y downwards.

use std::collections::BTreeSet;

use crate::look::{self, Anchor, Fill, Hatch, Lettering, Stroke, Style};
use crate::text::{escape_into, fitted, number_into};

/// A place in the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

impl Spot {
    /// A place in the drawing.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// A rectangle in the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Area {
    /// A rectangle in the drawing.
    #[must_use]
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self {
            x,
            y,
            width,
            height,
        }
    }

    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> Spot {
        Spot::new(self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// The same, smaller by `by` on every side.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        Self::new(
            self.x + by,
            self.y + by,
            (self.width - 2.0 * by).max(0.0),
            (self.height - 2.0 * by).max(0.0),
        )
    }
}

/// A drawing as it grows.
#[derive(Clone, Debug)]
pub struct Svg {
    name: String,
    title: String,
    description: String,
    view: Area,
    pixels: f64,
    hatches: BTreeSet<(Hatch, &'static str)>,
    hatch_step: f64,
    body: String,
}

impl Svg {
    /// An empty drawing. `name` keeps its inner names apart from other drawings on the same page; `pixels` is its width on a screen.
    #[must_use]
    pub fn new(name: &str, title: &str, view: Area, pixels: u32) -> Self {
        let plain = |c: &char| c.is_ascii_alphanumeric() || *c == '-';
        let name: String = name.chars().filter(plain).take(40).collect();
        Self {
            name: format!("d-{name}"),
            title: title.to_owned(),
            description: String::new(),
            view,
            pixels: f64::from(pixels),
            hatches: BTreeSet::new(),
            hatch_step: view.width / 160.0,
            body: String::new(),
        }
    }

    /// What the drawing says, in words, for those who cannot see it.
    pub fn describe(&mut self, text: &str) {
        text.clone_into(&mut self.description);
    }

    /// Distance of hatching lines, in drawing units.
    pub fn hatch_step(&mut self, step: f64) {
        self.hatch_step = step;
    }

    /// A rectangle.
    pub fn rect(&mut self, area: Area, style: &Style) {
        self.open("rect");
        self.number("x", area.x);
        self.number("y", area.y);
        self.number("width", area.width.max(0.0));
        self.number("height", area.height.max(0.0));
        if style.round > 0.0 {
            self.number("rx", style.round);
        }
        self.style(style);
        self.body.push_str("/>\n");
    }

    /// A circle.
    pub fn circle(&mut self, middle: Spot, radius: f64, style: &Style) {
        self.open("circle");
        self.number("cx", middle.x);
        self.number("cy", middle.y);
        self.number("r", radius.max(0.0));
        self.style(style);
        self.body.push_str("/>\n");
    }

    /// A straight line.
    pub fn line(&mut self, from: Spot, to: Spot, stroke: Stroke) {
        self.open("line");
        self.number("x1", from.x);
        self.number("y1", from.y);
        self.number("x2", to.x);
        self.number("y2", to.y);
        self.style(&Style::line(stroke));
        self.body.push_str("/>\n");
    }

    /// A line through these places, closed to a shape when `closed`. Fewer than two places draw nothing.
    pub fn path(&mut self, places: &[Spot], closed: bool, style: &Style) {
        if places.len() < 2 {
            return;
        }
        self.open("path");
        self.body.push_str(" d=\"");
        for (i, spot) in places.iter().enumerate() {
            self.body.push(if i == 0 { 'M' } else { 'L' });
            number_into(&mut self.body, spot.x);
            self.body.push(' ');
            number_into(&mut self.body, spot.y);
        }
        if closed {
            self.body.push('Z');
        }
        self.body.push('"');
        self.style(style);
        self.body.push_str("/>\n");
    }

    /// A text on its base line.
    pub fn text(&mut self, at: Spot, text: &str, letters: Lettering) {
        self.lettered(at, text, None, letters, 0.0);
    }

    /// A text on its base line that takes at most `room`; what does not fit is left out and told in the element's title.
    pub fn text_in(&mut self, at: Spot, text: &str, room: f64, letters: Lettering) {
        let short = fitted(text, letters.size, room);
        let whole = short.ends_with('\u{2026}').then_some(text);
        self.lettered(at, &short, whole, letters, 0.0);
    }

    /// A text turned around its spot, in degrees clockwise.
    pub fn text_turned(&mut self, at: Spot, text: &str, degrees: f64, letters: Lettering) {
        self.lettered(at, text, None, letters, degrees);
    }

    /// Several shapes as one thing with a title, which a pointer or a screen reader tells.
    pub fn group(&mut self, title: &str, draw: impl FnOnce(&mut Self)) {
        self.body.push_str("<g>\n");
        if !title.is_empty() {
            self.element("title", title);
        }
        draw(self);
        self.body.push_str("</g>\n");
    }

    /// The drawing as a text, complete.
    #[must_use]
    pub fn finish(self) -> String {
        let mut out = String::with_capacity(self.body.len() + 1500);
        out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"");
        let view = [
            self.view.x,
            self.view.y,
            self.view.width.max(0.001),
            self.view.height.max(0.001),
        ];
        for (i, number) in view.into_iter().enumerate() {
            if i > 0 {
                out.push(' ');
            }
            number_into(&mut out, number);
        }
        let height = self.pixels * view[3] / view[2];
        for (name, value) in [("width", self.pixels), ("height", height.ceil())] {
            out.push_str("\" ");
            out.push_str(name);
            out.push_str("=\"");
            number_into(&mut out, value);
        }
        out.push_str("\" aria-labelledby=\"");
        out.push_str(&self.name);
        out.push_str("-title ");
        out.push_str(&self.name);
        out.push_str("-desc\" font-family=\"");
        out.push_str(look::FONTS);
        out.push_str("\">\n");
        for (tag, text) in [("title", &self.title), ("desc", &self.description)] {
            out.push_str(&format!("<{tag} id=\"{}-{tag}\">", self.name));
            escape_into(&mut out, text);
            out.push_str(&format!("</{tag}>\n"));
        }
        self.write_hatches(&mut out);
        out.push_str(&self.body);
        out.push_str("</svg>\n");
        out
    }

    fn lettered(
        &mut self,
        at: Spot,
        shown: &str,
        whole: Option<&str>,
        letters: Lettering,
        degrees: f64,
    ) {
        self.open("text");
        self.number("x", at.x);
        self.number("y", at.y);
        self.number("font-size", letters.size);
        match letters.anchor {
            Anchor::Start => {}
            Anchor::Middle => self.word("text-anchor", "middle"),
            Anchor::End => self.word("text-anchor", "end"),
        }
        if letters.bold {
            self.word("font-weight", "bold");
        }
        if degrees != 0.0 {
            self.body.push_str(" transform=\"rotate(");
            for (i, value) in [degrees, at.x, at.y].into_iter().enumerate() {
                if i > 0 {
                    self.body.push(' ');
                }
                number_into(&mut self.body, value);
            }
            self.body.push_str(")\"");
        }
        self.word("fill", letters.color);
        self.body.push('>');
        if let Some(whole) = whole {
            self.element("title", whole);
        }
        escape_into(&mut self.body, shown);
        self.body.push_str("</text>\n");
    }

    fn open(&mut self, tag: &str) {
        self.body.push('<');
        self.body.push_str(tag);
    }

    fn element(&mut self, tag: &str, text: &str) {
        self.body.push_str(&format!("<{tag}>"));
        escape_into(&mut self.body, text);
        self.body.push_str(&format!("</{tag}>"));
    }

    fn word(&mut self, name: &str, value: &str) {
        self.body.push(' ');
        self.body.push_str(name);
        self.body.push_str("=\"");
        escape_into(&mut self.body, value);
        self.body.push('"');
    }

    fn number(&mut self, name: &str, value: f64) {
        self.body.push(' ');
        self.body.push_str(name);
        self.body.push_str("=\"");
        number_into(&mut self.body, value);
        self.body.push('"');
    }

    fn style(&mut self, style: &Style) {
        match style.fill {
            Fill::Empty => self.word("fill", "none"),
            Fill::Plain(color) => self.word("fill", color),
            Fill::Hatched(hatch, color) => {
                self.hatches.insert((hatch, color));
                let id = self.hatch_id(hatch, color);
                self.word("fill", &format!("url(#{id})"));
            }
        }
        if let Some(stroke) = style.stroke {
            self.word("stroke", stroke.color);
            self.number("stroke-width", stroke.width);
            if stroke.dash > 0.0 {
                self.number("stroke-dasharray", stroke.dash);
            }
        }
    }

    fn hatch_id(&self, hatch: Hatch, color: &str) -> String {
        let color: String = color.chars().filter(char::is_ascii_alphanumeric).collect();
        format!("{}-{}-{color}", self.name, hatch.name())
    }

    fn write_hatches(&self, out: &mut String) {
        if self.hatches.is_empty() {
            return;
        }
        out.push_str("<defs>\n");
        let step = self.hatch_step;
        for (hatch, color) in &self.hatches {
            let id = self.hatch_id(*hatch, color);
            let mut side = String::new();
            number_into(&mut side, step);
            let mut thin = String::new();
            number_into(&mut thin, step / 10.0);
            let mut half = String::new();
            number_into(&mut half, step / 2.0);
            out.push_str(&format!(
                "<pattern id=\"{id}\" patternUnits=\"userSpaceOnUse\" width=\"{side}\" height=\"{side}\"><rect width=\"{side}\" height=\"{side}\" fill=\"{color}\"/>"
            ));
            let line = |d: &str| {
                format!(
                    "<path d=\"{d}\" stroke=\"{}\" stroke-width=\"{thin}\" fill=\"none\"/>",
                    look::QUIET
                )
            };
            let (rise, fall) = (format!("M0 {side}L{side} 0"), format!("M0 0L{side} {side}"));
            match hatch {
                Hatch::Rising => out.push_str(&line(&rise)),
                Hatch::Falling => out.push_str(&line(&fall)),
                Hatch::Crossed => out.push_str(&line(&format!("{rise}{fall}"))),
                Hatch::Level => out.push_str(&line(&format!("M0 {half}L{side} {half}"))),
                Hatch::Dotted => out.push_str(&format!(
                    "<circle cx=\"{half}\" cy=\"{half}\" r=\"{thin}\" fill=\"{}\"/>",
                    look::QUIET
                )),
            }
            out.push_str("</pattern>\n");
        }
        out.push_str("</defs>\n");
    }
}
