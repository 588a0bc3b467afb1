//! The command line: which question is asked, of which job, in which form is the answer wanted?
//! Names are of the trade; every help text carries an example.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use model::Edition;

const CAUTION: &str = "\
Exit codes: 0 nothing required is missing, 1 something is, 2 the input is wrong.
Verify every result against the adopted code and with the authority having jurisdiction.";

/// What a house panel job needs: load, feeder, findings, and what must still be found out.
#[derive(Parser)]
#[command(name = "lugwright", version, arg_required_else_help = true, after_help = CAUTION)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
    /// Form of the answer
    #[arg(long, global = true, value_enum, default_value_t = Format::Text, value_name = "FORM")]
    pub(crate) format: Format,
}

/// Form of the answer.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// A page of at most 100 columns
    Text,
    /// The documented, stable form
    Json,
}

#[derive(Subcommand)]
pub(crate) enum Command {
    /// A table of the rulebook; without a name, the list of tables
    #[command(after_help = "Example: lugwright table ampacity --edition 2023")]
    Table {
        /// Table, as the list names it
        name: Option<String>,
        /// Only what holds in this edition
        #[arg(long)]
        edition: Option<Edition>,
    },
    /// A requirement of the rulebook; without a name, the list; a word searches it
    #[command(
        after_help = "Example: lugwright rule afci-extension --edition 2020\n         lugwright rule surge"
    )]
    Rule {
        /// Requirement, or a word to search for
        name: Option<String>,
        /// Only those that stand in this edition
        #[arg(long)]
        edition: Option<Edition>,
    },
    /// Check a rulebook folder, requirement or amendment files; without one, the built-in rulebook
    #[command(after_help = "Example: lugwright validate my-town.toml")]
    Validate {
        /// Folder or files
        #[arg(value_name = "FILE")]
        files: Vec<PathBuf>,
    },
    /// The JSON Schema of the job file, for editors
    #[command(after_help = "Example: lugwright schema > job.schema.json")]
    Schema,
    /// Which edition a state has adopted, as far as known; without a state, the list
    #[command(after_help = "Example: lugwright adoption OH")]
    Adoption {
        /// Two-letter state code
        state: Option<String>,
    },
}
