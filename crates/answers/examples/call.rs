//! Answers questions as the browser's engine does: one question a line on standard input, one answer a line on standard output.

use std::io::{self, BufRead, Write};

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for question in io::stdin().lock().lines() {
        writeln!(out, "{}", answers::call::call(&question?))?;
    }
    out.flush()
}
