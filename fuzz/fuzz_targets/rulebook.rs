//! Any text as a requirement file beside the sound ones: a library, or a list of mistakes; never panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use rulebook::Library;

const KEPT: [&str; 6] = ["facts.toml", "constants.toml", "sources.toml", "triggers.toml", "cascades.toml", "adoption.toml"];

fuzz_target!(|text: &str| {
    let sound = rulebook::data::FILES.iter().copied().filter(|(file, _)| KEPT.contains(file));
    let files = sound.chain([("requirements/panel/any.toml", text)]);
    if let Err(mistakes) = Library::parse(files) {
        for mistake in mistakes {
            let _ = mistake.to_string();
        }
    }
});
