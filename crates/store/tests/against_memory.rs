//! Any sequence of operations leaves the store as a plain list in memory says, written beside it from the promises alone.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use proptest::prelude::*;
use store::{Card, Change, Edit, Error, JobId, Moment, Store, Undo};

#[derive(Clone, Debug)]
enum Step {
    Create { job: usize, text: String },
    Save { job: usize, back: u32, text: String },
    Undo { job: usize, back: u32, to: u32 },
    Remove { job: usize },
    Restore { job: usize },
    Reopen,
}

#[derive(Clone, Default)]
struct Remembered {
    texts: Vec<String>,
    is_removed: bool,
    updated_at: i64,
}

impl Remembered {
    fn head(&self) -> u32 {
        u32::try_from(self.texts.len()).unwrap()
    }

    fn add(&mut self, based_on: u32, text: Option<String>, at: i64) -> &'static str {
        if self.texts.is_empty() {
            return "no job";
        }
        if self.is_removed {
            return "removed";
        }
        if based_on != self.head() {
            return "stale";
        }
        let Some(text) = text else {
            return "no revision";
        };
        self.texts.push(text);
        self.updated_at = at;
        "done"
    }
}

fn said(result: &Result<u32, Error>) -> &'static str {
    match result {
        Ok(_) => "done",
        Err(Error::NoSuchJob) => "no job",
        Err(Error::Removed) => "removed",
        Err(Error::Stale(_)) => "stale",
        Err(Error::NoSuchRevision(_)) => "no revision",
        Err(Error::Exists) => "exists",
        Err(_) => "failed",
    }
}

fn step() -> impl Strategy<Value = Step> {
    let job = 0..3_usize;
    // Mostly the newest revision, now and then an older one.
    let back = prop_oneof![4 => Just(0_u32), 1 => 1..3_u32];
    let text = "[a-z%'\"\\\\é]{0,6}";
    prop_oneof![
        2 => (job.clone(), text).prop_map(|(job, text)| Step::Create { job, text }),
        6 => (job.clone(), back.clone(), text).prop_map(|(job, back, text)| Step::Save { job, back, text }),
        3 => (job.clone(), back, 0..6_u32).prop_map(|(job, back, to)| Step::Undo { job, back, to }),
        1 => job.clone().prop_map(|job| Step::Remove { job }),
        1 => job.prop_map(|job| Step::Restore { job }),
        1 => Just(Step::Reopen),
    ]
}

fn edit(text: &str, at: i64) -> Edit {
    Edit {
        change: change(at),
        card: Card {
            title: format!("t{text}"),
            ..Card::default()
        },
        text: text.to_owned(),
    }
}

fn change(at: i64) -> Change {
    Change {
        at: Moment(at),
        ..Change::default()
    }
}

async fn play(steps: Vec<Step>) {
    let folder = tempfile::tempdir().unwrap();
    let mut store = Store::open(folder.path()).await.unwrap();
    let ids = [0, 1, 2].map(|n| JobId::new(Moment(n)).unwrap());
    let mut memory = [(); 3].map(|()| Remembered::default());
    for (i, step) in steps.into_iter().enumerate() {
        let at = i64::try_from(i).unwrap();
        let (expected, found) = match step {
            Step::Create { job, text } => {
                let known = &mut memory[job];
                let expected = if known.texts.is_empty() {
                    known.texts.push(text.clone());
                    known.updated_at = at;
                    "done"
                } else {
                    "exists"
                };
                (expected, store.create(&ids[job], edit(&text, at)).await)
            }
            Step::Save { job, back, text } => {
                let based_on = memory[job].head().saturating_sub(back);
                let expected = memory[job].add(based_on, Some(text.clone()), at);
                (
                    expected,
                    store.save(&ids[job], based_on, edit(&text, at)).await,
                )
            }
            Step::Undo { job, back, to } => {
                let based_on = memory[job].head().saturating_sub(back);
                let old = (to as usize)
                    .checked_sub(1)
                    .and_then(|n| memory[job].texts.get(n).cloned());
                let expected = memory[job].add(based_on, old, at);
                let undo = Undo {
                    based_on,
                    to,
                    change: change(at),
                };
                (expected, store.undo_to(&ids[job], undo).await)
            }
            Step::Remove { job } | Step::Restore { job } => {
                let known = &mut memory[job];
                let removes = matches!(step, Step::Remove { .. });
                let expected = if known.texts.is_empty() {
                    "no job"
                } else {
                    known.is_removed = removes;
                    known.updated_at = at;
                    "done"
                };
                let found = if removes {
                    store.remove(&ids[job], Moment(at)).await
                } else {
                    store.restore(&ids[job], Moment(at)).await
                };
                (expected, found)
            }
            Step::Reopen => {
                store.close().await;
                store = Store::open(folder.path()).await.unwrap();
                ("done", Ok(0))
            }
        };
        assert_eq!(said(&found), expected, "step {i}");
    }
    compare(&store, &ids, &memory).await;
}

async fn compare(store: &Store, ids: &[JobId; 3], memory: &[Remembered; 3]) {
    let mut listed: Vec<(i64, &JobId)> = Vec::new();
    for (id, known) in ids.iter().zip(memory) {
        if known.texts.is_empty() {
            assert!(matches!(store.get(id).await, Err(Error::NoSuchJob)));
            continue;
        }
        let job = store.get(id).await.unwrap();
        assert_eq!(Some(&job.text), known.texts.last());
        assert_eq!(job.listed.card.title, format!("t{}", job.text));
        assert_eq!(
            (job.listed.revision, job.listed.is_removed),
            (known.head(), known.is_removed)
        );
        for (number, text) in (1..).zip(&known.texts) {
            assert_eq!(&store.revision(id, number).await.unwrap().text, text);
        }
        if !known.is_removed {
            listed.push((known.updated_at, id));
        }
    }
    listed.sort();
    listed.reverse();
    let page = store.list("", 10, None).await.unwrap();
    let found: Vec<(i64, &JobId)> = page.jobs.iter().map(|j| (j.updated_at.0, &j.id)).collect();
    assert_eq!(found, listed);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn the_store_and_a_list_in_memory_agree(steps in proptest::collection::vec(step(), 1..40)) {
        tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap().block_on(play(steps));
    }
}
