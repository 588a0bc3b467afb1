//! Is every drawing well-formed XML, whatever the user wrote? Checked with an independent XML reader (roxmltree).
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use drawing::look::{FAINT, FIRST};
use drawing::{Area, Entry, Fill, Hatch, Lettering, Spot, Stroke, Style, Svg, fitted, legend};
use proptest::prelude::*;

fn draw(text: &str, number: f64) -> String {
    let view = Area::new(0.0, 0.0, 100.0, 60.0);
    let mut svg = Svg::new(text, text, view, 800);
    svg.describe(text);
    let style = Style::fill(Fill::Hatched(Hatch::Crossed, FIRST)).outlined(Stroke::ink(0.2));
    svg.group(text, |svg| {
        svg.rect(Area::new(number, 1.0, number, number), &style.rounded(1.0));
        svg.circle(
            Spot::new(1.0, number),
            number,
            &Style::fill(Fill::Plain(FAINT)),
        );
        svg.line(
            Spot::new(0.0, 0.0),
            Spot::new(number, 9.0),
            Stroke::ink(0.1).dashed(1.0),
        );
        svg.path(&[Spot::new(0.0, 0.0), Spot::new(number, 2.0)], true, &style);
        svg.text_in(Spot::new(2.0, 2.0), text, 10.0, Lettering::new(2.0));
        svg.text(Spot::new(2.0, 2.0), text, Lettering::new(2.0).bold().end());
        svg.text_turned(Spot::new(2.0, 2.0), text, -90.0, Lettering::new(2.0));
    });
    let entries = [Entry::new(style, text).letter("A")];
    legend(
        &mut svg,
        Spot::new(1.0, 40.0),
        50.0,
        &entries,
        Lettering::new(2.0),
    );
    svg.finish()
}

proptest! {
    #[test]
    fn any_text_gives_well_formed_xml(text in any::<String>(), number in any::<f64>()) {
        let drawn = draw(&text, number);
        let document = roxmltree::Document::parse(&drawn);
        prop_assert!(document.is_ok(), "{document:?}\n{drawn}");
        // Ids must be unique, or the parts of the drawing would borrow from each other.
        let document = document.unwrap();
        let mut ids: Vec<_> = document.descendants().filter_map(|n| n.attribute("id")).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        prop_assert_eq!(all, ids.len());
    }

    #[test]
    fn what_can_be_shown_comes_back_as_written(text in "[ -~]{0,40}") {
        let drawn = draw(&text, 1.0);
        let document = roxmltree::Document::parse(&drawn).unwrap();
        let title = document.root_element().children().find(|n| n.has_tag_name("title")).unwrap();
        prop_assert_eq!(title.text().unwrap_or(""), text);
    }
}

#[test]
fn a_long_text_is_shortened_and_told_whole_in_its_title() {
    let long = "kitchen counter, range side, and the dining room beside it";
    let short = fitted(long, 2.0, 20.0);
    assert!(
        short.ends_with('\u{2026}') && short.chars().count() < 25,
        "{short}"
    );
    let drawn = draw(long, 1.0);
    let document = roxmltree::Document::parse(&drawn).unwrap();
    let whole = document.descendants().any(|n| {
        n.has_tag_name("title")
            && n.parent().is_some_and(|p| p.has_tag_name("text"))
            && n.text() == Some(long)
    });
    assert!(whole, "{drawn}");
}

#[test]
fn control_characters_and_direction_marks_are_dropped() {
    let drawn = draw("a\u{1b}[31m\u{0}b\u{202e}c\u{ffff}", 1.0);
    let odd = drawn
        .chars()
        .find(|c| (c.is_control() && *c != '\n') || *c == '\u{202e}' || *c == '\u{ffff}');
    assert_eq!(odd, None);
    assert!(drawn.contains("a[31mbc"), "{drawn}");
}
