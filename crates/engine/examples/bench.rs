//! How long does the engine take? Medians of many runs after a warm-up, as JSON on standard output.
//! Usage: `bench EXAMPLES`, the folder of demo jobs; `big-house-42.toml` in it is the whole job. Microseconds unless a name says otherwise.

use std::hint::black_box;
use std::path::Path;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use engine::check::{check, recheck};
use engine::facts::{Calculated, bind};
use engine::findings::judge;
use engine::price::{Pricer, price, quick, take_off};
use engine::questions::rank;
use engine::relocate::{Costing, Request, sweep};
use engine::sheets::{self, Depth};
use engine::tree::SupplyTree;
use model::scope::Scope;
use model::units::{Feet, Inches, SquareFeet};
use model::{Edition, Fact, Job, JobFile};
use rulebook::{Library, Rulebook};
use serde_json::{Map, Value, json};
use shop::Book;

const WHOLE_JOB: &str = "big-house-42.toml";

/// As in the program: worksheets are many small texts.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    match report() {
        Ok(json) => {
            #[expect(clippy::print_stdout, reason = "the program's output")]
            {
                println!("{json}");
            }
            ExitCode::SUCCESS
        }
        Err(message) => {
            #[expect(clippy::print_stderr, reason = "the program's error message")]
            {
                eprintln!("{message}");
            }
            ExitCode::FAILURE
        }
    }
}

fn report() -> Result<Value, String> {
    let folder = std::env::args().nth(1).ok_or("usage: bench EXAMPLES")?;
    let load = median(40, || black_box(Library::without_cases().is_ok()));
    let load_with_cases = median(40, || black_box(Library::built_in().is_ok()));
    let library = Library::built_in().map_err(|e| lines(&e))?;
    let whole = read(&Path::new(&folder).join(WHOLE_JOB))?;
    let book = bound_to(&library, whole.place.edition)?;

    let mut jobs = Map::new();
    let mut all = Vec::new();
    for entry in std::fs::read_dir(&folder).map_err(|e| format!("{folder}: {e}"))? {
        let path = entry.map_err(|e| e.to_string())?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            let job = read(&path)?;
            let book = bound_to(&library, job.place.edition)?;
            let name = path
                .file_name()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned();
            jobs.insert(name, json!(micros(median(200, || check(&job, &book)))));
            all.push(job);
        }
    }
    jobs.sort_keys();

    Ok(json!({
        "whole_job": {
            "file": WHOLE_JOB,
            "circuits": whole.after.circuits.len(),
            "requirements": book.requirements().len(),
            "check_us": micros(median(400, || check(&whole, &book))),
            "stages_us": stages(&whole, &book),
        },
        "rulebook": {
            "load_ms": load.as_secs_f64() * 1e3,
            "load_with_cases_ms": load_with_cases.as_secs_f64() * 1e3,
            "bind_to_an_edition_us": micros(median(100, || bound_to(&library, Edition::Y2026))),
        },
        "judge_ns_per_requirement": judge_ns(&book),
        "price": prices(&library, &folder)?,
        "demo_jobs_check_us": jobs,
        "move": places(&whole, &book)?,
        "another_edition": another_edition(&library, &all)?,
        "cutover_us": cutover(&folder)?,
    }))
}

/// The parts of a check, each by itself; they add up to the whole but for what moves between them.
fn stages(job: &Job, book: &Rulebook) -> Value {
    let tables = book.tables();
    let (before, after) = (SupplyTree::of(&job.before), SupplyTree::of(&job.after));
    let sheets = || {
        sheets::all(
            &job.after,
            Some(&job.before),
            &after,
            Depth::Remedies,
            &tables,
        )
    };
    let known = sheets();
    let scope = Scope::of(job);
    let numbers = Calculated::of(&before, &after, &known, &job.after, &tables);
    let facts = || bind(job, &scope, &numbers, book.facts());
    let mut bound = facts();
    let findings = judge(&bound, book);
    json!({
        "scope": micros(median(300, || Scope::of(job))),
        "supply_trees": micros(median(300, || (SupplyTree::of(&job.before), SupplyTree::of(&job.after)))),
        "worksheets": micros(median(300, sheets)),
        "facts": micros(median(300, facts)),
        "findings": micros(median(300, || judge(&bound, book))),
        "questions": micros(median(300, || rank(&mut bound, &findings, &known, book))),
    })
}

/// The whole job with all its circuits on the board that moves, along its wall at a step that makes at least 400 places on the grid.
fn places(whole: &Job, book: &Rulebook) -> Result<Value, String> {
    const BOARD: &str = "P";
    let mut job = whole.clone();
    for house in [&mut job.before, &mut job.after] {
        for circuit in house.circuits.values_mut() {
            BOARD.clone_into(&mut circuit.board);
        }
    }
    let shop = shop::Book::built_in().map_err(|e| lines(&e))?;
    let request = Request {
        board: Some(BOARD.to_owned()),
        step: Some(Inches(0.55)),
    };
    let costing = Costing::new(&shop, &job, &job.offer);
    let moved = sweep(&job, book, &request, &costing).map_err(|e| e.to_string())?;
    let time = median(20, || sweep(&job, book, &request, &costing).is_ok());
    Ok(json!({
        "circuits": job.after.circuits.len(),
        "places_on_the_grid": moved.sweep.looked_at.0,
        "places_in_all": moved.sweep.looked_at.1,
        "kinds_of_places": moved.sweep.judged.len(),
        "ms": time.as_secs_f64() * 1e3,
    }))
}

/// Jobs that are priced: the whole job, and one with many open questions.
const PRICED: [&str; 2] = [WHOLE_JOB, "ranch-subpanel.toml"];

/// A price with its span over all answers; the counting alone; the sum of what is counted, as it is done for each of many places.
fn prices(library: &Library, folder: &str) -> Result<Value, String> {
    let read_book = || Book::built_in().map_err(|mistakes| lines(&mistakes));
    let shop = read_book()?;
    let mut all = Map::new();
    for name in PRICED {
        let job = read(&Path::new(folder).join(name))?;
        let book = bound_to(library, job.place.edition)?;
        let report = check(&job, &book);
        let counted = take_off(&report, &shop, &job.offer);
        let pricer = Pricer::new(&shop, &job.offer);
        let one = json!({
            "price_us": micros(median(100, || price(&report, &shop, &job.offer))),
            "take_off_us": micros(median(100, || take_off(&report, &shop, &job.offer))),
            "sum_us": micros(median(400, || quick(&counted, &pricer))),
            "lines": counted.certain().count(),
            "open_trees": counted.open.len(),
            "exact": counted.exact,
        });
        all.insert(name.to_owned(), one);
    }
    all.insert(
        "read_book_us".to_owned(),
        json!(micros(median(40, read_book))),
    );
    Ok(Value::Object(all))
}

/// Plans of the cut-over by one, two and three workers, with every way that would better them tried.
fn cutover(folder: &str) -> Result<Value, String> {
    let book = shop::Book::built_in().map_err(|e| lines(&e))?;
    let times = engine::cutover::Times::of(&book.labour).map_err(|e| e.to_string())?;
    let mut all = Map::new();
    for name in ["ranch-subpanel.toml", WHOLE_JOB] {
        let job = read(&Path::new(folder).join(name))?;
        let by_workers: Vec<f64> = (1..=3)
            .map(|workers| {
                let mut plan = job.plan.clone();
                plan.workers = workers;
                micros(median(20, || {
                    engine::cutover::plan_as(&job, &plan, &times).is_ok()
                }))
            })
            .collect();
        all.insert(name.to_owned(), json!({ "workers_1_2_3": by_workers }));
    }
    Ok(Value::Object(all))
}

/// One pass over all requirements with nothing known.
fn judge_ns(book: &Rulebook) -> Value {
    let slots = book.facts().unknown();
    let all = median(2000, || {
        for rule in book.requirements() {
            black_box(rule.judge(black_box(&slots)));
        }
    });
    json!(all.as_secs_f64() * 1e9 / book.requirements().len().max(1) as f64)
}

const JOBS: usize = 10_000;
const THREADS: usize = 2;
const BATCH: usize = 100;

/// Many different jobs, each one of the demo jobs altered, under an edition none was made for, on two threads; verdicts without ranked questions. Making the jobs is not counted.
fn another_edition(library: &Library, jobs: &[Job]) -> Result<Value, String> {
    let edition = Edition::ALL
        .into_iter()
        .find(|e| jobs.iter().all(|j| j.place.edition != *e))
        .unwrap_or(Edition::Y2014);
    let book = bound_to(library, edition)?;
    let times: Vec<Duration> = std::thread::scope(|scope| {
        let work: Vec<_> = (0..THREADS)
            .map(|thread| {
                let book = &book;
                scope.spawn(move || many(jobs, book, edition, thread))
            })
            .collect();
        work.into_iter().filter_map(|w| w.join().ok()).collect()
    });
    let slowest = times.iter().max().ok_or("no thread came back")?;
    Ok(json!({
        "jobs": JOBS,
        "threads": THREADS,
        "edition": edition,
        "jobs_per_second": JOBS as f64 / slowest.as_secs_f64(),
    }))
}

fn many(jobs: &[Job], book: &Rulebook, edition: Edition, thread: usize) -> Duration {
    let mut spent = Duration::ZERO;
    let mut seed = 0x9E37_79B9_7F4A_7C15 ^ thread as u64;
    for _ in 0..JOBS / THREADS / BATCH {
        let made: Vec<Job> = (0..BATCH)
            .map(|i| another(&jobs[i % jobs.len()], edition, &mut seed))
            .collect();
        let start = Instant::now();
        for job in &made {
            black_box(recheck(job, book));
        }
        spent += start.elapsed();
    }
    spent
}

/// The job with other areas, lengths and protections, and some facts forgotten.
fn another(whole: &Job, edition: Edition, seed: &mut u64) -> Job {
    let mut job = whole.clone();
    job.place.edition = edition;
    let area = 900.0 + (next(seed) % 4000) as f64;
    for house in [&mut job.before, &mut job.after] {
        house.dwelling.area = Fact::seen(SquareFeet(area));
        for feeder in house.feeders.values_mut() {
            feeder.length = Fact::seen(Feet(5.0 + (next(seed) % 150) as f64));
        }
    }
    for circuit in job.after.circuits.values_mut() {
        match next(seed) % 6 {
            0 => circuit.protection = Fact::Unknown,
            1 => circuit.rooms = Fact::Unknown,
            2 => circuit.wire = Fact::Unknown,
            3 => circuit.added_outside = Fact::seen(Inches((next(seed) % 140) as f64)),
            _ => {}
        }
    }
    job
}

/// A plain generator of numbers that look random: the same ones on every run.
fn next(seed: &mut u64) -> u64 {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    *seed >> 11
}

fn median<T>(rounds: usize, mut work: impl FnMut() -> T) -> Duration {
    for _ in 0..rounds / 10 + 1 {
        black_box(work());
    }
    let mut times: Vec<Duration> = (0..rounds)
        .map(|_| {
            let start = Instant::now();
            black_box(work());
            start.elapsed()
        })
        .collect();
    times.sort();
    times[times.len() / 2]
}

fn micros(time: Duration) -> f64 {
    time.as_secs_f64() * 1e6
}

fn bound_to(library: &Library, edition: Edition) -> Result<Rulebook, String> {
    library.rulebook(edition, &[], None).map_err(|e| lines(&e))
}

fn read(path: &Path) -> Result<Job, String> {
    let place = path.display();
    let text = std::fs::read_to_string(path).map_err(|e| format!("{place}: {e}"))?;
    let file = JobFile::read(&text).map_err(|e| format!("{place}: {e}"))?;
    Ok(file.job)
}

fn lines(errors: &[impl ToString]) -> String {
    let all: Vec<String> = errors.iter().map(ToString::to_string).collect();
    all.join("\n")
}
