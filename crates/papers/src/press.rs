//! From a sheet to a PDF: templates and fonts are read once, then every sheet is typeset with them.
//! Standards: PDF/A-3a and PDF/UA-1, as far as the exporter asserts them; pages in US Letter or A4.

use std::collections::BTreeMap;

use serde_json::Value;
use typst::comemo;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;
use crate::{templates, text, words};

/// Fonts that the program carries.
const FONTS: &[(&str, &[u8])] = &[
    (
        "NotoSans-Regular.ttf",
        include_bytes!("../fonts/NotoSans-Regular.ttf"),
    ),
    (
        "NotoSans-Bold.ttf",
        include_bytes!("../fonts/NotoSans-Bold.ttf"),
    ),
    (
        "NotoSans-Italic.ttf",
        include_bytes!("../fonts/NotoSans-Italic.ttf"),
    ),
    (
        "NotoSansHebrew-Regular.ttf",
        include_bytes!("../fonts/NotoSansHebrew-Regular.ttf"),
    ),
    (
        "NotoSansArabic-Regular.ttf",
        include_bytes!("../fonts/NotoSansArabic-Regular.ttf"),
    ),
    (
        "NotoSansMath-Regular.ttf",
        include_bytes!("../fonts/NotoSansMath-Regular.ttf"),
    ),
    (
        "NotoSansSymbols2-Regular.ttf",
        include_bytes!("../fonts/NotoSansSymbols2-Regular.ttf"),
    ),
];

/// Sets, or single sheets, printed before what was laid out for older ones is let go.
const REMEMBERED: usize = 3;

/// Templates and fonts, ready to print.
pub struct Press {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    templates: BTreeMap<String, Source>,
}

/// A printed paper.
#[derive(Clone, Debug)]
pub struct Printed {
    /// File name, for example `crew-es.pdf`.
    pub file: String,
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: usize,
    /// What the typesetting warned of.
    pub warnings: Vec<String>,
}

impl Press {
    /// A press with the shop's own templates, name and text of each, laid over those that the program carries.
    ///
    /// # Errors
    /// For a template that no paper uses, or a font of the program that cannot be read.
    pub fn new<'t>(own: impl IntoIterator<Item = (&'t str, &'t str)>) -> Result<Self, Problem> {
        let mut fonts = Vec::new();
        for (name, data) in FONTS {
            let found = Font::new(Bytes::new(*data), 0);
            fonts.push(found.ok_or_else(|| Problem::Font((*name).to_owned()))?);
        }
        let mut sources = BTreeMap::new();
        for (name, text) in templates::BUILT_IN {
            sources.insert((*name).to_owned(), source(name, text)?);
        }
        for (name, text) in own {
            if !sources.contains_key(name) {
                return Err(Problem::NoSuchTemplate(name.to_owned()));
            }
            sources.insert(name.to_owned(), source(name, text)?);
        }
        Ok(Self {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            templates: sources,
        })
    }

    /// Prints a sheet.
    ///
    /// # Errors
    /// When the template cannot be read or run.
    pub fn print(&self, sheet: &Sheet) -> Result<Printed, Problem> {
        let run = Run::new(self, sheet)?;
        let compiled = typst::compile::<PagedDocument>(&run);
        let warnings = compiled.warnings.iter().map(|w| w.message.to_string());
        let warnings = warnings.collect();
        let document = compiled.output.map_err(|all| run.problem(&all))?;
        let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1]);
        let options = PdfOptions {
            ident: Smart::Custom(format!("lugwright {}", sheet.paper)),
            creator: Smart::Custom(Some("Lugwright".to_owned())),
            standards: standards.map_err(|why| run.whole(why.message()))?,
            // Not set by the template: there it would be part of every style, and nothing laid out yesterday could be used again.
            timestamp: run.today.map(Timestamp::new_utc),
            ..PdfOptions::default()
        };
        let pdf = typst_pdf::pdf(&document, &options).map_err(|all| run.problem(&all))?;
        Ok(Printed {
            file: sheet.setting.file(sheet.paper),
            pdf,
            pages: document.pages().len(),
            warnings,
        })
    }

    /// Lets go of what was laid out long ago. To be called after each set.
    pub(crate) fn tidy() {
        comemo::evict(REMEMBERED);
    }

    /// Whether a font has this character.
    fn has(&self, c: char) -> bool {
        let code = u32::from(c);
        self.fonts.iter().any(|f| f.info().coverage.contains(code))
    }
}

fn id(name: &str) -> Result<FileId, Problem> {
    let path = VirtualPath::new(name).map_err(|_| Problem::NoSuchTemplate(name.to_owned()))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

fn source(name: &str, text: &str) -> Result<Source, Problem> {
    Ok(Source::new(id(name)?, text.to_owned()))
}

/// One sheet on the press: what the template can see, and nothing else.
struct Run<'p> {
    press: &'p Press,
    main: FileId,
    enclosed: BTreeMap<String, Bytes>,
    today: Option<Datetime>,
}

impl<'p> Run<'p> {
    fn new(press: &'p Press, sheet: &Sheet) -> Result<Self, Problem> {
        let has = |c: char| press.has(c);
        let mut data = sheet.data.clone();
        text::make_printable(&mut data, &has);
        let words = words::catalogue(sheet.setting.language);
        let mut files = vec![
            ("data.json", bytes(&data)),
            ("words.json", bytes(&serde_json::json!(words))),
        ];
        for (name, svg) in &sheet.drawings {
            files.push((name, Bytes::from_string(text::covered(svg, &has))));
        }
        for (name, text) in &sheet.enclosed {
            files.push((name, Bytes::from_string(text.clone())));
        }
        let mut enclosed = BTreeMap::new();
        for (name, data) in files {
            enclosed.insert(name.to_owned(), data);
        }
        let (year, month, day) = sheet.setting.date.parts();
        Ok(Self {
            press,
            main: id(sheet.paper.template())?,
            enclosed,
            today: Datetime::from_ymd(i32::from(year), month, day),
        })
    }

    fn name(id: FileId) -> String {
        id.vpath().get_without_slash().to_owned()
    }

    fn template(&self, id: FileId) -> Option<&Source> {
        self.press.templates.get(&Self::name(id))
    }

    /// The first thing that is wrong, with its place.
    fn problem(&self, all: &[SourceDiagnostic]) -> Problem {
        let Some(first) = all.first() else {
            return self.whole("it cannot be typeset");
        };
        let mut what = first.message.to_string();
        for hint in &first.hints {
            what.push_str("; ");
            what.push_str(&hint.v);
        }
        let file = first.span.id().unwrap_or(self.main);
        let start = self.range(first.span).map(|r| r.start);
        let before = self
            .template(file)
            .zip(start)
            .and_then(|(s, at)| s.text().get(..at));
        let (line, column) = match before {
            Some(before) => (
                before.matches('\n').count() + 1,
                before.chars().rev().take_while(|c| *c != '\n').count() + 1,
            ),
            None => (0, 0),
        };
        Problem::Template {
            file: Self::name(file),
            line,
            column,
            what,
        }
    }

    fn whole(&self, what: &str) -> Problem {
        Problem::Template {
            file: Self::name(self.main),
            line: 0,
            column: 0,
            what: what.to_owned(),
        }
    }
}

fn bytes(value: &Value) -> Bytes {
    Bytes::from_string(value.to_string())
}

impl World for Run<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &self.press.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.press.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let missing = || FileError::NotFound(Self::name(id).into());
        self.template(id).cloned().ok_or_else(missing)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let missing = || FileError::NotFound(Self::name(id).into());
        self.enclosed
            .get(&Self::name(id))
            .cloned()
            .ok_or_else(missing)
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.press.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}

impl std::fmt::Debug for Press {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Press")
            .field("templates", &self.templates.keys())
            .finish_non_exhaustive()
    }
}

/// File name of a paper in a language.
pub(crate) fn file_name(paper: Paper, language: &str) -> String {
    match paper {
        Paper::Crew => format!("{paper}-{language}.pdf"),
        _ => format!("{paper}.pdf"),
    }
}
