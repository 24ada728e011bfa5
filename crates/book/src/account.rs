//! Accounts: who may sign in, and as what.

use jiff::Timestamp;
use serde_json::json;

use crate::Book;
use crate::database::{Row, Transaction};
use crate::error::BookError;
use crate::event::{EventKind, LogEnd};
use crate::order::next_number;
use crate::password::secret_of;
use crate::person::{PROGRAM, Person};
use crate::role::Role;
use crate::search::words::folded;

const OWNER: &[Role] = &[Role::Owner];

/// An account.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Account {
    /// Its number in the book.
    pub number: i64,
    /// The name that is signed in with and written beside every change.
    pub name: String,
    /// What it may do.
    pub role: Role,
    /// Whether it may sign in.
    pub active: bool,
    /// Since when there is the account.
    pub created_at: Timestamp,
}

const COLUMNS: &str = "number, name, role, active, created_at";

impl Account {
    pub(crate) fn of_row(row: &Row) -> Result<Self, BookError> {
        Ok(Self {
            number: row.integer(0)?,
            name: row.text(1)?,
            role: Role::read(&row.text(2)?).map_err(|error| BookError::Unexpected { problem: error.to_string() })?,
            active: row.flag(3)?,
            created_at: row.time(4)?,
        })
    }

    /// The person behind the account.
    #[must_use]
    pub fn person(&self) -> Person {
        Person::new(&self.name, self.role)
    }
}

/// The form in which two names are the same.
pub(crate) fn name_key(name: &str) -> String {
    folded(name).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A name that an account or a token may have.
pub(crate) fn check_name(name: &str) -> Result<&str, BookError> {
    let name = name.trim();
    if name.to_lowercase().ends_with(PROGRAM.trim()) {
        return Err(BookError::refused("only the name of a program ends like that", "a name without (program)"));
    }
    if name.is_empty() || name.chars().count() > 60 || name.chars().any(char::is_control) {
        return Err(BookError::refused("that is no name", "a name of 1 to 60 characters"));
    }
    Ok(name)
}

impl Book {
    /// Whether nobody has an account yet, so that the first one has to be made.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn is_first_run(&self) -> Result<bool, BookError> {
        let row = self.database.row("SELECT COUNT(*) FROM account", &[]).await?;
        Ok(row.map_or(Ok(0), |row| row.integer(0))? == 0)
    }

    /// Makes the owner's account, which is the first. The password is hashed for some hundredths of a second.
    ///
    /// # Errors
    ///
    /// There is an account already, the name or password will not do, or the database refuses.
    pub async fn make_owner(&self, name: &str, password: &str, now: Timestamp) -> Result<Account, BookError> {
        let name = check_name(name)?;
        let secret = secret_of(password)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let there = transaction.row("SELECT COUNT(*) FROM account", &[]).await?;
        if there.map_or(Ok(0), |row| row.integer(0))? > 0 {
            return Err(BookError::refused("the book has its owner already", "an account that the owner makes"));
        }
        let owner = Person::new(name, Role::Owner);
        let account = make_in(&mut transaction, &mut log, name, &secret, Role::Owner, &owner, now).await?;
        transaction.commit().await?;
        Ok(account)
    }

    /// Makes an account.
    ///
    /// # Errors
    ///
    /// The person is no owner, the name is taken, the name or password will not do, or the database refuses.
    pub async fn make_account(
        &self,
        name: &str,
        password: &str,
        role: Role,
        who: &Person,
        now: Timestamp,
    ) -> Result<Account, BookError> {
        who.must_be("make an account", OWNER)?;
        let name = check_name(name)?;
        let secret = secret_of(password)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let account = make_in(&mut transaction, &mut log, name, &secret, role, who, now).await?;
        transaction.commit().await?;
        Ok(account)
    }

    /// Gives an account another role, or lets it sign in or not. Its sessions end.
    ///
    /// # Errors
    ///
    /// The person is no owner, there is no such account, no active owner would be left, or the database refuses.
    pub async fn change_account(
        &self,
        number: i64,
        role: Role,
        active: bool,
        who: &Person,
        now: Timestamp,
    ) -> Result<Account, BookError> {
        who.must_be("change an account", OWNER)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        transaction
            .write(
                "UPDATE account SET role = $2, active = $3 WHERE number = $1",
                &[number.into(), role.words().into(), active.into()],
            )
            .await?;
        let account = account_in(&mut transaction, number).await?;
        let owners = transaction
            .row("SELECT COUNT(*) FROM account WHERE role = $1 AND active = 1", &[Role::Owner.words().into()])
            .await?;
        if owners.map_or(Ok(0), |row| row.integer(0))? == 0 {
            return Err(BookError::refused(
                "no owner would be left",
                "at least one active account with the role owner",
            ));
        }
        transaction.write("DELETE FROM session WHERE account_number = $1", &[number.into()]).await?;
        let body = json!({"account": number, "name": account.name, "role": role.words(), "active": active});
        log.append(&mut transaction, now, who, EventKind::AccountChanged, None, &body).await?;
        transaction.commit().await?;
        Ok(account)
    }

    /// Gives an account another password: the owner any, everybody else their own. Its sessions end.
    ///
    /// # Errors
    ///
    /// The person may not, there is no such account, the password will not do, or the database refuses.
    pub async fn set_password(
        &self,
        number: i64,
        password: &str,
        who: &Person,
        now: Timestamp,
    ) -> Result<(), BookError> {
        let secret = secret_of(password)?;
        let mut transaction = self.database.write().await?;
        let mut log = LogEnd::take(&mut transaction).await?;
        let account = account_in(&mut transaction, number).await?;
        if account.person() != *who {
            who.must_be("set the password of somebody else", OWNER)?;
        }
        transaction.write("UPDATE account SET secret = $2 WHERE number = $1", &[number.into(), secret.into()]).await?;
        transaction.write("DELETE FROM session WHERE account_number = $1", &[number.into()]).await?;
        let body = json!({"account": number, "name": account.name, "password": "changed"});
        log.append(&mut transaction, now, who, EventKind::AccountChanged, None, &body).await?;
        transaction.commit().await
    }

    /// Every account, by number.
    ///
    /// # Errors
    ///
    /// The database refuses.
    pub async fn accounts(&self) -> Result<Vec<Account>, BookError> {
        let rows = self.database.rows(&format!("SELECT {COLUMNS} FROM account ORDER BY number"), &[]).await?;
        rows.iter().map(Account::of_row).collect()
    }
}

/// Programs and guests keep nothing of their own.
pub(crate) fn must_be_an_account(number: i64) -> Result<(), BookError> {
    if number > 0 {
        return Ok(());
    }
    Err(BookError::refused("only an account keeps drafts and views", "the same by somebody who has signed in"))
}

async fn account_in(transaction: &mut Transaction, number: i64) -> Result<Account, BookError> {
    let row = transaction
        .row(&format!("SELECT {COLUMNS} FROM account WHERE number = $1"), &[number.into()])
        .await?
        .ok_or_else(|| BookError::none(format!("account {number}")))?;
    Account::of_row(&row)
}

async fn make_in(
    transaction: &mut Transaction,
    log: &mut LogEnd,
    name: &str,
    secret: &str,
    role: Role,
    who: &Person,
    now: Timestamp,
) -> Result<Account, BookError> {
    let key = name_key(name);
    let taken = transaction.row("SELECT number FROM account WHERE name_key = $1", &[(&key).into()]).await?;
    if taken.is_some() {
        return Err(BookError::refused(
            format!("there is an account {name} already"),
            "another name; large and small letters make no difference",
        ));
    }
    let number = next_number(transaction, "account").await?;
    transaction
        .write(
            "INSERT INTO account (number, name, name_key, role, secret, active, created_at) \
             VALUES ($1, $2, $3, $4, $5, 1, $6)",
            &[number.into(), name.into(), key.into(), role.words().into(), secret.into(), now.into()],
        )
        .await?;
    let body = json!({"account": number, "name": name, "role": role.words()});
    log.append(transaction, now, who, EventKind::AccountMade, None, &body).await?;
    account_in(transaction, number).await
}
