//! Everything that papers are made of, worked out once for all of them.
//! Source: the engine. Nothing on a paper comes from anywhere else.

use std::collections::BTreeMap;

use engine::check::Report;
use engine::cutover::{CannotPlan, CutOver, Times};
use engine::face::{Face, Unfit, face};
use engine::price::Price;
use engine::schedule::{self, Schedule};
use model::Date;
use model::scope::Change;
use shop::{Book, Missing};

use crate::paper::Paper;
use crate::press;

/// Language of a paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// As PDF and templates name it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }
}

/// Size of the sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Size {
    /// 8.5 by 11 inches.
    #[default]
    Letter,
    /// 210 by 297 mm.
    A4,
}

impl Size {
    /// As the typesetting names it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Letter => "us-letter",
            Self::A4 => "a4",
        }
    }
}

/// How papers are to be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Setting {
    /// Language.
    pub language: Language,
    /// Size of the sheet.
    pub size: Size,
    /// Date on the paper.
    pub date: Date,
}

impl Setting {
    /// File name of a paper.
    #[must_use]
    pub fn file(&self, paper: Paper) -> String {
        press::file_name(paper, self.language.code())
    }
}

/// What all papers of a job are made of.
#[derive(Debug)]
pub struct Material<'m> {
    /// How they are to be printed.
    pub setting: Setting,
    /// Text of the job file, to be enclosed.
    pub job_text: &'m str,
    /// Remarks on the job and its place, as every report begins with.
    pub notices: &'m [String],
    /// The job, checked.
    pub report: &'m Report<'m>,
    /// The shop's price book.
    pub book: &'m Book,
    /// The layout of each board that is new, replaced or moved, or why there is none.
    pub faces: BTreeMap<&'m str, Result<Face, Unfit>>,
    /// The cut-over, or why none can be planned.
    pub cut: Result<CutOver<'m>, CannotPlan>,
    /// The price.
    pub price: Price<'m>,
}

impl<'m> Material<'m> {
    /// Works everything out.
    ///
    /// # Errors
    /// When the price book lacks a time that the cut-over needs.
    pub fn gather(
        report: &'m Report<'m>,
        book: &'m Book,
        job_text: &'m str,
        notices: &'m [String],
        setting: Setting,
    ) -> Result<Self, Missing> {
        let times = Times::of(&book.labour)?;
        let job = report.job;
        let boards = job.after.boards.keys().map(|id| id.as_str());
        let faces = boards
            .filter(|id| is_worked_on(report, id))
            .map(|id| (id, face(report, id)))
            .collect();
        Ok(Self {
            setting,
            job_text,
            notices,
            report,
            book,
            faces,
            cut: engine::cutover::plan(job, &times),
            price: engine::price::price(report, book, &job.offer),
        })
    }

    /// The same material to be printed otherwise.
    #[must_use]
    pub fn printed_as(self, setting: Setting) -> Self {
        Self { setting, ..self }
    }

    /// Schedule of a board before the work; `None` where it was not there.
    #[must_use]
    pub fn schedule_before(&self, board: &str) -> Option<Schedule<'m>> {
        let tables = self.report.book.tables();
        schedule::stated(&self.report.job.before, board, &tables)
    }

    /// Schedule of a board after the work: its layout where it is laid out anew, else as the job states it.
    #[must_use]
    pub fn schedule_after(&self, board: &str) -> Option<Schedule<'m>> {
        let house = &self.report.job.after;
        let face = self.faces.get(board).and_then(|f| f.as_ref().ok());
        let laid_out = face.and_then(|f| schedule::laid_out(house, f));
        laid_out.or_else(|| schedule::stated(house, board, &self.report.book.tables()))
    }

    /// Boards that have branch circuits after the work, those that are worked on first.
    #[must_use]
    pub fn boards_after(&self) -> Vec<&'m str> {
        let house = &self.report.job.after;
        let boards = house.boards.iter().filter(|(_, b)| !b.gone);
        let mut all: Vec<&str> = boards.map(|(id, _)| id.as_str()).collect();
        all.retain(|id| house.circuits.values().any(|c| c.board == *id));
        all.sort_by_key(|id| !self.faces.contains_key(id));
        all
    }
}

/// A board that is new, replaced or moved: its breakers are placed anew.
fn is_worked_on(report: &Report<'_>, board: &str) -> bool {
    let house = &report.job.after;
    let has_circuits = house.circuits.values().any(|c| c.board == board);
    let changes = report.scope.board(board).is_some_and(|b| {
        b.relocated || matches!(b.change, Change::New | Change::Replaced) && !b.interior_only
    });
    has_circuits && changes
}
