//! The program, started as the pages name it: `cargo run -- …`.
//!
//! Where the variable `AXLEWRIGHT_PROGRAM` names a program that was built already, that one runs: the test command sets it to the
//! one that the tests have built, since cargo would build its libraries again for another set of packages.

use std::path::Path;
use std::process::Command;

/// The variable that names the built program.
const BUILT: &str = "AXLEWRIGHT_PROGRAM";

/// The command for the words behind `cargo run`, in the root of the repository.
pub fn command(root: &Path, words: &[&str]) -> Command {
    let mut command = match (std::env::var_os(BUILT), words) {
        (Some(program), ["--", arguments @ ..] | ["-p", "axlewright", "--", arguments @ ..]) => {
            let mut command = Command::new(program);
            command.args(arguments);
            command
        }
        _ => {
            let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
            command.args(["run", "--quiet"]).args(words);
            command
        }
    };
    command.current_dir(root).env("CARGO_TERM_COLOR", "never");
    command
}
