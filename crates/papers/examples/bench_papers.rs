//! How long do the papers of a job take? Usage: `bench_papers JOB`. Medians in milliseconds as JSON.
//! Cold is the first paper of a process with everything read and worked out; warm is the whole set with another number in it each time.
//! Beside it: the same press printing blank pages, as many as the set has, so that what is ours can be told from what typesetting costs anyway.
#![allow(clippy::print_stdout, reason = "the program's output")]

use std::time::Instant;

use model::{Date, JobFile};
use papers::{Language, Material, Paper, Press, Setting, Size};

const RUNS: u32 = 15;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let start = Instant::now();
    let path = std::env::args().nth(1).ok_or("name a job file")?;
    let text = std::fs::read_to_string(path)?;
    let file = JobFile::read(&text).map_err(|m| format!("{m:?}"))?;
    let library = rulebook::Library::built_in().map_err(|e| format!("{e:?}"))?;
    let place = &file.job.place;
    let book = library
        .rulebook(place.edition, &[], place.permit_date)
        .map_err(|e| format!("{e:?}"))?;
    let prices = shop::Book::built_in().map_err(|e| format!("{e:?}"))?;
    let press = Press::new([])?;
    let report = engine::check(&file.job, &book);
    let setting = |days: u32| Setting {
        language: Language::English,
        size: Size::Letter,
        date: Date::of_day(20_782 + u64::from(days)),
    };
    let gather = |days| Material::gather(&report, &prices, &text, &[], setting(days));
    let material = gather(0).map_err(|m| m.to_string())?;
    papers::print(Paper::Proposal, &material, &press)?;
    let cold = start.elapsed().as_secs_f64() * 1e3;
    let (mut times, mut pages) = (Vec::new(), 0);
    for day in 1..=RUNS {
        // Another date on every page: nothing can be taken from the run before as it is.
        let start = Instant::now();
        let material = gather(day).map_err(|m| m.to_string())?;
        let set = papers::set(&Paper::ALL, &material, &press);
        times.push(start.elapsed().as_secs_f64() * 1e3);
        pages = 0;
        for (_, printed) in set {
            pages += printed?.pages;
        }
    }
    let blank = format!(
        "#set document(title: \"blank\", date: datetime.today())\n#set page(paper: \"us-letter\")\n= Blank\n{}",
        "#pagebreak(weak: false)\n".repeat(pages.saturating_sub(1))
    );
    let blank_press = Press::new([("directory.typ", blank.as_str())])?;
    let mut blanks = Vec::new();
    for day in 1..=RUNS {
        let material = gather(day).map_err(|m| m.to_string())?;
        let start = Instant::now();
        papers::print(Paper::Directory, &material, &blank_press)?;
        blanks.push(start.elapsed().as_secs_f64() * 1e3);
    }
    let median = |times: &mut Vec<f64>| {
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    };
    let (set, blank) = (median(&mut times), median(&mut blanks));
    println!(
        "{{\"cold_first_paper_ms\":{cold:.1},\"whole_set_warm_ms\":{set:.1},\"pages\":{pages},\"blank_pages_ms\":{blank:.1},\"ratio\":{:.1}}}",
        set / blank
    );
    Ok(())
}
