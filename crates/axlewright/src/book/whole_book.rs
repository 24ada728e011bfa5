//! `axlewright book backup`, `restore` and `export`.

use std::io;
use std::path::Path;

use book::{Book, BookError, Person};
use jiff::Timestamp;

use super::refused;
use crate::exit_status::ExitStatus;
use crate::streams::Streams;

/// Writes the whole book into one file.
pub(super) async fn backup(place: &str, file: &Path, streams: &mut Streams) -> io::Result<ExitStatus> {
    let outcome = async {
        let book = Book::open_existing(place, Timestamp::now()).await?;
        let summary = book.backup(file, Timestamp::now()).await?;
        book.close().await;
        Ok::<_, BookError>(summary)
    };
    match outcome.await {
        Ok(summary) => {
            streams.print(&format!(
                "{}: {} orders, {} events\nend of the log: {}:{}\n",
                file.display(),
                summary.orders,
                summary.events,
                summary.events,
                summary.end
            ))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}

/// Makes a book out of a backup.
pub(super) async fn restore(place: &str, file: &Path, who: &Person, streams: &mut Streams) -> io::Result<ExitStatus> {
    let outcome = async {
        let (book, check) = Book::restore(file, place, who, Timestamp::now()).await?;
        book.close().await;
        Ok::<_, BookError>(check)
    };
    match outcome.await {
        Ok(check) => {
            streams.print(&format!(
                "restored and checked: {} orders, {} events\nend of the log in the backup: {}:{}\n",
                check.orders, check.events, check.events, check.end
            ))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}

/// Writes sheets, photos and JSON.
pub(super) async fn export(place: &str, folder: &Path, streams: &mut Streams) -> io::Result<ExitStatus> {
    let outcome = async {
        let book = Book::open_existing(place, Timestamp::now()).await?;
        let summary = book.export(folder, Timestamp::now()).await?;
        book.close().await;
        Ok::<_, BookError>(summary)
    };
    match outcome.await {
        Ok(summary) => {
            streams.print(&format!("{}: {} orders, {} photos\n", folder.display(), summary.orders, summary.photos))?;
            Ok(ExitStatus::AllCut)
        }
        Err(error) => refused(&error, streams),
    }
}
