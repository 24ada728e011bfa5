//! `axlewright book`: the order book from the command line.

mod arguments;
mod import;
mod owner;
mod whole_book;

use std::io;
use std::path::Path;

use book::{Book, BookError, Cursor, Judgement, KeptEnd, ListRequest, MarkedCatalog, Person, Role, Sort, State};
use jiff::Timestamp;

pub use arguments::{BookArguments, EXAMPLES};

use crate::arguments::Format;
use crate::exit_status::ExitStatus;
use crate::report::{book_check_report, order_list_report, rereview_report};
use crate::streams::Streams;
use arguments::{BookCommand, CheckBook, ListOrders, Rereview};

/// Does what the command says.
///
/// # Errors
///
/// A stream takes no more.
pub fn book(arguments: &BookArguments, streams: &mut Streams) -> io::Result<ExitStatus> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    let place = arguments.book.as_str();
    let who = Person::new(&arguments.by, Role::Owner);
    runtime.block_on(async {
        match &arguments.command {
            BookCommand::Check(check) => verify(place, check, streams).await,
            BookCommand::List(list) => show(place, list, streams).await,
            BookCommand::Rereview(rereview) => review_again(place, rereview, &who, streams).await,
            BookCommand::Import(files) => import::import(place, files, &who, streams).await,
            BookCommand::Backup { file } => whole_book::backup(place, file, streams).await,
            BookCommand::Restore { file } => whole_book::restore(place, file, &who, streams).await,
            BookCommand::Owner { name } => owner::owner(place, name, &who, streams).await,
            BookCommand::Export { folder } => whole_book::export(place, folder, streams).await,
        }
    })
}

/// Says why something was not done.
fn refused(error: &BookError, streams: &mut Streams) -> io::Result<ExitStatus> {
    streams.complain(&error.to_string())?;
    Ok(ExitStatus::Unusable)
}

/// Loads the catalog and marks it.
fn marked_catalog(folder: Option<&Path>, streams: &mut Streams) -> io::Result<Option<MarkedCatalog>> {
    Ok(streams.catalog(folder)?.map(MarkedCatalog::new))
}

async fn verify(place: &str, arguments: &CheckBook, streams: &mut Streams) -> io::Result<ExitStatus> {
    let check = async {
        let book = Book::open_existing(place, Timestamp::now()).await?;
        let kept = arguments.end.as_deref().map(KeptEnd::read).transpose()?;
        let check = book.check(kept.as_ref()).await?;
        let engine = book.engine();
        book.close().await;
        Ok::<_, BookError>((check, engine))
    };
    match check.await {
        Ok((check, engine)) => {
            streams.print(&book_check_report(&check, engine, streams.columns()))?;
            Ok(if check.is_sound() { ExitStatus::AllCut } else { ExitStatus::NotAllCut })
        }
        Err(error) => refused(&error, streams),
    }
}

async fn show(place: &str, arguments: &ListOrders, streams: &mut Streams) -> io::Result<ExitStatus> {
    let list = async {
        let request = ListRequest {
            search: arguments.search.join(" "),
            states: arguments.state.iter().map(|word| State::read(word)).collect::<Result<_, _>>()?,
            judgements: arguments.verdict.iter().map(|word| Judgement::read(word)).collect::<Result<_, _>>()?,
            sort: if arguments.last_changed { Sort::LastChanged } else { Sort::Newest },
            after: arguments.after.as_deref().map(Cursor::read).transpose()?,
            at_most: arguments.at_most,
        };
        let book = Book::open_existing(place, Timestamp::now()).await?;
        let list = book.list(&request).await?;
        let json = if arguments.format == Format::Json { Some(list_json(&book, &list).await?) } else { None };
        book.close().await;
        Ok::<_, BookError>((list, json))
    };
    match list.await {
        Ok((_, Some(json))) => streams.print(&format!("{json:#}\n"))?,
        Ok((list, None)) => streams.print(&order_list_report(&list, streams.columns()))?,
        Err(error) => return refused(&error, streams),
    }
    Ok(ExitStatus::AllCut)
}

/// A page of a list as JSON: whole orders, as an export holds them.
async fn list_json(book: &Book, list: &book::OrderList) -> Result<serde_json::Value, BookError> {
    let mut orders = Vec::with_capacity(list.lines.len());
    for line in &list.lines {
        let order = book.order(line.number).await?;
        orders.push(book.order_json(&order).await?);
    }
    Ok(serde_json::json!({
        "orders": orders,
        "next": list.next.map(Cursor::text),
        "cut_short": list.cut_short,
    }))
}

async fn review_again(
    place: &str,
    arguments: &Rereview,
    who: &Person,
    streams: &mut Streams,
) -> io::Result<ExitStatus> {
    let Some(catalog) = marked_catalog(arguments.catalog.as_deref(), streams)? else {
        return Ok(ExitStatus::Unusable);
    };
    let bar = indicatif::ProgressBar::new(0).with_style(indicatif::ProgressStyle::default_bar()).with_message("orders");
    let run = async {
        let book = Book::open_existing(place, Timestamp::now()).await?;
        let run = book
            .rereview(
                &catalog,
                who,
                Timestamp::now,
                |done, of| {
                    bar.set_length(of.unsigned_abs());
                    bar.set_position(done.unsigned_abs());
                },
                // Nobody else is to be answered here.
                || std::future::ready(()),
            )
            .await?;
        let changes = book.rereview_changes(run.number).await?;
        book.close().await;
        Ok::<_, BookError>((run, changes))
    };
    let outcome = run.await;
    bar.finish_and_clear();
    match outcome {
        Ok((run, changes)) => {
            streams.print(&rereview_report(&run, &changes, streams.columns()))?;
            Ok(if changes.is_empty() { ExitStatus::AllCut } else { ExitStatus::NotAllCut })
        }
        Err(error) => refused(&error, streams),
    }
}
