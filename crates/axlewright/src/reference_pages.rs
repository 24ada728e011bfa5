//! `axlewright completions`, `man` and `schema`: what the program says about itself.

use std::io;

use clap::CommandFactory;
use clap_complete::Shell;
use clap_mangen::Man;

use crate::arguments::{Arguments, SchemaOf};
use crate::exit_status::ExitStatus;
use crate::streams::Streams;

/// Prints a completion script.
///
/// # Errors
///
/// A stream takes no more.
pub fn completions(shell: Shell, streams: &mut Streams) -> io::Result<ExitStatus> {
    let mut command = Arguments::command();
    let name = command.get_name().to_owned();
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut command, name, &mut script);
    streams.print(&String::from_utf8_lossy(&script))?;
    Ok(ExitStatus::AllCut)
}

/// Prints the manual page of the program, or of one of its commands.
///
/// # Errors
///
/// A stream takes no more.
pub fn man(name: Option<&str>, streams: &mut Streams) -> io::Result<ExitStatus> {
    let mut program = Arguments::command();
    program.build();
    let page = name.and_then(|name| program.find_subcommand(name)).unwrap_or(&program).clone();
    let mut text = Vec::new();
    Man::new(page).render(&mut text)?;
    streams.print(&String::from_utf8_lossy(&text))?;
    Ok(ExitStatus::AllCut)
}

/// Prints the JSON Schema of the reviews or of the calculations.
///
/// # Errors
///
/// A stream takes no more.
pub fn schema(of: SchemaOf, streams: &mut Streams) -> io::Result<ExitStatus> {
    let text = match of {
        SchemaOf::Review => wire::schema_text(),
        SchemaOf::Calculation => wire::calculation_schema_text(),
    };
    streams.print(&text.map_err(io::Error::other)?)?;
    Ok(ExitStatus::AllCut)
}
