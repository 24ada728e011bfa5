//! What the desk logs, on the error output, one event a line.

use clap::ValueEnum;
use tracing::Level;

/// How the log is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LogForm {
    /// For people
    Text,
    /// For programs: one JSON object a line
    Json,
    /// Not at all
    Off,
}

/// Begins the log.
pub fn begin(form: LogForm) {
    let builder = tracing_subscriber::fmt().with_max_level(Level::INFO).with_writer(std::io::stderr).with_target(false);
    // Where a log was begun before, as in tests within one process, that one goes on.
    let _ = match form {
        LogForm::Off => return,
        LogForm::Text => builder.compact().try_init(),
        LogForm::Json => builder.json().flatten_event(true).try_init(),
    };
}
