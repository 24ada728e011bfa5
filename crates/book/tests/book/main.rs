//! The order book on both of its databases: every test runs on SQLite and on a PostgreSQL that it starts itself.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]
#![allow(missing_docs, reason = "the names of tests say what they are for")]

mod accounts;
mod backups;
mod both;
mod chain;
mod drafts;
mod faults;
mod imports;
mod moves;
mod old;
mod photos;
mod rereviews;
mod revisions;
mod search;
#[allow(dead_code, reason = "only tests/kill.rs kills the server")]
mod server;
mod takeovers;
mod tls;
mod tokens;
mod workbooks;
