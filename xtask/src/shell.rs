//! How do the commands start other programs? Each is printed before it runs, from the root of the workspace.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// What went wrong, in words.
pub(crate) type Outcome = Result<(), String>;

/// Variables of the environment that a program gets besides.
pub(crate) type Env<'e> = [(&'e str, &'e str)];

/// Root of the workspace.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_owned()
}

/// Where Cargo puts what it builds.
pub(crate) fn target() -> PathBuf {
    match std::env::var_os("CARGO_TARGET_DIR") {
        Some(folder) => root().join(folder),
        None => root().join("target"),
    }
}

/// One line to the person who waits. A closed pipe is no reason to stop.
pub(crate) fn say(line: &str) {
    let _ = writeln!(std::io::stderr(), "{line}");
}

/// Runs a program and wants it to succeed.
pub(crate) fn run(program: &str, args: &[&str]) -> Outcome {
    match status(program, args)? {
        0 => Ok(()),
        code => Err(format!("{} ended with {code}", line(program, args))),
    }
}

/// The same with more in the environment.
pub(crate) fn run_with(program: &str, args: &[&str], env: &Env<'_>) -> Outcome {
    let said: String = env.iter().map(|(n, v)| format!("{n}={v} ")).collect();
    say(&format!("$ {said}{}", line(program, args)));
    let status = command(program, args)
        .envs(env.iter().copied())
        .status()
        .map_err(|e| cannot_start(program, &e))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("{} did not succeed", line(program, args)))
    }
}

/// Runs a program and gives its exit code.
pub(crate) fn status(program: &str, args: &[&str]) -> Result<i32, String> {
    say(&format!("$ {}", line(program, args)));
    let status = command(program, args)
        .status()
        .map_err(|e| cannot_start(program, &e))?;
    status
        .code()
        .ok_or_else(|| format!("{} was stopped by a signal", line(program, args)))
}

/// Runs a program, wants it to succeed, and gives what it prints.
pub(crate) fn output(program: &str, args: &[&str]) -> Result<Vec<u8>, String> {
    say(&format!("$ {}", line(program, args)));
    let output = command(program, args)
        .stderr(Stdio::inherit())
        .output()
        .map_err(|e| cannot_start(program, &e))?;
    if output.status.success() {
        Ok(output.stdout)
    } else {
        Err(format!("{} did not succeed", line(program, args)))
    }
}

/// Is this program there? Asked by its version.
pub(crate) fn is_there(program: &str, args: &[&str]) -> bool {
    command(program, args)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|s| s.success())
}

/// What a program prints, when it is there and succeeds. A question about the machine, so it is not said.
pub(crate) fn quiet_output(program: &str, args: &[&str]) -> Option<String> {
    let output = command(program, args).output().ok()?;
    let text = output.status.success().then_some(output.stdout)?;
    String::from_utf8(text).ok()
}

/// The Cargo that runs this command.
pub(crate) fn cargo() -> String {
    std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned())
}

/// A path as an argument.
pub(crate) fn text(path: &Path) -> Result<&str, String> {
    path.to_str().ok_or_else(|| {
        format!(
            "the path {} is not UTF-8: move the checkout",
            path.display()
        )
    })
}

fn command(program: &str, args: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(args).current_dir(root());
    command
}

fn line(program: &str, args: &[&str]) -> String {
    let name = Path::new(program)
        .file_name()
        .and_then(|n| n.to_str())
        .unwrap_or(program);
    std::iter::once(name)
        .chain(args.iter().copied())
        .collect::<Vec<_>>()
        .join(" ")
}

fn cannot_start(program: &str, error: &std::io::Error) -> String {
    format!("cannot start `{program}`: {error}; install it or put it on the path")
}

/// Runs a program with its output thrown away and gives its exit code.
pub(crate) fn quiet(program: &str, args: &[&str]) -> Result<i32, String> {
    say(&format!("$ {}", line(program, args)));
    let status = command(program, args)
        .stdout(Stdio::null())
        .status()
        .map_err(|e| cannot_start(program, &e))?;
    status
        .code()
        .ok_or_else(|| format!("{} was stopped by a signal", line(program, args)))
}

/// Prints a result.
pub(crate) fn print(text: &str) -> Outcome {
    std::io::stdout()
        .write_all(text.as_bytes())
        .map_err(|e| format!("cannot print: {e}"))
}
