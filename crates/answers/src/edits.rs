//! The commands that change a job: what a question of theirs holds, and its answer.
//! Source: the job file's text; every change is made on it by the crate `editing`. No units of its own.

use std::sync::Arc;

use editing::layout::{Arrangement, Spaces};
use editing::paste::{Pasted, Picture};
use editing::start::Interview;
use editing::{Edit, Reading};
use engine::face::Stands;
use model::{JobFile, Mistakes};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::text::written;
use crate::wrong::Wrong;
use crate::{call, reading};

/// A question about changes. The job comes as the text of its file, since the text is what is changed.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(
    tag = "command",
    rename_all = "snake_case",
    rename_all_fields = "snake_case",
    deny_unknown_fields
)]
pub enum EditQuestion {
    /// What does the job say, in one form for every screen?
    Read {
        /// Text of the job file.
        job: String,
    },
    /// Make these changes, all or none.
    Edit {
        /// Text of the job file.
        job: String,
        /// What to change, one after the other.
        edits: Vec<Edit>,
    },
    /// Make a job of what was said in a short interview.
    Start {
        /// What was said.
        interview: Box<Interview>,
    },
    /// Make circuits of rows that come from a spreadsheet.
    Paste {
        /// Text of the job file.
        job: String,
        /// Board they start in.
        board: String,
        /// Picture they belong to.
        picture: Picture,
        /// Rows with a header line; cells between tabs, semicolons or commas.
        rows: String,
    },
    /// What stands in which space of a board, before the work and after it, as the job states it?
    Board {
        /// Text of the job file.
        job: String,
        /// The board.
        board: String,
    },
    /// Is this arrangement of breakers legal, and how do the legs stand?
    Layout {
        /// Text of the job file.
        job: String,
        /// The board; left out, the usual one.
        #[serde(default)]
        board: Option<String>,
        /// Spaces of what is arranged anew; everything else has those that the job states.
        #[serde(default)]
        spaces: Spaces,
    },
}

/// The answer to `read`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ReadAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `read`.
    pub command: ReadCommand,
    /// What the job says.
    #[serde(flatten)]
    pub reading: Reading,
}

/// `read`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ReadCommand {
    /// `read`.
    Read,
}

/// The answer to `edit`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct EditAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `edit`.
    pub command: EditCommand,
    /// The text of the job file as it is now.
    pub job: String,
}

/// `edit`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EditCommand {
    /// `edit`.
    Edit,
}

/// The answer to `start`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct StartAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `start`.
    pub command: StartCommand,
    /// The text of the new job file.
    pub job: String,
}

/// `start`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StartCommand {
    /// `start`.
    Start,
}

/// The answer to `paste`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PasteAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `paste`.
    pub command: PasteCommand,
    /// What the rows would become.
    #[serde(flatten)]
    pub pasted: Pasted,
}

/// `paste`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum PasteCommand {
    /// `paste`.
    Paste,
}

/// The answer to `board`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BoardAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `board`.
    pub command: BoardCommand,
    /// The board.
    pub board: String,
    /// As it is; `null` where it is new.
    pub before: Option<Stands>,
    /// As it is planned; `null` where it goes.
    pub after: Option<Stands>,
}

/// `board`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BoardCommand {
    /// `board`.
    Board,
}

/// The answer to `layout`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct LayoutAnswer {
    /// Number of the form, 1.
    pub format: u32,
    /// `layout`.
    pub command: LayoutCommand,
    /// What there is to say.
    #[serde(flatten)]
    pub arrangement: Arrangement,
}

/// `layout`.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LayoutCommand {
    /// `layout`.
    Layout,
}

/// Names of the commands of this module.
const COMMANDS: [&str; 6] = ["read", "edit", "start", "paste", "board", "layout"];

#[derive(Deserialize)]
struct Peek {
    command: String,
}

/// The answer as text when the question is one of these, else `None`.
pub(crate) fn answer(question: &str) -> Option<String> {
    let peek: Peek = serde_json::from_str(question).ok()?;
    if !COMMANDS.contains(&peek.command.as_str()) {
        return None;
    }
    let answer = match serde_json::from_str::<EditQuestion>(question) {
        Ok(question) => decide(question),
        Err(why) => Err(call::unreadable(&why)),
    };
    Some(answer.unwrap_or_else(|wrong| written(&wrong)))
}

fn decide(question: EditQuestion) -> Result<String, Wrong> {
    match question {
        EditQuestion::Read { job } => {
            let file = reading::job_file(&job)?;
            let book = call::bound(call::library()?, &file)?;
            Ok(written(&ReadAnswer {
                format: 1,
                command: ReadCommand::Read,
                reading: editing::read(&file, book.facts()),
            }))
        }
        EditQuestion::Edit { job, edits } => Ok(written(&EditAnswer {
            format: 1,
            command: EditCommand::Edit,
            job: edited(&job, &edits)?.text().to_owned(),
        })),
        #[cfg(feature = "decisions")]
        EditQuestion::Start { interview } => {
            let file =
                editing::start::start(&interview).map_err(|m| call::mistakes(&m, m.text()))?;
            Ok(written(&StartAnswer {
                format: 1,
                command: StartCommand::Start,
                job: file.text().to_owned(),
            }))
        }
        #[cfg(feature = "decisions")]
        EditQuestion::Paste {
            job,
            board,
            picture,
            rows,
        } => {
            let file = reading::job_file(&job)?;
            let book = call::bound(call::library()?, &file)?;
            let pasted = editing::paste::paste(&job, &board, picture, &rows, book.facts());
            Ok(written(&PasteAnswer {
                format: 1,
                command: PasteCommand::Paste,
                pasted: pasted.map_err(|m| call::mistakes(&m, m.text()))?,
            }))
        }
        #[cfg(feature = "decisions")]
        EditQuestion::Board { job, board } => {
            let file = reading::job_file(&job)?;
            Ok(written(&BoardAnswer {
                format: 1,
                command: BoardCommand::Board,
                before: engine::face::stands(&file.job.before, &board),
                after: engine::face::stands(&file.job.after, &board),
                board,
            }))
        }
        #[cfg(feature = "decisions")]
        EditQuestion::Layout { job, board, spaces } => Ok(written(&LayoutAnswer {
            format: 1,
            command: LayoutCommand::Layout,
            arrangement: crate::layout::arrangement(&job, board.as_deref(), &spaces)?,
        })),
        #[cfg(not(feature = "decisions"))]
        _ => Err(call::elsewhere()),
    }
}

fn books(file: &JobFile) -> Option<rulebook::Rulebook> {
    call::bound(call::library().ok()?, file).ok()
}

/// The job with the edits made. What the dictionary or the price book would refuse is refused here, unless it stood there before.
fn edited(job: &str, edits: &[Edit]) -> Result<Arc<JobFile>, Wrong> {
    let file = editing::apply(job, edits, &books).map_err(|m| call::mistakes(&m, m.text()))?;
    let mut wrong = call::wrong_words(&file)?;
    if !wrong.is_empty()
        && let Ok(before) = reading::job_file(job)
    {
        let old = call::wrong_words(&before)?;
        wrong.retain(|m| !old.iter().any(|o| o.found == m.found));
    }
    if !wrong.is_empty() {
        let text = file.text();
        return Err(call::mistakes(&Mistakes::new(wrong, text), text));
    }
    Ok(reading::keep(file))
}
