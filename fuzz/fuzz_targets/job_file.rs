//! Any text as a job file: read it, or say what is wrong; never panic.
#![no_main]

use libfuzzer_sys::fuzz_target;
use model::JobFile;

fuzz_target!(|text: &str| match JobFile::read(text) {
    Ok(file) => {
        let _ = model::scope::Scope::of(&file.job);
    }
    Err(mistakes) => {
        let _ = mistakes.to_string();
    }
});
