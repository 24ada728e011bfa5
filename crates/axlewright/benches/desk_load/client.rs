//! A client that speaks HTTP over one connection, and many of them at a steady pace.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// So many clients share the requests; more than can be waiting at once while the desk keeps pace.
const CLIENTS: usize = 16;

/// One connection, opened anew where the desk has closed it.
pub struct Client {
    address: SocketAddr,
    stream: BufReader<TcpStream>,
}

impl Client {
    pub fn try_new(address: SocketAddr) -> Option<Self> {
        let stream = TcpStream::connect(address).ok()?;
        stream.set_nodelay(true).ok()?;
        Some(Self { address, stream: BufReader::new(stream) })
    }

    pub fn new(address: SocketAddr) -> Self {
        Self::try_new(address).unwrap_or_else(|| panic!("nobody listens on {address}"))
    }

    /// Asks for a page and reads it whole.
    pub fn get(&mut self, path: &str) -> String {
        let head = format!("GET {path} HTTP/1.1\r\nhost: {}\r\n\r\n", self.address);
        self.ask(&head, path)
    }

    /// Asks for a page that may say that something is amiss, and reads it whole.
    pub fn get_whatever(&mut self, path: &str) -> String {
        self.send(&format!("GET {path} HTTP/1.1\r\nhost: {}\r\n\r\n", self.address));
        let _ = self.status();
        self.body(path)
    }

    /// Sends a form and reads the answer whole.
    pub fn post(&mut self, path: &str, form: &str) -> String {
        let head = format!(
            "POST {path} HTTP/1.1\r\nhost: {0}\r\norigin: http://{0}\r\ncontent-type: application/x-www-form-urlencoded\r\n\
             content-length: {1}\r\n\r\n{form}",
            self.address,
            form.len()
        );
        self.ask(&head, path)
    }

    fn ask(&mut self, request: &str, path: &str) -> String {
        self.send(request);
        let status = self.status();
        assert!(status.starts_with("HTTP/1.1 200 "), "{path}: {status}");
        self.body(path)
    }

    fn send(&mut self, request: &str) {
        self.stream.get_mut().write_all(request.as_bytes()).unwrap();
    }

    fn status(&mut self) -> String {
        let mut status = String::new();
        self.stream.read_line(&mut status).unwrap();
        status
    }

    fn body(&mut self, path: &str) -> String {
        let mut length = None;
        loop {
            let mut line = String::new();
            self.stream.read_line(&mut line).unwrap();
            if line == "\r\n" {
                break;
            }
            if let Some(text) = line.strip_prefix("content-length: ") {
                length = text.trim().parse::<usize>().ok();
            }
        }
        let mut body = vec![0; length.unwrap_or_else(|| panic!("{path}: the answer does not say how long it is"))];
        self.stream.read_exact(&mut body).unwrap();
        String::from_utf8(body).unwrap()
    }
}

/// Asks for the pages at a steady pace; the milliseconds from when each was due to its last byte.
pub fn pace(address: SocketAddr, a_second: f64, paths: &[String]) -> Vec<f64> {
    let next = AtomicUsize::new(0);
    let times = Mutex::new(Vec::with_capacity(paths.len()));
    let began = Instant::now() + Duration::from_millis(50);
    std::thread::scope(|scope| {
        for _ in 0..CLIENTS {
            scope.spawn(|| {
                let mut client = Client::new(address);
                loop {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    let Some(path) = paths.get(place) else { break };
                    let due = began + Duration::from_secs_f64(place as f64 / a_second);
                    std::thread::sleep(due.saturating_duration_since(Instant::now()));
                    client.get(path);
                    times.lock().unwrap().push(due.elapsed().as_secs_f64() * 1e3);
                }
            });
        }
    });
    times.into_inner().unwrap()
}

/// What a browser would send of the sheet's form on a page.
pub fn form_of(page: &str) -> String {
    let form = page.split("id=\"sheet\"").nth(1).unwrap().split("</form>").next().unwrap();
    let mut pairs = Vec::new();
    for tag in ["<input", "<select", "<textarea"] {
        for piece in form.split(tag).skip(1) {
            let head = piece.split('>').next().unwrap();
            let Some(name) = attribute(head, "name") else { continue };
            let value = match tag {
                "<input" => attribute(head, "value").unwrap_or_default(),
                "<select" => chosen(piece.split("</select>").next().unwrap()),
                _ => plain(piece[head.len() + 1..].split("</textarea>").next().unwrap().trim_start_matches('\n')),
            };
            pairs.push(format!("{}={}", encoded(&name), encoded(&value)));
        }
    }
    pairs.join("&")
}

fn chosen(select: &str) -> String {
    let options: Vec<&str> = select.split("<option").skip(1).collect();
    let selected = options.iter().find(|option| option.split('>').next().unwrap().contains(" selected"));
    let Some(option) = selected.or(options.first()) else { return String::new() };
    let head = option.split('>').next().unwrap();
    attribute(head, "value").unwrap_or_else(|| plain(option[head.len() + 1..].split('<').next().unwrap()))
}

fn attribute(head: &str, name: &str) -> Option<String> {
    let rest = head.split(&format!(" {name}=\"")).nth(1)?;
    Some(plain(rest.split('"').next().unwrap()))
}

fn plain(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

fn encoded(text: &str) -> String {
    text.bytes()
        .map(|byte| match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'.' | b'-' | b'_' => char::from(byte).to_string(),
            _ => format!("%{byte:02X}"),
        })
        .collect()
}
