//! `serve`: the app on this machine. Answers, papers, the files of the app and the demo jobs are plugged into the server here;
//! it is told where to listen and where to keep the jobs.

mod answers;
mod demo;
mod papers;

use std::borrow::Cow;
use std::io::Write;
use std::net::SocketAddr;
use std::sync::Arc;

use serde_json::json;
use server::{Asset, Options, Plugs};

use crate::Answer;
use crate::args::{Format, ServeArgs};
use crate::problem::Failure;
use papers::Printer;

/// Answers until the process is told to end.
pub(crate) fn run(args: &ServeArgs, format: Format) -> Result<Answer, Failure> {
    let printer = Printer::new()?;
    let without_demo = args.without_demo;
    let plugs = Plugs {
        answers: Arc::new(answers::answer),
        papers: Arc::new(move |name, text, options| printer.print(name, text, &options)),
        assets: Arc::new(asset),
        first_jobs: Arc::new(move || {
            if without_demo {
                Vec::new()
            } else {
                demo::jobs()
            }
        }),
    };
    let options = Options {
        folder: args.data.clone(),
        address: SocketAddr::new(args.listen, args.port),
    };
    server::serve(&options, plugs, |address| announce(address, format))
        .map_err(|why| Failure::new(why.to_string(), "mend that and start again"))?;
    Ok(Answer::plain(String::new()))
}

/// Says where the app is. A closed pipe is no reason to stop.
fn announce(address: SocketAddr, format: Format) {
    let place = format!("http://{address}");
    let line = match format {
        Format::Json => json!({
            "format": 1,
            "command": "serve",
            "address": place,
            "app": app_files::is_built(),
        })
        .to_string(),
        Format::Text if app_files::is_built() => {
            format!("The app is at {place} until Ctrl-C.")
        }
        Format::Text => {
            format!("The server is at {place} until Ctrl-C; it was built without the app.")
        }
    };
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{line}").and_then(|()| out.flush());
}

fn asset(path: &str) -> Option<Asset> {
    app_files::file(path).map(|file| Asset {
        bytes: Cow::Borrowed(file.bytes),
        brotli: file.brotli.map(Cow::Borrowed),
        gzip: file.gzip.map(Cow::Borrowed),
    })
}
