//! Questions on raceways and boxes.

use engine::conductor::Verdict;
use engine::fill::boxes::{BoxContents, Counted, Yoke, box_fill};
use engine::fill::raceway::{Conductor, Use, most_of_one_size, raceway_fill, smallest_raceway};
use model::units::CubicInches;
use model::{Fact, TradeSize, WireSize, WiringMethod};
use rulebook::tables::TablesIn;
use toml::Value;

use super::{Answer, Example, on_line, quantity};

fn conductors(example: &Example) -> Conductor {
    Conductor {
        size: example.text("size").parse().unwrap(),
        insulation: Value::String(example.text("insulation").into())
            .try_into()
            .unwrap(),
        compact: false,
        count: example.number("count") as u32,
    }
}

fn method(example: &Example) -> WiringMethod {
    Value::String(example.text("method").into())
        .try_into()
        .unwrap()
}

fn trade_size(example: &Example) -> TradeSize {
    example.text("trade_size").parse().unwrap()
}

pub(crate) fn raceway_count(example: &Example, book: &TablesIn<'_>) -> Answer {
    let (one, size) = (conductors(example), trade_size(example));
    let (_, count) = most_of_one_size("example", method(example), size, one, book);
    let (sheet, verdict) = raceway_fill("example", method(example), size, &[one], Use::Run, book);
    assert_eq!(verdict, Verdict::Pass, "{}", example.id);
    [
        on_line("area", &sheet, "Area of all conductors"),
        on_line("allowed", &sheet, "Area they may take"),
        ("count".into(), Value::Integer(count.unwrap().into())),
    ]
    .into()
}

pub(crate) fn smallest(example: &Example, book: &TablesIn<'_>) -> Answer {
    let (sheet, size) = smallest_raceway(
        "example",
        method(example),
        &[conductors(example)],
        Use::Run,
        book,
    );
    [
        on_line("area", &sheet, "Area of all conductors"),
        (
            "trade_size".into(),
            Value::String(size.unwrap().name().into()),
        ),
    ]
    .into()
}

fn counted(example: &Example, name: &str) -> Vec<Counted> {
    let Some(table) = example
        .has(name)
        .then(|| example.given(name).as_table().unwrap())
    else {
        return Vec::new();
    };
    table
        .iter()
        .map(|(size, count)| Counted {
            size: size.parse().unwrap(),
            count: count.as_integer().unwrap() as u32,
        })
        .collect()
}

pub(crate) fn in_box(example: &Example, book: &TablesIn<'_>) -> Answer {
    let sizes = |name: &str| -> Vec<WireSize> {
        if !example.has(name) {
            return Vec::new();
        }
        example
            .given(name)
            .as_array()
            .unwrap()
            .iter()
            .map(|s| s.as_str().unwrap().parse().unwrap())
            .collect()
    };
    let contents = BoxContents {
        volume: if example.has("volume") {
            Fact::seen(CubicInches(example.number("volume")))
        } else {
            Fact::Unknown
        },
        ending: counted(example, "ending"),
        internal_clamps: example.has("internal_clamps"),
        support_fittings: if example.has("support_fittings") {
            example.number("support_fittings") as u32
        } else {
            0
        },
        yokes: sizes("yokes")
            .into_iter()
            .map(|size| Yoke { size, gangs: 1 })
            .collect(),
        grounds: counted(example, "grounds"),
        isolated_grounds: counted(example, "isolated_grounds"),
        ..BoxContents::default()
    };
    let (_, needed, verdict) = box_fill("example", &contents, book);
    let more = (1..).take_while(|more| {
        let mut fuller = contents.clone();
        fuller.ending.push(Counted {
            size: "12".parse().unwrap(),
            count: *more,
        });
        box_fill("example", &fuller, book).2 == Verdict::Pass
    });
    [
        quantity("needed", needed.unwrap()),
        ("fits".into(), Value::Boolean(verdict == Verdict::Pass)),
        ("more".into(), Value::Integer(more.count() as i64)),
    ]
    .into()
}
