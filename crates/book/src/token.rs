//! Tokens: how another program, such as the shop's accounting, says who it is.
//!
//! A token works as desk, floor or read-only and never as owner. It is shown once, when it is made; the book holds its digest.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde_json::json;

use crate::Book;
use crate::account::{check_name, name_key};
use crate::database::{Row, Transaction};
use crate::digest::sha256;
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::{next_number, read_date};
use crate::person::{PROGRAM, Person};
use crate::role::Role;
use crate::session::random_token;

const OWNER: &[Role] = &[Role::Owner];
/// What every token begins with, so that one that was left lying about is seen for what it is.
const BEGINNING: &str = "axle_";

/// A token, without the token itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    /// Its number in the book.
    pub number: i64,
    /// What it is for.
    pub name: String,
    /// What it may do.
    pub role: Role,
    /// When it was made.
    pub made_at: Timestamp,
    /// By whom.
    pub made_by: String,
    /// Since when it is worth nothing; none while it works.
    pub revoked_at: Option<Timestamp>,
    /// The last day on which it was used, in universal time.
    pub used_on: Option<Date>,
}

const COLUMNS: &str = "number, name, role, made_at, made_by, revoked_at, used_on";

impl Token {
    fn of_row(row: &Row) -> Result<Self, BookError> {
        let revoked_at = row.maybe_integer(5)?.map(Timestamp::from_microsecond).transpose();
        let unexpected = |problem: String| BookError::Unexpected { problem };
        Ok(Self {
            number: row.integer(0)?,
            name: row.text(1)?,
            role: Role::read(&row.text(2)?).map_err(|error| unexpected(error.to_string()))?,
            made_at: row.time(3)?,
            made_by: row.text(4)?,
            revoked_at: revoked_at.map_err(|error| unexpected(error.to_string()))?,
            used_on: read_date(row.maybe_text(6)?)?,
        })
    }

    /// The name that is written beside what the program does. No account can have it.
    #[must_use]
    pub fn person(&self) -> Person {
        Person::new(&format!("{}{PROGRAM}", self.name), self.role)
    }
}

impl Book {
    /// Makes a token, and gives it back together with what its program has to send. Nobody can ask for that again.
    ///
    /// # Errors
    ///
    /// The person is no owner, a token that works has the name, the name or the role will not do, or the database refuses.
    pub async fn make_token(
        &self,
        name: &str,
        role: Role,
        who: &Person,
        now: Timestamp,
    ) -> Result<(Token, String), BookError> {
        who.must_be("make a token", OWNER)?;
        let name = check_name(name)?;
        if role == Role::Owner {
            return Err(BookError::refused("a program cannot be the owner", "the role desk, floor or read-only"));
        }
        let secret = format!("{BEGINNING}{}", random_token()?);
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let key = name_key(name);
        let taken = transaction
            .row("SELECT number FROM token WHERE name_key = $1 AND revoked_at IS NULL", &[(&key).into()])
            .await?;
        if taken.is_some() {
            return Err(BookError::refused(
                format!("there is a token {name} already"),
                "another name, or the same after the old token was revoked",
            ));
        }
        let number = next_number(&mut transaction, "token").await?;
        transaction
            .write(
                "INSERT INTO token (number, name, name_key, role, token_digest, made_at, made_by) \
                 VALUES ($1, $2, $3, $4, $5, $6, $7)",
                &[
                    number.into(),
                    name.into(),
                    key.into(),
                    role.words().into(),
                    sha256(secret.as_bytes()).into(),
                    now.into(),
                    (&who.name).into(),
                ],
            )
            .await?;
        let body = json!({"token": number, "name": name, "role": role.words()});
        log.append(&mut transaction, now, who, EventKind::TokenMade, None, &body).await?;
        let token = token_in(&mut transaction, number).await?;
        transaction.commit().await?;
        Ok((token, secret))
    }

    /// Makes a token worth nothing, for good.
    ///
    /// # Errors
    ///
    /// The person is no owner, there is no such token, it was revoked before, or the database refuses.
    pub async fn revoke_token(&self, number: i64, who: &Person, now: Timestamp) -> Result<Token, BookError> {
        who.must_be("revoke a token", OWNER)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let token = token_in(&mut transaction, number).await?;
        if token.revoked_at.is_some() {
            return Err(BookError::refused(format!("the token {} was revoked before", token.name), "one that works"));
        }
        transaction.write("UPDATE token SET revoked_at = $2 WHERE number = $1", &[number.into(), now.into()]).await?;
        let body = json!({"token": number, "name": token.name});
        log.append(&mut transaction, now, who, EventKind::TokenRevoked, None, &body).await?;
        let token = token_in(&mut transaction, number).await?;
        transaction.commit().await?;
        Ok(token)
    }

    /// The token behind what a program sent; none where it is worth nothing. The day is written down.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn token(&self, secret: &str, now: Timestamp) -> Result<Option<Token>, BookError> {
        let row = self
            .database
            .row(
                &format!("SELECT {COLUMNS} FROM token WHERE token_digest = $1 AND revoked_at IS NULL"),
                &[sha256(secret.as_bytes()).into()],
            )
            .await?;
        let Some(mut token) = row.as_ref().map(Token::of_row).transpose()? else { return Ok(None) };
        let today = TimeZone::UTC.to_datetime(now).date();
        if token.used_on != Some(today) {
            let mut transaction = self.database.write().await?;
            transaction
                .write(
                    "UPDATE token SET used_on = $2 WHERE number = $1",
                    &[token.number.into(), today.to_string().into()],
                )
                .await?;
            transaction.commit().await?;
            token.used_on = Some(today);
        }
        Ok(Some(token))
    }

    /// Every token, those that were revoked as well, by number.
    ///
    /// # Errors
    ///
    /// The person is no owner, or the database refuses.
    pub async fn tokens(&self, who: &Person) -> Result<Vec<Token>, BookError> {
        who.must_be("see the tokens", OWNER)?;
        let rows = self.database.rows(&format!("SELECT {COLUMNS} FROM token ORDER BY number"), &[]).await?;
        rows.iter().map(Token::of_row).collect()
    }
}

async fn token_in(transaction: &mut Transaction, number: i64) -> Result<Token, BookError> {
    let row = transaction
        .row(&format!("SELECT {COLUMNS} FROM token WHERE number = $1"), &[number.into()])
        .await?
        .ok_or_else(|| BookError::none(format!("token {number}")))?;
    Token::of_row(&row)
}
