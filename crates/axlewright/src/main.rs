//! The command-line program of the order desk.

use std::process::ExitCode;

fn main() -> ExitCode {
    axlewright::run(std::env::args_os()).into()
}
