//! Which calculations cannot be told, and what do they lack?
//! Source: the worksheets' own last lines. No units.

use model::Dollars;
use rulebook::AskedOf;

use super::{Asked, Question};
use crate::facts::Place;
use crate::sheets::Sheets;
use crate::worksheet::{Value, Worksheet};

/// Facts that a worksheet answers: what to find out is what the worksheet lacks.
const CALCULATED: &[(&str, &[&str])] = &[
    ("panel.afc_a", &["fault-current"]),
    ("service.afc_a", &["fault-current"]),
    ("panel.load_a", &["load"]),
    ("feeder.load_a", &["load"]),
    ("feeder.ampacity_a", &["conductors"]),
    ("feeder.next_std_above_ampacity_a", &["conductors"]),
    ("feeder.egc_size_ok", &["equipment-ground"]),
    ("circuit.ocpd_ok_for_conductor", &["circuit"]),
    ("panel.splice_fill_ok", &["gutter-fill"]),
    ("ground.gec_size_ok", &["electrode-conductor"]),
];

/// Lays what worksheets lack on the questions for their results, and adds a question for each worksheet that nothing else asks for.
pub(super) fn lay_on(questions: &mut Vec<Question<'_>>, sheets: &Sheets<'_>) {
    for sheet in sheets.worksheets().filter(|s| cannot_be_told(s)) {
        let needs = lacks(sheet);
        let mut asked = false;
        for question in questions.iter_mut() {
            if answers(sheet, question) {
                asked = true;
                question.worksheets.push(sheet.id.clone());
                for need in &needs {
                    if !question.needs.contains(need) {
                        question.needs.push(need.clone());
                    }
                }
            }
        }
        if !asked {
            questions.push(alone(sheet, needs));
        }
    }
    for question in questions {
        question.worksheets.sort();
        question.worksheets.dedup();
    }
}

/// The last line is the answer; bounds before it may already have decided it.
fn cannot_be_told(sheet: &Worksheet) -> bool {
    let last = sheet.lines.last();
    last.is_some_and(|l| matches!(l.value, Value::CannotTell(_)))
}

/// What its lines miss, without the bounds that hold until then, each once.
fn lacks(sheet: &Worksheet) -> Vec<String> {
    let mut needs: Vec<String> = Vec::new();
    for line in sheet.missing() {
        if let Value::CannotTell(why) = &line.value {
            let why = why.split(" (between").next().unwrap_or(why);
            let why = why.split(" (at ").next().unwrap_or(why);
            for need in why.split("; ").filter(|n| !n.is_empty()) {
                if !needs.iter().any(|n| n == need) {
                    needs.push(need.to_owned());
                }
            }
        }
    }
    needs
}

/// The worksheet works out what the question asks, at one of its places.
fn answers(sheet: &Worksheet, question: &Question<'_>) -> bool {
    let behind = CALCULATED.iter().find(|(fact, _)| *fact == question.name);
    let parts = |name: &str| sheet.id.split('.').any(|part| part == name);
    // A fault worksheet is named after the last board of its path and covers those before it.
    let whole_path = parts("fault-current");
    behind.is_some_and(|(_, sorts)| {
        sorts.iter().any(|sort| parts(sort))
            && question
                .places
                .iter()
                .any(|p| whole_path || matches!(p.place, Place::Job) || parts(p.place.name()))
    })
}

fn alone<'a>(sheet: &Worksheet, needs: Vec<String>) -> Question<'a> {
    Question {
        fact: None,
        name: sheet.id.clone(),
        text: format!("To work out \"{}\": {}", sheet.title, needs.join("; ")),
        asked_of: AskedOf::Survey,
        places: vec![Asked {
            place: Place::Job,
            path: String::new(),
            swing: Dollars::ZERO,
        }],
        swing: Dollars::ZERO,
        danger: 0,
        requirements: Vec::new(),
        worksheets: vec![sheet.id.clone()],
        needs,
    }
}
