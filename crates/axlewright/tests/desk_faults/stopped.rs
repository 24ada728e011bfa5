//! The desk is told to stop, shares its book with another one, and loses its database.

use std::io::{Read, Write};
use std::net::TcpStream;

use super::process::{get, post, run, signal, start};
use crate::server;

#[test]
fn what_was_begun_is_answered_before_the_desk_stops() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    for stop in ["TERM", "INT"] {
        let desk = start(folder.path(), &["--book", &place, "--open"]);
        let address = desk.address;
        // The head of a form and half of it: the desk has begun to answer and waits for the rest.
        let body = "name=half&search=hay";
        let mut begun = TcpStream::connect(address).unwrap();
        let head = format!(
            "POST /views HTTP/1.1\r\nhost: {address}\r\nconnection: close\r\norigin: http://{address}\r\n\
             content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\nname=",
            body.len()
        );
        begun.write_all(head.as_bytes()).unwrap();
        // A page that was asked for later is answered, so the form has arrived.
        assert!(get(address, "/").unwrap().starts_with("HTTP/1.1 200"));
        signal(stop, desk.child.id());
        while TcpStream::connect(address).is_ok_and(|mut late| {
            // Once it is told to stop it takes no more.
            let _ = late.write_all(b"GET / HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n");
            late.read(&mut [0; 8]).is_ok_and(|read| read > 0)
        }) {
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        begun.write_all(&body.as_bytes()[5..]).unwrap();
        let mut answer = String::new();
        begun.read_to_string(&mut answer).unwrap();
        assert!(answer.starts_with("HTTP/1.1 303 "), "{stop}: {answer}");
        assert_eq!(desk.end(), ("The desk is closed.\n".to_owned(), Some(0)), "{stop}");
    }
    // A book that was closed leaves nothing beside it.
    assert!(!folder.path().join("orders.db-wal").exists());
}

#[test]
fn two_desks_share_one_book() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("orders.db").display().to_string();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let database = runtime.block_on(server::shared().new_database());
    for place in [file, database] {
        let one = start(folder.path(), &["--book", &place, "--open"]);
        let other = start(folder.path(), &["--book", &place, "--open"]);
        let writers = [one.address, other.address].map(|address| {
            let writing = move || {
                for count in 0..20 {
                    let name = format!("name={}-{count}", address.port());
                    assert!(post(address, "/views", &name).unwrap().starts_with("HTTP/1.1 303 "), "{name}");
                }
            };
            std::thread::Builder::new().spawn(writing).unwrap()
        });
        for writer in writers {
            writer.join().unwrap();
        }
        let page = get(one.address, "/").unwrap();
        for count in 0..20 {
            for address in [one.address, other.address] {
                assert!(page.contains(&format!("{}-{count}", address.port())), "{page}");
            }
        }
    }
}

#[test]
fn the_desk_stays_open_while_its_database_is_away() {
    let folder = tempfile::tempdir().unwrap();
    let server = server::Server::start();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let place = runtime.block_on(server.new_database());
    let desk = start(folder.path(), &["--book", &place, "--open", "--log", "off"]);
    assert!(post(desk.address, "/views", "name=before").unwrap().starts_with("HTTP/1.1 303 "));
    server.kill();
    let away = get(desk.address, "/").unwrap();
    assert!(away.starts_with("HTTP/1.1 503 "), "{away}");
    assert!(
        away.contains("The database cannot be reached") && away.contains("What was acknowledged is kept"),
        "{away}"
    );
    assert!(post(desk.address, "/views", "name=while").unwrap().starts_with("HTTP/1.1 503 "));
    server.start_again();
    let back = get(desk.address, "/").unwrap();
    assert!(back.starts_with("HTTP/1.1 200 ") && back.contains("before"), "{back}");
    assert!(post(desk.address, "/views", "name=after").unwrap().starts_with("HTTP/1.1 303 "));
}

#[test]
fn the_demonstration_lives_in_the_data_folder_and_is_made_anew_on_request() {
    let folder = tempfile::tempdir().unwrap();
    let desk = start(folder.path(), &[]);
    let home = folder.path().join("axlewright/demonstration");
    assert!(desk.said.contains(&home.join("orders.db").display().to_string()), "{}", desk.said);
    assert!(get(desk.address, "/").unwrap().starts_with("HTTP/1.1 200 "));
    assert!(post(desk.address, "/views", "name=mine").unwrap().starts_with("HTTP/1.1 303 "));
    desk.terminate();
    assert_eq!(desk.end().1, Some(0));

    let desk = start(folder.path(), &["--log", "json"]);
    assert!(get(desk.address, "/").unwrap().contains("mine"));
    drop(desk);
    let desk = start(folder.path(), &["--fresh"]);
    assert!(!get(desk.address, "/").unwrap().contains("mine"));
    let names: Vec<String> =
        home.read_dir().unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    let aside = names.iter().find(|name| name.starts_with("orders-") && name.ends_with(".db")).unwrap();
    // What was put aside is a whole book.
    let check = run(folder.path(), &["book", "check", "--book", &home.join(aside).display().to_string()]);
    assert_eq!(check.status.code(), Some(0), "{}", String::from_utf8_lossy(&check.stderr));
}
