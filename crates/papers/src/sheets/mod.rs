//! What each paper says: words and numbers picked out of the material, none of them worked out here.

mod cost;
mod crew;
mod dark;
mod directory;
mod hand_over;
mod head;
mod inspection;
mod location;
mod permit;
mod plain;
mod proposal;
mod works;
mod worksheet;

use crate::material::Material;
use crate::paper::Paper;
use crate::problem::Problem;
use crate::sheet::Sheet;

/// The sheet of a paper.
pub(crate) fn sheet(paper: Paper, material: &Material<'_>) -> Result<Sheet, Problem> {
    match paper {
        Paper::Proposal => proposal::sheet(material),
        Paper::Permit => permit::sheet(material),
        Paper::Inspection => inspection::sheet(material),
        Paper::Crew => crew::sheet(material),
        Paper::Directory => directory::sheet(material),
        Paper::HandOver => hand_over::sheet(material),
        Paper::Cost => cost::sheet(material),
    }
}
