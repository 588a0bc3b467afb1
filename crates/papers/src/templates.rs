//! The templates that the program carries; a shop lays its own files over them by name.

/// File name and text of each.
pub(crate) const BUILT_IN: &[(&str, &str)] = &[
    ("look.typ", include_str!("../templates/look.typ")),
    ("proposal.typ", include_str!("../templates/proposal.typ")),
    ("permit.typ", include_str!("../templates/permit.typ")),
    ("crew.typ", include_str!("../templates/crew.typ")),
    (
        "inspection.typ",
        include_str!("../templates/inspection.typ"),
    ),
    ("directory.typ", include_str!("../templates/directory.typ")),
    ("hand-over.typ", include_str!("../templates/hand-over.typ")),
    ("cost.typ", include_str!("../templates/cost.typ")),
];
