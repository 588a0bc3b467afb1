//! Which published pages stand behind requirements and adoption dates?
//! Source: `data/sources.toml`, and the `[source]` tables of amendments. No units.

use std::collections::BTreeMap;

use crate::reader::Fields;

/// A published source, as far as it is known.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Publication {
    /// Short name that data files use.
    pub id: String,
    /// Title.
    pub title: String,
    /// Who published it.
    pub publisher: Option<String>,
    /// Date or edition, as the page gives it.
    pub date: Option<String>,
    /// A remark.
    pub note: Option<String>,
}

/// Reads every `[id]` table.
pub(crate) fn load(root: &mut Fields<'_>, publications: &mut BTreeMap<String, Publication>) {
    for (id, mut fields) in root.every_table() {
        let title = fields.text("title");
        let publisher = fields.optional_text("publisher");
        let date = fields.optional_text("date");
        let note = fields.optional_text("note");
        root.absorb(fields);
        if let Some(title) = title {
            let publication = Publication {
                id: id.to_owned(),
                title,
                publisher,
                date,
                note,
            };
            publications.insert(id.to_owned(), publication);
        }
    }
}
