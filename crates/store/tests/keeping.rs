//! What the store promises: nothing is lost, a late save is refused with the other text, history only grows.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

use std::sync::Arc;

use model::Dollars;
use store::{
    Card, Change, Edit, Error, JobId, Listed, Moment, PriceRange, Stage, Stale, Store, Undo,
};

fn edit(at: i64, title: &str, text: &str) -> Edit {
    Edit {
        change: Change {
            at: Moment(at),
            by: "Ada".to_owned(),
            note: format!("note {at}"),
        },
        card: Card {
            title: title.to_owned(),
            ..Card::default()
        },
        text: text.to_owned(),
    }
}

fn undo(at: i64, based_on: u32, to: u32) -> Undo {
    Undo {
        based_on,
        to,
        change: edit(at, "", "").change,
    }
}

async fn fresh() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::open(&folder.path().join("new/folder"))
        .await
        .unwrap();
    (folder, store)
}

async fn titles(store: &Store, search: &str) -> Vec<String> {
    let page = store.list(search, 500, None).await.unwrap();
    page.jobs.into_iter().map(|j| j.card.title).collect()
}

#[tokio::test]
async fn a_job_comes_back_as_it_was_given_also_after_the_file_was_closed() {
    let (folder, store) = fresh().await;
    let id = JobId::new(Moment(5)).unwrap();
    let mut first = edit(5, "Ranch house", "title = \"Ranch house\"\n# ° ½ 日本\n");
    first.card = Card {
        title: "Ranch house".to_owned(),
        address: "12 Alder Row".to_owned(),
        customer: "M. Okafor".to_owned(),
        stage: Stage::Signed,
        next_date: Some("2026-12-01".parse().unwrap()),
        price: Some(PriceRange {
            low: Dollars::from_cents(412_345),
            high: Dollars::from_cents(500_000),
        }),
    };
    assert_eq!(store.create(&id, first.clone()).await.unwrap(), 1);
    store.close().await;
    assert!(matches!(store.get(&id).await, Err(Error::Closed)));
    assert!(matches!(
        store.save(&id, 1, first.clone()).await,
        Err(Error::Closed)
    ));

    let store = Store::open(&folder.path().join("new/folder"))
        .await
        .unwrap();
    let job = store.get(&id).await.unwrap();
    assert_eq!(job.text, first.text);
    let expected = Listed {
        id,
        card: first.card,
        revision: 1,
        updated_at: Moment(5),
        is_removed: false,
    };
    assert_eq!(job.listed, expected);
}

#[tokio::test]
async fn a_late_save_is_refused_with_the_other_text_and_changes_nothing() {
    let (_folder, store) = fresh().await;
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, edit(1, "A", "one")).await.unwrap();
    assert_eq!(store.save(&id, 1, edit(2, "B", "two")).await.unwrap(), 2);
    let before = store.get(&id).await.unwrap();
    match store.save(&id, 1, edit(3, "C", "three")).await {
        Err(Error::Stale(stale)) => assert_eq!(
            *stale,
            Stale {
                yours: 1,
                theirs: 2,
                by: "Ada".to_owned(),
                at: Moment(2),
                text: "two".to_owned(),
            }
        ),
        other => panic!("{other:?}"),
    }
    assert!(matches!(
        store.save(&id, 9, edit(3, "C", "x")).await,
        Err(Error::Stale(_))
    ));
    assert_eq!(store.get(&id).await.unwrap(), before);
    assert_eq!(store.history(&id).await.unwrap().len(), 2);
}

#[tokio::test]
async fn undoing_adds_the_old_text_with_its_title_and_leaves_the_stage() {
    let (_folder, store) = fresh().await;
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, edit(1, "Old", "one")).await.unwrap();
    let mut second = edit(2, "New", "two");
    second.card.stage = Stage::Permit;
    store.save(&id, 1, second).await.unwrap();
    assert!(matches!(
        store.undo_to(&id, undo(3, 1, 1)).await,
        Err(Error::Stale(_))
    ));
    assert!(matches!(
        store.undo_to(&id, undo(3, 2, 7)).await,
        Err(Error::NoSuchRevision(7))
    ));
    assert_eq!(store.undo_to(&id, undo(4, 2, 1)).await.unwrap(), 3);
    let job = store.get(&id).await.unwrap();
    assert_eq!(
        (job.text.as_str(), job.listed.card.title.as_str()),
        ("one", "Old")
    );
    assert_eq!(job.listed.card.stage, Stage::Permit);
    assert_eq!(titles(&store, "old").await, ["Old"]);
    let history = store.history(&id).await.unwrap();
    let told: Vec<(u32, &str, i64)> = history
        .iter()
        .map(|e| (e.number, e.title.as_str(), e.change.at.0))
        .collect();
    assert_eq!(told, [(1, "Old", 1), (2, "New", 2), (3, "Old", 4)]);
    assert_eq!(store.revision(&id, 2).await.unwrap().text, "two");
    // The undone text comes back the same way.
    store.undo_to(&id, undo(5, 3, 2)).await.unwrap();
    assert_eq!(store.get(&id).await.unwrap().text, "two");
}

#[tokio::test]
async fn what_is_not_there_is_said_to_be_missing() {
    let (_folder, store) = fresh().await;
    let id = JobId::new(Moment(1)).unwrap();
    assert!(matches!(store.get(&id).await, Err(Error::NoSuchJob)));
    assert!(matches!(store.history(&id).await, Err(Error::NoSuchJob)));
    assert!(matches!(
        store.revision(&id, 1).await,
        Err(Error::NoSuchJob)
    ));
    assert!(matches!(
        store.save(&id, 1, edit(1, "", "")).await,
        Err(Error::NoSuchJob)
    ));
    assert!(matches!(
        store.undo_to(&id, undo(1, 1, 1)).await,
        Err(Error::NoSuchJob)
    ));
    assert!(matches!(
        store.remove(&id, Moment(1)).await,
        Err(Error::NoSuchJob)
    ));
    store.create(&id, edit(1, "A", "a")).await.unwrap();
    assert!(matches!(
        store.create(&id, edit(1, "B", "b")).await,
        Err(Error::Exists)
    ));
    assert!(matches!(
        store.revision(&id, 2).await,
        Err(Error::NoSuchRevision(2))
    ));
}

#[tokio::test]
async fn a_removed_job_leaves_the_list_takes_no_saves_and_comes_back_whole() {
    let (_folder, store) = fresh().await;
    let id = JobId::new(Moment(1)).unwrap();
    store.create(&id, edit(1, "A", "a")).await.unwrap();
    store.remove(&id, Moment(2)).await.unwrap();
    assert!(titles(&store, "").await.is_empty());
    assert!(store.get(&id).await.unwrap().listed.is_removed);
    assert!(matches!(
        store.save(&id, 1, edit(3, "B", "b")).await,
        Err(Error::Removed)
    ));
    store.restore(&id, Moment(4)).await.unwrap();
    assert_eq!(titles(&store, "").await, ["A"]);
    assert_eq!(store.save(&id, 1, edit(5, "B", "b")).await.unwrap(), 2);
}

/// Two stores on one file stand for two programs; each round both save on the same revision.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn of_two_writers_at_once_exactly_one_wins_and_nothing_is_lost() {
    let (folder, store) = fresh().await;
    let one = Arc::new(store);
    let two = Arc::new(
        Store::open(&folder.path().join("new/folder"))
            .await
            .unwrap(),
    );
    let id = JobId::new(Moment(1)).unwrap();
    one.create(&id, edit(0, "A", "0")).await.unwrap();
    let mut written = vec!["0".to_owned()];
    for round in 1..=50_u32 {
        let save = |store: &Arc<Store>, who: &str| {
            let (store, id, text) = (Arc::clone(store), id.clone(), format!("{who}{round}"));
            tokio::spawn(async move {
                let saved = store
                    .save(&id, round, edit(i64::from(round), "A", &text))
                    .await;
                (text, saved)
            })
        };
        let (a, b) = (save(&one, "a"), save(&two, "b"));
        let (a, b) = (a.await.unwrap(), b.await.unwrap());
        let (winner, loser) = if a.1.is_ok() { (a, b) } else { (b, a) };
        assert_eq!(winner.1.unwrap(), round + 1);
        match loser.1 {
            Err(Error::Stale(stale)) => assert_eq!(stale.text, winner.0),
            other => panic!("{other:?}"),
        }
        written.push(winner.0);
    }
    for (i, text) in written.iter().enumerate() {
        let number = u32::try_from(i).unwrap() + 1;
        assert_eq!(&two.revision(&id, number).await.unwrap().text, text);
    }
}

/// One writer serves many at once: every save that was answered is there, each revision once.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn changes_that_share_a_transaction_are_each_answered_for_themselves() {
    let (_folder, store) = fresh().await;
    let store = Arc::new(store);
    let ids: Vec<JobId> = (0..20).map(|at| JobId::new(Moment(at)).unwrap()).collect();
    let tasks: Vec<_> = (0..200_usize)
        .map(|n| {
            let (store, id) = (Arc::clone(&store), ids[n % 20].clone());
            tokio::spawn(async move {
                match n / 20 {
                    0 | 1 => store.create(&id, edit(1, "A", "a")).await,
                    _ => store.save(&id, 1, edit(2, "B", &n.to_string())).await,
                }
            })
        })
        .collect();
    let mut created = 0;
    for (n, task) in tasks.into_iter().enumerate() {
        match (n / 20, task.await.unwrap()) {
            (0 | 1, Ok(1)) => created += 1,
            (0 | 1, Err(Error::Exists))
            | (2.., Ok(2) | Err(Error::Stale(_) | Error::NoSuchJob)) => {}
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(created, 20);
    for id in &ids {
        let history = store.history(id).await.unwrap();
        let head = store.get(id).await.unwrap().listed.revision;
        assert_eq!(history.len(), head as usize);
    }
}

/// A trigger put there by the test stands for whatever the database may refuse.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_change_that_the_database_refuses_takes_no_other_with_it() {
    let (folder, store) = fresh().await;
    let options = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(folder.path().join("new/folder").join(store::FILE_NAME));
    let mut other = sqlx::ConnectOptions::connect(&options).await.unwrap();
    let trigger = "CREATE TRIGGER poison BEFORE INSERT ON revisions WHEN NEW.body = 'poison'
                   BEGIN SELECT RAISE(ABORT, 'refused'); END";
    sqlx::query(trigger).execute(&mut other).await.unwrap();
    let store = Arc::new(store);
    let mut tasks = tokio::task::JoinSet::new();
    for n in 0..60 {
        let store = Arc::clone(&store);
        tasks.spawn(async move {
            let id = JobId::new(Moment(n)).unwrap();
            let text = if n % 20 == 7 { "poison" } else { "good" };
            (
                id.clone(),
                text,
                store.create(&id, edit(n, "A", text)).await,
            )
        });
    }
    for (id, text, created) in tasks.join_all().await {
        if text == "poison" {
            assert!(matches!(created, Err(Error::Database(_))), "{created:?}");
            assert!(
                matches!(store.get(&id).await, Err(Error::NoSuchJob)),
                "nothing half done"
            );
        } else {
            assert_eq!(created.unwrap(), 1);
            assert_eq!(store.get(&id).await.unwrap().text, "good");
        }
    }
}

#[tokio::test]
async fn ten_thousand_jobs_are_listed_page_by_page_and_searched_by_words() {
    let (_folder, store) = fresh().await;
    let store = Arc::new(store);
    let mut tasks = tokio::task::JoinSet::new();
    for n in 0..10_000_i64 {
        let store = Arc::clone(&store);
        tasks.spawn(async move {
            let mut edit = edit(n / 3, &format!("Panel {n}"), "text");
            edit.card.address = format!("{n} Émile_Row 100%");
            edit.card.customer = format!("Customer {}", n % 100);
            store
                .create(&JobId::new(Moment(n)).unwrap(), edit)
                .await
                .unwrap();
        });
    }
    while let Some(done) = tasks.join_next().await {
        done.unwrap();
    }
    let mut seen = Vec::new();
    let mut cursor = None;
    loop {
        let page = store.list("", 499, cursor.as_ref()).await.unwrap();
        seen.extend(page.jobs.into_iter().map(|j| (j.updated_at, j.id)));
        match page.next {
            // A cursor goes through a text, as it does over a network.
            Some(next) => cursor = Some(next.to_string().parse().unwrap()),
            None => break,
        }
    }
    assert_eq!(seen.len(), 10_000);
    assert!(
        seen.windows(2).all(|w| w[0] > w[1]),
        "newest first, each once"
    );

    assert_eq!(titles(&store, "panel 1234").await, ["Panel 1234"]);
    assert_eq!(
        titles(&store, "PANEL  1234 émile customer").await,
        ["Panel 1234"]
    );
    assert_eq!(titles(&store, "émile_row 9999").await.len(), 1);
    assert_eq!(
        titles(&store, "100% \"Customer 42").await.len(),
        0,
        "a quote is only a quote"
    );
    assert_eq!(
        titles(&store, "7%1").await.len(),
        0,
        "a percent sign is only that"
    );
    assert_eq!(titles(&store, "émile.row").await.len(), 0);
    assert_eq!(titles(&store, "émile\\_row").await.len(), 0);
    assert_eq!(
        store
            .list("customer", 100_000, None)
            .await
            .unwrap()
            .jobs
            .len(),
        500
    );
}

/// The log is folded into the file while the store is open and long before the writer would do it itself.
#[tokio::test]
async fn many_saves_do_not_pile_up_in_the_log() {
    let (folder, store) = fresh().await;
    let id = JobId::new(Moment(1)).unwrap();
    let text = "x".repeat(30_000);
    store.create(&id, edit(1, "A", &text)).await.unwrap();
    for n in 1..=130 {
        store
            .save(&id, n, edit(i64::from(n), "A", &text))
            .await
            .unwrap();
    }
    let file = folder.path().join("new/folder").join(store::FILE_NAME);
    let mut size = 0;
    for _ in 0..100 {
        size = std::fs::metadata(&file).unwrap().len();
        if size > 60 * 30_000 {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    assert!(size > 60 * 30_000, "only {size} bytes are in the file");
    store.close().await;
}
