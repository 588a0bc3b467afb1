//! The look of all drawings: ink on paper, a few accents, and a hatch beside every accent.
//! Colour never carries a meaning alone: what differs in colour differs in hatch or in a letter too. Widths are in drawing units.

/// Lines and letters.
pub const INK: &str = "#1d2430";
/// Letters of less weight.
pub const QUIET: &str = "#566072";
/// Background.
pub const PAPER: &str = "#ffffff";
/// Grids and empty places.
pub const FAINT: &str = "#e6e9ee";
/// First accent: first leg, first choice.
pub const FIRST: &str = "#cfe3ea";
/// Second accent: second leg, second choice.
pub const SECOND: &str = "#f3ddc4";
/// What changed, what is warned of.
pub const MARK: &str = "#a03a2c";
/// What is good or kept.
pub const KEPT: &str = "#3d6b4f";
/// Fonts, none of them fetched.
pub const FONTS: &str = "'Source Sans 3', 'Noto Sans', 'Liberation Sans', sans-serif";

/// What a shape is filled with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Fill {
    /// Nothing.
    #[default]
    Empty,
    /// One colour.
    Plain(&'static str),
    /// Lines over a colour, so that it reads in black and white.
    Hatched(Hatch, &'static str),
}

/// Sorts of hatching.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    /// Lines that rise to the right.
    Rising,
    /// Lines that fall to the right.
    Falling,
    /// Both.
    Crossed,
    /// Dots.
    Dotted,
    /// Level lines.
    Level,
}

impl Hatch {
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Rising => "rising",
            Self::Falling => "falling",
            Self::Crossed => "crossed",
            Self::Dotted => "dotted",
            Self::Level => "level",
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Colour.
    pub color: &'static str,
    /// Width in drawing units.
    pub width: f64,
    /// Dashes of this length, in drawing units; 0 is an unbroken line.
    pub dash: f64,
}

impl Stroke {
    /// An unbroken line of ink.
    #[must_use]
    pub const fn ink(width: f64) -> Self {
        Self::of(INK, width)
    }

    /// An unbroken line.
    #[must_use]
    pub const fn of(color: &'static str, width: f64) -> Self {
        Self {
            color,
            width,
            dash: 0.0,
        }
    }

    /// The same line, dashed.
    #[must_use]
    pub const fn dashed(self, dash: f64) -> Self {
        Self { dash, ..self }
    }
}

/// Fill and outline of a shape.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Style {
    /// Inside.
    pub fill: Fill,
    /// Outline.
    pub stroke: Option<Stroke>,
    /// Radius of rounded corners of a rectangle, in drawing units.
    pub round: f64,
}

impl Style {
    /// A fill without outline.
    #[must_use]
    pub const fn fill(fill: Fill) -> Self {
        Self {
            fill,
            stroke: None,
            round: 0.0,
        }
    }

    /// An outline without fill.
    #[must_use]
    pub const fn line(stroke: Stroke) -> Self {
        Self {
            fill: Fill::Empty,
            stroke: Some(stroke),
            round: 0.0,
        }
    }

    /// The same with this outline.
    #[must_use]
    pub const fn outlined(self, stroke: Stroke) -> Self {
        Self {
            stroke: Some(stroke),
            ..self
        }
    }

    /// The same with rounded corners.
    #[must_use]
    pub const fn rounded(self, round: f64) -> Self {
        Self { round, ..self }
    }
}

/// Where a text stands from its spot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    #[default]
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// How letters look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Height of a line in drawing units.
    pub size: f64,
    /// Where the text stands from its spot.
    pub anchor: Anchor,
    /// Colour.
    pub color: &'static str,
    /// Heavy letters.
    pub bold: bool,
}

impl Lettering {
    /// Ordinary letters that begin at their spot.
    #[must_use]
    pub const fn new(size: f64) -> Self {
        Self {
            size,
            anchor: Anchor::Start,
            color: INK,
            bold: false,
        }
    }

    /// The same, centred on the spot.
    #[must_use]
    pub const fn middle(self) -> Self {
        Self {
            anchor: Anchor::Middle,
            ..self
        }
    }

    /// The same, ending at the spot.
    #[must_use]
    pub const fn end(self) -> Self {
        Self {
            anchor: Anchor::End,
            ..self
        }
    }

    /// The same, heavy.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn color(self, color: &'static str) -> Self {
        Self { color, ..self }
    }
}
