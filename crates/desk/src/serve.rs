//! Answers requests until it is told to stop.

use std::collections::BTreeMap;
use std::future::{Future, Ready, ready};
use std::io;
use std::net::{IpAddr, SocketAddr, TcpListener};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};
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
use crate::door::network;
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
    /// So many of them from one address. This machine itself is not counted, nor are the servers that the desk stands behind, which ask
    /// for everybody.
    pub connections_each: usize,
}

impl Default for Patience {
    fn default() -> Self {
        Self {
            head: Duration::from_secs(20),
            next_part: Duration::from_secs(20),
            answer: Duration::from_secs(180),
            closing: Duration::from_secs(10),
            connections: 512,
            connections_each: 64,
        }
    }
}

/// So often the chain of the log is walked while the desk is open.
const CHAIN_CHECKED_EVERY: Duration = Duration::from_secs(24 * 60 * 60);

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
    let checking = tokio::spawn(keep_checking(desk.clone()));
    let uncounted = desk.behind().to_vec();
    let pages = router(desk)
        .layer(RequestBodyTimeoutLayer::new(patience.next_part))
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, patience.answer))
        .into_make_service_with_connect_info::<SocketAddr>();
    let places = Arc::new(Semaphore::new(patience.connections));
    let limited = Limited { places, held: Arc::default(), each: patience.connections_each, uncounted };
    let served = match tls {
        None => {
            let server = axum_server::from_tcp(listener).map_err(failed)?.acceptor(limited);
            patient(server, patience.head).handle(handle).serve(pages).await
        }
        Some(Tls(config)) => {
            let server = axum_server::from_tcp_rustls(listener, config).map_err(failed)?;
            patient(server.map(|acceptor| acceptor.acceptor(limited)), patience.head).handle(handle).serve(pages).await
        }
    };
    checking.abort();
    served.map_err(failed)
}

/// Walks the chain of the log now and once a day. What it finds is logged and told by `/health`.
async fn keep_checking(desk: Desk) {
    loop {
        if let Err(error) = desk.check_chain().await {
            tracing::error!(problem = %error, "the chain of the log cannot be checked");
        }
        tokio::time::sleep(CHAIN_CHECKED_EVERY).await;
    }
}

/// A server that does not wait for ever for somebody who says nothing.
fn patient<A>(mut server: Server<SocketAddr, A>, head: Duration) -> Server<SocketAddr, A> {
    server.http_builder().http1().header_read_timeout(head);
    server.http_builder().http2().keep_alive_interval(head).keep_alive_timeout(head).max_concurrent_streams(64);
    server
        .first_request_timeout(head)
        .accept_error_handler(|_, error| tracing::debug!(problem = %error, "a connection was not taken"))
}

/// How many connections each address holds.
type HeldBy = Arc<Mutex<BTreeMap<IpAddr, usize>>>;

/// Takes connections while there are places, and no more of one address than its share.
#[derive(Debug, Clone)]
struct Limited {
    places: Arc<Semaphore>,
    held: HeldBy,
    each: usize,
    /// The addresses that may hold as many as they like.
    uncounted: Vec<IpAddr>,
}

/// A place, which the service of a connection holds until the connection ends.
#[derive(Debug)]
struct Taken {
    _place: OwnedSemaphorePermit,
    from: Option<(HeldBy, IpAddr)>,
}

impl Drop for Taken {
    fn drop(&mut self) {
        let Some((held, address)) = &self.from else { return };
        let mut held = held.lock().unwrap_or_else(PoisonError::into_inner);
        match held.get_mut(address) {
            Some(count) if *count > 1 => *count -= 1,
            _ => drop(held.remove(address)),
        }
    }
}

impl Limited {
    fn take(&self, peer: Option<IpAddr>) -> io::Result<Taken> {
        let Ok(place) = self.places.clone().try_acquire_owned() else {
            return Err(io::Error::other("there are too many connections"));
        };
        let counts = |peer: &IpAddr| !peer.is_loopback() && !self.uncounted.contains(peer);
        let beyond = peer.map(|peer| peer.to_canonical()).filter(counts);
        let Some(address) = beyond.map(network) else {
            return Ok(Taken { _place: place, from: None });
        };
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let count = held.entry(address).or_default();
        if *count >= self.each {
            return Err(io::Error::other("there are too many connections from this address"));
        }
        *count += 1;
        Ok(Taken { _place: place, from: Some((self.held.clone(), address)) })
    }
}

type Held<S> = AddExtension<S, Arc<Taken>>;

impl<S> Accept<TcpStream, S> for Limited {
    type Stream = TcpStream;
    type Service = Held<S>;
    type Future = Ready<io::Result<(TcpStream, Held<S>)>>;

    fn accept(&self, stream: TcpStream, service: S) -> Self::Future {
        let peer = stream.peer_addr().ok().map(|peer| peer.ip());
        ready(self.take(peer).and_then(|taken| {
            stream.set_nodelay(true)?;
            Ok((stream, Extension(Arc::new(taken)).layer(service)))
        }))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use tokio::sync::Semaphore;

    use super::Limited;

    #[test]
    fn one_address_never_holds_the_places_of_all() {
        let uncounted = vec!["198.51.100.1".parse().unwrap()];
        let limited = Limited { places: Arc::new(Semaphore::new(8)), held: Arc::default(), each: 3, uncounted };
        let take = |address: &str| limited.take(Some(address.parse().unwrap()));
        let mut of_one: Vec<_> = (0..3).map(|_| take("203.0.113.7").unwrap()).collect();
        assert!(
            take("203.0.113.7").is_err() && take("::ffff:203.0.113.7").is_err(),
            "the same address, spelled otherwise"
        );
        let other = take("203.0.113.8").unwrap();
        // An address of the new kind counts by its first half.
        let new: Vec<_> = (1..4).map(|last| take(&format!("2001:db8:0:1::{last}")).unwrap()).collect();
        assert!(take("2001:db8:0:1:f::9").is_err());
        drop(new);
        // A place that is given back is free again, and nothing is remembered of who has gone.
        of_one.pop();
        of_one.push(take("203.0.113.7").unwrap());
        assert!(take("203.0.113.7").is_err());
        drop((of_one, other));
        assert!(limited.held.lock().unwrap().is_empty());
        assert_eq!(limited.places.available_permits(), 8);
        // This machine and a server before the desk are not counted, but for the places of all.
        for address in ["127.0.0.1", "::1", "::ffff:127.0.0.1", "198.51.100.1"] {
            let here: Vec<_> = (0..8).map(|_| take(address).unwrap()).collect();
            assert!(take(address).is_err() && take("203.0.113.7").is_err());
            drop(here);
        }
    }
}
