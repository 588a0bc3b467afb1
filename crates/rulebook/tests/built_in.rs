//! Is everything the program carries free of mistakes, and does every requirement's own example come out as its file says?

use rulebook::Library;

#[test]
fn the_library_of_the_program_has_no_mistake_and_every_case_comes_out() {
    let library = match Library::built_in() {
        Ok(library) => library,
        Err(errors) => {
            let all: Vec<String> = errors.iter().map(ToString::to_string).collect();
            panic!("{}", all.join("\n"));
        }
    };
    let wrong: Vec<String> = library
        .requirements()
        .iter()
        .flat_map(|rule| {
            let failing = rule.failing_cases(library.facts(), library.constants());
            let file = &rule.file;
            failing
                .into_iter()
                .map(move |(case, judged)| format!("{file}:{}: {}", case.line, judged.verdict))
                .collect::<Vec<_>>()
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn without_its_cases_the_book_asks_for_the_same() {
    let (whole, bare) = (
        Library::built_in().unwrap(),
        Library::without_cases().unwrap(),
    );
    assert_eq!(whole.requirements().len(), bare.requirements().len());
    for (w, b) in whole.requirements().iter().zip(bare.requirements()) {
        let said = |r: &rulebook::Requirement| {
            let conditions: Vec<String> = r.conditions().map(|c| c.print(whole.facts())).collect();
            (r.id.clone(), r.title.clone(), conditions)
        };
        assert_eq!(said(w), said(b));
        assert!(b.cases.is_empty());
    }
}
