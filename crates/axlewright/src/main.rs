//! The command-line program of the order desk.

use std::process::ExitCode;

use mimalloc::MiMalloc;

/// A review takes and gives back tens of thousands of small pieces of memory, of the desk on several threads at once, which the
/// system's own allocator is slow at (docs/desk.md).
#[global_allocator]
static MEMORY: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    axlewright::run(std::env::args_os()).into()
}
