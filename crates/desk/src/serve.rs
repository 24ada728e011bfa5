//! Answers requests until it is told to stop.

use std::future::Future;
use std::net::{SocketAddr, TcpListener};
use std::path::PathBuf;
use std::time::Duration;

use axum_server::Handle;
use axum_server::tls_rustls::RustlsConfig;

use crate::desk::Desk;
use crate::error::DeskError;
use crate::router;

/// So long may requests that are being answered take once the desk is told to stop.
const PATIENCE: Duration = Duration::from_secs(10);

/// The files of a certificate for TLS.
#[derive(Debug, Clone)]
pub struct TlsFiles {
    /// The certificate with those that vouch for it, in PEM.
    pub certificate: PathBuf,
    /// Its private key, in PEM.
    pub key: PathBuf,
}

/// Answers requests on a listener until `stop` is ready; then answers what was begun and returns.
///
/// # Errors
///
/// The certificate cannot be used, or the listener fails.
pub async fn serve(
    desk: Desk,
    listener: TcpListener,
    tls: Option<TlsFiles>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), DeskError> {
    let failed = |error: std::io::Error| DeskError::failed(format!("the desk cannot listen: {error}"));
    listener.set_nonblocking(true).map_err(failed)?;
    let handle: Handle<SocketAddr> = Handle::new();
    let stopping = handle.clone();
    tokio::spawn(async move {
        stop.await;
        stopping.graceful_shutdown(Some(PATIENCE));
    });
    let pages = router(desk).into_make_service_with_connect_info::<SocketAddr>();
    match tls {
        None => axum_server::from_tcp(listener).map_err(failed)?.handle(handle).serve(pages).await,
        Some(files) => {
            let config = RustlsConfig::from_pem_file(&files.certificate, &files.key).await.map_err(|error| {
                let problem = format!("{} and {}: {error}", files.certificate.display(), files.key.display());
                DeskError::refused(problem, "a certificate and its private key, both in PEM")
            })?;
            axum_server::from_tcp_rustls(listener, config).map_err(failed)?.handle(handle).serve(pages).await
        }
    }
    .map_err(failed)
}
