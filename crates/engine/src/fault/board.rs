//! What fault current does one board see, and is its rating enough?
//! Source: NFPA 70 110.9, 110.10. Amperes; the larger of both methods counts.

use model::Fact;
use model::house::System;
use model::units::Amperes;
use rulebook::tables::{Subject, TablesIn};

use super::chain::Walked;
use super::loops::SourceLoops;
use super::{BoardFault, Currents};
use crate::conductor::found::{Found, Verdict};
use crate::worksheet::{Line, Worksheet};

/// Currents at the place reached so far. The verdict is still open.
pub(super) fn at_board(
    name: &str,
    system: System,
    told: &SourceLoops,
    at: &Walked,
    motors: Amperes,
    sheet: &mut Worksheet,
) -> BoardFault {
    let impedance = by_impedance(system, told, at);
    let point_to_point = by_hand(at);
    let counted: &[&Currents] = match (at.impedance_lost, at.hand_lost) {
        (false, true) => &[&impedance],
        (true, false) => &[&point_to_point],
        _ => &[&impedance, &point_to_point],
    };
    let each = || {
        counted
            .iter()
            .flat_map(|c| [&c.line_to_line, &c.line_to_neutral])
    };
    let high = each().filter_map(|f| f.high).reduce(Amperes::max);
    let low = each().filter_map(|f| f.low).reduce(Amperes::max);
    let highest = Found {
        low: low.map(|a| a + motors),
        high: high.map(|a| a + motors),
        missing: at.missing.clone(),
    };
    for (label, found) in [
        ("leg to leg", &impedance.line_to_line),
        ("leg to neutral", &impedance.line_to_neutral),
    ] {
        sheet.push(
            Line::new(format!("{name}: by impedance, {label}"), found.value())
                .how("volts / size of (source impedance + impedance of the runs, out and back)"),
        );
    }
    sheet.push(
        Line::new(format!("{name}: available fault current"), highest.value())
            .how("largest of both methods, leg to leg and leg to neutral, plus motors"),
    );
    BoardFault {
        board: name.to_owned(),
        impedance,
        point_to_point,
        highest,
        verdict: Verdict::CannotTell,
    }
}

fn by_impedance(system: System, told: &SourceLoops, at: &Walked) -> Currents {
    let found = |(low, high): (Option<Amperes>, Amperes)| Found {
        low: low.filter(|_| !at.open && !at.impedance_lost),
        high: Some(high),
        missing: at.missing.clone(),
    };
    let (leg_to_leg, leg_to_neutral) = (&told.line_to_line, &told.line_to_neutral);
    Currents {
        line_to_line: found(leg_to_leg.current(system.line_to_line(), at.line_to_line)),
        line_to_neutral: found(
            leg_to_neutral.current(system.line_to_neutral(), at.line_to_neutral),
        ),
    }
}

fn by_hand(at: &Walked) -> Currents {
    let found = |amperes: Amperes| Found {
        low: Some(amperes).filter(|_| !at.open && !at.vague_source && !at.hand_lost),
        high: Some(amperes),
        missing: at.missing.clone(),
    };
    Currents {
        line_to_line: found(at.hand_line_to_line),
        line_to_neutral: found(at.hand_line_to_neutral),
    }
}

/// The board's rating against the current it can see.
pub(super) fn against_rating(
    board: &BoardFault,
    rating: &Fact<Amperes>,
    book: &TablesIn<'_>,
    sheet: &mut Worksheet,
) -> Verdict {
    let verdict = rating
        .get()
        .map_or(Verdict::CannotTell, |rating| board.highest.at_most(rating));
    let why = if rating.is_unknown() {
        format!("short-circuit rating of {}, from its label", board.board)
    } else {
        board.highest.why()
    };
    let mut line = Line::new(
        format!(
            "{}: rating at least the available fault current",
            board.board
        ),
        verdict.value(why),
    )
    .cite(book.cite(Subject::ShortCircuitRating));
    if let Some(rating) = rating.get() {
        line = line.input("rating", rating);
    }
    sheet.push(line);
    verdict
}
