//! Optional calculation of one dwelling unit on one service or feeder.
//! NFPA 70 220.82 (2014-2023), 120.82 (2026). Nameplate VA in, outcome and worksheet out.

use model::house::{DwellingKind, System};
use rulebook::tables::{Subject, TablesIn, limit};

use super::input::{Dwelling, Units};
use super::outcome::{Method, Outcome, Standing};
use super::parts::{self, Parts};
use super::standard::{self, Reckoned};
use super::{pot, selection};
use crate::worksheet::{Line, Text};

/// The optional calculation, with its conditions checked.
#[must_use]
pub fn optional(dwelling: &Dwelling, book: &TablesIn<'_>) -> Outcome {
    let parts = parts::parts(
        &[Units {
            count: 1,
            unit: dwelling,
        }],
        &[],
        book,
    );
    from_parts(&parts, dwelling, book)
}

pub(super) fn from_parts(parts: &Parts, dwelling: &Dwelling, book: &TablesIn<'_>) -> Outcome {
    let mut sheet = standard::sheet(Method::Optional, book);
    let standing = conditions(dwelling, book);
    sheet
        .lines
        .extend(standing_lines(&standing, Subject::OptionalConditions, book));

    let pot = pot::pot(dwelling, Method::Optional, false, book);
    let outside = pot.outside.clone();
    let general = pot::on_pot(
        &pot.sum,
        &pot::Factors {
            first: book.limit(limit::OPTIONAL_FIRST_STEP),
            rest: book.limit(limit::OPTIONAL_REMAINDER_DEMAND),
        },
    );
    let climate = selection::largest_selection(dwelling, book);
    sheet.lines.extend(pot.lines);
    sheet.lines.extend(general.lines);
    sheet.lines.extend(climate.lines);
    sheet.lines.extend(pot.outside_lines);
    let result = Reckoned {
        method: Method::Optional,
        standing,
        demand: general.value + climate.value + outside,
        line_to_neutral: None,
    };
    standard::close(sheet, result, parts, dwelling, book)
}

fn conditions(dwelling: &Dwelling, book: &TablesIn<'_>) -> Standing {
    let mut fails: Vec<Text> = Vec::new();
    let mut unknown: Vec<Text> = Vec::new();
    if !dwelling.is_whole() {
        fails.push(
            "the conductors carry only part of the dwelling; the total load is wanted".into(),
        );
    }
    if dwelling.kind.get() == Some(DwellingKind::Other) {
        fails.push("not a dwelling unit".into());
    }
    match book.limit(limit::OPTIONAL_LEAST_AMPACITY) {
        Ok(least) => match dwelling.ampacity.get() {
            Some(ampacity) if ampacity < least.value => fails
                .push(format!("the conductors have {ampacity}, less than {}", least.value).into()),
            Some(_) => {}
            None => unknown.push(
                format!(
                    "ampacity of the service or feeder conductors: {} or more is wanted",
                    least.value
                )
                .into(),
            ),
        },
        Err(why) => unknown.push(why.to_string().into()),
    }
    if dwelling.system.is_unknown() {
        unknown.push(
            format!(
                "electrical system: {} or {} between legs on three wires is wanted",
                System::SinglePhase120_240.line_to_line(),
                System::TwoLegs208Y120.line_to_line()
            )
            .into(),
        );
    }
    Standing::from_conditions(fails, unknown)
}

/// Says on the worksheet whether the method may be used.
pub(super) fn standing_lines(
    standing: &Standing,
    subject: Subject,
    book: &TablesIn<'_>,
) -> Vec<Line> {
    const LABEL: &str = "Conditions of this method are met";
    let cite = book.cite(subject);
    let (line, reasons): (Line, &[Text]) = match standing {
        Standing::Applies => (Line::passes(LABEL, true), &[]),
        Standing::DoesNotApply(why) => (Line::passes(LABEL, false), why),
        Standing::CannotTell(why) => (
            Line::cannot_tell(LABEL, format!("needs the {}", why.join("; "))),
            why,
        ),
    };
    let line = line.cite(cite);
    vec![if matches!(standing, Standing::DoesNotApply(_)) {
        line.note(reasons.join("; "))
    } else {
        line
    }]
}
