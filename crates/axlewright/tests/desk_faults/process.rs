//! A desk that runs as a process, and a client that speaks plain HTTP to it.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

/// The program with a folder of its own for its data.
pub fn program(data: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_axlewright"));
    command.env("XDG_DATA_HOME", data).stdin(Stdio::null());
    command
}

/// A desk that runs. It is killed when nobody needs it any more.
pub struct Running {
    pub child: Child,
    pub address: SocketAddr,
    /// What it said on standard output until it was open.
    pub said: String,
    rest: BufReader<std::process::ChildStdout>,
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Starts a desk on a free port and waits until it says where it is.
pub fn start(data: &Path, arguments: &[&str]) -> Running {
    let mut child = program(data)
        .args(["desk", "--listen", "127.0.0.1:0"])
        .args(arguments)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut rest = BufReader::new(child.stdout.take().unwrap());
    let mut said = String::new();
    while !said.contains("Ctrl+C") {
        if rest.read_line(&mut said).unwrap() == 0 {
            let mut why = String::new();
            child.stderr.take().unwrap().read_to_string(&mut why).unwrap();
            panic!("the desk does not open: {said}{why}");
        }
    }
    // Nobody may leave the log unread until the pipe is full.
    let log = child.stderr.take().unwrap();
    let reader =
        std::thread::Builder::new().spawn(move || std::io::copy(&mut BufReader::new(log), &mut std::io::sink()));
    drop(reader.unwrap());
    let from = said.find("://").unwrap() + 3;
    let address = said[from..].split('/').next().unwrap().parse().unwrap();
    Running { child, address, said, rest }
}

impl Running {
    /// What it says until it ends, and with which status.
    pub fn end(mut self) -> (String, Option<i32>) {
        let mut rest = String::new();
        self.rest.read_to_string(&mut rest).unwrap();
        (rest, self.child.wait().unwrap().code())
    }

    /// Tells it to stop as the system does.
    pub fn terminate(&self) {
        signal("TERM", self.child.id());
    }
}

/// Sends a signal to a process.
pub fn signal(name: &str, process: u32) {
    assert!(Command::new("kill").arg(format!("-{name}")).arg(process.to_string()).status().unwrap().success());
}

/// Runs the program until it ends.
pub fn run(data: &Path, arguments: &[&str]) -> Output {
    program(data).args(arguments).output().unwrap()
}

/// Asks once, over a connection of its own; nothing where the desk is gone before it has answered whole.
pub fn ask(address: SocketAddr, request: &str) -> Option<String> {
    let mut stream = TcpStream::connect(address).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(30))).ok()?;
    stream.write_all(request.as_bytes()).ok()?;
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes).ok()?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (head, body) = text.split_once("\r\n\r\n")?;
    let length = head.lines().find_map(|line| line.strip_prefix("content-length: "))?.parse::<usize>().ok()?;
    (body.len() >= length).then_some(text)
}

/// Asks for a page.
pub fn get(address: SocketAddr, path: &str) -> Option<String> {
    ask(address, &format!("GET {path} HTTP/1.1\r\nhost: {address}\r\nconnection: close\r\n\r\n"))
}

/// Sends a form.
pub fn post(address: SocketAddr, path: &str, body: &str) -> Option<String> {
    let head = format!(
        "POST {path} HTTP/1.1\r\nhost: {address}\r\nconnection: close\r\norigin: http://{address}\r\n\
         content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\n",
        body.len()
    );
    ask(address, &format!("{head}{body}"))
}
