//! Reviews the open orders once more in the background after the catalog was changed, one run at a time, one order at a time, and
//! no order while people are being answered if that can wait.

use std::sync::{Mutex, PoisonError};

use book::{Person, Role};

use crate::desk::Desk;
use crate::error::DeskError;

/// How far the run is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Progress {
    pub running: bool,
    pub done: i64,
    pub orders: i64,
    /// Why the last run ended early.
    pub trouble: Option<String>,
    /// Whether the catalog was changed again meanwhile.
    again: bool,
}

/// The run of a desk.
#[derive(Debug, Default)]
pub(crate) struct Rereviewing(Mutex<Progress>);

impl Rereviewing {
    pub fn progress(&self) -> Progress {
        self.change(|progress| progress.clone())
    }

    fn change<T>(&self, change: impl FnOnce(&mut Progress) -> T) -> T {
        change(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// Starts a run, or lets the one that runs begin anew when it is through. It comes back at once.
pub(crate) fn start(desk: &Desk, who: &Person) {
    let running = desk.shop().rereviewing();
    let is_first = running.change(|progress| {
        let is_first = !progress.running;
        if is_first {
            *progress = Progress { running: true, ..Progress::default() };
        } else {
            progress.again = true;
        }
        is_first
    });
    if !is_first {
        return;
    }
    let (desk, who) = (desk.clone(), who.clone());
    tokio::spawn(async move {
        loop {
            let worked = {
                let (desk, who) = (desk.clone(), who.clone());
                tokio::spawn(async move { run(&desk, &who).await }).await
            };
            let trouble = match worked {
                Ok(Ok(())) => None,
                Ok(Err(error)) => Some(error.to_string()),
                Err(_) => Some("the run ended early".to_owned()),
            };
            if let Some(trouble) = &trouble {
                tracing::error!(%trouble, "the open orders were not all reviewed");
            }
            let again = desk.shop().rereviewing().change(|progress| {
                let again = progress.again && trouble.is_none();
                *progress = Progress { running: again, trouble, ..Progress::default() };
                again
            });
            if !again {
                return;
            }
        }
    });
}

async fn run(desk: &Desk, who: &Person) -> Result<(), DeskError> {
    let catalog = desk.shop().catalog();
    let orders = desk.book().waiting_for_rereview(&catalog).await?;
    if orders == 0 {
        return Ok(());
    }
    let progress = desk.shop().rereviewing();
    progress.change(|progress| progress.orders = orders);
    desk.book()
        .rereview(
            &catalog,
            who,
            || desk.now(),
            |done, orders| {
                progress.change(|progress| {
                    progress.done = done;
                    progress.orders = orders;
                });
            },
            || desk.answering().give_way(),
        )
        .await?;
    Ok(())
}

/// Starts a run where orders wait for one: the catalog was changed while the desk was closed.
///
/// # Errors
///
/// The book refuses.
pub(crate) async fn start_if_waiting(desk: &Desk, when: &str) -> Result<(), DeskError> {
    if desk.book().waiting_for_rereview(&desk.shop().catalog()).await? > 0 {
        start(desk, &Person::new(&format!("the desk, when {when}"), Role::Owner));
    }
    Ok(())
}
