//! The desk on a real listener: TLS, slow clients, too many connections, and how it stops.

use std::net::{SocketAddr, TcpListener};
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use desk::{Access, Desk, Patience, Tls, TlsFiles};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;
use tokio_rustls::TlsConnector;
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName};
use tokio_rustls::rustls::{ClientConfig, RootCertStore};

use crate::desk_under_test::{PASSWORD, at, form, open_desk, with_access};

/// A desk that listens.
struct Listening {
    address: SocketAddr,
    stop: oneshot::Sender<()>,
    done: JoinHandle<Result<(), desk::DeskError>>,
}

fn listen(desk: &Desk, tls: Option<Tls>, patience: Patience) -> Listening {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap();
    let (stop, stopped) = oneshot::channel::<()>();
    let until = async move { drop(stopped.await) };
    let done = tokio::spawn(desk::serve(desk.clone(), listener, tls, patience, until));
    Listening { address, stop, done }
}

/// A certificate for `localhost` that vouches for itself, in files.
async fn certificate(folder: &Path) -> (Tls, CertificateDer<'static>) {
    let made = rcgen::generate_simple_self_signed(["localhost".to_owned()]).unwrap();
    let files = TlsFiles { certificate: folder.join("desk.pem"), key: folder.join("desk-key.pem") };
    std::fs::write(&files.certificate, made.cert.pem()).unwrap();
    std::fs::write(&files.key, made.signing_key.serialize_pem()).unwrap();
    (Tls::read(&files).await.unwrap(), made.cert.der().clone())
}

async fn answer(mut stream: impl AsyncReadExt + AsyncWriteExt + Unpin, request: &str) -> String {
    stream.write_all(request.as_bytes()).await.unwrap();
    let mut bytes = Vec::new();
    // Who closes a TLS connection without a farewell has still answered.
    let _ = stream.read_to_end(&mut bytes).await;
    String::from_utf8_lossy(&bytes).into_owned()
}

async fn over_tls(address: SocketAddr, root: &CertificateDer<'static>, request: &str) -> String {
    let mut roots = RootCertStore::empty();
    roots.add(root.clone()).unwrap();
    let config = ClientConfig::builder().with_root_certificates(roots).with_no_client_auth();
    let name = ServerName::try_from("localhost").unwrap();
    let stream = TcpStream::connect(address).await.unwrap();
    answer(TlsConnector::from(Arc::new(config)).connect(name, stream).await.unwrap(), request).await
}

const PAGE: &str = "GET / HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n";

#[tokio::test]
async fn people_sign_in_over_tls_and_plain_http_is_not_kept_waiting() {
    let desk = with_access(Access::Accounts { secure: true }).await;
    desk.book().make_owner("Morwen Ostrey", PASSWORD, at(0)).await.unwrap();
    let (tls, root) = certificate(desk.folder.path()).await;
    let listening = listen(&desk.desk, Some(tls), Patience::default());
    let page = over_tls(listening.address, &root, PAGE).await;
    assert!(
        page.starts_with("HTTP/1.1 303 ") && page.contains("strict-transport-security: max-age=31536000"),
        "{page}"
    );
    let body = form(&[("name", "Morwen Ostrey"), ("password", PASSWORD)]);
    let sign_in = format!(
        "POST /sign-in HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\norigin: https://localhost\r\n\
         content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\n{body}",
        body.len()
    );
    let signed_in = over_tls(listening.address, &root, &sign_in).await;
    assert!(signed_in.contains("set-cookie: __Host-axlewright_session="), "{signed_in}");
    assert!(signed_in.contains("; Secure\r\n"), "{signed_in}");

    // Somebody who speaks no TLS is turned away at once, and nothing of the desk goes over the line.
    let plain = answer(TcpStream::connect(listening.address).await.unwrap(), PAGE).await;
    assert!(!plain.contains("HTTP/1.1 200") && !plain.contains("Axlewright"), "{plain}");
    assert!(over_tls(listening.address, &root, PAGE).await.starts_with("HTTP/1.1 303 "));
    listening.stop.send(()).unwrap();
    listening.done.await.unwrap().unwrap();
}

#[tokio::test]
async fn a_certificate_that_cannot_be_used_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    certificate(folder.path()).await;
    let other = rcgen::generate_simple_self_signed(["localhost".to_owned()]).unwrap();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("other-key.pem"), other.signing_key.serialize_pem()).unwrap();
    std::fs::write(path("no.pem"), "this is no certificate").unwrap();
    for (certificate, key, words) in [
        ("missing.pem", "desk-key.pem", "missing.pem"),
        ("desk.pem", "missing.pem", "missing.pem"),
        ("no.pem", "desk-key.pem", "no.pem"),
        ("desk.pem", "no.pem", "no.pem"),
        ("desk.pem", "other-key.pem", "other-key.pem"),
    ] {
        let files = TlsFiles { certificate: path(certificate), key: path(key) };
        let refused = Tls::read(&files).await.unwrap_err().to_string();
        assert!(refused.contains(words) && refused.contains("accepted: a certificate and"), "{refused}");
    }
}

#[tokio::test]
async fn whoever_says_nothing_is_not_waited_for() {
    let desk = open_desk().await;
    let patience =
        Patience { head: Duration::from_millis(300), next_part: Duration::from_millis(300), ..Patience::default() };
    let listening = listen(&desk.desk, None, patience);
    let connect = async || TcpStream::connect(listening.address).await.unwrap();
    // Nothing at all, half a head, a head that comes letter by letter, and a rest after a whole request.
    assert_eq!(answer(connect().await, "").await, "");
    let half = answer(connect().await, "GET / HTTP/1.1\r\nhost: localhost\r\n").await;
    assert!(half.is_empty() || half.starts_with("HTTP/1.1 408"), "{half}");
    let (mut reading, mut writing) = connect().await.into_split();
    let letters = tokio::spawn(async move {
        while writing.write_all(b"x").await.is_ok() {
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    });
    let mut rest = Vec::new();
    let _ = reading.read_to_end(&mut rest).await;
    letters.await.unwrap();
    let kept_open = answer(connect().await, "GET / HTTP/1.1\r\nhost: localhost\r\n\r\n").await;
    assert!(kept_open.starts_with("HTTP/1.1 200"), "{kept_open}");
    // A body that stops in the middle.
    let stopped = "POST /views HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-www-form-urlencoded\r\n\
                   content-length: 1000\r\n\r\nname=";
    let refused = answer(connect().await, stopped).await;
    assert!(refused.starts_with("HTTP/1.1 4"), "{refused}");
    assert!(answer(connect().await, PAGE).await.starts_with("HTTP/1.1 200"));
    listening.stop.send(()).unwrap();
    listening.done.await.unwrap().unwrap();
}

/// Every part comes in time, and the whole never ends.
#[tokio::test]
async fn a_body_that_comes_letter_by_letter_is_not_waited_for_either() {
    let desk = open_desk().await;
    let patience =
        Patience { next_part: Duration::from_secs(5), answer: Duration::from_millis(400), ..Patience::default() };
    let listening = listen(&desk.desk, None, patience);
    let (mut reading, mut writing) = TcpStream::connect(listening.address).await.unwrap().into_split();
    let head = "POST /views HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-www-form-urlencoded\r\n\
                content-length: 100000\r\n\r\nname=";
    writing.write_all(head.as_bytes()).await.unwrap();
    let letters = tokio::spawn(async move {
        while writing.write_all(b"x").await.is_ok() {
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
    });
    let mut rest = Vec::new();
    let _ = reading.read_to_end(&mut rest).await;
    letters.await.unwrap();
    let rest = String::from_utf8_lossy(&rest);
    assert!(rest.is_empty() || rest.starts_with("HTTP/1.1 408"), "{rest}");
    assert!(answer(TcpStream::connect(listening.address).await.unwrap(), PAGE).await.starts_with("HTTP/1.1 200"));
}

#[tokio::test]
async fn more_connections_than_there_are_places_are_turned_away_and_the_others_go_on() {
    let desk = open_desk().await;
    let listening = listen(&desk.desk, None, Patience { connections: 3, ..Patience::default() });
    let mut resting = Vec::new();
    for _ in 0..3 {
        let mut stream = TcpStream::connect(listening.address).await.unwrap();
        stream.write_all(b"GET /assets/x/desk.css HTTP/1.1\r\nhost: localhost\r\n\r\n").await.unwrap();
        let mut first = [0; 12];
        stream.read_exact(&mut first).await.unwrap();
        assert_eq!(&first, b"HTTP/1.1 200");
        resting.push(stream);
    }
    assert_eq!(answer(TcpStream::connect(listening.address).await.unwrap(), PAGE).await, "");
    drop(resting.pop());
    // The place is free again as soon as the desk has noticed.
    let mut page = String::new();
    for _ in 0..100 {
        page = answer(TcpStream::connect(listening.address).await.unwrap(), PAGE).await;
        if !page.is_empty() {
            break;
        }
        tokio::time::sleep(Duration::from_millis(20)).await;
    }
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
}
