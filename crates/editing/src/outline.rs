//! Where does everything stand in the text of a job file?
//! Source: TOML 1.1, by the events of its parser. Places are bytes of the text.

use std::ops::Range;

use toml_parser::Source;
use toml_parser::parser::{Event, EventKind, RecursionGuard, parse_document};

/// Deepest nesting that is followed.
const DEEPEST: u32 = 40;

/// The text, section by section.
#[derive(Clone, Debug)]
pub(crate) struct Outline {
    /// The entries before the first header come first, as a section without a path.
    pub(crate) sections: Vec<Section>,
}

/// A header with the lines below it.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    /// Names of the header.
    pub(crate) path: Vec<Key>,
    /// It is one of a list, `[[..]]`.
    pub(crate) listed: bool,
    /// From the header's bracket to its last bracket; empty at 0 for the first section.
    pub(crate) header: Range<usize>,
    /// Its entries.
    pub(crate) lines: Vec<Entry>,
}

/// A name with its place.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    /// The name, decoded.
    pub(crate) name: String,
    /// Where it stands.
    pub(crate) at: Range<usize>,
}

/// `key = value`, of a section or in braces.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    /// One name, or several joined by dots.
    pub(crate) keys: Vec<Key>,
    /// What it holds.
    pub(crate) value: Node,
}

/// A value.
#[derive(Clone, Debug)]
pub(crate) enum Node {
    /// Text, number, truth, date.
    Scalar(Range<usize>),
    /// A list.
    List(Range<usize>, Vec<Node>),
    /// A table in braces.
    Braces(Range<usize>, Vec<Entry>),
}

impl Node {
    /// Where it stands.
    pub(crate) const fn at(&self) -> &Range<usize> {
        match self {
            Self::Scalar(at) | Self::List(at, _) | Self::Braces(at, _) => at,
        }
    }
}

impl Entry {
    /// Where its first name begins.
    pub(crate) fn start(&self) -> usize {
        self.keys.first().map_or(0, |k| k.at.start)
    }

    /// Its names are these.
    pub(crate) fn is(&self, path: &[String]) -> bool {
        self.keys.len() == path.len() && self.begins(path)
    }

    /// All of its names are the first of these.
    pub(crate) fn leads_to(&self, path: &[String]) -> bool {
        self.keys.len() <= path.len() && self.begins(path)
    }

    /// These are the first of its names, and it has more.
    pub(crate) fn goes_beyond(&self, path: &[String]) -> bool {
        self.keys.len() > path.len() && self.begins(path)
    }

    fn begins(&self, path: &[String]) -> bool {
        self.keys.iter().zip(path).all(|(k, p)| k.name == *p)
    }
}

impl Section {
    /// Its names are these.
    pub(crate) fn is(&self, path: &[String]) -> bool {
        self.path.len() == path.len() && self.leads_to(path)
    }

    /// All of its names are the first of these.
    pub(crate) fn leads_to(&self, path: &[String]) -> bool {
        self.path.len() <= path.len() && self.path.iter().zip(path).all(|(k, p)| k.name == *p)
    }

    /// These are the first of its names.
    pub(crate) fn is_under(&self, path: &[String]) -> bool {
        self.path.len() >= path.len() && self.path.iter().zip(path).all(|(k, p)| k.name == *p)
    }

    /// Where its last entry ends, or its header when it has none.
    pub(crate) fn end(&self) -> usize {
        self.lines
            .last()
            .map_or(self.header.end, |l| l.value.at().end)
    }
}

impl Outline {
    /// The outline of a text that reads as TOML; `None` when it does not.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let source = Source::new(text);
        let tokens = source.lex().into_vec();
        let mut events: Vec<Event> = Vec::with_capacity(tokens.len());
        let mut errors = Vec::new();
        let mut guarded = RecursionGuard::new(&mut events, DEEPEST);
        parse_document(&tokens, &mut guarded, &mut errors);
        if !errors.is_empty() {
            return None;
        }
        let mut reader = Reader {
            source,
            events: events.into_iter().peekable(),
            depth: 0,
        };
        reader.document()
    }
}

struct Reader<'t, I: Iterator<Item = Event>> {
    source: Source<'t>,
    events: std::iter::Peekable<I>,
    depth: u32,
}

impl<I: Iterator<Item = Event>> Reader<'_, I> {
    fn document(&mut self) -> Option<Outline> {
        let mut sections = vec![Section {
            path: Vec::new(),
            listed: false,
            header: 0..0,
            lines: Vec::new(),
        }];
        while let Some(kind) = self.next_kind() {
            match kind {
                EventKind::StdTableOpen | EventKind::ArrayTableOpen => {
                    sections.push(self.header()?);
                }
                EventKind::SimpleKey => {
                    let entry = self.entry()?;
                    sections.last_mut()?.lines.push(entry);
                }
                _ => return None,
            }
        }
        Some(Outline { sections })
    }

    /// The kind of what comes next, blank space and comments passed over.
    fn next_kind(&mut self) -> Option<EventKind> {
        while let Some(event) = self.events.peek() {
            match event.kind() {
                EventKind::Whitespace | EventKind::Comment | EventKind::Newline => {
                    self.events.next();
                }
                kind => return Some(kind),
            }
        }
        None
    }

    fn header(&mut self) -> Option<Section> {
        let open = self.events.next()?;
        let path = self.keys()?;
        self.next_kind()?;
        let close = self.events.next()?;
        Some(Section {
            path,
            listed: open.kind() == EventKind::ArrayTableOpen,
            header: open.span().start()..close.span().end(),
            lines: Vec::new(),
        })
    }

    fn keys(&mut self) -> Option<Vec<Key>> {
        let mut keys = Vec::new();
        loop {
            match self.next_kind()? {
                EventKind::SimpleKey => {
                    let event = self.events.next()?;
                    keys.push(Key {
                        name: self.decoded(&event)?,
                        at: event.span().start()..event.span().end(),
                    });
                }
                EventKind::KeySep => {
                    self.events.next();
                }
                _ => return Some(keys),
            }
        }
    }

    fn decoded(&self, event: &Event) -> Option<String> {
        let mut name = String::new();
        self.source.get(event)?.decode_key(&mut name, &mut ());
        Some(name)
    }

    fn entry(&mut self) -> Option<Entry> {
        let keys = self.keys()?;
        if self.next_kind()? != EventKind::KeyValSep {
            return None;
        }
        self.events.next();
        let value = self.value()?;
        Some(Entry { keys, value })
    }

    fn value(&mut self) -> Option<Node> {
        self.next_kind()?;
        let first = self.events.next()?;
        let start = first.span().start();
        self.depth += 1;
        if self.depth > DEEPEST {
            return None;
        }
        let node = match first.kind() {
            EventKind::Scalar => Some(Node::Scalar(start..first.span().end())),
            EventKind::ArrayOpen => self.list(start),
            EventKind::InlineTableOpen => self.braces(start),
            _ => None,
        };
        self.depth -= 1;
        node
    }

    fn list(&mut self, start: usize) -> Option<Node> {
        let mut items = Vec::new();
        loop {
            match self.next_kind()? {
                EventKind::ArrayClose => {
                    let end = self.events.next()?.span().end();
                    return Some(Node::List(start..end, items));
                }
                EventKind::ValueSep => {
                    self.events.next();
                }
                _ => items.push(self.value()?),
            }
        }
    }

    fn braces(&mut self, start: usize) -> Option<Node> {
        let mut entries = Vec::new();
        loop {
            match self.next_kind()? {
                EventKind::InlineTableClose => {
                    let end = self.events.next()?.span().end();
                    return Some(Node::Braces(start..end, entries));
                }
                EventKind::ValueSep => {
                    self.events.next();
                }
                _ => entries.push(self.entry()?),
            }
        }
    }
}
