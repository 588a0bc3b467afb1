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

/// A job, and under which rules it is looked at.
#[derive(clap::Args)]
pub(crate) struct JobArgs {
    /// Job file
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Look at the job under another edition than its own (2014, 2017, 2020, 2023 or 2026)
    #[arg(long)]
    pub(crate) edition: Option<Edition>,
    /// Amendment file to lay over the rulebook, besides those the job names
    #[arg(long, value_name = "FILE")]
    pub(crate) amendment: Vec<PathBuf>,
}

/// A cut-over, and what of its plan is tried otherwise.
#[derive(clap::Args)]
pub(crate) struct CutoverArgs {
    #[command(flatten)]
    pub(crate) of: JobArgs,
    /// People at work, in place of the plan's
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=3))]
    pub(crate) workers: Option<u8>,
    /// How the panel is changed over, in place of the plan's
    #[arg(long, value_enum, value_name = "WAY")]
    pub(crate) approach: Option<Approach>,
    /// Write the timeline as a drawing
    #[arg(long, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
    /// Folder of the shop's own price book, laid over the built-in one
    #[arg(long, value_name = "FOLDER")]
    pub(crate) book: Option<PathBuf>,
}

/// A sweep of places for the new panel.
#[derive(clap::Args)]
pub(crate) struct MoveArgs {
    #[command(flatten)]
    pub(crate) of: JobArgs,
    /// Board that is to move; left out, the one that the job moves
    #[arg(long, value_name = "ID")]
    pub(crate) board: Option<String>,
    /// Step along a wall in inches, from 0.25
    #[arg(long, value_name = "IN")]
    pub(crate) step: Option<f64>,
    /// Write the walls and the price along them as a drawing
    #[arg(long, value_name = "FILE")]
    pub(crate) svg: Option<PathBuf>,
    /// Folder of the shop's own price book, laid over the built-in one
    #[arg(long, value_name = "FOLDER")]
    pub(crate) book: Option<PathBuf>,
}

/// Papers to print.
#[derive(clap::Args)]
pub(crate) struct PapersArgs {
    #[command(flatten)]
    pub(crate) of: JobArgs,
    /// Folder that the PDF files are written to; it is made where it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: PathBuf,
    /// Print this paper alone; may be given several times
    #[arg(long, value_name = "NAME")]
    pub(crate) paper: Vec<String>,
    /// Language; left out, English, and the crew pack in both
    #[arg(long, value_enum, value_name = "LANGUAGE")]
    pub(crate) language: Option<PaperLanguage>,
    /// Size of the sheets
    #[arg(long, value_enum, value_name = "SIZE", default_value_t = SheetSize::Letter)]
    pub(crate) size: SheetSize,
    /// Date on the papers, as year-month-day; left out, today
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<model::Date>,
    /// Folder of your own templates, laid over the built-in ones by file name
    #[arg(long, value_name = "FOLDER")]
    pub(crate) templates: Option<PathBuf>,
    /// Folder of the shop's own price book, laid over the built-in one
    #[arg(long, value_name = "FOLDER")]
    pub(crate) book: Option<PathBuf>,
}

/// What has a schema.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SchemaOf {
    /// The job file
    Job,
    /// What can be asked by JSON, and what is answered
    Answers,
}

/// Language of papers.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperLanguage {
    /// English
    En,
    /// Spanish
    Es,
}

/// Size of a sheet.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum SheetSize {
    /// 8.5 by 11 inches
    Letter,
    /// 210 by 297 mm
    A4,
}

/// Where the app listens and keeps its jobs.
#[cfg(feature = "serve")]
#[derive(clap::Args)]
pub(crate) struct ServeArgs {
    /// Folder that keeps the jobs; it is made when it is missing
    #[arg(long, value_name = "FOLDER")]
    pub(crate) data: PathBuf,
    /// Port to listen at; 0 takes a free one
    #[arg(long, value_name = "PORT", default_value_t = 4780)]
    pub(crate) port: u16,
    /// Address to listen at; while nobody has to sign in, one of this machine only
    #[arg(long, value_name = "ADDRESS", default_value = "127.0.0.1")]
    pub(crate) listen: std::net::IpAddr,
    /// Leave a folder without jobs as it is, instead of putting the demo jobs in it
    #[arg(long)]
    pub(crate) without_demo: bool,
}

/// How the panel is changed over.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Approach {
    /// One shutdown
    InPlace,
    /// The new panel alive beside the old one first
    NewPanelFirst,
}

#[derive(Subcommand)]
pub(crate) enum Command {
    /// The whole report of a job: supply tree, load, feeders, findings, open questions, and the four decisions in brief
    #[command(after_help = "Example: lugwright check examples/ranch-subpanel.toml")]
    Check {
        #[command(flatten)]
        of: JobArgs,
        /// Folder with files of your own price book; they take the place of the built-in ones of the same name
        #[arg(long, value_name = "FOLDER")]
        book: Option<PathBuf>,
    },
    /// One worksheet, line by line; without a name, the list of worksheets
    #[command(after_help = "Example: lugwright sheet examples/ranch-subpanel.toml load.S.standard")]
    Sheet {
        #[command(flatten)]
        of: JobArgs,
        /// Worksheet, as the list names it
        #[arg(value_name = "ID")]
        id: Option<String>,
    },
    /// The findings alone, grouped by when each must be known
    #[command(after_help = "Example: lugwright findings examples/ranch-subpanel.toml")]
    Findings(JobArgs),
    /// Why a requirement applies or not: its condition down to each fact, and who said it
    #[command(
        after_help = "Example: lugwright explain examples/ranch-subpanel.toml afci-extension kitchen-1"
    )]
    Explain {
        #[command(flatten)]
        of: JobArgs,
        /// Requirement, as findings name it
        requirement: String,
        /// Board, feeder, circuit or outlet; left out, every place the requirement looks at
        #[arg(value_name = "WHERE")]
        place: Option<String>,
    },
    /// What must still be found out, weightiest first
    #[command(after_help = "Example: lugwright ask examples/ranch-subpanel.toml")]
    Ask(JobArgs),
    /// What the job costs the shop and what it is offered for: the private cost sheet, or the customer's page
    #[command(
        after_help = "Example: lugwright price examples/ranch-subpanel.toml\n         lugwright price examples/ranch-subpanel.toml --customer --book my-prices"
    )]
    Price {
        #[command(flatten)]
        of: JobArgs,
        /// Folder with files of your own price book; they take the place of the built-in ones of the same name
        #[arg(long, value_name = "FOLDER")]
        book: Option<PathBuf>,
        /// The customer's page: no cost and no margin on it
        #[arg(long)]
        customer: bool,
    },
    /// What another edition would change
    #[command(after_help = "Example: lugwright compare examples/ranch-subpanel.toml --with 2020")]
    Compare {
        #[command(flatten)]
        of: JobArgs,
        /// The other edition
        #[arg(long, value_name = "EDITION")]
        with: Edition,
    },
    /// Where to put the new panel: what each place along each wall brings with it, its cliffs, and the cheapest possible one
    #[command(
        after_help = "Example: lugwright move examples/ranch-subpanel.toml --step 1 --svg move.svg"
    )]
    Move(MoveArgs),
    /// The order of work with the least dark time: timeline, dark hours of each circuit, safety gates
    #[command(
        after_help = "Example: lugwright cutover examples/ranch-subpanel.toml --workers 2 --svg cutover.svg"
    )]
    Cutover(CutoverArgs),
    /// Which circuit goes in which space of a board: legs balanced, conductors short, proven
    #[command(after_help = "Example: lugwright face examples/ranch-subpanel.toml --svg face.svg")]
    Face {
        #[command(flatten)]
        of: JobArgs,
        /// Board; left out, the one that is replaced or moved
        #[arg(long)]
        board: Option<String>,
        /// Write a drawing of the board before and after
        #[arg(long, value_name = "FILE")]
        svg: Option<PathBuf>,
        /// Search this many steps for what is not proven yet, instead of 40000, or 4000 on a large board
        #[arg(long, value_name = "STEPS", value_parser = clap::value_parser!(u32).range(1..=10_000_000))]
        effort: Option<u32>,
    },
    /// The papers of the job as PDF: proposal, permit set, crew pack, inspection page, directory, hand-over book, cost sheet
    #[command(
        after_help = "Example: lugwright papers examples/ranch-subpanel.toml --out papers\n         lugwright papers examples/ranch-subpanel.toml --out papers --paper crew --language es"
    )]
    Papers(PapersArgs),
    /// The app on this machine: its address is printed, and it runs until Ctrl-C
    #[cfg(feature = "serve")]
    #[command(after_help = "Example: lugwright serve --data jobs --port 4780")]
    Serve(ServeArgs),
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
    /// The JSON Schema of the job file, for editors, or of questions and answers
    #[command(after_help = "Example: lugwright schema > job.schema.json")]
    Schema {
        /// Of what
        #[arg(default_value = "job")]
        of: SchemaOf,
    },
    /// Which edition a state has adopted, as far as known; without a state, the list
    #[command(after_help = "Example: lugwright adoption OH")]
    Adoption {
        /// Two-letter state code
        state: Option<String>,
    },
}
