//! What somebody else changes in the shop's folder while the desk is open: by hand, or with another desk on the same folder.

use std::sync::Arc;

use book::{CatalogChange, MarkedCatalog, Person, Role};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::pages::weakened;
use crate::rereviewing;

/// Takes over what was changed, so that desks on one folder go by one catalog.
///
/// # Errors
///
/// The book refuses.
pub(crate) async fn look_again(desk: &Desk) -> Result<(), DeskError> {
    let before = desk.shop().catalog();
    let looking = desk.clone();
    let another = tokio::task::spawn_blocking(move || looking.shop().look_again()).await.unwrap_or(false);
    if another {
        note(desk, &before, &Person::new("the desk, when the folder was changed", Role::Owner)).await?;
        rereviewing::start_if_waiting(desk, "the folder was changed").await?;
    }
    Ok(())
}

/// Writes into the log what the catalog as it was read now holds to less strictly than before. Whoever can write files cannot be
/// asked for a tick and a reason, but it does not go unseen.
///
/// # Errors
///
/// The book refuses.
pub(crate) async fn note(desk: &Desk, before: &Arc<MarkedCatalog>, who: &Person) -> Result<(), DeskError> {
    let now = desk.shop().catalog();
    let less_careful = weakened(before.catalog(), now.catalog());
    if less_careful.is_empty() {
        return Ok(());
    }
    let change = CatalogChange {
        file: "catalog",
        words: "The files were changed beside the desk",
        less_careful: &less_careful,
        reason: "",
        mark: now.mark(),
    };
    Ok(desk.book().note_catalog_change(&change, who, desk.now()).await?)
}
