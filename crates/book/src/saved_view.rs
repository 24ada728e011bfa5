//! Saved views: lists that somebody comes back to.

use serde_json::{Value as Json, json};

use crate::Book;
use crate::account::must_be_an_account;
use crate::error::BookError;
use crate::judgement::Judgement;
use crate::placing::must_be_short;
use crate::search::list::{ListRequest, Sort};
use crate::state::State;

/// A list with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SavedView {
    /// Its name.
    pub name: String,
    /// What it shows, from its beginning on.
    pub request: ListRequest,
}

impl Book {
    /// Keeps a view under its name, in place of the one before.
    ///
    /// # Errors
    ///
    /// It has no name, or the database refuses.
    pub async fn keep_view(&self, account: i64, view: &SavedView) -> Result<(), BookError> {
        must_be_an_account(account)?;
        let name = view.name.trim();
        must_be_short("name", name, 200)?;
        if name.is_empty() {
            return Err(BookError::refused("the view has no name", "a name such as `to be asked`"));
        }
        let mut transaction = self.database.write().await?;
        transaction
            .write(
                "INSERT INTO saved_view (account_number, name, body) VALUES ($1, $2, $3) \
                 ON CONFLICT (account_number, name) DO UPDATE SET body = $3",
                &[account.into(), name.into(), written(&view.request).to_string().into()],
            )
            .await?;
        transaction.commit().await
    }

    /// Every view of an account, by name.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn views(&self, account: i64) -> Result<Vec<SavedView>, BookError> {
        let rows = self
            .database
            .rows("SELECT name, body FROM saved_view WHERE account_number = $1 ORDER BY name", &[account.into()])
            .await?;
        rows.iter().map(|row| Ok(SavedView { name: row.text(0)?, request: read(&row.text(1)?)? })).collect()
    }

    /// Throws a view away.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn drop_view(&self, account: i64, name: &str) -> Result<(), BookError> {
        let mut transaction = self.database.write().await?;
        transaction
            .write("DELETE FROM saved_view WHERE account_number = $1 AND name = $2", &[account.into(), name.into()])
            .await?;
        transaction.commit().await
    }
}

fn written(request: &ListRequest) -> Json {
    json!({
        "search": request.search,
        "states": request.states.iter().map(|state| state.key()).collect::<Vec<_>>(),
        "verdicts": request.judgements.iter().map(|one| one.words()).collect::<Vec<_>>(),
        "sort": match request.sort { Sort::Newest => "newest", Sort::LastChanged => "last changed" },
        "at_most": request.at_most,
    })
}

fn read(body: &str) -> Result<ListRequest, BookError> {
    let unexpected = |problem: String| BookError::Unexpected { problem: format!("a saved view: {problem}") };
    let json: Json = serde_json::from_str(body).map_err(|error| unexpected(error.to_string()))?;
    let words = |key: &str| -> Vec<String> {
        json[key].as_array().into_iter().flatten().filter_map(Json::as_str).map(str::to_owned).collect()
    };
    let states: Result<Vec<State>, BookError> = words("states").iter().map(|word| State::read(word)).collect();
    let judgements: Result<Vec<Judgement>, BookError> =
        words("verdicts").iter().map(|word| Judgement::read(word)).collect();
    Ok(ListRequest {
        search: json["search"].as_str().unwrap_or_default().to_owned(),
        states: states.map_err(|error| unexpected(error.to_string()))?,
        judgements: judgements.map_err(|error| unexpected(error.to_string()))?,
        sort: if json["sort"] == "last changed" { Sort::LastChanged } else { Sort::Newest },
        after: None,
        at_most: json["at_most"].as_u64().and_then(|most| usize::try_from(most).ok()).unwrap_or(50),
    })
}
