//! The face of a board as a page: spaces in two columns, legs before and after, what is proven, what was taken for granted.
//! Source: [`engine::face`]. VA, inches.

use engine::face::{Face, LEVEL_UNITS, Legs, Occupant};
use model::house::Leg;

use crate::page::{Page, columns};

/// Writes it; `place` is where the job file says how many spaces the board has.
pub(crate) fn write(page: &mut Page, face: &Face, place: &str) {
    let problem = &face.prepared.problem;
    page.heading(&format!("Face of board {}", problem.board));
    match &face.layout {
        Ok(_) => spaces(page, face),
        Err(why) => {
            page.paragraph("NO LAYOUT  ", &format!("{why}."));
            page.line(&format!("  at {place}"));
            for change in &face.changes {
                page.paragraph("  would fit: ", &change.what);
            }
            if face.changes.is_empty() {
                page.line("  No single change that was tried makes it fit.");
            }
        }
    }
    balance(page, face);
    proofs(page, face);
    size(page, face);
    page.subheading("Taken for granted, and not known");
    for said in &face.prepared.said {
        page.paragraph("- ", said);
    }
    page.paragraph(
        "- ",
        "positions are numbered as on the planned board; check legs, tandem places and the hold-down on its label before anything is landed",
    );
}

/// Writes the layout and what it comes to, for a report of more than the face.
pub(crate) fn brief(page: &mut Page, face: &Face) {
    page.heading(&format!("Face of board {}", face.prepared.problem.board));
    match &face.layout {
        Err(why) => page.paragraph("NO LAYOUT  ", &format!("{why}.")),
        Ok(layout) => {
            spaces(page, face);
            let proven = if layout.proofs.iter().all(|p| p.proven) {
                "proven least, as is every aim after it"
            } else {
                "not every aim is proven"
            };
            if let Some(legs) = &face.after {
                let apart = (legs.load[0] - legs.load[1]).abs();
                page.paragraph("", &format!("Legs {apart} VA apart: {proven}."));
            }
        }
    }
    let size = &face.size;
    let box_of = size
        .recommended
        .map_or_else(|| "a second board".to_owned(), |n| format!("{n} spaces"));
    page.paragraph(
        "",
        &format!(
            "Needed now {} spaces, planned {}; with later loads and spares: {box_of} (common practice, no source).",
            size.needed, size.planned
        ),
    );
}

fn spaces(page: &mut Page, face: &Face) {
    let problem = &face.prepared.problem;
    let occupants = face.occupants();
    let cell = |column: u8, row: u16| {
        let at = problem
            .spaces
            .iter()
            .position(|s| s.column == column && s.row == row);
        at.map_or_else(
            || vec![String::new(); 4],
            |i| {
                let space = &problem.spaces[i];
                vec![
                    space.number.to_string(),
                    leg(space.leg).to_owned(),
                    breaker(&occupants[i]),
                    from(&occupants[i]),
                ]
            },
        )
    };
    let rows = problem.spaces.iter().map(|s| s.row + 1).max().unwrap_or(0);
    let table: Vec<Vec<String>> = (0..rows)
        .map(|row| [cell(0, row), cell(1, row)].concat())
        .collect();
    let header = [
        "no.", "leg", "left", "position", "no.", "leg", "right", "position",
    ];
    columns(page, "", &header, &table);
    page.paragraph(
        "",
        "2P: two poles with a common trip. tied: shared neutral, common trip or listed tie. |: the same breaker.",
    );
}

fn breaker(occupants: &[Occupant]) -> String {
    let each: Vec<String> = occupants
        .iter()
        .map(|o| {
            let tied = o.breaker.contains(" + ");
            match (o.width, tied, o.half) {
                (_, _, true) => format!("{} (tandem half)", o.name),
                (Some(2), true, _) => format!("{} (tied)", o.name),
                (Some(2), false, _) => format!("{} (2P)", o.name),
                (Some(w), _, _) if w > 2 => format!("{} ({w} spaces)", o.name),
                (None, _, _) => format!("| {}", o.name),
                _ => o.name.clone(),
            }
        })
        .collect();
    if each.is_empty() {
        "-".to_owned()
    } else {
        each.join(" / ")
    }
}

fn from(occupants: &[Occupant]) -> String {
    let each: Vec<String> = occupants
        .iter()
        .map(|o| match o.stays {
            None => "new".to_owned(),
            Some(true) => "stays".to_owned(),
            Some(false) => {
                let old: Vec<String> = o.old.iter().map(u32::to_string).collect();
                format!("was {}", old.join(","))
            }
        })
        .collect();
    each.join(" / ")
}

fn leg(leg: Leg) -> &'static str {
    match leg {
        Leg::A => "A",
        Leg::B => "B",
    }
}

fn balance(page: &mut Page, face: &Face) {
    page.subheading("Legs");
    let row = |when: &str, legs: &Legs| {
        vec![
            when.to_owned(),
            legs.load[0].to_string(),
            legs.load[1].to_string(),
            (legs.load[0] - legs.load[1]).abs().to_string(),
            (legs.continuous[0] - legs.continuous[1]).abs().to_string(),
        ]
    };
    let mut rows = Vec::new();
    if let Some((legs, _)) = &face.before {
        rows.push(row("before", legs));
    }
    if let Some(legs) = &face.after {
        rows.push(row("after", legs));
    }
    let header = [
        "",
        "leg A, VA",
        "leg B, VA",
        "apart, VA",
        "continuous apart, VA",
    ];
    columns(page, "", &header, &rows);
    if let Some((_, left_out)) = &face.before
        && !left_out.is_empty()
    {
        page.paragraph("  before, without: ", &left_out.join(", "));
    }
}

fn proofs(page: &mut Page, face: &Face) {
    let Ok(layout) = &face.layout else { return };
    page.subheading("What is proven, in strict order of the aims");
    let rows: Vec<Vec<String>> = layout
        .proofs
        .iter()
        .zip(LEVEL_UNITS)
        .map(|(proof, unit)| {
            let verdict = if proof.proven {
                "least possible, proven".to_owned()
            } else {
                format!("best found; bound {}, not proven", proof.bound)
            };
            vec![
                proof.level.to_owned(),
                format!("{} {unit}", proof.value),
                verdict,
            ]
        })
        .collect();
    columns(page, "", &["aim: as little as can be", "found", ""], &rows);
}

fn size(page: &mut Page, face: &Face) {
    page.subheading("Size of the box");
    let size = &face.size;
    let rows = [
        ("spaces in use before", size.used_before),
        (
            "more, as tandem halves become full breakers",
            size.freed_tandems,
        ),
        ("for what is new on the board", size.added),
        ("needed now, all breakers of full width", size.needed),
        ("for loads named for later", size.future),
        (
            "spare: a fifth, at least 6 (common practice, no source)",
            size.spare,
        ),
        ("planned box", size.planned),
    ];
    let mut rows: Vec<Vec<String>> = rows
        .iter()
        .map(|(what, n)| vec![(*what).to_owned(), n.to_string()])
        .collect();
    rows.push(vec![
        "recommended: smallest common box that holds it (common practice, no source)".to_owned(),
        size.recommended
            .map_or_else(|| "a second board".to_owned(), |n| n.to_string()),
    ]);
    columns(page, "", &["", "spaces"], &rows);
    if size.protection_to_add > 0 {
        page.paragraph(
            "",
            &format!(
                "{} circuits still need arc-fault or ground-fault protection; each breaker that gives it takes a full space.",
                size.protection_to_add
            ),
        );
    }
}
