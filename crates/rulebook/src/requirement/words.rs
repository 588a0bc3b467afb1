//! The few words that a requirement is sorted by.
//! Source: our own sorting. No units.

/// Defines an enum whose values have a name in data files and a sentence for people.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$item_doc:meta])* $item:ident = $text:literal,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$item_doc])* $item,)* }

        impl $name {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$item,)*];

            /// As data files write it.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$item => $text,)* }
            }

            pub(crate) fn choices() -> Vec<(&'static str, Self)> {
                Self::ALL.iter().map(|w| (w.name(), *w)).collect()
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.name())
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
                s.serialize_str(self.name())
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "enum": [$($text,)*] })
            }
        }
    };
}

words! {
    /// Subject of a requirement, and name of its folder.
    Topic {
        /// Branch circuits and what hangs on them.
        BranchCircuit = "branch-circuit",
        /// Feeders and outbuildings.
        Feeder = "feeder",
        /// The panelboard and its cabinet.
        Panel = "panel",
        /// Service equipment and conductors.
        Service = "service",
        /// Electrodes, bonding, equipment grounding.
        Grounding = "grounding",
        /// Where equipment may stand.
        Location = "location",
        /// What is landed under a screw.
        Termination = "termination",
        /// Labels, directories, calculations.
        Document = "document",
        /// Outside the electrical code.
        Local = "local",
    }
}

words! {
    /// What makes a requirement bite.
    Kind {
        /// Whatever is newly installed, replaced equipment included.
        NewWork = "new work",
        /// The text itself names replacement.
        Replacement = "replacement clause",
        /// The text itself names extension or modification.
        Extension = "extension clause",
        /// An existing condition whose standing the job changes.
        Carryover = "carryover",
        /// A common belief that is wrong: nothing is asked.
        NotTriggered = "not triggered",
        /// An existing condition to report.
        ExistingHazard = "existing hazard",
        /// Outside the electrical code.
        Local = "local",
        /// A practical note.
        Note = "note",
    }
}

words! {
    /// The moment by which a requirement must have been seen, at the latest.
    Bites {
        /// Before the contract is signed: it decides place, size or money.
        Signing = "signing",
        /// While the panel is open: it is landed, joined, bonded or measured.
        CutOver = "cut-over",
        /// When the work is looked at: it is read, opened or tested.
        Inspection = "inspection",
    }
}

words! {
    /// The three ends that a requirement's cases must show.
    Outcome {
        /// Something must be done.
        Required = "required",
        /// Nothing is asked.
        NotRequired = "not required",
        /// It depends on facts that nobody knows.
        CannotTell = "cannot tell",
    }
}
