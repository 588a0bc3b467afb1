//! How long do the papers of a job take? Usage: `bench_papers JOB`. Medians in milliseconds as JSON.
//! Cold is the first paper of a process with everything read and worked out; warm is the whole set after a change of the job (a load is
//! stated anew, and the day is another), with everything worked out again; reprinted is the whole set of the same job on another day.
//! Beside it: the same press printing blank pages, as many as the set has, so that what is ours can be told from what typesetting costs anyway.
#![allow(clippy::print_stdout, reason = "the program's output")]

use std::time::Instant;

use model::units::VoltAmperes;
use model::{Date, Fact, Job, JobFile};
use papers::{Language, Material, Paper, Press, Setting, Size};

type Outcome = Result<(f64, usize), Box<dyn std::error::Error>>;

const RUNS: u32 = 15;

// The allocator of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let start = Instant::now();
    let path = std::env::args().nth(1).ok_or("name a job file")?;
    let text = std::fs::read_to_string(path)?;
    let mut file = JobFile::read(&text).map_err(|m| format!("{m:?}"))?;
    let library = rulebook::Library::built_in().map_err(|e| format!("{e:?}"))?;
    let place = &file.job.place;
    let book = library
        .rulebook(place.edition, &[], place.permit_date)
        .map_err(|e| format!("{e:?}"))?;
    let prices = shop::Book::built_in().map_err(|e| format!("{e:?}"))?;
    let press = Press::new([])?;
    let setting = |days: u32| Setting {
        language: Language::English,
        size: Size::Letter,
        date: Date::of_day(20_782 + u64::from(days)),
    };
    let printed = |job: &Job, day, papers: &[Paper], press: &Press| -> Outcome {
        let start = Instant::now();
        let report = engine::check(job, &book);
        let material = Material::gather(&report, &prices, &text, &[], setting(day))
            .map_err(|m| m.to_string())?;
        let set = papers::set(papers, &material, press);
        let time = start.elapsed().as_secs_f64() * 1e3;
        let mut pages = 0;
        for (_, printed) in set {
            pages += printed?.pages;
        }
        Ok((time, pages))
    };
    printed(&file.job, 0, &[Paper::Proposal], &press)?;
    let cold = start.elapsed().as_secs_f64() * 1e3;
    let (mut changed, mut reprinted, mut pages) = (Vec::new(), Vec::new(), 0);
    for day in 1..=RUNS {
        restate_a_load(&mut file.job, day);
        let (time, all) = printed(&file.job, day, &Paper::ALL, &press)?;
        changed.push(time);
        pages = all;
    }
    for day in RUNS + 1..=2 * RUNS {
        reprinted.push(printed(&file.job, day, &Paper::ALL, &press)?.0);
    }
    let blank = format!(
        "#set document(title: \"blank\")\n#set page(paper: \"us-letter\")\n= Blank\n{}",
        "#pagebreak(weak: false)\n".repeat(pages.saturating_sub(1))
    );
    let blank_press = Press::new([("directory.typ", blank.as_str())])?;
    let mut blanks = Vec::new();
    for day in 1..=RUNS {
        blanks.push(printed(&file.job, day, &[Paper::Directory], &blank_press)?.0);
    }
    let median = |times: &mut Vec<f64>| {
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    };
    let (changed, reprinted) = (median(&mut changed), median(&mut reprinted));
    let blank = median(&mut blanks);
    println!(
        "{{\"cold_first_paper_ms\":{cold:.1},\"whole_set_after_a_change_ms\":{changed:.1},\"whole_set_reprinted_ms\":{reprinted:.1},\"pages\":{pages},\"blank_pages_ms\":{blank:.1},\"ratio\":{:.1}}}",
        changed / blank
    );
    Ok(())
}

/// States the first new load a little larger than before.
fn restate_a_load(job: &mut Job, run: u32) {
    let before = &job.before.loads;
    let new = job
        .after
        .loads
        .iter_mut()
        .find(|(id, _)| !before.contains_key(*id));
    if let Some((_, load)) = new {
        load.va = Fact::seen(VoltAmperes(600.0 + 10.0 * f64::from(run)));
    }
}
