//! What do the fills and lines of a drawing mean? A list of samples with words. Sizes are in drawing units.

use crate::look::{Lettering, Style};
use crate::svg::{Area, Spot, Svg};

/// One line of a legend.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// How it looks.
    pub style: Style,
    /// A letter drawn into the sample, where the drawing has one.
    pub letter: &'static str,
    /// What it means.
    pub meaning: String,
}

impl Entry {
    /// A sample and its meaning.
    #[must_use]
    pub fn new(style: Style, meaning: impl Into<String>) -> Self {
        Self {
            style,
            letter: "",
            meaning: meaning.into(),
        }
    }

    /// The same with a letter in the sample.
    #[must_use]
    pub fn letter(self, letter: &'static str) -> Self {
        Self { letter, ..self }
    }
}

/// Height of a legend with this many entries in letters of this size.
#[must_use]
pub fn legend_height(entries: usize, size: f64) -> f64 {
    entries as f64 * size * 1.6
}

/// Draws samples one under the other from `at`, their words beside them, at most `room` wide.
pub fn legend(svg: &mut Svg, at: Spot, room: f64, entries: &[Entry], letters: Lettering) {
    let size = letters.size;
    for (i, entry) in entries.iter().enumerate() {
        let top = at.y + legend_height(i, size);
        let sample = Area::new(at.x, top, size * 2.2, size * 1.2);
        svg.rect(sample, &entry.style);
        if !entry.letter.is_empty() {
            let spot = Spot::new(sample.middle().x, top + size * 0.95);
            svg.text(spot, entry.letter, letters.middle());
        }
        let words = Spot::new(at.x + size * 2.8, top + size * 0.95);
        svg.text_in(words, &entry.meaning, room - size * 2.8, letters);
    }
}
