//! Standard output and error output.

use std::io::{self, ErrorKind, Write};

use std::path::Path;

use anstream::{AutoStream, ColorChoice};
use catalog::Catalog;
use paperwork::Shop;
use shop_folder::{Problems, Unreadable};

use crate::exit_status::ExitStatus;
use crate::intake::Unread;
use crate::report::{Page, plain_block};

/// The two streams that the program writes to. Neither is held locked, since the desk writes its log from other threads.
#[derive(Debug)]
pub struct Streams {
    out: AutoStream<io::Stdout>,
    error: AutoStream<io::Stderr>,
    columns: usize,
}

impl Streams {
    /// The streams of this process. The page is as wide as the terminal within what reads well, and as wide as reads well
    /// where there is no terminal, so that the same sheet gives the same text in a file.
    pub fn new(colour: ColorChoice) -> Self {
        let columns = terminal_size::terminal_size_of(io::stdout())
            .map_or(Page::WIDEST, |(width, _)| usize::from(width.0))
            .clamp(Page::NARROWEST, Page::WIDEST);
        Self { out: AutoStream::new(io::stdout(), colour), error: AutoStream::new(io::stderr(), colour), columns }
    }

    /// Columns of the page.
    pub fn columns(&self) -> usize {
        self.columns
    }

    /// Writes to standard output.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn print(&mut self, text: &str) -> io::Result<()> {
        self.out.write_all(text.as_bytes())?;
        self.out.flush()
    }

    /// Writes a complaint to the error output.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn complain(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.error, "{}", plain_block(text.trim_end()))
    }

    /// Writes why a file cannot be used.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn complain_of_file(&mut self, name: &str, file: &Unreadable) -> io::Result<()> {
        self.complain(&format!("{name}: {}\n  accepted: {}\n", file.problem, file.accepted))
    }

    /// Loads the catalog: the shipped one, or with a folder's files on top. Where it cannot be used, every fault is written to
    /// the error output and nothing comes back.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn catalog(&mut self, folder: Option<&Path>) -> io::Result<Option<Catalog>> {
        self.unless(shop_folder::load_catalog(folder))
    }

    /// Loads the catalog as [`Streams::catalog`] does, without what was learned from finished orders.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn catalog_by_hand(&mut self, folder: Option<&Path>) -> io::Result<Option<Catalog>> {
        self.unless(shop_folder::load_catalog_by_hand(folder))
    }

    /// Loads what a folder says of its shop, in the same way.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn shop(&mut self, folder: &Path) -> io::Result<Option<Shop>> {
        let Some(loaded) = self.unless(shop_folder::load_shop(folder))? else { return Ok(None) };
        for warning in &loaded.warnings {
            self.complain(warning)?;
        }
        Ok(Some(loaded.shop))
    }

    fn unless<T>(&mut self, loaded: Result<T, Problems>) -> io::Result<Option<T>> {
        match loaded {
            Ok(loaded) => Ok(Some(loaded)),
            Err(problems) => {
                for problem in &problems.0 {
                    self.complain(&problem.to_string())?;
                }
                Ok(None)
            }
        }
    }

    /// Writes why a sheet could not be reviewed.
    ///
    /// # Errors
    ///
    /// The stream takes no more.
    pub fn complain_of_sheet(&mut self, name: &str, unread: &Unread) -> io::Result<()> {
        match unread {
            Unread::File(file) => self.complain_of_file(name, file),
            Unread::Faults(faults) => self.complain(&faults.to_string()),
            Unread::Model(error) => self.complain(&format!("{name}: {error}\n  accepted: {}", Unread::SOUND_MODEL)),
        }
    }

    /// Ends the program when a stream takes no more. A reader that has seen enough, such as a pager, is no failure of
    /// the input, but what was not written cannot be called reviewed.
    pub fn cannot_write(&mut self, error: &io::Error) -> ExitStatus {
        if error.kind() != ErrorKind::BrokenPipe {
            // Where the error output is closed as well there is nobody left to tell.
            let _ = writeln!(self.error, "the output cannot be written: {error}");
        }
        ExitStatus::Unusable
    }
}
