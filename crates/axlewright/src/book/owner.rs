//! `axlewright book owner`: the way in for whoever has the book itself in their hands.

use std::io::{self, BufRead, IsTerminal};

use book::{Account, Book, BookError, Person, Role};
use jiff::Timestamp;

use super::refused;
use crate::exit_status::ExitStatus;
use crate::streams::Streams;

/// Makes an owner's account, or gives the account of that name another password and the role owner. The password is read from
/// standard input: what stands among the arguments of a program can be seen by everybody on the machine.
///
/// # Errors
///
/// A stream takes no more, or standard input cannot be read.
pub async fn owner(place: &str, name: &str, who: &Person, streams: &mut Streams) -> io::Result<ExitStatus> {
    let Some(password) = password(streams)? else {
        streams.complain("the two passwords differ\n  accepted: the same password twice")?;
        return Ok(ExitStatus::Unusable);
    };
    match made(place, name, &password, who).await {
        Ok((account, fresh)) => {
            let done = if fresh { "has an account now" } else { "has another password now" };
            streams.print(&format!("{} {done}, as owner of {place}\n", account.name))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}

/// The password: one line, or asked for twice without showing it where somebody sits at a terminal.
fn password(streams: &mut Streams) -> io::Result<Option<String>> {
    if io::stdin().is_terminal() {
        streams.print("The password stays hidden while you type it; at least 10 characters.\n")?;
        let first = rpassword::prompt_password("Password: ")?;
        let second = rpassword::prompt_password("The same again: ")?;
        return Ok((first == second).then_some(first));
    }
    let mut line = String::new();
    io::stdin().lock().read_line(&mut line)?;
    Ok(Some(line.trim_end_matches(['\r', '\n']).to_owned()))
}

async fn made(place: &str, name: &str, password: &str, who: &Person) -> Result<(Account, bool), BookError> {
    let now = Timestamp::now();
    let book = Book::open(place, now).await?;
    let known = book.accounts().await?.into_iter().find(|account| is_the_name(&account.name, name));
    let outcome = match known {
        None => book.make_account(name, password, Role::Owner, who, now).await.map(|account| (account, true)),
        Some(account) => match book.set_password(account.number, password, who, now).await {
            Ok(()) if account.role == Role::Owner && account.active => Ok((account, false)),
            Ok(()) => {
                book.change_account(account.number, Role::Owner, true, who, now).await.map(|account| (account, false))
            }
            Err(error) => Err(error),
        },
    };
    book.close().await;
    outcome
}

/// Large and small letters and blanks make no difference in a name that is signed in with.
fn is_the_name(known: &str, given: &str) -> bool {
    let plain = |name: &str| name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ");
    plain(known) == plain(given)
}
