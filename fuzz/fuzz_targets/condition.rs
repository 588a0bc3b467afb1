//! Any text as a condition: parse it and print it back the same, or say what is wrong; never panic.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use rulebook::{Condition, Library};

static LIBRARY: LazyLock<Option<Library>> = LazyLock::new(|| Library::without_cases().ok());

fuzz_target!(|text: &str| {
    let Some(library) = LIBRARY.as_ref() else { return };
    if let Ok(condition) = Condition::parse(text, library.facts(), library.constants()) {
        let printed = condition.print(library.facts());
        let again = Condition::parse(&printed, library.facts(), library.constants());
        assert_eq!(again.map(|c| c.print(library.facts())).ok(), Some(printed));
    }
});
