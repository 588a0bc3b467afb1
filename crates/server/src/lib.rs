//! The jobs over HTTP, on this machine only.
//!
//! - [`serve`] runs until a signal; [`start`] gives a [`Running`] server that the caller stops;
//! - the engine, the papers and the web app are handed in as [`Plugs`]: this crate knows none of them;
//! - `gate` looks at every request before anything else does: who may ask, how long it may take, what is counted;
//! - `routes` is the table of all routes, `jobs`, `history`, `photos`, `answers`, `assets` answer them; `problem` is every answer that is not a yes.
//!
//! Routes, concurrency and safety in words: docs/server.md; for programs: [`OPENAPI`].

mod answers;
mod app;
mod assets;
mod body;
mod fields;
mod file_body;
mod gate;
mod history;
mod jobs;
mod metrics;
mod options;
mod photo_body;
mod photos;
mod plugs;
mod problem;
mod routes;
mod run;
mod shapes;

pub use answers::COMMANDS;
pub use options::{Error, Options};
pub use plugs::{Asset, Paper, Plugs};
pub use routes::{OPENAPI, route_names};
pub use run::{Running, serve, start};
