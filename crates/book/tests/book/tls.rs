//! The way to a server over TLS: who is let in, and what is refused before a password is sent.

use std::net::{Ipv4Addr, TcpListener};
use std::os::unix::fs::PermissionsExt;
use std::path::Path;

use book::Book;
use rcgen::{CertificateParams, KeyPair};

use crate::both::{at, by_hand, place_sound, run};
use crate::server::Server;

/// Over the network only with TLS, as a shop's server has it; through the socket for the test itself.
const RULES: &str = "local all all trust\nhostssl all all all trust\n";

/// A certificate that signed itself, for `localhost`, with its key, as PEM.
fn certificate() -> (String, String) {
    let key = KeyPair::generate().unwrap();
    let certificate = CertificateParams::new(vec!["localhost".to_owned()]).unwrap().self_signed(&key).unwrap();
    (certificate.pem(), key.serialize_pem())
}

fn private(path: &Path, text: &str) {
    std::fs::write(path, text).unwrap();
    std::fs::set_permissions(path, PermissionsExt::from_mode(0o600)).unwrap();
}

#[test]
fn a_server_is_reached_over_tls_and_known_by_its_certificate() {
    let port = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap().local_addr().unwrap().port();
    let (its_own, key) = certificate();
    let server = Server::start_with(port, |folder| {
        private(&folder.join("rules.conf"), RULES);
        private(&folder.join("server.crt"), &its_own);
        private(&folder.join("server.key"), &key);
        let folder = folder.display();
        format!(
            "-c listen_addresses=127.0.0.1 -c hba_file={folder}/rules.conf \
             -c ssl_cert_file={folder}/server.crt -c ssl_key_file={folder}/server.key"
        )
    });
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().join("root.crt");
    std::fs::write(&root, &its_own).unwrap();
    let foreign = folder.path().join("foreign.crt");
    std::fs::write(&foreign, certificate().0).unwrap();
    let (root, foreign) = (root.display(), foreign.display());

    run(async {
        let socket = server.new_database().await;
        let speak_tls = async |word: &str| {
            by_hand(&socket, &format!("ALTER SYSTEM SET ssl = {word}")).await;
            by_hand(&socket, "SELECT pg_reload_conf()").await;
            server.until_said(&format!("parameter \"ssl\" changed to \"{word}\"")).await;
        };
        speak_tls("on").await;
        let name = socket.split_once(&format!(":{port}/")).unwrap().1.split('?').next().unwrap().to_owned();
        let open = async |host: &str, options: &str| {
            Book::open(&format!("postgres://desk:secret@{host}:{port}/{name}?{options}"), at(0)).await
        };
        // `require` protects against listening alone, so any certificate will do.
        let book = open("localhost", "sslmode=require").await.unwrap();
        place_sound(&book, "Q-0101").await;
        // `verify-full` wants a root that vouches for the certificate, and the host's name in it.
        let book = open("localhost", &format!("sslmode=verify-full&sslrootcert={root}")).await.unwrap();
        assert_eq!(book.order(1).await.unwrap().line.reference, "Q-0101");
        let book_by_address = open("127.0.0.1", &format!("sslmode=verify-ca&sslrootcert={root}")).await.unwrap();
        assert!(book_by_address.check(None).await.unwrap().is_sound());

        for (host, options, expected) in [
            ("localhost", "sslmode=verify-full".to_owned(), "UnknownIssuer"),
            ("localhost", format!("sslmode=verify-full&sslrootcert={foreign}"), "invalid peer certificate"),
            ("localhost", format!("sslmode=verify-ca&sslrootcert={foreign}"), "invalid peer certificate"),
            ("127.0.0.1", format!("sslmode=verify-full&sslrootcert={root}"), "not valid for name"),
            (
                "localhost",
                "sslmode=verify-full&sslrootcert=/nowhere/root.crt".to_owned(),
                "/nowhere/root.crt is not there",
            ),
            ("localhost", "sslmode=disable".to_owned(), "no pg_hba.conf entry"),
        ] {
            let refused = open(host, &options).await.unwrap_err().to_string();
            assert!(refused.contains(expected), "{host} {options}: {refused}");
            assert!(refused.contains("accepted: "), "{refused}");
            assert!(!refused.contains("secret"), "{refused}");
        }
        // A server that speaks no TLS is refused by whoever asks for it.
        speak_tls("off").await;
        let refused = open("localhost", "sslmode=require").await.unwrap_err().to_string();
        assert!(refused.contains("does not support TLS"), "{refused}");
        assert!(refused.contains("accepted: "), "{refused}");
    });
}
