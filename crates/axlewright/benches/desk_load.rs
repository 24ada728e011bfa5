//! The desk under load, as a process of its own: start to first page, the page of an order with a review that is new and with one that
//! is kept, what answers while one types, lists and searches, and memory. Requests come at a steady pace whether or not the ones
//! before are answered, and their time counts from the moment at which they were due.
//!
//! ```sh
//! cargo bench -p axlewright --bench desk_load                                          # 1000 orders of its own
//! cargo bench -p axlewright --bench desk_load -- --a-second 200 --seconds 10 --orders 3000
//! cargo run --release -p book --example million_orders -- 1000000 big.db               # a book with many orders ...
//! cargo bench -p axlewright --bench desk_load -- --big big.db                          # ... for lists, searches and memory,
//! ```
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::disallowed_types,
    clippy::disallowed_methods,
    reason = "a bench that measures"
)]
#![allow(missing_docs, reason = "a bench")]

#[path = "desk_load/client.rs"]
mod client;

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use book::{Book, Details, MarkedCatalog, Person, ReviewedSheet, Role};
use catalog::Catalog;
use jiff::Timestamp;

use client::{Client, form_of, pace};

/// What is measured and how hard.
struct Load {
    orders: usize,
    a_second: f64,
    seconds: f64,
    big: Option<String>,
}

fn main() {
    let mut load = Load { orders: 1000, a_second: 200.0, seconds: 5.0, big: None };
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().unwrap_or_else(|| panic!("{argument} needs a value"));
        match argument.as_str() {
            "--orders" => load.orders = value().parse().unwrap(),
            "--a-second" => load.a_second = value().parse().unwrap(),
            "--seconds" => load.seconds = value().parse().unwrap(),
            "--big" => load.big = Some(value()),
            "--bench" => {}
            other => panic!("no such option: {other}"),
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("orders.db").display().to_string();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let began = Instant::now();
    runtime.block_on(fill(&place, load.orders));
    println!(
        "{} orders with sheets of their own, taken in within {:.1} s\n",
        load.orders,
        began.elapsed().as_secs_f64()
    );
    println!("{:<46} {:>9} {:>9} {:>9}  goal", "", "half ms", "99 % ms", "worst ms");
    measure_start(&place);
    measure_pages(&place, &load);
    if let Some(big) = &load.big {
        measure_lists(big, &load);
    }
}

/// The orders differ in their references, so that no two sheets are the same and each has to be reviewed by itself.
async fn fill(place: &str, orders: usize) {
    let path = format!("{}/../../demo/orders/01-hay-truck.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let catalog = MarkedCatalog::new(Catalog::shipped().unwrap());
    let base = ReviewedSheet::read("sheet", &text, &catalog).unwrap();
    let now: Timestamp = "2026-03-02T08:00:00Z".parse().unwrap();
    let book = Book::open(place, now).await.unwrap();
    let desk = Person::new("Wenna Tarrow", Role::Desk);
    for number in 1..=orders {
        let mut sheet = base.clone();
        let reference = format!("L-{number}");
        sheet.text = text.replace("Q-0101", &reference);
        sheet.sheet.reference = reference;
        let details = Details { customer: format!("customer {}", number % 97), ..Details::default() };
        book.place(&sheet, &details, &desk, now).await.unwrap();
    }
    book.close().await;
}

/// A desk that runs; killed when nobody needs it any more.
struct Running {
    child: Child,
    address: std::net::SocketAddr,
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn start(place: &str) -> Running {
    start_in(place, None)
}

/// Starts the desk with a shop's folder; beside the book where none is given.
fn start_in(place: &str, shop: Option<&Path>) -> Running {
    // A free port; between finding it and using it nobody else is likely to take it.
    let address = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let child = Command::new(env!("CARGO_BIN_EXE_axlewright"))
        .args(["desk", "--open", "--log", "off", "--book", place, "--listen", &address.to_string()])
        .args(shop.into_iter().flat_map(|folder| [OsStr::new("--shop"), folder.as_os_str()]))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    let running = Running { child, address };
    while Client::try_new(address).is_none() {
        std::thread::sleep(Duration::from_millis(1));
    }
    running
}

fn row(words: &str, mut times: Vec<f64>, goal: &str) {
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times[((times.len() - 1) as f64 * share).round() as usize];
    println!("{words:<46} {:>9.2} {:>9.2} {:>9.2}  {goal}", at(0.5), at(0.99), at(1.0));
}

/// From starting the program to the last byte of its first page.
fn measure_start(place: &str) {
    let mut times = Vec::new();
    for _ in 0..9 {
        let began = Instant::now();
        let desk = start(place);
        Client::new(desk.address).get("/");
        times.push(began.elapsed().as_secs_f64() * 1e3);
    }
    row("program start to first page", times, "300 ms");
}

fn measure_pages(place: &str, load: &Load) {
    let desk = start(place);
    let count = (load.a_second * load.seconds) as usize;
    assert!(count <= load.orders, "a review that is new needs as many orders as requests: --orders {count}");
    let pages = |of: usize| (0..count).map(move |place| format!("/orders/{}", 1 + place % of)).collect::<Vec<_>>();
    let pace_of = format!("{} a second", load.a_second);
    let times = pace(desk.address, load.a_second, &pages(load.orders));
    row(&format!("page of an order, new review, {pace_of}"), times, "99 % in 20 ms");
    // So few that their reviews are kept.
    pace(desk.address, load.a_second, &pages(50)[..count.min(50)]);
    let times = pace(desk.address, load.a_second, &pages(50));
    row(&format!("page of an order, kept review, {pace_of}"), times, "");
    let mut client = Client::new(desk.address);
    let form = form_of(&client.get("/orders/1"));
    let mut times = Vec::new();
    for digit in 0..60 {
        // Another flange thickness with every keystroke, so that nothing is kept.
        let typed = form.replace("0.421", &format!("0.4{digit:02}"));
        assert!(digit == 21 || typed != form, "the form holds the flange thickness");
        let began = Instant::now();
        client.post("/orders/1/live", &typed);
        times.push(began.elapsed().as_secs_f64() * 1e3);
    }
    row("answer to a keystroke", times, "");
    memory("desk after all that", &desk);
}

/// What a big book is asked for, and the goal.
const LISTS: [(&str, &str, &str); 4] = [
    ("list of a big book", "/", "30 ms"),
    ("search of it: a customer", "/?search=cust4711", "30 ms"),
    ("search of it: a size", "/?search=shoulder+2.85", "30 ms"),
    ("the catalog, with how many orders wait", "/catalog", ""),
];
/// So many lists and searches a second.
const LISTS_A_SECOND: f64 = 20.0;

/// Lists and searches while the desk checks the whole book, as it does when it begins, while it has nothing else to do, and while it
/// reviews all open orders anew because its catalog was changed.
fn measure_lists(place: &str, load: &Load) {
    let shop = tempfile::tempdir().unwrap();
    let desk = start_in(place, Some(shop.path()));
    let started = Instant::now();
    let is_checked = || !Client::new(desk.address).get_whatever("/health").contains("\"chain\":null");
    let count = (load.seconds * 4.0 * LISTS_A_SECOND) as usize;
    let measure = || {
        for (words, path, goal) in LISTS {
            let times = pace(desk.address, LISTS_A_SECOND, &vec![path.to_owned(); count]);
            row(words, times, goal);
        }
        let pages: Vec<_> = (0..count).map(|place| format!("/orders/{}", with_a_sheet(place % 50))).collect();
        pace(desk.address, LISTS_A_SECOND, &pages[..count.min(50)]);
        row("page of an order in it, kept review", pace(desk.address, LISTS_A_SECOND, &pages), "30 ms");
    };
    println!("\n{LISTS_A_SECOND} a second while the whole book is checked:");
    measure();
    if is_checked() {
        println!("the check ended before the last of these");
    }
    wait_until(&desk, "the book is checked", |_| is_checked());
    println!("the book was checked within {:.0} s after the start", started.elapsed().as_secs_f64());
    // An earlier measurement may have left orders behind that were reviewed with its catalog.
    wait_until(&desk, "nothing waits for a review any more", |state| state.waiting == 0);
    println!("\n{LISTS_A_SECOND} a second:");
    measure();
    // A stricter shop: the verdict of every order changes, which is the most that a run has to write.
    let catalog = shop.path().join("catalog");
    std::fs::create_dir_all(&catalog).unwrap();
    let stricter = "[thresholds]\ncut_at = 0.9999\nsource = \"a shop that cuts nothing\"\n";
    std::fs::write(catalog.join("settings.toml"), stricter).unwrap();
    wait_until(&desk, "the run is under way", |state| state.is_running);
    let (began, before) = (Instant::now(), RunState::of(&desk).done);
    println!("\n{LISTS_A_SECOND} a second while all open orders are reviewed anew:");
    measure();
    let state = RunState::of(&desk);
    assert!(state.is_running, "the run ended while it was measured: a book with more orders, or fewer --seconds");
    let reviewed = |done: i64, since: Instant| done as f64 / since.elapsed().as_secs_f64();
    println!("orders reviewed anew meanwhile: {:.1} a second", reviewed(state.done - before, began));
    let (began, before) = (Instant::now(), state.done);
    std::thread::sleep(Duration::from_secs_f64(load.seconds));
    let done = RunState::of(&desk).done - before;
    println!("orders reviewed anew while nobody asks: {:.1} a second", reviewed(done, began));
    memory("desk on a big book", &desk);
}

/// The number of one of the orders that `million_orders` gives a sheet: of every fifty, those that are questioned, received or in
/// work.
fn with_a_sheet(place: usize) -> usize {
    50 * (1 + place / 3) + place % 3
}

/// How far the run over the open orders is, as the desk tells it.
struct RunState {
    waiting: i64,
    done: i64,
    is_running: bool,
}

impl RunState {
    fn of(desk: &Running) -> Self {
        let text = Client::new(desk.address).get("/api/v1/rereview");
        let told: serde_json::Value = serde_json::from_str(&text).unwrap();
        let latest = &told["runs"][0];
        Self {
            waiting: told["waiting"].as_i64().unwrap(),
            done: latest["done"].as_i64().unwrap_or_default(),
            is_running: latest["started_at"].is_string() && latest["finished_at"].is_null(),
        }
    }
}

/// Waits for up to twenty minutes; a run over orders that have no sheets never ends.
fn wait_until(desk: &Running, what: &str, is_so: impl Fn(&RunState) -> bool) {
    let began = Instant::now();
    while !is_so(&RunState::of(desk)) {
        let patience = began.elapsed() < Duration::from_secs(1200);
        assert!(patience, "{what}: not within twenty minutes; a book that million_orders makes anew may help");
        std::thread::sleep(Duration::from_millis(500));
    }
}

/// The memory of the desk's process, where the system tells it.
fn memory(words: &str, desk: &Running) {
    let Ok(status) = std::fs::read_to_string(format!("/proc/{}/status", desk.child.id())) else { return };
    let of = |name: &str| {
        let line = status.lines().find(|line| line.starts_with(name)).unwrap_or_default();
        line.split_whitespace().nth(1).and_then(|text| text.parse::<f64>().ok()).unwrap_or_default() / 1024.0
    };
    println!("{words}: {:.0} MB, {:.0} MB at most", of("VmRSS"), of("VmHWM"));
}
