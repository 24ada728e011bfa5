//! Answers requests until it is told to stop.

use std::future::{Future, Ready, ready};
use std::io;
use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use axum::Extension;
use axum::http::StatusCode;
use axum::middleware::AddExtension;
use axum_server::accept::Accept;
use axum_server::tls_rustls::RustlsConfig;
use axum_server::{Handle, Server};
use tokio::net::TcpStream;
use tokio::sync::{OwnedSemaphorePermit, Semaphore};
use tower::Layer;
use tower_http::timeout::{RequestBodyTimeoutLayer, TimeoutLayer};

use crate::desk::Desk;
use crate::error::DeskError;
use crate::router;

/// How long the desk waits for whoever is on the other side, and for how many at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Patience {
    /// The head of a request has to come within this time; a connection that rests for so long is closed.
    pub head: Duration,
    /// The next part of what is being sent has to come within this time.
    pub next_part: Duration,
    /// An answer has to begin within this time after the request, a photo over a slow line included.
    pub answer: Duration,
    /// So long may requests that are being answered take once the desk is told to stop.
    pub closing: Duration,
    /// So many connections at once; whoever comes then is turned away instead of taking the desk down with them.
    pub connections: usize,
}

impl Default for Patience {
    fn default() -> Self {
        Self {
            head: Duration::from_secs(20),
            next_part: Duration::from_secs(20),
            answer: Duration::from_secs(180),
            closing: Duration::from_secs(10),
            connections: 512,
        }
    }
}

/// The files of a certificate for TLS.
#[derive(Debug, Clone)]
pub struct TlsFiles {
    /// The certificate with those that vouch for it, in PEM.
    pub certificate: PathBuf,
    /// Its private key, in PEM.
    pub key: PathBuf,
}

/// A certificate that was read and holds together with its key.
#[derive(Clone)]
pub struct Tls(RustlsConfig);

impl std::fmt::Debug for Tls {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str("Tls")
    }
}

impl Tls {
    /// Reads a certificate and its key.
    ///
    /// # Errors
    ///
    /// One of them cannot be read, is no PEM, or they do not belong together.
    pub async fn read(files: &TlsFiles) -> Result<Self, DeskError> {
        for path in [&files.certificate, &files.key] {
            std::fs::metadata(path).map_err(|error| {
                DeskError::refused(
                    format!("{}: {error}", path.display()),
                    "a certificate and its private key, both files in PEM that this user may read",
                )
            })?;
        }
        RustlsConfig::from_pem_file(&files.certificate, &files.key).await.map(Self).map_err(|error| {
            let names = format!("{} and {}", files.certificate.display(), files.key.display());
            DeskError::refused(
                format!("{names}: {error}"),
                "a certificate and the private key that belongs to it, in PEM",
            )
        })
    }
}

/// Answers requests on a listener until `stop` is ready; then answers what was begun and returns.
///
/// # Errors
///
/// The listener fails.
pub async fn serve(
    desk: Desk,
    listener: TcpListener,
    tls: Option<Tls>,
    patience: Patience,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), DeskError> {
    let failed = |error: io::Error| DeskError::failed(format!("the desk cannot listen: {error}"));
    let handle: Handle<SocketAddr> = Handle::new();
    let stopping = handle.clone();
    tokio::spawn(async move {
        stop.await;
        stopping.graceful_shutdown(Some(patience.closing));
    });
    let pages = router(desk)
        .layer(RequestBodyTimeoutLayer::new(patience.next_part))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, patience.answer))
        .into_make_service_with_connect_info::<SocketAddr>();
    let limited = Limited { places: Arc::new(Semaphore::new(patience.connections)) };
    match tls {
        None => {
            let server = axum_server::from_tcp(listener).map_err(failed)?.acceptor(limited);
            patient(server, patience.head).handle(handle).serve(pages).await
        }
        Some(Tls(config)) => {
            let server = axum_server::from_tcp_rustls(listener, config).map_err(failed)?;
            patient(server.map(|acceptor| acceptor.acceptor(limited)), patience.head).handle(handle).serve(pages).await
        }
    }
    .map_err(failed)
}

/// A server that does not wait for ever for somebody who says nothing.
fn patient<A>(mut server: Server<SocketAddr, A>, head: Duration) -> Server<SocketAddr, A> {
    server.http_builder().http1().header_read_timeout(head);
    server.http_builder().http2().keep_alive_interval(head).keep_alive_timeout(head).max_concurrent_streams(64);
    server
        .first_request_timeout(head)
        .accept_error_handler(|_, error| tracing::debug!(problem = %error, "a connection was not taken"))
}

/// Takes connections while there are places.
#[derive(Debug, Clone)]
struct Limited {
    places: Arc<Semaphore>,
}

/// A place, which the service of a connection holds until the connection ends.
type Held<S> = AddExtension<S, Arc<OwnedSemaphorePermit>>;

impl<S> Accept<TcpStream, S> for Limited {
    type Stream = TcpStream;
    type Service = Held<S>;
    type Future = Ready<io::Result<(TcpStream, Held<S>)>>;

    fn accept(&self, stream: TcpStream, service: S) -> Self::Future {
        ready(match self.places.clone().try_acquire_owned() {
            Ok(place) => stream.set_nodelay(true).map(|()| (stream, Extension(Arc::new(place)).layer(service))),
            Err(_) => Err(io::Error::other("there are too many connections")),
        })
    }
}
