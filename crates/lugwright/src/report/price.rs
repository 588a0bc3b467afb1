//! The price on a page: the private cost sheet with every line's way from cost to price, or the customer's page without it.
//! US dollars; a total is the sum of the lines printed above it.

use engine::facts::Place;
use engine::price::line::Group;
use engine::price::offer::{Perhaps, PricedQuestion};
use engine::price::payment::Schedule;
use engine::price::{Amount, Because, Cost, Price, Printed};
use engine::{Quantity, Value as SheetValue};
use model::Dollars;
use shop::AskedBy;

use super::findings::places;
use crate::page::{Page, columns};

/// Questions, exposures and places shown on the page; JSON has all.
const MOST: usize = 12;

/// The private cost sheet.
pub(crate) fn private(page: &mut Page, price: &Price<'_>) {
    page.heading("Cost sheet, private");
    page.paragraph(
        "",
        "Order: direct cost, overhead, contingency, profit, tax charged. Each line is rounded to the cent at each place, halves away from zero; totals are sums of lines. \
         Figures of the built-in price book are invented for the demo unless it names a source.",
    );
    for group in groups(price) {
        page.subheading(group.title());
        let lines: Vec<&Printed<'_>> = price.lines.iter().filter(|l| l.group == group).collect();
        page.fixed(&[
            ("", 38),
            ("count", 15),
            ("hours", 7),
            ("material", 9),
            ("labour", 9),
            ("price", 10),
        ]);
        for reason in reasons(&lines) {
            let mine: Vec<&Printed<'_>> = lines
                .iter()
                .copied()
                .filter(|l| l.because == reason)
                .collect();
            page.paragraph(
                "- ",
                &format!("{}; {}", reason.text(), places(at(&mine).into_iter())),
            );
            for line in mine {
                write_row(page, &private_row(line));
            }
        }
        let sum: Cost = lines.iter().map(|l| l.cost).sum();
        write_row(page, &row("  sum", "", &sum));
    }
    open_lines(page, price);
    total(page, price);
    gaps(page, price);
    page.subheading("From cost to price, certain lines");
    for line in &price.worksheet.lines {
        let value = match &line.value {
            SheetValue::Number(quantity) => number(quantity),
            SheetValue::Text(text) | SheetValue::CannotTell(text) => text.to_string(),
            SheetValue::Passes(yes) => if *yes { "yes" } else { "NO" }.to_owned(),
        };
        let inputs = line.inputs.iter().filter_map(|input| match &input.value {
            SheetValue::Number(quantity) => Some(format!("{} {}", input.name, number(quantity))),
            _ => None,
        });
        let mut how: Vec<String> = vec![line.how.to_string()];
        how.extend(inputs);
        how.retain(|h| !h.is_empty());
        page.fixed(&[(&line.label, 30), (&value, 13), (&how.join("; "), 53)]);
    }
    questions(page, &price.questions);
    exposure(page, price);
    options(page, price, false);
    allowances(page, price);
    payments(page, price);
    exclusions(page, price);
}

/// The customer's page: no cost, no margin.
pub(crate) fn customer(page: &mut Page, price: &Price<'_>) {
    page.heading("Offer");
    for group in groups(price) {
        page.subheading(group.title());
        let rows: Vec<Vec<String>> = customer_lines(price, group)
            .into_iter()
            .map(|line| vec![line.why, line.what, money(line.price)])
            .collect();
        columns(page, "", &["why", "what", "price"], &rows);
    }
    open_lines(page, price);
    total(page, price);
    if !price.gaps.is_empty() {
        page.paragraph(
            "",
            "The price is not complete yet: something is still to be found out or priced.",
        );
    }
    options(page, price, true);
    allowances(page, price);
    payments(page, price);
    exclusions(page, price);
}

/// Most questions of a brief.
const FIRST_QUESTIONS: usize = 5;

/// Writes the total and what moves it most, for a report of more than the price.
pub(crate) fn brief(page: &mut Page, price: &Price<'_>) {
    page.heading("Price");
    page.line(
        "Figures of the built-in price book are invented for the demo unless it names a source.",
    );
    total(page, price);
    gaps(page, price);
    let first = price.questions.len().min(FIRST_QUESTIONS);
    questions(page, &price.questions[..first]);
}

fn groups(price: &Price<'_>) -> Vec<Group> {
    let mut groups: Vec<Group> = price.lines.iter().map(|l| l.group).collect();
    groups.dedup();
    groups
}

/// One row of the cost sheet: what, count, hours, material and fees, labour, price; numbers to the right.
fn row(what: &str, count: &str, cost: &Cost) -> [(String, usize); 6] {
    let blank = |amount: Dollars| match amount {
        Dollars::ZERO => String::new(),
        amount => money(amount),
    };
    let hours = match cost.minutes.hours().0 {
        hours if hours > 0.0 => format!("{hours:.2} h"),
        _ => String::new(),
    };
    [
        (what.to_owned(), 38),
        (count.to_owned(), 15),
        (format!("{hours:>7}"), 7),
        (format!("{:>9}", blank(cost.material + cost.fees)), 9),
        (format!("{:>9}", blank(cost.labour)), 9),
        (format!("{:>10}", money(cost.price())), 10),
    ]
}

fn write_row(page: &mut Page, cells: &[(String, usize); 6]) {
    let cells: Vec<(&str, usize)> = cells
        .iter()
        .map(|(text, width)| (text.as_str(), *width))
        .collect();
    page.fixed(&cells);
}

fn private_row(line: &Printed<'_>) -> [(String, usize); 6] {
    row(
        &format!("  {}", line.text),
        &format!("{} {}", line.count, line.unit),
        &line.cost,
    )
}

fn reasons<'a>(lines: &[&Printed<'a>]) -> Vec<Because<'a>> {
    let mut reasons: Vec<Because<'a>> = Vec::new();
    for line in lines {
        if !reasons.contains(&line.because) {
            reasons.push(line.because);
        }
    }
    reasons
}

/// Every place of these lines, each once.
fn at<'a>(lines: &[&Printed<'a>]) -> Vec<Place<'a>> {
    let mut at = Vec::new();
    for place in lines.iter().flat_map(|l| &l.places) {
        if !at.contains(place) {
            at.push(*place);
        }
    }
    at
}

/// A line of the customer's page: everything of one group for one reason.
struct CustomerLine {
    why: String,
    what: String,
    price: Dollars,
}

fn customer_lines(price: &Price<'_>, group: Group) -> Vec<CustomerLine> {
    let lines: Vec<&Printed<'_>> = price.lines.iter().filter(|l| l.group == group).collect();
    let one = |because: Because<'_>| {
        let mine: Vec<&Printed<'_>> = lines
            .iter()
            .copied()
            .filter(|l| l.because == because)
            .collect();
        let parts: Vec<String> = mine
            .iter()
            .filter(|l| l.cost.material > Dollars::ZERO || l.cost.fees > Dollars::ZERO)
            .map(|l| match l.unit.as_str() {
                "each" => format!("{} {}", l.count, l.text),
                unit => format!("{} {unit} {}", l.count, l.text),
            })
            .collect();
        let mut what = parts.join("; ");
        if mine.iter().any(|l| l.cost.labour > Dollars::ZERO) {
            what.push_str(if what.is_empty() {
                "labour"
            } else {
                "; with labour"
            });
        }
        CustomerLine {
            why: format!("{}; {}", because.text(), places(at(&mine).into_iter())),
            what,
            price: mine.iter().map(|l| l.cost.price()).sum(),
        }
    };
    reasons(&lines).into_iter().map(one).collect()
}

fn open_lines(page: &mut Page, price: &Price<'_>) {
    if price.perhaps.is_empty() {
        return;
    }
    page.subheading("What hangs on facts that nobody knows yet");
    let rows: Vec<Vec<String>> = price
        .perhaps
        .iter()
        .map(|p: &Perhaps<'_>| {
            vec![
                p.because.join("; "),
                places(p.places.iter().copied()),
                money(p.low),
                money(p.high),
            ]
        })
        .collect();
    columns(page, "", &["why", "where", "at least", "at most"], &rows);
}

fn total(page: &mut Page, price: &Price<'_>) {
    page.subheading("Total");
    page.line(&format!("certain lines  {}", money(price.certain.price())));
    match &price.total {
        Amount::Exact(total) => page.line(&format!("TOTAL          {}", money(*total))),
        Amount::Between { low, high, bound } => {
            page.line(&format!(
                "TOTAL          {} to {}",
                money(*low),
                money(*high)
            ));
            page.paragraph(
                "               ",
                if *bound {
                    "too many combinations of answers to try: no less and no more than this, perhaps between narrower ends"
                } else {
                    "exact over every combination of answers to the open questions"
                },
            );
        }
        Amount::Incomplete {
            priced_low,
            priced_high,
        } => {
            page.line("TOTAL          INCOMPLETE");
            page.paragraph(
                "               ",
                &format!(
                    "what is priced comes to {} to {}; the total is more",
                    money(*priced_low),
                    money(*priced_high)
                ),
            );
        }
    }
}

fn gaps(page: &mut Page, price: &Price<'_>) {
    if !price.gaps.is_empty() {
        page.subheading("Not priced: the total is incomplete without it");
        for gap in &price.gaps {
            page.paragraph("- ", &format!("{}: {}", gap.what, gap.advice));
        }
    }
    if !price.plan_first.is_empty() {
        page.subheading("The plan must change first; nothing is priced for it");
        for plan in &price.plan_first {
            let title = &plan.requirement.requirement().title;
            let at = places(plan.places.iter().copied());
            page.paragraph("- ", &format!("{title}, at {at}: {}", plan.what));
        }
    }
}

fn questions(page: &mut Page, questions: &[PricedQuestion<'_>]) {
    if questions.is_empty() {
        return;
    }
    page.subheading("What hangs on each open question, at the customer's price");
    for question in questions.iter().take(MOST) {
        let at = places(question.places.iter().map(|(place, ..)| *place));
        page.paragraph(
            &format!("{:>10}  ", money(question.swing)),
            &format!("{} [{}]; about {at}", question.text, question.name),
        );
    }
    more(page, questions.len());
}

fn exposure(page: &mut Page, price: &Price<'_>) {
    if price.exposure.is_empty() {
        return;
    }
    page.subheading("Exposure: what missing each requirement would have cost the shop");
    page.paragraph(
        "",
        "Its material and labour at cost, less what they take the place of, then a trip back with the inspection again.",
    );
    let (with_work, trip_only): (Vec<_>, Vec<_>) =
        price.exposure.iter().partition(|e| e.work > Dollars::ZERO);
    let rows: Vec<Vec<String>> = with_work
        .iter()
        .take(MOST)
        .map(|e| {
            let section = match e.section.as_str() {
                "" => String::new(),
                section => format!(" ({section})"),
            };
            vec![
                format!("{}{section}; {}", e.title, places(e.places.iter().copied())),
                money(e.work),
                money(e.trip),
                money(e.work + e.trip),
            ]
        })
        .collect();
    columns(
        page,
        "",
        &["requirement", "work", "trip", "together"],
        &rows,
    );
    more(page, with_work.len());
    if let Some(one) = trip_only.first() {
        let count = trip_only.len();
        page.line(&format!(
            "{count} more cost no material, only the trip: {} each",
            money(one.trip)
        ));
    }
}

fn more(page: &mut Page, all: usize) {
    if all > MOST {
        page.line(&format!(
            "and {} more: `--format json` has them all",
            all - MOST
        ));
    }
}

fn options(page: &mut Page, price: &Price<'_>, customer: bool) {
    page.subheading("Options, each as what it adds");
    let rows: Vec<Vec<String>> = price
        .options
        .iter()
        .map(|o| {
            let asked = match (o.asked_by, o.perhaps_code) {
                (AskedBy::Code, _) => format!("code ({})", o.section),
                (_, true) => format!("code, if it turns out so ({})", o.section),
                (AskedBy::Insurer, _) => "insurer".to_owned(),
                (AskedBy::Wish, _) => "wish; no code asks for it".to_owned(),
            };
            let adds = match (o.asked_by, o.adds, o.chosen) {
                (AskedBy::Code, ..) => "in the price".to_owned(),
                (_, None, _) => "not priced".to_owned(),
                (_, Some(cost), true) => format!("{}, in the price", money(cost.price())),
                (_, Some(cost), false) => format!("+{}", money(cost.price())),
            };
            let not_with = match o.excludes.as_slice() {
                [] => String::new(),
                others => format!("; not with {}", others.join(", ")),
            };
            let name = if customer {
                o.title.clone()
            } else {
                format!("{} [{}]", o.title, o.name)
            };
            vec![format!("{name}{not_with}"), asked, adds]
        })
        .collect();
    columns(page, "", &["option", "asked for by", "adds"], &rows);
}

fn allowances(page: &mut Page, price: &Price<'_>) {
    page.subheading("Unit prices for what nobody can see before the cover is off; used only as agreed, with a photograph");
    let rows: Vec<Vec<String>> = price
        .allowances
        .iter()
        .map(|a| {
            vec![
                a.what.to_owned(),
                a.price.map_or("not priced".to_owned(), money),
                format!("per {}", a.unit),
                match a.likely.as_slice() {
                    [] => String::new(),
                    likely => format!("likely at {}", likely.join(", ")),
                },
            ]
        })
        .collect();
    columns(page, "", &["what", "price", "for", ""], &rows);
}

fn payments(page: &mut Page, price: &Price<'_>) {
    page.subheading("Payments");
    let payments = &price.payments;
    if payments.schedules.is_empty() {
        page.line("No schedule while the total is incomplete.");
    }
    let rows: Vec<Vec<String>> = payments
        .schedules
        .iter()
        .map(|s: &Schedule| {
            vec![
                money(s.price),
                money(s.on_signing),
                money(s.on_energizing),
                money(s.after_inspection),
                s.cap.map_or("none known".to_owned(), money),
            ]
        })
        .collect();
    if !rows.is_empty() {
        let header = [
            "price",
            "on signing",
            "on energizing",
            "after final inspection",
            "state's cap on the first",
        ];
        columns(page, "", &header, &rows);
    }
    page.line(&format!("The offer holds {} days.", payments.valid_days));
    if payments.terms.is_empty() {
        page.paragraph("", "The price book has no terms for this state: that does not mean there are none. Ask the state.");
    }
    for term in &payments.terms {
        let caveat = match term.caveat.as_str() {
            "" => String::new(),
            caveat => format!("; {caveat}"),
        };
        page.paragraph(
            "- ",
            &format!(
                "{}{caveat} ({}; {}): verify with the state",
                term.text, term.source, term.check
            ),
        );
    }
}

fn exclusions(page: &mut Page, price: &Price<'_>) {
    page.subheading("Not included");
    for text in price.exclusions {
        page.paragraph("- ", text);
    }
}

/// Dollars with their cents, as columns of a price want them.
fn money(amount: Dollars) -> String {
    let text = amount.to_string();
    if amount.cents() % 100 == 0 {
        format!("{text}.00")
    } else {
        text
    }
}

fn number(quantity: &Quantity) -> String {
    match quantity.unit {
        "USD" => Dollars::from_amount(quantity.value).map_or_else(String::new, money),
        "%" => format!("{:.1} %", quantity.value),
        unit => format!("{:.2} {unit}", quantity.value),
    }
}
