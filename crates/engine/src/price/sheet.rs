//! The way from cost to price as a worksheet: direct cost, overhead, contingency, profit, tax, with markup and margin side by side.
//! Source: sums of the certain lines; the order is the one that estimating courses give. US dollars, hours, per cent.

use model::units::{Hours, Percent, Unit};
use model::{Dollars, Edition};

use super::cost::{Cost, Pricer};
use crate::worksheet::{Line, Quantity, Value, Worksheet};

fn dollars(amount: Dollars) -> Quantity {
    Quantity {
        value: amount.cents() as f64 / 100.0,
        unit: "USD",
    }
}

fn line(label: &'static str, amount: Dollars) -> Line {
    Line::new(label, Value::Number(dollars(amount)))
}

fn share(part: Dollars, whole: Dollars) -> Option<Percent> {
    (whole != Dollars::ZERO).then(|| Percent(part.cents() as f64 * 100.0 / whole.cents() as f64))
}

/// Markup on cost and margin on price that a profit comes to; nothing without a cost.
#[must_use]
pub(crate) fn markup_and_margin(cost: &Cost) -> (Option<Percent>, Option<Percent>) {
    let before = cost.before_profit() - cost.fees;
    (
        share(cost.profit, before),
        share(cost.profit, before + cost.profit),
    )
}

pub(super) fn build_up(
    certain: &Cost,
    pricer: &Pricer<'_>,
    (low, high): (Dollars, Dollars),
    edition: Edition,
) -> Worksheet {
    let mut sheet = Worksheet::new(
        "price.build-up",
        "From cost to price, certain lines",
        edition,
    );
    let rates = pricer.rates();
    sheet.push(line("Material", certain.material).how("parts at the shop's price"));
    sheet.push(line("Tax paid on material", certain.tax_paid));
    let hours: Hours = certain.minutes.hours();
    sheet.push(Line::number("Labour, one person", hours).how("counted units by the labour table"));
    sheet.push(
        line("Labour", certain.labour)
            .how("hours x wage with burden")
            .input("wage with burden, an hour", dollars(rates.burdened())),
    );
    sheet.push(line("Fees", certain.fees).how("passed on at cost"));
    sheet.push(line("Direct cost", certain.direct()).how("material + tax + labour + fees"));
    sheet.push(
        line("Overhead", certain.overhead)
            .how("hours x overhead of an hour")
            .input("overhead, an hour", dollars(rates.overhead())),
    );
    sheet.push(
        line("Handling of material", certain.handling)
            .how("share of the material")
            .input("share", percent(rates.material_markup())),
    );
    sheet.push(
        line("Contingency", certain.contingency)
            .how("share of direct cost without fees, overhead and handling; kept apart, for what is uncertain and not for known work")
            .input("share", percent(rates.contingency())),
    );
    sheet.push(
        line("Profit", certain.profit)
            .how("cost x margin / (1 - margin), without fees")
            .input("margin", percent(rates.margin())),
    );
    let (markup, margin) = markup_and_margin(certain);
    for (label, value) in [("Markup on cost", markup), ("Margin on price", margin)] {
        let line = match value {
            Some(share) => Line::number(label, share),
            None => Line::cannot_tell(label, "nothing is priced"),
        };
        sheet.push(line.how("margin = markup / (1 + markup)"));
    }
    sheet.push(line("Tax charged on material", certain.tax_charged));
    sheet.push(
        line("Price of the certain lines", certain.price())
            .how("sum of all lines, each rounded to the cent"),
    );
    sheet.push(line("Lowest price", low).how("with what may come on top, at its least"));
    sheet.push(line("Highest price", high).how("with what may come on top, at its most"));
    sheet
}

fn percent(share: shop::Share) -> Quantity {
    Quantity {
        value: share.hundredths() as f64 / 100.0,
        unit: Percent::SYMBOL,
    }
}
