//! The built program, running `axlewright desk` on a port that was free and on a folder that goes away.

use std::fs::{self, File};
use std::io::{Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use tempfile::TempDir;

use crate::waiting::answer;

/// The invented shop whose catalog and name the desk uses.
const SHOP: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo/shop");

/// Who gets in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Door {
    /// Everybody who reaches the desk.
    Open,
    /// Whoever signs in.
    Accounts,
}

/// A running desk. It is stopped when it goes out of scope, and its folder is removed.
pub struct Program {
    running: Child,
    door: Door,
    address: SocketAddr,
    folder: TempDir,
}

impl Program {
    /// Starts a desk with an empty book.
    pub async fn start(door: Door) -> Self {
        Self::start_in(tempfile::tempdir().unwrap(), door).await
    }

    /// Starts a desk on a folder that may hold a book already, see [`book_in`].
    pub async fn start_in(folder: TempDir, door: Door) -> Self {
        let shop = folder.path().join("shop");
        if !shop.exists() {
            copy(Path::new(SHOP), &shop);
        }
        let address = free_address();
        let running = run(folder.path(), address, door);
        let program = Self { running, door, address, folder };
        program.wait_until_open().await;
        program
    }

    /// Starts a stopped desk again on the same book and the same port.
    pub async fn start_again(&mut self) {
        self.running = run(self.folder.path(), self.address, self.door);
        self.wait_until_open().await;
    }

    /// Stops the desk as a failing machine would; its book stays.
    pub fn stop(&mut self) {
        // It may have ended by itself; then there is nothing to stop.
        let _ = self.running.kill();
        let _ = self.running.wait();
    }

    /// The address of a page.
    pub fn at(&self, path: &str) -> String {
        format!("http://{}{path}", self.address)
    }

    /// Fetches a file as a program would, and gives back what its head says and what it holds.
    pub fn fetch(&self, path: &str) -> (String, Vec<u8>) {
        let mut stream = TcpStream::connect(self.address).unwrap();
        let request = format!("GET {path} HTTP/1.0\r\nHost: {}\r\nAccept: */*\r\n\r\n", self.address);
        stream.write_all(request.as_bytes()).unwrap();
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).unwrap();
        let end = answer.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
        let body = answer.split_off(end + 4);
        (String::from_utf8(answer).unwrap().to_lowercase(), body)
    }

    /// What the program has printed and complained of.
    pub fn log(&self) -> String {
        fs::read_to_string(log_in(self.folder.path())).unwrap_or_default()
    }

    async fn wait_until_open(&self) {
        let open = answer(|| async { TcpStream::connect(self.address).ok() }).await;
        assert!(open.is_some(), "the desk did not open; it said:\n{}", self.log());
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        self.stop();
        if std::thread::panicking() {
            eprintln!("the desk said:\n{}", self.log());
        }
    }
}

/// The book in the folder of a program.
pub fn book_in(folder: &Path) -> PathBuf {
    folder.join("orders.db")
}

fn log_in(folder: &Path) -> PathBuf {
    folder.join("desk.log")
}

/// A port that was free a moment ago. The desk may take any, but must come back to the same after a restart.
fn free_address() -> SocketAddr {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
    listener.local_addr().unwrap()
}

/// What it prints goes into a file, which never fills up as a pipe would.
fn run(folder: &Path, address: SocketAddr, door: Door) -> Child {
    let log = File::options().create(true).append(true).open(log_in(folder)).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    command.arg("desk").arg("--book").arg(book_in(folder)).arg("--shop").arg(folder.join("shop"));
    command.arg("--listen").arg(address.to_string());
    if door == Door::Open {
        command.arg("--open");
    }
    command.env("TMPDIR", folder).stdin(Stdio::null()).stdout(log.try_clone().unwrap()).stderr(log);
    command.spawn().unwrap()
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}
