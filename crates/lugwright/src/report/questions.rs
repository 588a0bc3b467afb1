//! What must still be found out, weightiest first: the question, who can answer, where the answer goes, and what hangs on it.
//! Swings are US dollars of material: the dearest answer less the cheapest.

use engine::questions::Question;
use model::Dollars;
use rulebook::AskedOf;

use super::findings::places;
use crate::page::Page;

/// Writes the first `most` questions and counts the rest.
pub(crate) fn write(page: &mut Page, questions: &[Question<'_>], most: usize) {
    page.heading("Open questions, weightiest first");
    if questions.is_empty() {
        page.line("None: everything that a requirement or a calculation asks for is known.");
        return;
    }
    for (i, question) in questions.iter().take(most).enumerate() {
        one(page, i + 1, question);
    }
    if questions.len() > most {
        page.gap();
        page.line(&format!(
            "and {} more, of less weight: `lugwright ask` lists them all",
            questions.len() - most
        ));
    }
}

fn one(page: &mut Page, number: usize, question: &Question<'_>) {
    let indent = "     ";
    page.paragraph(&format!("{number:>3}. "), &question.text);
    let mut weight = vec![format!("danger {} of 3", question.danger)];
    if question.swing > Dollars::ZERO {
        weight.push(format!("{} hang on it", question.swing));
    }
    weight.push(match question.asked_of {
        AskedOf::Derived => "worked out, once its inputs are known".to_owned(),
        asked_of => format!("asked of: {}", asked_of.name()),
    });
    page.paragraph(indent, &weight.join("; "));
    page.paragraph(
        &format!("{indent}about "),
        &places(question.places.iter().map(|p| p.place)),
    );
    let paths: Vec<&str> = question.places.iter().map(|p| p.path.as_str()).collect();
    page.paragraph(&format!("{indent}answer goes to "), &few(&paths));
    let needs: Vec<&str> = question
        .requirements
        .iter()
        .chain(&question.worksheets)
        .map(String::as_str)
        .collect();
    page.paragraph(&format!("{indent}needed by "), &needs.join(", "));
}

/// The first few, and how many more.
fn few(words: &[&str]) -> String {
    match words {
        [] => "no field of the job file: it follows from others".to_owned(),
        words if words.len() <= 3 => words.join(", "),
        words => format!(
            "{} and {} more alike",
            words[..2].join(", "),
            words.len() - 2
        ),
    }
}
