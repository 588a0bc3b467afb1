//! Does every example job end as it is meant to, and are all its papers printed? Expected exit codes stand in `examples/exit-codes.txt`.
//! 0 nothing required is missing, 1 something is, 2 the input is wrong.

use std::collections::BTreeMap;
use std::path::Path;

use crate::shell::{self, Outcome};

/// Runs each job, and wants each job listed.
pub(crate) fn check(tool: &Path) -> Outcome {
    let expected = expected()?;
    let mut wrong = Vec::new();
    for name in jobs()? {
        let path = format!("examples/{name}");
        let Some(code) = expected.get(&name) else {
            wrong.push(format!("{path} has no line in examples/exit-codes.txt"));
            continue;
        };
        let tool = shell::text(tool)?;
        let out = shell::target().join("papers").join(&name);
        let papers = ["papers", &path, "--out", shell::text(&out)?];
        if shell::quiet(tool, &papers)? != 0 {
            wrong.push(format!("{path}: its papers cannot be printed"));
        }
        for args in [
            vec!["check", &path],
            vec!["check", &path, "--format", "json"],
        ] {
            let found = shell::quiet(tool, &args)?;
            if found != *code {
                wrong.push(format!("{path}: expected exit code {code}, found {found}"));
            }
        }
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(wrong.join("\n"))
    }
}

fn expected() -> Result<BTreeMap<String, i32>, String> {
    let path = shell::root().join("examples/exit-codes.txt");
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    text.lines()
        .filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
        .map(|line| {
            let mut words = line.split_whitespace();
            let name = words.next().unwrap_or_default();
            let code = words.next().and_then(|w| w.parse().ok());
            code.map(|code| (name.to_owned(), code))
                .ok_or_else(|| format!("{}: `{line}` is not `FILE CODE`", path.display()))
        })
        .collect()
}

fn jobs() -> Result<Vec<String>, String> {
    let folder = shell::root().join("examples");
    let entries = std::fs::read_dir(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    Ok(names)
}
