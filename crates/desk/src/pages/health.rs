//! Whether the desk can work, for whoever watches over it, and what it has done, for whoever draws curves of it.

use std::fmt::Write;
use std::net::SocketAddr;
use std::path::{Path, PathBuf};

use axum::Json;
use axum::extract::{ConnectInfo, State};
use axum::http::header::CONTENT_TYPE;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use serde_json::json;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::folder_watch;
use crate::measuring::CLASSES;
use crate::routes::{Routes, Who};
use crate::viewer::Viewer;

/// Registers both.
pub(crate) fn routes(routes: Routes) -> Routes {
    routes.get("/health", Who::Anyone, health).get("/metrics", Who::Anyone, metrics)
}

/// 200 where all is well, 503 otherwise: the database answers, its file is the one that was opened, its schema is the one of this
/// program, the chain of the log held when it was walked last, and files can be written where book and shop lie. It names nothing
/// that is secret.
async fn health(State(desk): State<Desk>) -> Response {
    if desk.shop().has_changed()
        && let Err(error) = folder_watch::look_again(&desk).await
    {
        tracing::error!(problem = %error, "the changed folder cannot be taken over");
    }
    let book = desk.book();
    let answers = book.count_by_state().await;
    if let Err(error) = &answers {
        tracing::error!(problem = %error, "the book does not answer");
    }
    let stands = book.stands();
    if let Err(error) = &stands {
        tracing::error!(problem = %error, "the file of the book is gone");
    }
    let (schema, known) = book.schema().await.map_or((None, None), |(found, known)| (Some(found), Some(known)));
    let chain = desk.chain();
    let beside = book.file().and_then(Path::parent).map(Path::to_owned);
    let folders: Vec<PathBuf> = std::iter::once(desk.shop().folder().to_owned()).chain(beside).collect();
    let writable = move || folders.iter().all(|folder| is_writable(folder));
    let disk = tokio::task::spawn_blocking(writable).await.unwrap_or(false);
    let sound = chain.as_ref().is_none_or(|chain| chain.sound);
    let well = answers.is_ok() && stands.is_ok() && disk && schema == known && sound;
    let words = |good: bool, yes: &'static str, no: &'static str| if good { yes } else { no };
    let body = json!({
        "status": words(well, "well", "unwell"),
        "database": words(answers.is_ok(), "answers", "does not answer"),
        "engine": book.engine(),
        "file": book.file().map(|_| words(stands.is_ok(), "in place", "deleted or replaced")),
        "schema": schema,
        "schema_known": known,
        "chain": chain.map(|chain| json!({
            "checked_at": chain.at.to_string(),
            "outcome": words(chain.sound, "sound", "broken"),
        })),
        "disk": words(disk, "writable", "not writable"),
        "version": env!("CARGO_PKG_VERSION"),
        "catalog_mark": desk.shop().catalog().mark(),
        "catalog_folder": words(desk.shop().trouble().is_none(), "as read", "holds faults"),
    });
    (if well { StatusCode::OK } else { StatusCode::SERVICE_UNAVAILABLE }, Json(body)).into_response()
}

/// Whether files can be made in a folder; one that is not there yet is made with its first file, so its parent counts.
fn is_writable(folder: &Path) -> bool {
    let standing = folder.ancestors().find(|one| one.is_dir());
    let Some(standing) = standing else { return false };
    let probe = standing.join(".axlewright-health");
    let written = std::fs::write(&probe, b"").is_ok();
    // Somebody who asked at the same moment may have taken it away already.
    let removed = std::fs::remove_file(&probe);
    written && removed.map_or_else(|error| error.kind() == std::io::ErrorKind::NotFound, |()| true)
}

/// Counts in the text format of Prometheus, for everybody with an account and for this machine itself.
async fn metrics(
    State(desk): State<Desk>,
    viewer: Viewer,
    peer: Option<axum::Extension<ConnectInfo<SocketAddr>>>,
    headers: HeaderMap,
) -> Result<Response, DeskError> {
    // A proxy on this machine asks for somebody else, and says so.
    let forwarded = headers.contains_key("x-forwarded-for") || headers.contains_key("forwarded");
    let here = peer.is_some_and(|axum::Extension(ConnectInfo(address))| address.ip().to_canonical().is_loopback());
    if viewer.account.is_none() && (forwarded || !here) {
        return Err(DeskError::NotAllowed {
            problem: "the measures of this desk are not for everybody".to_owned(),
            accepted: "an account, the token of an integration, or a request from this machine".to_owned(),
        });
    }
    let states = desk.book().count_by_state().await?;
    let mut out = String::new();
    let mut family = |name: &str, kind: &str, help: &str, lines: &[String]| {
        let _ = writeln!(out, "# HELP {name} {help}\n# TYPE {name} {kind}");
        for line in lines {
            let _ = writeln!(out, "{line}");
        }
    };
    let version = env!("CARGO_PKG_VERSION");
    let build = [format!("axlewright_build_info{{version=\"{version}\",engine=\"{}\"}} 1", desk.book().engine())];
    family("axlewright_build_info", "gauge", "The program that answers.", &build);
    let lines: Vec<String> =
        states.iter().map(|(state, count)| format!("axlewright_orders{{state=\"{}\"}} {count}", state.key())).collect();
    family("axlewright_orders", "gauge", "Orders in the book by their state.", &lines);
    let (computed, kept) = desk.reviewing().counted();
    let lines = [("computed", computed), ("kept", kept)]
        .map(|(how, count)| format!("axlewright_reviews_total{{from=\"{how}\"}} {count}"));
    family("axlewright_reviews_total", "counter", "Reviews that were computed, and that were there already.", &lines);
    let lines: Vec<String> = desk.measures().counted().iter().flat_map(|(kind, one)| histogram(kind, one)).collect();
    let help = "Requests by method, route and status, with how long they took.";
    family("axlewright_request_duration_seconds", "histogram", help, &lines);
    Ok(([(CONTENT_TYPE, "text/plain; version=0.0.4; charset=utf-8")], out).into_response())
}

fn histogram((method, route, status): &(String, String, u16), one: &crate::measuring::Counted) -> Vec<String> {
    const NAME: &str = "axlewright_request_duration_seconds";
    let labels = format!("method=\"{method}\",route=\"{route}\",status=\"{status}\"");
    let seconds = |milliseconds: i64| milliseconds as f64 / 1000.0;
    let classes = CLASSES.iter().zip(one.within);
    let mut lines: Vec<String> =
        classes.map(|(end, within)| format!("{NAME}_bucket{{{labels},le=\"{}\"}} {within}", seconds(*end))).collect();
    lines.push(format!("{NAME}_bucket{{{labels},le=\"+Inf\"}} {}", one.requests));
    lines.push(format!("{NAME}_sum{{{labels}}} {}", seconds(one.milliseconds)));
    lines.push(format!("{NAME}_count{{{labels}}} {}", one.requests));
    lines
}
