//! The list of jobs, and one job: new, read, save, remove, restore.

use std::sync::Arc;

use axum::Json;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, StatusCode, Uri, header};
use axum::response::Response;
use serde_json::{Value, json};
use store::{Card, Change, Edit, JobId, Listed, MOST_PER_PAGE, Moment};

use crate::app::{App, At, based_on, now, query, title_of};
use crate::body;
use crate::fields::Fields;
use crate::problem::Problem;
use crate::shapes;

/// Longest address, customer and note; longest name of an author. In characters.
const LONGEST_LINE: usize = 500;
const LONGEST_NAME: usize = 100;

pub(crate) async fn list(State(app): State<Arc<App>>, uri: Uri) -> Result<Json<Value>, Problem> {
    let mut query = query(&uri)?;
    let mut take = |name: &str| match query.remove(name) {
        Some(Value::String(text)) => text,
        _ => String::new(),
    };
    let (search, after, limit) = (take("search"), take("after"), take("limit"));
    if let Some(name) = query.keys().next() {
        let shown: String = name.chars().take(40).collect();
        return Err(Problem::bad(
            format!("`{shown}` is not known here."),
            "only search, after, limit",
        ));
    }
    let after = match after.as_str() {
        "" => None,
        text => Some(text.parse()?),
    };
    let limit = match limit.as_str() {
        "" => 50,
        text => text
            .parse()
            .ok()
            .filter(|n| (1..=MOST_PER_PAGE).contains(n))
            .ok_or_else(|| {
                Problem::bad(
                    "`limit` is wrong.",
                    format!("a number from 1 to {MOST_PER_PAGE}"),
                )
            })?,
    };
    let page = app.store.list(&search, limit, after.as_ref()).await?;
    let jobs: Vec<Value> = page.jobs.iter().map(shapes::listed).collect();
    Ok(Json(
        json!({ "jobs": jobs, "next": page.next.map(|c| c.to_string()) }),
    ))
}

pub(crate) async fn create(
    State(app): State<Arc<App>>,
    request: Request,
) -> Result<Response, Problem> {
    let mut fields = body::object(request).await?;
    let at = now();
    let id = match fields.id()? {
        Some(id) => id,
        None => JobId::new(at)?,
    };
    let edit = edit(&app, fields, Card::default(), at).await?;
    let card = edit.card.clone();
    let revision = app.store.create(&id, edit).await?;
    app.metrics.saved();
    let mut response = shapes::tagged(
        StatusCode::CREATED,
        revision,
        shapes::listed(&as_listed(id.clone(), card, revision, at)),
    );
    if let Ok(place) = HeaderValue::try_from(format!("/api/v1/jobs/{id}")) {
        response.headers_mut().insert(header::LOCATION, place);
    }
    Ok(response)
}

pub(crate) async fn get(State(app): State<Arc<App>>, at: At) -> Result<Response, Problem> {
    let job = app.store.get(&at.id).await?;
    Ok(shapes::tagged(
        StatusCode::OK,
        job.listed.revision,
        shapes::job(&job),
    ))
}

pub(crate) async fn save(
    State(app): State<Arc<App>>,
    At { id, .. }: At,
    request: Request,
) -> Result<Response, Problem> {
    let based_on = based_on(request.headers())?;
    let fields = body::object(request).await?;
    let at = now();
    // Should the card change between here and the save, the save is stale and refused.
    let card = app.store.listed(&id).await?.card;
    let edit = edit(&app, fields, card, at).await?;
    let (card, text) = (edit.card.clone(), edit.text.clone());
    match app.store.save(&id, based_on, edit).await {
        Ok(revision) => {
            app.metrics.saved();
            let listed = as_listed(id, card, revision, at);
            Ok(shapes::tagged(
                StatusCode::OK,
                revision,
                shapes::listed(&listed),
            ))
        }
        Err(error) => {
            if matches!(error, store::Error::Stale(_)) {
                app.metrics.conflicted();
            }
            Err(Problem::of_store(&error, Some(&text)))
        }
    }
}

pub(crate) async fn remove(State(app): State<Arc<App>>, at: At) -> Result<Response, Problem> {
    app.store.remove(&at.id, now()).await?;
    as_it_is(&app, &at.id).await
}

pub(crate) async fn restore(State(app): State<Arc<App>>, at: At) -> Result<Response, Problem> {
    app.store.restore(&at.id, now()).await?;
    as_it_is(&app, &at.id).await
}

/// The job's entry in the list.
pub(crate) async fn as_it_is(app: &App, id: &JobId) -> Result<Response, Problem> {
    let listed = app.store.listed(id).await?;
    Ok(shapes::tagged(
        StatusCode::OK,
        listed.revision,
        shapes::listed(&listed),
    ))
}

/// Who made a change, and why, as they say.
pub(crate) fn change(fields: &mut Fields, at: Moment) -> Result<Change, Problem> {
    Ok(Change {
        at,
        by: fields.line("by", LONGEST_NAME)?.unwrap_or_default(),
        note: fields.line("note", LONGEST_LINE)?.unwrap_or_default(),
    })
}

/// The new text and card. What the body does not name stays as it is, except for the price, which belongs to the text.
async fn edit(app: &App, mut fields: Fields, card: Card, at: Moment) -> Result<Edit, Problem> {
    let text = fields.job_text()?;
    let change = change(&mut fields, at)?;
    let mut card = Card {
        address: fields
            .line("address", LONGEST_LINE)?
            .unwrap_or(card.address),
        customer: fields
            .line("customer", LONGEST_LINE)?
            .unwrap_or(card.customer),
        stage: fields.stage()?.unwrap_or(card.stage),
        next_date: fields.day("next_date")?.unwrap_or(card.next_date),
        price: fields.price()?.flatten(),
        title: String::new(),
    };
    fields.finish()?;
    card.title = title_of(app, &text).await?;
    Ok(Edit { change, card, text })
}

const fn as_listed(id: JobId, card: Card, revision: u32, updated_at: Moment) -> Listed {
    Listed {
        id,
        card,
        revision,
        updated_at,
        is_removed: false,
    }
}
