//! Signing in and out, and the record of every attempt.

use std::net::IpAddr;

use jiff::{SignedDuration, Timestamp};

use crate::Book;
use crate::account::{Account, name_key};
use crate::database::Transaction;
use crate::digest::{hexadecimal, sha256};
use crate::error::BookError;
use crate::order::next_number;
use crate::password::{NOBODY, fits};
use crate::person::Person;
use crate::role::Role;

/// A session ends so long after the last page.
const IDLE: SignedDuration = SignedDuration::from_hours(12);
/// And so long after the sign-in at the latest.
const LONGEST: SignedDuration = SignedDuration::from_hours(24 * 7);
/// A page moves the end of the session no more often than this, so that looking does not write all the time.
const TOUCH: SignedDuration = SignedDuration::from_mins(5);
/// So many wrong passwords for one name from one address...
const MOST_WRONG: usize = 10;
/// ...or for one name from anywhere...
const MOST_WRONG_IN_ALL: usize = 100;
/// ...within this time, and they have to wait until it is over.
const WITHIN: SignedDuration = SignedDuration::from_mins(15);
/// An address from which the account has signed in within this time is never shut out like that, so that nobody else can keep
/// somebody from their own desk by wrong passwords...
const KNOWN: SignedDuration = SignedDuration::from_hours(24 * 90);
/// ...but after as many wrong ones from there it has to wait so long between one attempt and the next.
const PACE: SignedDuration = SignedDuration::from_secs(60);

/// A session that was begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Session {
    /// What the browser keeps. The book holds only its digest.
    pub token: String,
    /// Whose it is.
    pub account: Account,
    /// When it ends at the latest.
    pub expires_at: Timestamp,
}

/// What became of an attempt to sign in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SignInOutcome {
    /// In.
    SignedIn,
    /// Wrong name or password.
    Wrong,
    /// The account may not sign in.
    Inactive,
    /// Too many wrong passwords before.
    TooMany,
    /// Out.
    SignedOut,
}

impl SignInOutcome {
    const ALL: [Self; 5] = [Self::SignedIn, Self::Wrong, Self::Inactive, Self::TooMany, Self::SignedOut];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::SignedIn => "signed in",
            Self::Wrong => "wrong name or password",
            Self::Inactive => "inactive account",
            Self::TooMany => "too many wrong passwords",
            Self::SignedOut => "signed out",
        }
    }
}

/// One attempt to sign in, or a sign-out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignIn {
    /// When.
    pub at: Timestamp,
    /// The name that was given.
    pub name: String,
    /// From where.
    pub address: String,
    /// What became of it.
    pub outcome: SignInOutcome,
}

impl Book {
    /// Signs somebody in. Every attempt is written down. The password is hashed for some hundredths of a second.
    ///
    /// # Errors
    ///
    /// Name or password is wrong (both give the same message), the account is inactive, too many attempts failed, or the database
    /// refuses.
    pub async fn sign_in(
        &self,
        name: &str,
        password: &str,
        address: &str,
        now: Timestamp,
    ) -> Result<Session, BookError> {
        let name: String = name.trim().chars().take(60).collect();
        let key = name_key(&name);
        let since = now.saturating_sub(WITHIN).unwrap_or(Timestamp::MIN);
        if let Some(accepted) = self.must_wait(&key, address, since, now).await? {
            self.record(&name, address, SignInOutcome::TooMany, now).await?;
            return Err(BookError::refused("too many wrong passwords were given for this name", accepted));
        }
        let row = self
            .database
            .row(
                "SELECT number, name, role, active, created_at, secret FROM account WHERE name_key = $1",
                &[key.into()],
            )
            .await?;
        let account = row.as_ref().map(Account::of_row).transpose()?;
        let secret = row.as_ref().map_or(Ok(NOBODY.to_owned()), |row| row.text(5))?;
        let Some(account) = account.filter(|_| fits(password, &secret)) else {
            if row.is_none() {
                // Without this the time to answer would tell which names there are.
                let _ = fits(password, NOBODY);
            }
            self.record(&name, address, SignInOutcome::Wrong, now).await?;
            return Err(BookError::refused("the name or the password is wrong", "the name and password of an account"));
        };
        if !account.active {
            self.record(&name, address, SignInOutcome::Inactive, now).await?;
            return Err(BookError::refused(
                "this account may not sign in",
                "an account that the owner has made active",
            ));
        }
        let token = random_token()?;
        let expires_at = later(now, IDLE);
        let mut transaction = self.database.write().await?;
        transaction.write("DELETE FROM session WHERE expires_at <= $1", &[now.into()]).await?;
        transaction
            .write(
                "INSERT INTO session (token_digest, account_number, created_at, seen_at, expires_at) \
                 VALUES ($1, $2, $3, $3, $4)",
                &[sha256(token.as_bytes()).into(), account.number.into(), now.into(), expires_at.into()],
            )
            .await?;
        record_in(&mut transaction, &name, address, SignInOutcome::SignedIn, now).await?;
        transaction.commit().await?;
        Ok(Session { token, account, expires_at })
    }

    /// What would be accepted later, where too many wrong passwords were given for a name from an address, or from anywhere.
    async fn must_wait(
        &self,
        key: &str,
        address: &str,
        since: Timestamp,
        now: Timestamp,
    ) -> Result<Option<&'static str>, BookError> {
        let wrong = self
            .database
            .rows(
                "SELECT address, at FROM sign_in WHERE name_key = $1 AND at > $2 AND outcome = $3 ORDER BY at DESC LIMIT 1000",
                &[key.into(), since.into(), SignInOutcome::Wrong.words().into()],
            )
            .await?;
        let here = network(address);
        let mut from_here = Vec::new();
        for row in &wrong {
            if network(&row.text(0)?) == here {
                from_here.push(row.time(1)?);
            }
        }
        if from_here.len() < MOST_WRONG && wrong.len() < MOST_WRONG_IN_ALL {
            return Ok(None);
        }
        if !self.has_signed_in_from(key, &here, now).await? {
            return Ok(Some("another attempt in a quarter of an hour"));
        }
        let resting = from_here.len() >= MOST_WRONG && from_here.first().is_some_and(|last| later(*last, PACE) > now);
        Ok(resting.then_some("another attempt in a minute"))
    }

    /// Whether an account has signed in from an address lately.
    async fn has_signed_in_from(&self, key: &str, here: &str, now: Timestamp) -> Result<bool, BookError> {
        let rows = self
            .database
            .rows(
                "SELECT DISTINCT address FROM sign_in WHERE name_key = $1 AND at > $2 AND outcome = $3",
                &[
                    key.into(),
                    now.saturating_sub(KNOWN).unwrap_or(Timestamp::MIN).into(),
                    SignInOutcome::SignedIn.words().into(),
                ],
            )
            .await?;
        for row in &rows {
            if network(&row.text(0)?) == here {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// The account behind a token; none where the session has ended. Call it for every page: it keeps the session alive.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn session(&self, token: &str, now: Timestamp) -> Result<Option<Account>, BookError> {
        let digest = sha256(token.as_bytes());
        let row = self
            .database
            .row(
                "SELECT a.number, a.name, a.role, a.active, a.created_at, s.created_at, s.seen_at FROM session s \
                 JOIN account a ON a.number = s.account_number \
                 WHERE s.token_digest = $1 AND s.expires_at > $2 AND a.active = 1",
                &[(&digest).into(), now.into()],
            )
            .await?;
        let Some(row) = row else { return Ok(None) };
        let account = Account::of_row(&row)?;
        if later(row.time(6)?, TOUCH) <= now {
            let end = later(now, IDLE).min(later(row.time(5)?, LONGEST));
            let mut transaction = self.database.write().await?;
            transaction
                .write(
                    "UPDATE session SET seen_at = $2, expires_at = $3 WHERE token_digest = $1",
                    &[digest.into(), now.into(), end.into()],
                )
                .await?;
            transaction.commit().await?;
        }
        Ok(Some(account))
    }

    /// Signs out: the session ends.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn sign_out(&self, token: &str, address: &str, now: Timestamp) -> Result<(), BookError> {
        let account = self.session(token, now).await?;
        let mut transaction = self.database.write().await?;
        transaction.write("DELETE FROM session WHERE token_digest = $1", &[sha256(token.as_bytes()).into()]).await?;
        if let Some(account) = account {
            record_in(&mut transaction, &account.name, address, SignInOutcome::SignedOut, now).await?;
        }
        transaction.commit().await
    }

    /// The latest attempts to sign in, the newest first.
    ///
    /// # Errors
    ///
    /// The person is no owner, or the database refuses.
    pub async fn sign_ins(&self, at_most: i64, who: &Person) -> Result<Vec<SignIn>, BookError> {
        who.must_be("see who signed in", &[Role::Owner])?;
        let rows = self
            .database
            .rows("SELECT at, name, address, outcome FROM sign_in ORDER BY number DESC LIMIT $1", &[at_most.into()])
            .await?;
        rows.iter()
            .map(|row| {
                let words = row.text(3)?;
                Ok(SignIn {
                    at: row.time(0)?,
                    name: row.text(1)?,
                    address: row.text(2)?,
                    outcome: SignInOutcome::ALL
                        .into_iter()
                        .find(|outcome| outcome.words() == words)
                        .ok_or_else(|| BookError::Unexpected { problem: format!("a sign-in that is `{words}`") })?,
                })
            })
            .collect()
    }

    async fn record(&self, name: &str, address: &str, outcome: SignInOutcome, now: Timestamp) -> Result<(), BookError> {
        let mut transaction = self.database.write().await?;
        record_in(&mut transaction, name, address, outcome, now).await?;
        transaction.commit().await
    }
}

/// What one subscriber has of the network: an address of the old kind, the first half of one of the new kind.
fn network(address: &str) -> String {
    match address.parse::<IpAddr>().map(|address| address.to_canonical()) {
        Ok(IpAddr::V6(address)) => {
            let [a, b, c, d, ..] = address.segments();
            format!("{a:x}:{b:x}:{c:x}:{d:x}")
        }
        Ok(IpAddr::V4(address)) => address.to_string(),
        Err(_) => address.to_owned(),
    }
}

async fn record_in(
    transaction: &mut Transaction,
    name: &str,
    address: &str,
    outcome: SignInOutcome,
    now: Timestamp,
) -> Result<(), BookError> {
    let number = next_number(transaction, "sign-in").await?;
    let address: String = address.chars().take(100).collect();
    transaction
        .write(
            "INSERT INTO sign_in (number, at, name, name_key, address, outcome) VALUES ($1, $2, $3, $4, $5, $6)",
            &[number.into(), now.into(), name.into(), name_key(name).into(), address.into(), outcome.words().into()],
        )
        .await
        .map(|_| ())
}

fn later(time: Timestamp, by: SignedDuration) -> Timestamp {
    time.saturating_add(by).unwrap_or(Timestamp::MAX)
}

/// A token of 32 random bytes from the operating system.
pub(crate) fn random_token() -> Result<String, BookError> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|error| BookError::Unexpected {
        problem: format!("the operating system gives no random bytes: {error}"),
    })?;
    Ok(hexadecimal(&bytes))
}
